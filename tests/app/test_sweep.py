"""Pieces of work give the same results whoever does them."""

import multiprocessing
import time
from collections.abc import Iterator
from contextlib import closing

import pytest

from carrybook.app.sweep import Hands, sweep
from carrybook.base.errors import BadInputError, NoSolutionError

PIECES = [(k % 2, float(k)) for k in range(6)]
SHARED = [2.0, 3.0]


def power(base: float, exponent: float) -> float:
    """Work that tells whose piece it was."""
    return base**exponent


WANTED = {k: power(SHARED[s], piece) for k, (s, piece) in enumerate(PIECES)}


@pytest.mark.parametrize("workers", [1, 2])
def test_every_piece_is_done_once(workers: int) -> None:
    found = list(sweep(pow, SHARED, PIECES, Hands(workers)))
    assert len(found) == len(PIECES)
    assert dict(found) == WANTED


def test_results_come_one_by_one_and_the_rest_can_be_left() -> None:
    others = set(multiprocessing.active_children())
    with closing(sweep(pow, SHARED, PIECES, Hands(2))) as results:
        number, result = next(results)
    assert result == WANTED[number]
    for _ in range(300):  # the pool's own thread may be taking leave of them too
        left = {w for w in multiprocessing.active_children() if w not in others and w.pid}
        if not left:
            break
        time.sleep(0.1)
    assert not left


@pytest.mark.parametrize("workers", [1, 2])
def test_what_goes_wrong_comes_out(workers: int) -> None:
    with pytest.raises(ZeroDivisionError):
        list(sweep(divmod, SHARED, [(0, 0.0), (0, 0.0)], Hands(workers)))


def test_hands_are_all_cores() -> None:
    assert Hands.all_cores().workers >= 1


def test_hands_are_those_asked_for() -> None:
    assert Hands.asked(3, None, cluster=True) == Hands(3, None, cluster=True)
    assert Hands.asked(None, "tcp://h:1", cluster=False) == Hands(
        Hands.all_cores().workers, "tcp://h:1"
    )


@pytest.fixture
def scheduler() -> Iterator[str]:
    """Run a Dask scheduler in this process."""
    distributed = pytest.importorskip("distributed")
    with distributed.LocalCluster(
        n_workers=1, threads_per_worker=1, processes=False, protocol="tcp", host="127.0.0.1",
        dashboard_address=None, silence_logs=50,
    ) as local:  # fmt: skip
        yield local.scheduler_address


@pytest.mark.filterwarnings("ignore")
def test_a_cluster_gives_the_same(scheduler: str) -> None:
    assert dict(sweep(pow, SHARED, PIECES, Hands(1, scheduler=scheduler))) == WANTED


@pytest.mark.filterwarnings("ignore")
def test_a_scheduler_that_is_not_there_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    pytest.importorskip("distributed")
    monkeypatch.setattr("carrybook.app.sweep._WAIT_S", 0.5)
    with pytest.raises(BadInputError, match=r"scheduler = 'tcp://127.0.0.1:9' cannot be reached"):
        list(sweep(pow, SHARED, PIECES, Hands(1, scheduler="tcp://127.0.0.1:9")))


def test_without_dask_it_says_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    def missing(name: str) -> None:
        raise ImportError(name)

    monkeypatch.setattr("carrybook.app.sweep.import_module", missing)
    with pytest.raises(NoSolutionError, match=r"carrybook\[cluster\].*--workers 2"):
        list(sweep(pow, SHARED, PIECES, Hands(1, cluster=True)))
