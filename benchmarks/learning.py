"""Learning: the quick way on 600 balls of 12 shots, how it grows, full sampling if installed."""

import resource
import sys
import time
from collections.abc import Iterator
from importlib.util import find_spec

import numpy as np

from carrybook.player.learn.invented import bag_of, book_of, drawn_truth
from carrybook.player.learn.learn import learn_full, learn_quick

SHOTS = bag_of(12)


def lines() -> Iterator[str]:
    """Measure and say."""
    small = _quick(600)[0]
    large = _quick(6000)[0]
    yield f"learn, 600 balls, 12 shots, the quick way: {small:.1f} s"
    yield f"  ten times the balls take {large / small:.1f} times as long"
    if find_spec("nutpie") and find_spec("pymc"):
        full = _full(600)[0]
        yield f"learn --full, 4 chains, compiled anew: {full:.0f} s, {full / small:.0f} times that"


def _quick(balls: int) -> tuple[float, float]:
    rng = np.random.default_rng(1)
    log = book_of(SHOTS, drawn_truth(SHOTS, rng), balls, rng, days=max(6, balls // 200))
    start = time.perf_counter(), time.process_time()
    learn_quick(SHOTS, log, rng)
    return time.perf_counter() - start[0], time.process_time() - start[1]


def _full(balls: int) -> tuple[float, float]:
    rng = np.random.default_rng(1)
    log = book_of(SHOTS, drawn_truth(SHOTS, rng), balls, rng, days=8)
    start = time.perf_counter(), time.process_time()
    learnt = learn_full(SHOTS, log, rng)
    print(learnt.diagnostics)
    return time.perf_counter() - start[0], time.process_time() - start[1]


if __name__ == "__main__":  # one size: seconds, and the most memory the process had
    size = int(sys.argv[1])
    took = _full(size) if "full" in sys.argv else _quick(size)
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0
    print(f"{size} balls: {took[0]:.1f} s, {took[1]:.1f} s cpu, peak {peak:.0f} MB")
