"""Pieces of work give the same results whoever does them."""

import multiprocessing
import os
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

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


def test_who_waits_may_end_the_work() -> None:
    looks: list[int] = []

    def enough() -> None:
        looks.append(1)
        if len(looks) == 3:
            raise KeyboardInterrupt

    before = time.monotonic()
    with pytest.raises(KeyboardInterrupt):
        list(sweep(nap, [None], [(0, 60.0)] * 2, Hands(2), enough))
    assert time.monotonic() - before < 30.0


def nap(_: None, seconds: float) -> None:
    """Work that lasts."""
    time.sleep(seconds)


CHILD = """
import sys
from tests.app.test_sweep import nap
from carrybook.app.sweep import Hands, sweep
if __name__ == "__main__":
    list(sweep(nap, [None], [(0, 60.0)] * 2, Hands(2), lambda: print("going", flush=True)))
"""


@pytest.mark.skipif(not Path("/proc/self/task").exists(), reason="asks Linux who runs")
def test_workers_end_with_a_parent_that_is_killed(tmp_path: Path) -> None:
    (tmp_path / "parent.py").write_text(CHILD)
    root = str(Path(__file__).parents[2])
    env = os.environ | {"PYTHONPATH": os.pathsep.join([root, *sys.path])}
    run = [sys.executable, str(tmp_path / "parent.py")]
    with subprocess.Popen(run, stdout=subprocess.PIPE, env=env) as parent:  # noqa: S603 - ours
        assert parent.stdout is not None
        assert parent.stdout.readline() == b"going\n"
        while len(workers := children(parent.pid)) < 3:  # two, and who tracks their resources
            time.sleep(0.05)
        time.sleep(1.0)
        parent.kill()
    for _ in range(200):
        if not any(alive(pid) for pid in workers):
            return
        time.sleep(0.1)
    raise AssertionError("they are still there")


def children(pid: int) -> list[int]:
    """Processes of a process."""
    told = Path(f"/proc/{pid}/task/{pid}/children").read_text()
    return [int(word) for word in told.split()]


def alive(pid: int) -> bool:
    """Whether it runs; one that has ended and nobody asks about does not."""
    try:
        return Path(f"/proc/{pid}/stat").read_text().rsplit(")", 1)[1].split()[0] != "Z"
    except OSError:
        return False


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
