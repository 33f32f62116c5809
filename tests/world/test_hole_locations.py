"""Where a hole may be cut: the chart, and each reason against a place."""

from itertools import pairwise

import numpy as np
import pytest

from carrybook.base.constants import FOOT, YARD
from carrybook.base.errors import OutOfRangeError
from carrybook.world.described_hole import described_hole
from carrybook.world.ground_report import falls_to, report_ground
from carrybook.world.hole_locations import (
    Reason,
    judge_locations,
    place_reasons,
    slope_limits,
    usable_thirds,
)
from carrybook.world.locate import locate

SIZE = "30 deep, 24 wide"


def reason(facts: str, on: float, right: float, stimp_ft: float = 10.0) -> Reason:
    hole = described_hole(f"{SIZE}; {facts}" if facts else SIZE)
    return place_reasons(hole, on * YARD, -right * YARD, stimp_ft * FOOT)[1]


@pytest.mark.parametrize(
    ("feet", "marginal", "critical"),
    [(8, 5.86, 6.65), (10, 3.90, 5.42), (12, 3.24, 4.55), (14, 2.90, 3.85), (10.5, 3.74, 5.16)],
)
def test_chart_of_lemons_2008(feet: float, marginal: float, critical: float) -> None:
    limits = slope_limits(feet * FOOT)
    assert limits == pytest.approx((marginal / 100.0, critical / 100.0), abs=5e-5)


def test_limits_fall_with_speed_and_go_on_beyond_the_chart() -> None:
    limits = np.array([slope_limits(feet * FOOT) for feet in np.arange(5.0, 18.0, 0.5)])
    assert (np.diff(limits, axis=0) < 0.0).all()
    assert slope_limits(7.0 * FOOT)[1] == pytest.approx(0.0665 * 8.0 / 7.0)
    with pytest.raises(OutOfRangeError, match=r"^green speed = 9 m is outside 1.2 to 5.5 m$"):
        slope_limits(9.0)


@pytest.mark.parametrize(
    ("facts", "place", "stimp", "expected"),
    [
        ("", (15, 0), 10, Reason.NONE),
        ("", (15, 8.5), 10, Reason.EDGE),
        ("", (15, 7.5), 10, Reason.NONE),
        ("bunker right, 15 on, 2 off, 8 by 6", (15, 7.5), 10, Reason.TROUBLE),
        ("bunker right, 15 on, 9 off, 8 by 6", (15, 7.5), 10, Reason.NONE),
        ("bunker left, 15 on, 2 off, 8 by 6", (15, 7.5), 10, Reason.NONE),
        ("run-off right, falls 3 ft over 5", (15, 7.5), 10, Reason.TROUBLE),
        ("tilt back to front 3 %", (15, 0), 10, Reason.NONE),
        ("tilt back to front 6 %", (15, 0), 10, Reason.STEEP),
        ("tilt back to front 6 %", (15, 0), 8, Reason.NONE),
        ("tilt back to front 4.5 %", (15, 0), 10, Reason.NONE),  # marginal, but even all around
        ("tilt back to front 4.0 %; mound 15 on, centre, 3.4 cm high, 9 across", (15, 5), 10,
         Reason.MARGINAL),
        ("shelf at 18, rises 2 ft over 3", (16.5, 0), 10, Reason.NEAR_STEEP),
        ("shelf at 18, rises 2 ft over 3", (14, 0), 10, Reason.NONE),
        ("mound 15 on, centre, 2 in high, 5 across", (15, 1.2), 10, Reason.UNEVEN),
    ],
)  # fmt: skip
def test_reasons(facts: str, place: tuple[float, float], stimp: float, expected: Reason) -> None:
    assert reason(facts, *place, stimp) is expected


def test_shares_and_thirds_add_up() -> None:
    hole = described_hole(f"{SIZE}; shelf at 20, rises 2 ft over 3")
    places = judge_locations(hole, 3.048)
    shares = places.shares()
    assert sum(shares.values()) == pytest.approx(1.0)
    assert shares[Reason.NONE] == pytest.approx(places.allowed.mean())
    thirds = usable_thirds(hole, places)
    assert thirds.front > 0.25
    assert thirds.back < thirds.middle


def test_a_level_green_loses_only_its_rim() -> None:
    hole = described_hole(SIZE)
    places = judge_locations(hole, 3.048)
    rim = places.edge_m < 4 * YARD
    np.testing.assert_array_equal(places.allowed, ~rim)


def test_faster_greens_never_allow_more() -> None:
    hole = described_hole(f"{SIZE}; tilt back to front 3 %; shelf at 18, rises 1 ft over 5")
    usable = [judge_locations(hole, feet * FOOT).allowed for feet in (8, 10, 12, 14)]
    for slower, faster in pairwise(usable):
        assert not (faster & ~slower).any()


def test_report_of_a_plane() -> None:
    hole = described_hole(f"{SIZE}; falls 2 % to the front-left; hole 11 on, 6 from the right")
    report = report_ground(hole, 3.048, locate(hole, hole.location_words))
    assert (report.slope_50, report.slope_90) == pytest.approx((0.02, 0.02), abs=2e-4)
    assert report.rise_m == pytest.approx(30 * YARD * 0.02 / 2**0.5, abs=0.02)
    assert report.deep_m == pytest.approx(30 * YARD, abs=0.02)
    assert report.slope_se == pytest.approx(0.005)
    assert report.judged is not None
    assert report.judged.reason is Reason.NONE
    assert np.degrees(report.judged.falls_rad) == pytest.approx(225.0, abs=0.1)
    assert report_ground(described_hole(SIZE), 3.048).judged is None


def test_falls_to_counts_clockwise_from_straight_on() -> None:
    for slope, degrees in (((-1, 0), 0), ((0, 1), 90), ((1, 0), 180), ((0, -1), 270)):
        assert np.degrees(falls_to(*slope)) == pytest.approx(degrees)
