"""Flights and whole shots against SciPy, against C++, on one core, and by how many there are."""

import tracemalloc
from collections.abc import Iterator
from contextlib import nullcontext
from typing import Any
from unittest.mock import patch

import numpy as np
from scipy.integrate import solve_ivp

from benchmarks.flight_cpp import compiled
from benchmarks.timing import best_of
from carrybook.base.numerics import Floats
from carrybook.physics.aerodynamics import BAND, MID, lift_and_drag
from carrybook.physics.flight import LONGEST, body_row, fly_batch, level_net, wind_row
from carrybook.physics.shot import play_batch
from carrybook.world.air import REFERENCE_DAY
from carrybook.world.ground import flat_ground
from carrybook.world.wind import Wind

COUNT = 40_000
RUNS = 7
WIND = Wind(5.0, 1.0)
ONE_CORE = patch("carrybook.physics.flight.in_parts", lambda work, n, **_: work(0, n))


def lines() -> Iterator[str]:
    """Measure and say."""
    rows = _launches(COUNT)
    few = rows[:40]
    exact = np.array([_dop853(row, 1e-11) for row in few])
    ours = np.array([landed[:2] for landed in _fly(few)])
    loose = np.array([_dop853(row, 1e-5) for row in few])
    yield f"flights, wind and tilted spin: {COUNT} of them"
    yield "  largest error of the landing spot against DOP853 at 1e-11:"
    yield f"    ours            {1e3 * np.abs(ours - exact).max():8.3f} mm"
    yield f"    DOP853 at 1e-5  {1e3 * np.abs(loose - exact).max():8.3f} mm"
    many = best_of(lambda: _fly(rows), 3) / COUNT
    scipy = best_of(lambda: [_dop853(row, 1e-5) for row in few[:10]], 2) / 10
    with ONE_CORE:
        alone = best_of(lambda: _fly(rows), 3) / COUNT
    yield f"  ours {1 / many:,.0f} a second; DOP853 {1 / scipy:,.0f}; ratio {scipy / many:,.0f}"
    yield f"  all cores over one core: {alone / many:.2f}"
    whole = best_of(lambda: _play(rows), 3) / COUNT
    yield f"whole shots, launch to rest: {1 / whole:,.0f} a second, {many / whole:.2f} of that"
    yield from _against_cpp(rows)
    yield from _by_number()


def _against_cpp(rows: Floats) -> Iterator[str]:
    """The same arithmetic compiled by g++, in alternating runs."""
    cpp = compiled()
    if cpp is None:
        yield "flights against C++: left out, there is no g++ here"
        return
    given = body_row(REFERENCE_DAY), MID.row(), np.tile(wind_row(WIND), (len(rows), 1))
    apart = 1e3 * np.hypot(*(cpp(rows, *given)[:, :2] - _fly(rows)[:, :2]).T).max()
    yield f"flights against the same loop in C++: landing spots at most {apart:.4f} mm apart"
    for name, cores in (("one core", ONE_CORE), ("all cores", nullcontext())):
        with cores:
            times = [
                (best_of(lambda: _fly(rows), 1), best_of(lambda: cpp(rows, *given), 1))
                for _ in range(RUNS)
            ]
        ours, theirs = np.min(times, axis=0) / len(rows)
        yield f"  {name}: C++ {1 / theirs:,.0f} a second, our rate over that {theirs / ours:.2f}"


def _by_number() -> Iterator[str]:
    """Time should grow with the number of flights, and no faster; working memory not at all."""
    yield "by number of flights, all cores; memory beyond rows given and returned:"
    for count in (10_000, 100_000, 1_000_000):
        given = _given(_launches(count))
        each = best_of(lambda given=given: fly_batch(*given), 3) / count
        tracemalloc.start()
        landed = fly_batch(*given)
        working = tracemalloc.get_traced_memory()[1] - landed.nbytes
        tracemalloc.stop()
        yield f"  {count:>9,}: {1e6 * each:.2f} us each, {working / 1e6:.2f} MB at work"


def _launches(count: int) -> Floats:
    rng = np.random.default_rng(1)
    return np.column_stack(
        [
            rng.uniform(18, 44, count),
            rng.uniform(0.35, 0.80, count),
            rng.uniform(300, 1100, count),
            rng.uniform(-0.3, 0.3, count),
            rng.uniform(-0.2, 0.2, count),
        ]
    )


def _fly(rows: Floats) -> Floats:
    return fly_batch(*_given(rows))


def _given(rows: Floats) -> tuple[Any, ...]:
    """What `fly_batch` is given."""
    n = len(rows)
    return (
        rows, body_row(REFERENCE_DAY), MID.row()[None, :], np.zeros(n, dtype=np.int64),
        np.tile(wind_row(WIND), (n, 1)), level_net(), np.zeros(3),
    )  # fmt: skip


def _play(rows: Floats) -> Floats:
    n = len(rows)
    turf = np.tile([0.28, 0.9, 0.4, 0.55, 0.0], (n, 1))
    ends, _ = play_batch(
        rows, turf, body_row(REFERENCE_DAY), np.array([a.row() for a in BAND]),
        np.ones(n, dtype=np.int64), np.tile(wind_row(WIND), (n, 1)),
        flat_ground(slope_x=0.02, extent_m=150.0), np.array([0.0, 0.0, 0.0]), (60.0, 0.0),
    )  # fmt: skip
    return ends


def _dop853(row: Floats, tolerance: float) -> tuple[float, float]:
    """Landing point by SciPy, the right-hand side in plain numpy."""
    gain, per_speed, radius, gravity = body_row(REFERENCE_DAY)
    blow = wind_row(WIND)
    speed, angle, spin, tilt, right = row
    c, s = np.cos(right), np.sin(right)
    axis = np.array([-s * np.cos(tilt), -c * np.cos(tilt), -np.sin(tilt)])

    def rates(_t: float, y: Floats) -> Floats:
        share = max(0.0, 1.0 + blow[2] * np.log(max(y[2], 1e-9) / blow[3]))
        u = y[3:6] - share * np.array([blow[0], blow[1], 0.0])
        fast = float(np.sqrt(u @ u))
        lift, drag = lift_and_drag(y[6] * radius / fast, fast * per_speed, MID)
        force = gain * fast * (lift * np.cross(axis, u) - drag * u)
        force[2] -= gravity
        return np.concatenate([y[3:6], force, [-MID.spin_decay * y[6] * fast / radius]])

    def down(_t: float, y: Floats) -> float:
        return float(y[2])

    down.terminal, down.direction = True, -1.0  # type: ignore[attr-defined]
    launch = speed * np.array([c * np.cos(angle), -s * np.cos(angle), np.sin(angle)])
    start = np.concatenate([np.zeros(3), launch, [spin]])
    found = solve_ivp(
        rates, (0.0, LONGEST), start,
        method="DOP853", rtol=tolerance, atol=tolerance, events=down,
    )  # fmt: skip
    x, y = found.y_events[0][0][:2]
    return float(x), float(y)
