"""Many independent pieces of work: in this process, on all cores, or on a cluster.

Whoever does a piece, it gives the same result; only the order in which results arrive differs.
"""

import multiprocessing
import os
import signal
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, ProcessPoolExecutor, wait
from contextlib import ExitStack
from dataclasses import dataclass
from importlib import import_module
from threading import Thread
from typing import Any, TypeVar

from carrybook.base.errors import BadInputError, NoSolutionError

__all__ = ["Hands", "sweep"]

S = TypeVar("S")
T = TypeVar("T")
R = TypeVar("R")
_LOOK_S = 0.5  # ours: how often somebody who waits for other processes looks up
_WAIT_S = 15.0  # for a scheduler that does not answer


@dataclass(frozen=True, slots=True)
class Hands:
    """Who does the work.

    Parameters
    ----------
    workers : int
        Processes on this machine; 1 does it here.
    scheduler : str, optional
        Address of a Dask scheduler, which then does it.
    cluster : bool
        Start such a scheduler here, with so many workers.
    """

    workers: int = 1
    scheduler: str | None = None
    cluster: bool = False

    @classmethod
    def all_cores(cls) -> "Hands":
        """Take every core this process may use."""
        usable = getattr(os, "sched_getaffinity", None)
        return cls(len(usable(0)) if usable else os.cpu_count() or 1)

    @classmethod
    def asked(cls, workers: int | None, scheduler: str | None, *, cluster: bool) -> "Hands":
        """Take what was asked for; every core where nobody said how many."""
        return cls(workers or cls.all_cores().workers, scheduler, cluster)


def sweep(
    work: Callable[[S, T], R],
    shared: Sequence[S],
    pieces: Sequence[tuple[int, T]],
    hands: Hands,
    idle: Callable[[], None] | None = None,
) -> Iterator[tuple[int, R]]:
    """Do all pieces, and give each result with its number as soon as it is there.

    Parameters
    ----------
    work : callable
        Takes what pieces share and a piece; importable by name.
    shared : sequence
        What some pieces share.
    pieces : sequence of (int, piece)
        Which of `shared` each goes with, and the piece.
    hands : Hands
        Who does it.
    idle : callable, optional
        Called while nothing arrives from other processes of this machine; what it raises ends the
        work.

    Raises
    ------
    BadInputError
        A scheduler that cannot be reached.
    NoSolutionError
        A cluster is asked for and its program is not installed.
    """
    if hands.scheduler is not None or hands.cluster:
        yield from _on_cluster(work, shared, pieces, hands)
    elif hands.workers == 1 or len(pieces) == 1:
        yield from ((k, work(shared[s], piece)) for k, (s, piece) in enumerate(pieces))
    else:
        yield from _in_processes(work, shared, pieces, hands, idle or _nothing)


def _in_processes(
    work: Callable[[S, T], R],
    shared: Sequence[S],
    pieces: Sequence[tuple[int, T]],
    hands: Hands,
    idle: Callable[[], None],
) -> Iterator[tuple[int, R]]:
    others = set(multiprocessing.active_children())
    pool = ProcessPoolExecutor(
        min(hands.workers, len(pieces)),
        mp_context=multiprocessing.get_context("spawn"),
        initializer=_live_with_the_parent,
    )
    try:
        futures = {pool.submit(work, shared[s], piece): k for k, (s, piece) in enumerate(pieces)}
        going = set(futures)
        while going:
            done, going = wait(going, timeout=_LOOK_S, return_when=FIRST_COMPLETED)
            for future in done:
                yield futures[future], future.result()
            idle()
    except BaseException:  # nobody waits for what is half done
        pool.shutdown(wait=False, cancel_futures=True)
        for worker in set(multiprocessing.active_children()) - others:
            worker.terminate()
        raise
    pool.shutdown()


def _nothing() -> None:
    """Nobody wants to know."""


def _live_with_the_parent() -> None:
    """Leave interrupts to the parent; end with it, even where it was killed."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    Thread(target=_end_with_the_parent, daemon=True).start()


def _end_with_the_parent() -> None:
    parent = multiprocessing.parent_process()
    if parent is not None:
        parent.join()
        os._exit(1)


def _on_cluster(
    work: Callable[[S, T], R], shared: Sequence[S], pieces: Sequence[tuple[int, T]], hands: Hands
) -> Iterator[tuple[int, R]]:
    dask = _dask()
    with ExitStack() as stack:
        client = _client(dask, stack, hands)
        held = client.scatter(list(shared), hash=False)
        futures = {
            client.submit(work, held[s], piece, pure=False): k
            for k, (s, piece) in enumerate(pieces)
        }
        for future in dask.as_completed(list(futures)):
            yield futures[future], future.result()


def _dask() -> Any:  # noqa: ANN401 - it has no types
    """The program that runs clusters; an extra."""
    try:
        return import_module("distributed")
    except ImportError:
        raise NoSolutionError(
            "a cluster needs Dask, which is not installed: python -m pip install"
            " 'carrybook[cluster]'; --workers 2 does without"
        ) from None


def _client(dask: Any, stack: ExitStack, hands: Hands) -> Any:  # noqa: ANN401 - it has no types
    """Connect to a scheduler, or start one here; the stack ends what was started."""
    if hands.scheduler is None:
        local = dask.LocalCluster(
            n_workers=hands.workers, threads_per_worker=1, dashboard_address=None
        )
        return stack.enter_context(dask.Client(stack.enter_context(local)))
    try:
        return stack.enter_context(dask.Client(hands.scheduler, timeout=_WAIT_S))
    except (OSError, ValueError) as error:
        raise BadInputError(
            f"scheduler = {hands.scheduler!r} cannot be reached; give an address like"
            " tcp://192.168.1.20:8786, or leave it out"
        ) from error
