"""Long work beside the page: it says how far it is, and stops when it is told to."""

import secrets
from collections import OrderedDict
from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor, wait
from contextlib import suppress
from dataclasses import dataclass, field
from multiprocessing import active_children
from threading import Event, Lock
from typing import Protocol

from carrybook.base.errors import BadInputError, NoSolutionError

__all__ = ["Job", "Jobs", "Keeper", "StoppedError", "Tell"]

Tell = Callable[[str, float], None]

_MOST_REMEMBERED = 20  # of each kind


class StoppedError(Exception):
    """The work was told to stop."""


@dataclass(slots=True)
class Job:
    """One piece of work.

    Parameters
    ----------
    key : str
        By which it is asked for.
    kind : str
        Of work; only the newest of a kind goes on.
    about : str, optional
        Fingerprint of what was asked and of all that the answer rests on, so that a page can tell
        whether this is its answer; what came of it is kept where there is one.
    words, share : str, float
        What is being done, and which share of it is done. [1]
    result : object
        What came of it, once `done`.
    problem : str
        Why nothing came of it; empty where something did.
    """

    key: str
    kind: str = "answer"
    about: str | None = None
    words: str = "waiting"
    share: float = 0.0
    result: object = None
    problem: str = ""
    done: bool = False
    stop: Event = field(default_factory=Event)

    def tell(self, words: str, share: float) -> None:
        """Say how far it is; stops the work here if it was told to."""
        if self.stop.is_set():
            raise StoppedError
        self.words, self.share = words, share


class Keeper(Protocol):
    """Keeps what came of work, so that it is there again after the server stopped."""

    def keep_result(self, kind: str, about: str, result: object) -> None:
        """Keep it, in place of the one before. Raises BadInputError where it cannot be written."""

    def result(self, kind: str) -> tuple[str, object] | None:
        """What was kept of that kind: what it is about, and what came of it."""


class Jobs:
    """Work that goes on while the page is looked at: one of each kind at a time.

    Parameters
    ----------
    keeper : Keeper, optional
        Keeps what came of work that is about something.
    """

    def __init__(self, keeper: Keeper | None = None) -> None:
        self._keeper = keeper
        self._recalled: set[str] = set()
        self._running: set[Future[None]] = set()
        self._workers: dict[str, ThreadPoolExecutor] = {}
        self._known: OrderedDict[str, Job] = OrderedDict()
        self._lock = Lock()

    def start(
        self, work: Callable[[Tell], object], kind: str = "answer", about: str | None = None
    ) -> Job:
        """Begin, and stop older work of that kind: only the newest question matters."""
        job = Job(secrets.token_urlsafe(12), kind, about)
        with self._lock:
            older = [other for other in self._known.values() if other.kind == kind]
            for other in older:
                other.stop.set()
            for other in older[: len(older) + 1 - _MOST_REMEMBERED]:
                del self._known[other.key]
            self._known[job.key] = job
            if kind not in self._workers:
                self._workers[kind] = ThreadPoolExecutor(1, thread_name_prefix=f"{kind} work")
        going = self._workers[kind].submit(_run, job, work, self._keeper)
        self._running.add(going)
        going.add_done_callback(self._running.discard)
        return job

    def find(self, key: str) -> Job | None:
        """A piece of work by its key; none where it was long ago."""
        return self._known.get(key)

    def newest(self, kind: str) -> Job | None:
        """The newest piece of work of a kind; else what was kept of one before the server."""
        with self._lock:
            newest = next((j for j in reversed(self._known.values()) if j.kind == kind), None)
            if newest is None and self._keeper is not None and kind not in self._recalled:
                self._recalled.add(kind)
                newest = _recall(kind, self._keeper)
                if newest is not None:
                    self._known[newest.key] = newest
            return newest

    def close(self, patience_s: float = 0.0) -> None:
        """Stop everything; within so many seconds, what can be kept of it is."""
        for job in list(self._known.values()):
            job.stop.set()
        for worker in self._workers.values():
            worker.shutdown(wait=False, cancel_futures=True)
        wait(list(self._running), timeout=patience_s)
        for child in active_children():  # they would stay when the server is gone
            child.terminate()


def _recall(kind: str, keeper: Keeper) -> Job | None:
    kept = keeper.result(kind)
    if kept is None:
        return None
    about, result = kept
    return Job(
        secrets.token_urlsafe(12), kind, about, words="kept", share=1.0, result=result, done=True
    )


def _run(job: Job, work: Callable[[Tell], object], keeper: Keeper | None) -> None:
    try:
        job.tell("starting", 0.0)
        job.result = work(job.tell)
        job.share = 1.0
        if keeper is not None and job.about is not None:
            with suppress(BadInputError):  # it is here all the same
                keeper.keep_result(job.kind, job.about, job.result)
    except StoppedError:
        job.problem = "stopped"
    except (BadInputError, NoSolutionError) as error:
        job.problem = str(error)
    except Exception:
        job.problem = "something went wrong here; the terminal of the server says more"
        raise
    finally:
        job.done = True
