"""Writes 1 000 random launches and where SciPy's DOP853 lands them, with tolerances of 1e-11.

Run `.venv/bin/python tools/make_reference_landings.py` to write the file anew, in a minute: needed
only when the coefficients or the air of the flight model change. tests/physics/test_flight.py reads
it, and flies some of the rows again with `dop853`.
"""

import csv
from math import log, radians
from multiprocessing import Pool
from pathlib import Path

import numpy as np
from scipy.integrate import solve_ivp

from carrybook.base.constants import RPM
from carrybook.base.numerics import Floats
from carrybook.physics.aerodynamics import BAND, Aerodynamics, lift_and_drag
from carrybook.physics.flight import Launch, body_row
from carrybook.world.air import Air
from carrybook.world.wind import Wind

FILE = Path(__file__).parents[1] / "tests" / "physics" / "data" / "landings.csv"
COUNT, SEED = 1000, 853

# What is drawn, between which bounds, to how many decimals; then what comes out.
DRAWN = (
    ("speed_mps", 14.0, 48.0, 2),
    ("launch_deg", 18.0, 50.0, 2),
    ("spin_rpm", 2500.0, 11000.0, 0),
    ("axis_deg", -25.0, 25.0, 2),
    ("start_right_deg", -15.0, 15.0, 2),
    ("temperature_k", 270.0, 310.0, 1),
    ("pressure_pa", 85_000.0, 104_000.0, 0),
    ("humidity", 0.0, 1.0, 2),
    ("wind_mps", 0.0, 10.0, 2),
    ("wind_from_deg", 0.0, 360.0, 1),
    ("rise_m", -8.0, 0.7, 2),
)
ROUGHNESS_M = (0.01, 0.03, 0.1)
FOUND = ("carry_m", "side_m", "apex_m", "time_s", "spin_rad_s")


def main() -> None:
    """Draw, fly and write."""
    rng = np.random.default_rng(SEED)
    rows = [
        {name: round(float(rng.uniform(low, high)), places) for name, low, high, places in DRAWN}
        | {"roughness_m": float(rng.choice(ROUGHNESS_M)), "band": int(rng.integers(len(BAND)))}
        for _ in range(COUNT)
    ]
    with Pool() as pool:
        landings = pool.map(landing, rows, chunksize=20)
    FILE.parent.mkdir(exist_ok=True)
    with FILE.open("w", newline="", encoding="utf-8") as file:
        table = csv.writer(file, lineterminator="\n")
        table.writerow([*rows[0], *FOUND])
        for row, found in zip(rows, landings, strict=True):
            table.writerow([*row.values(), *(f"{value:.6f}" for value in found)])


def landing(row: dict[str, float]) -> tuple[float, ...]:
    """Carry, side, apex, time and spin of one row."""
    return dop853(*flight_of(row))


def flight_of(row: dict[str, float]) -> tuple[Launch, Air, Wind, Aerodynamics, float]:
    """Launch, air, wind, coefficients and rise of one row."""
    turns = ("launch_deg", "axis_deg", "start_right_deg", "wind_from_deg")
    angle, tilt, right, blows = (radians(row[name]) for name in turns)
    return (
        Launch(row["speed_mps"], angle, row["spin_rpm"] * RPM, tilt, right),
        Air(row["temperature_k"], row["pressure_pa"], row["humidity"]),
        Wind(row["wind_mps"], blows, row["roughness_m"]),
        BAND[int(row["band"])],
        row["rise_m"],
    )


def dop853(launch: Launch, air: Air, wind: Wind, a: Aerodynamics, rise: float) -> tuple[float, ...]:
    """The same physics written the textbook way, solved by SciPy's DOP853 at 1e-11."""
    gain, per_speed, radius, g = body_row(air)
    right = launch.start_right_rad
    ahead, left = (
        np.array([np.cos(right), -np.sin(right), 0.0]),
        np.array([np.sin(right), np.cos(right), 0.0]),
    )
    up = np.array([0.0, 0.0, 1.0])
    axis = -left * np.cos(launch.axis_rad) - up * np.sin(launch.axis_rad)
    blow = wind.from_rad + right
    toward = -np.array([np.cos(blow), -np.sin(blow), 0.0])

    def rates(_t: float, s: Floats) -> Floats:
        height = max(s[2] - min(0.0, rise), 1e-9)
        speed = wind.speed_mps * max(
            0.0, log(height / wind.roughness_m) / log(wind.height_m / wind.roughness_m)
        )
        u = s[3:6] - speed * toward
        fast = float(np.linalg.norm(u))
        lift, drag = lift_and_drag(s[6] * radius / fast, fast * per_speed, a)
        force = gain * fast * (lift * np.cross(axis, u) - drag * u)
        return np.concatenate([s[3:6], force - g * up, [-a.spin_decay * s[6] * fast / radius]])

    def down(_t: float, s: Floats) -> float:
        return float(s[2] - rise)

    def top(_t: float, s: Floats) -> float:
        return float(s[5])

    down.terminal, down.direction = True, -1.0  # type: ignore[attr-defined]
    start = launch.speed_mps * (np.cos(launch.launch_rad) * ahead + np.sin(launch.launch_rad) * up)
    found = solve_ivp(
        rates, (0.0, 30.0), np.concatenate([np.zeros(3), start, [launch.spin_rad_s]]),
        method="DOP853", rtol=1e-11, atol=1e-11, events=(down, top),
    )  # fmt: skip
    end = found.y_events[0][0]
    apex = max(s[2] for s in found.y_events[1])
    return end[0], -end[1], apex, found.t_events[0][0], end[6]


if __name__ == "__main__":
    main()
