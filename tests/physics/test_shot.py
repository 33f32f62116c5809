"""Whole shots on real ground: what golfers see must come from one set of equations."""

from math import radians

import numpy as np
import pytest

from carrybook.base.constants import FOOT, RPM
from carrybook.base.numerics import Floats
from carrybook.physics.aerodynamics import MID
from carrybook.physics.flight import Launch, body_row, wind_row
from carrybook.physics.roll import rolling_resistance
from carrybook.physics.shot import End, play_batch
from carrybook.physics.turf import Turf, turf_of_firmness
from carrybook.world.air import REFERENCE_DAY
from carrybook.world.ground import Ground, Surface, flat_ground
from carrybook.world.wind import CALM, Wind

FAR = (900.0, 0.0)


def play(
    launches: list[Launch], ground: Ground, *, firmness: float = 90.0, stimp: float = 10.0,
    start: tuple[float, float, float] = (0.0, 0.0, 0.0), hole: tuple[float, float] = FAR,
    wind: Wind = CALM, stride: float = 0.18,
) -> tuple[Floats, Floats]:  # fmt: skip
    n, turf = len(launches), turf_of_firmness(firmness)
    row = turf.row(rolling_resistance(stimp * FOOT))
    return play_batch(
        np.array([launch.row() for launch in launches]), np.tile(row, (n, 1)),
        body_row(REFERENCE_DAY), MID.row()[None, :], np.zeros(n, dtype=np.int64),
        np.tile(wind_row(wind), (n, 1)), ground,
        np.array(start), hole, stride=stride,
    )  # fmt: skip


def run(
    ground: Ground, speed: float, angle: float, rpm: float, *, firmness: float = 90.0,
    turf: Turf | None = None,
) -> float:  # fmt: skip
    """Run from pitch mark to rest of a ball that arrives with this speed, angle and spin. [m]"""
    arriving = np.array([[speed, -radians(angle), rpm * RPM, 0.0, 0.0]])
    row = (turf or turf_of_firmness(firmness)).row(rolling_resistance(10.0 * FOOT))
    ends, _ = play_batch(
        arriving, np.array([row]), body_row(REFERENCE_DAY), MID.row()[None, :],
        np.zeros(1, dtype=np.int64), wind_row(CALM)[None, :], ground, np.array([0.0, 0.0, 1e-3]),
        FAR,
    )  # fmt: skip
    return float(ends[0, 0] - ends[0, 4])


# Ours, from an independent script of the same model (penner-2002-run, from memory) on a level green
# at stimp 10: landing speed, angle, rpm -> run on soft, medium and firm turf [m].
RUNS = [
    (24, 50, 8000, -1.2, -0.2, 1.0),
    (24, 50, 4500, 1.7, 4.8, 9.8),
    (20, 48, 9500, -1.6, -0.6, 0.2),
    (20, 48, 7000, 0.2, 1.3, 3.2),
    (15, 45, 4000, 6.1, 8.0, 10.4),
]


@pytest.mark.parametrize("row", RUNS)
def test_run_is_what_the_independent_script_gave(row: tuple[float, ...]) -> None:
    speed, angle, rpm, *wanted = row
    classes = ((19.0, 0.70), (16.5, 0.85), (14.0, 1.00))  # no wrap, no tangential restitution
    turfs = [Turf(radians(tilt), restitution) for tilt, restitution in classes]
    got = [run(flat_ground(), speed, angle, rpm, turf=turf) for turf in turfs]
    assert got == pytest.approx(wanted, rel=0.07, abs=0.15)


def test_firmer_runs_longer_more_spin_runs_shorter_downhill_runs_longer() -> None:
    level = flat_ground()
    runs = [run(level, 22.0, 48.0, 5500.0, firmness=g) for g in (65.0, 80.0, 95.0, 110.0, 125.0)]
    assert runs == sorted(runs)
    runs = [run(level, 22.0, 48.0, rpm) for rpm in (9000.0, 7000.0, 5000.0, 3000.0)]
    assert runs == sorted(runs)
    runs = [run(flat_ground(slope_x=s), 20.0, 48.0, 9500.0) for s in (0.03, 0.0, -0.03)]
    assert runs == sorted(runs)


def test_a_ball_lands_below_the_player_or_above_and_finishes_on_the_ground() -> None:
    wedge = Launch(32.0, radians(32.0), 9000 * RPM)
    for slope in (-0.03, 0.0, 0.03):
        ends, landings = play([wedge], flat_ground(slope_x=slope))
        assert ends[0, 2] == End.REST
        assert landings[0, 2] == pytest.approx(slope * landings[0, 0], abs=1e-6)


def test_a_side_slope_feeds_the_ball_down_it_and_mirrors() -> None:
    wedge = Launch(32.0, radians(30.0), 6000 * RPM)
    left, _ = play([wedge], flat_ground(slope_y=-0.03))
    right, _ = play([wedge], flat_ground(slope_y=0.03))
    assert left[0, 1] > 0.3
    assert left[0, :2] == pytest.approx(right[0, :2] * [1, -1], abs=1e-9)


def test_a_ball_into_the_face_of_a_shelf_is_held_and_one_short_of_it_may_come_back() -> None:
    axis = np.arange(-30.0, 120.5, 0.5)
    tier = np.clip((axis - 64.0) / 3.5, 0.0, 1.0) * 0.6
    ground = Ground(
        -30.0,
        -30.0,
        0.5,
        np.repeat(tier[:, None], 121, axis=1),
        np.zeros((len(axis), 121), dtype=np.int64),
    )
    low = [Launch(v, radians(26.0), 5500 * RPM) for v in np.linspace(26.0, 33.0, 40)]
    ends, _ = play(low, ground, firmness=105.0)
    on_face = ((ends[:, 0] > 64.6) & (ends[:, 0] < 67.0)).sum()
    assert on_face == 0  # a 17 % face holds no ball
    assert (ends[:, 0] < 64.6).any()
    assert (ends[:, 0] > 67.0).any()


def test_water_bunker_and_rough_end_or_slow_a_ball() -> None:
    wedge = Launch(32.0, radians(28.0), 5000 * RPM)
    runs = {}
    for surface in (Surface.GREEN, Surface.FAIRWAY, Surface.ROUGH, Surface.BUNKER, Surface.WATER):
        ends, landings = play([wedge], flat_ground(surface))
        runs[surface] = ends[0, 0] - landings[0, 0]
        assert bool(ends[0, 2] == End.WATER) is (surface is Surface.WATER)
    assert runs[Surface.GREEN] > runs[Surface.FAIRWAY] > runs[Surface.ROUGH] > 0.0
    assert runs[Surface.ROUGH] < 3.0
    assert abs(runs[Surface.BUNKER]) < 1.0
    assert runs[Surface.WATER] == 0.0


def test_some_shots_drop() -> None:
    wedge = [Launch(v, radians(32.0), 8000 * RPM) for v in np.linspace(29.0, 31.5, 4000)]
    ends, _ = play(wedge, flat_ground(), hole=(62.0, 0.0))
    holed = ends[:, 2] == End.HOLED
    assert 0.0 < holed.mean() < 0.3
    assert ends[holed, 0] == pytest.approx(62.0)
