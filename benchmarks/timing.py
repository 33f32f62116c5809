"""Best of several runs of a call, in seconds."""

import time
from collections.abc import Callable

__all__ = ["best_of"]


def best_of(call: Callable[[], object], runs: int = 5) -> float:
    """Shortest of some runs after one that warms up. [s]"""
    call()
    times = []
    for _ in range(runs):
        start = time.perf_counter()
        call()
        times.append(time.perf_counter() - start)
    return min(times)
