"""The error study behind the step of the flight: `python -m benchmarks.flight_error`.

The same flights with shorter and longer steps, against steps of 2 ms; error of the landing spot.
"""

from collections.abc import Iterator
from unittest.mock import patch

import numpy as np

from benchmarks.timing import best_of
from carrybook.base.numerics import Floats
from carrybook.physics import flight
from carrybook.physics.aerodynamics import BAND
from carrybook.physics.flight import body_row, fly_batch, level_net, wind_row
from carrybook.world.air import REFERENCE_DAY
from carrybook.world.wind import Wind

COUNT = 4000
GRADED = np.array([128.0, 128.0, 64.0, 32.0, 16.0, 8.0, 4.0, 2.0, 1.0])


def lines() -> Iterator[str]:
    """Measure and say, as rows of a table."""
    rng = np.random.default_rng(3)
    launches = np.column_stack(
        [
            rng.uniform(14, 48, COUNT),
            np.radians(rng.uniform(18, 50, COUNT)),
            rng.uniform(260, 1150, COUNT),
            np.radians(rng.uniform(-25, 25, COUNT)),
            np.radians(rng.uniform(-15, 15, COUNT)),
        ]
    )
    yield "| roughness m | last s | first | p50 mm | p99 mm | largest mm | apex mm | time |"
    yield "|---|---|---|---|---|---|---|---|"
    for roughness in (0.005, 0.03, 0.10, 0.50):
        winds = np.array(
            [
                wind_row(Wind(rng.uniform(0, 10), rng.uniform(0, 6.28), roughness))
                for _ in range(COUNT)
            ]
        )
        exact = _fly(np.array([0.002]), launches, winds)
        unit = _seconds(flight.STEPS, launches, winds)
        for last in (0.10, 0.20, 0.25, 0.30, 0.40):
            for name, steps in (("equal", np.array([last])), ("graded", last / GRADED)):
                yield _row(roughness, last, name, steps, launches, winds, exact, unit)


def _row(
    roughness: float, last: float, name: str, steps: Floats, launches: Floats, winds: Floats,
    exact: Floats, unit: float,
) -> str:  # fmt: skip
    landed = _fly(steps, launches, winds)
    error = 1e3 * np.hypot(*(landed[:, :2] - exact[:, :2]).T)
    apex = 1e3 * np.abs(landed[:, 8] - exact[:, 8]).max()
    time = _seconds(steps, launches, winds) / unit
    figures = (np.median(error), np.quantile(error, 0.99), error.max(), apex, time)
    told = " | ".join(f"{f:.2f}" for f in figures)
    return f"| {roughness:g} | {last:.2f} | {name} | {told} |"


def _fly(steps: Floats, launches: Floats, winds: Floats) -> Floats:
    with patch.object(flight, "STEPS", steps):
        return fly_batch(
            launches, body_row(REFERENCE_DAY), np.array([a.row() for a in BAND]),
            np.arange(COUNT) % 3, winds, level_net(), np.zeros(3),
        )  # fmt: skip


def _seconds(steps: Floats, launches: Floats, winds: Floats) -> float:
    return best_of(lambda: _fly(steps, launches, winds), 3)


if __name__ == "__main__":
    for line in lines():
        print(line)
