"""Whole shots on a contoured green: how many a second, where the time goes, how memory grows."""

import time
import tracemalloc
from collections.abc import Callable, Iterator
from contextlib import ExitStack
from unittest.mock import patch

import numpy as np

from benchmarks.timing import best_of
from carrybook.base.numerics import Floats
from carrybook.physics import shot
from carrybook.physics.aerodynamics import BAND
from carrybook.physics.flight import body_row, fly_batch, wind_row
from carrybook.physics.turf import turf_rows
from carrybook.world.air import REFERENCE_DAY
from carrybook.world.ground import Ground
from carrybook.world.wind import Wind

COUNT = 100_000
RUNS = 5
GREEN = (60.0, 0.0)
PHASES = ("fly_batch", "bounce_many", "roll_many")
MODULES = ("shot", "flight")


def lines() -> Iterator[str]:
    """Measure and say."""
    ground = _contoured()
    rows, turf = _shots(COUNT)
    ends = _play(rows, turf, ground)
    yield f"whole shots, launch to rest, on a contoured green with a tier, wind: {COUNT}"
    bounces, seconds = ends[:, 3].mean(), ends[:, 8].mean()
    yield f"  {bounces:.1f} touches before the roll, {seconds:.1f} s to rest, in the mean"
    pairs = [(_seconds(rows, turf, ground), _flown(rows, ground)) for _ in range(RUNS)]
    whole, flown = np.min(pairs, axis=0) / COUNT
    yield f"  all cores: {1 / whole:,.0f} a second; flights alone {1 / flown:,.0f};"
    yield f"    a whole shot takes {whole / flown:.1f} times its flight"
    shares = " ".join(f"{name} {share:.0%}" for name, share in _shares(rows, turf, ground))
    yield f"  share of one core's time: {shares}"
    for count in (10_000, 100_000, 400_000):
        yield f"  {count:>7,}: {_working_memory(count, ground) / 1e6:.1f} MB of working memory"


def _contoured() -> Ground:
    x, y = np.meshgrid(np.arange(-20.0, 150.0, 0.5), np.arange(-50.0, 50.0, 0.5), indexing="ij")
    heights = 0.02 * x + 0.125 * np.sin(x / 4.0) * np.sin(y / 5.0)
    heights += 0.3 / (1.0 + np.exp(-(x - 70.0) / 0.6))
    return Ground(-20.0, -50.0, 0.5, heights, np.zeros(x.shape, dtype=np.int64))


def _shots(count: int) -> tuple[Floats, Floats]:
    rng = np.random.default_rng(1)
    rows = np.column_stack(
        [
            rng.uniform(22, 40, count),
            rng.uniform(0.42, 0.70, count),
            rng.uniform(500, 1000, count),
            rng.uniform(-0.2, 0.2, count),
            rng.uniform(-0.1, 0.1, count),
        ]
    )
    turf = turf_rows(rng.uniform(70, 120, count))
    turf[:, 3] = rng.uniform(0.45, 0.65, count)
    return rows, turf


def _play(rows: Floats, turf: Floats, ground: Ground) -> Floats:
    n = len(rows)
    ends, _ = shot.play_batch(
        rows, turf, body_row(REFERENCE_DAY), np.array([a.row() for a in BAND]),
        np.ones(n, dtype=np.int64), np.tile(wind_row(Wind(5.0, 1.0)), (n, 1)), ground,
        np.zeros(3), GREEN,
    )  # fmt: skip
    return ends


def _seconds(rows: Floats, turf: Floats, ground: Ground) -> float:
    return best_of(lambda: _play(rows, turf, ground), 1)


def _flown(rows: Floats, ground: Ground) -> float:
    n = len(rows)
    winds = np.tile(wind_row(Wind(5.0, 1.0)), (n, 1))
    net = (ground.heights, ground.x0, ground.y0, ground.step)
    given = (body_row(REFERENCE_DAY), np.array([a.row() for a in BAND]), np.ones(n, dtype=np.int64))
    return best_of(lambda: fly_batch(rows, *given, winds, net, np.zeros(3)), 1)


def _shares(rows: Floats, turf: Floats, ground: Ground) -> Iterator[tuple[str, float]]:
    """Share of each phase, on one core."""
    spent = dict.fromkeys(PHASES, 0.0)

    def timed(name: str, call: Callable[..., object]) -> Callable[..., object]:
        def timing(*given: object) -> object:
            start = time.perf_counter()
            answer = call(*given)
            spent[name] += time.perf_counter() - start
            return answer

        return timing

    with ExitStack() as stack:
        for module in MODULES:
            alone = patch(f"carrybook.physics.{module}.in_parts", lambda work, n, **_: work(0, n))
            stack.enter_context(alone)
        for name in PHASES:
            stack.enter_context(patch.object(shot, name, timed(name, getattr(shot, name))))
        start = time.perf_counter()
        _play(rows, turf, ground)
        whole = time.perf_counter() - start
    yield from ((name, seconds / whole) for name, seconds in spent.items())


def _working_memory(count: int, ground: Ground) -> float:
    """Bytes at the peak beyond rows given and returned."""
    rows, turf = _shots(count)
    n = len(rows)
    which, winds = np.ones(n, dtype=np.int64), np.tile(wind_row(Wind(5.0, 1.0)), (n, 1))
    aero, body = np.array([a.row() for a in BAND]), body_row(REFERENCE_DAY)
    tracemalloc.start()
    answer = shot.play_batch(rows, turf, body, aero, which, winds, ground, np.zeros(3), GREEN)
    peak = tracemalloc.get_traced_memory()[1] - sum(part.nbytes for part in answer)
    tracemalloc.stop()
    return peak


if __name__ == "__main__":
    for line in lines():
        print(line)
