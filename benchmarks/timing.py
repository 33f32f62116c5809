"""Best of several runs of a call, and medians of calls that take turns, in seconds."""

import time
from collections.abc import Callable, Mapping
from statistics import median

__all__ = ["best_of", "medians_of"]


def best_of(call: Callable[[], object], runs: int = 5) -> float:
    """Shortest of some runs after one that warms up. [s]"""
    call()
    return min(_seconds(call) for _ in range(runs))


def medians_of(calls: Mapping[str, Callable[[], object]], runs: int = 9) -> dict[str, float]:
    """Median of some runs of each call after one that warms up; the calls take turns. [s]"""
    for call in calls.values():
        call()
    rounds = [{name: _seconds(call) for name, call in calls.items()} for _ in range(runs)]
    return {name: median(taken[name] for taken in rounds) for name in calls}


def _seconds(call: Callable[[], object]) -> float:
    start = time.perf_counter()
    call()
    return time.perf_counter() - start
