"""One ball that comes down: middle, spread, slopes, surfaces."""

from dataclasses import replace
from math import radians

import numpy as np
import pytest

from carrybook.base.constants import FOOT, RPM
from carrybook.base.errors import OutOfRangeError
from carrybook.outcomes.landing import Arrival, Landed, Patch, land
from carrybook.outcomes.turf import FRICTION_SD, drawn_turf
from carrybook.physics.turf import TurfKind, turf_rows
from carrybook.world.ground import Surface

WEDGE = Arrival(18.9, radians(51.0), 8000.0 * RPM)
PITCH = Arrival(17.0, radians(47.0), 5000.0 * RPM)


def landed(arrival: Arrival = WEDGE, **changed: object) -> Landed:
    return land(arrival, replace(Patch(), **changed), np.random.default_rng(2))


def test_the_middle_lies_within_the_spread() -> None:
    got = landed(PITCH, firmness_g=105.0)
    low, middle, high = got.run_quantiles_m
    assert low < middle < high
    assert low < got.run_m < high
    assert got.runs.shape == got.sides.shape == (4096,)
    assert got.bounces == len(got.hops) + 1
    assert 0.5 < got.time_s < 8.0


def test_the_first_bounce_ends_where_the_first_hop_does() -> None:
    got = landed(PITCH, slope=0.02, fall_right_rad=radians(90.0))
    first = got.hops[0].points
    assert got.first_bounce_m == first[-1, 0] > 0.0
    assert first[0, 2] == pytest.approx(0.0, abs=1e-6)
    assert first[-1, 2] == pytest.approx(0.02 * first[-1, 1], abs=1e-4)  # on the plane
    assert first[:, 2].max() > 0.05


def test_hops_that_are_drawn_are_those_that_were_played() -> None:
    for arrival in (WEDGE, PITCH):
        got = landed(arrival, firmness_g=100.0)
        assert abs(got.run_m - got.hops[-1].points[-1, 0]) < 4.0
        for hop, following in zip(got.hops, got.hops[1:], strict=False):
            assert hop.points[-1] == pytest.approx(following.points[0], abs=1e-9)


def test_sides_are_right_positive_and_mirror() -> None:
    right = landed(PITCH, slope=0.03, fall_right_rad=radians(90.0))
    left = landed(PITCH, slope=0.03, fall_right_rad=radians(270.0))
    assert right.side_m > 0.1
    assert left.side_m == pytest.approx(-right.side_m)
    assert left.run_m == pytest.approx(right.run_m)


def test_a_slope_away_runs_on_and_one_towards_holds() -> None:
    runs = [landed(PITCH, slope=s).run_m for s in (-0.03, 0.0, 0.03)]
    assert runs == sorted(runs)
    towards = landed(PITCH, slope=0.03, fall_right_rad=radians(180.0)).run_m
    assert towards == pytest.approx(runs[0])


def test_other_surfaces_take_it_in_their_order() -> None:
    runs = {s: landed(PITCH, surface=s).run_m for s in Surface if s is not Surface.WATER}
    assert runs[Surface.PATH] > runs[Surface.GREEN] > runs[Surface.FRINGE]
    assert runs[Surface.FRINGE] > runs[Surface.FAIRWAY] > runs[Surface.ROUGH]
    assert abs(runs[Surface.BUNKER]) < 1.0


def test_the_surer_the_firmness_the_narrower_the_run() -> None:
    wide = np.ptp(landed(PITCH, firmness_sd_g=20.0).run_quantiles_m)
    narrow = np.ptp(landed(PITCH, firmness_sd_g=2.0).run_quantiles_m)
    assert narrow < 0.9 * wide


def test_the_same_chance_gives_the_same_answer() -> None:
    first, second = (landed(PITCH).runs for _ in range(2))
    np.testing.assert_array_equal(first, second)


def test_faster_greens_run_longer() -> None:
    runs = [landed(PITCH, stimp_m=s * FOOT).run_m for s in (8.0, 10.0, 12.0)]
    assert runs == sorted(runs)


@pytest.mark.parametrize(
    ("numbers", "message"),
    [
        ((0.5, 0.9, 500.0), r"landing speed = 0.5 m/s is outside 1 to 60 m/s"),
        ((19.0, 0.0, 500.0), r"angle of descent = 0 deg is outside 1 to 90 deg"),
        ((19.0, 0.9, -1.0), r"spin at landing"),
        ((19.0, 0.9, 500.0, 1.5), r"spin axis"),
    ],
)
def test_says_what_no_ball_does(numbers: tuple[float, ...], message: str) -> None:
    with pytest.raises(OutOfRangeError, match=message):
        Arrival(*numbers)


def test_drawn_turf_scatters_about_its_middle() -> None:
    z = np.random.default_rng(0).standard_normal((3, 20_000))
    middle = turf_rows(np.array([90.0]))[0]
    rows = drawn_turf(np.full(20_000, 90.0), *z)
    assert np.median(rows, axis=0) == pytest.approx(middle, rel=0.02)
    assert np.degrees(rows[:, 0].std()) == pytest.approx(2.0, rel=0.02)
    assert np.log(rows[:, 2]).std() == pytest.approx(FRICTION_SD[TurfKind.UNKNOWN], rel=0.02)
    assert (rows[:, 0] >= 0.0).all()
    assert np.corrcoef(rows[:, 0], rows[:, 7])[0, 1] > 0.9  # deeper craters wrap more
