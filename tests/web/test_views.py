"""Pictures of the page: their paths hold what the answer holds."""

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from carrybook.app.services.choice import decide
from carrybook.app.services.numbers import numbers_on
from carrybook.app.web.rooms import situation
from carrybook.app.web.views.contours import Net
from carrybook.app.web.views.ladder import ladder_picture
from carrybook.app.web.views.paths import closed, dots, line
from carrybook.app.web.views.plan import ground_picture, pattern_picture
from carrybook.app.web.views.scatter import feel_picture, spread_picture
from carrybook.app.web.views.side import side_picture
from carrybook.artefacts.words import METRES, YARDS, Units
from carrybook.decision.advice import Advice
from carrybook.player.balls import Ball
from carrybook.player.day import Day
from carrybook.world.air import REFERENCE_DAY
from carrybook.world.hole import Hole
from carrybook.world.hole_map import read_hole

DEMO = Path(situation.__file__).parents[2] / "demo_data"
Places = list[tuple[float, float]]


def places(path: str) -> Places:
    return [(float(x), float(y)) for x, y in re.findall(r"[ML](-?[\d.]+) (-?[\d.]+)", path)]


@pytest.fixture(scope="module")
def hole() -> Hole:
    """A tiered green."""
    return read_hole(DEMO / "venue.geojson", "4", DEMO / "heights.csv")


@pytest.fixture(scope="module")
def advice(demo_book: Path, hole: Hole) -> Advice:
    """An answer on it, from well right of the line."""
    from carrybook.app.forms.choice import SituationForm
    from carrybook.app.forms.weather import WindForm
    from carrybook.app.services.choice import situation_of
    from carrybook.app.services.learn import day_summaries
    from carrybook.app.services.weather import Weather

    asked = SituationForm.of(
        map=DEMO / "venue.geojson",
        hole="4",
        hole_location="17 on, centre",
        number="90yd",
        off_line="20deg",
    )
    told = situation_of(hole, asked, Weather(REFERENCE_DAY), WindForm.of())
    return decide(told, day_summaries(demo_book, Day(REFERENCE_DAY)), haste="rough")


def test_paths() -> None:
    square = np.array([(0.0, 0.0), (1.0, 0.0), (1.0, 1.5)])
    assert line(square) == "M0.00 0.00L1.00 0.00L1.00 1.50"
    assert closed([square, square[:0]]) == "M0.00 0.00L1.00 0.00L1.00 1.50Z"
    assert dots(square[:2]) == "M0.0 0.0h0M1.0 0.0h0"
    assert line(square[:0]) == ""


def test_contours_of_a_cone_are_circles() -> None:
    axis = np.linspace(-5.0, 5.0, 101)
    net = Net(axis, axis, np.hypot(axis[:, None], axis[None, :]))
    (ring,) = net.lines(3.0)
    assert np.hypot(ring[:, 0], ring[:, 1]) == pytest.approx(3.0, abs=0.01)
    assert net.area(2.0, 3.0).count("Z") == 2  # a ring has an inner edge


@pytest.mark.parametrize(("units", "unit"), [(YARDS, "ft"), (METRES, "cm")])
def test_the_ground_is_the_map_seen_from_behind_the_ball(
    hole: Hole, units: Units, unit: str
) -> None:
    picture = ground_picture(hole, units)
    edge = np.array(places(picture.edge))
    assert -edge[:, 1] == pytest.approx(hole.green[:, 0], abs=0.01)  # up the page is away
    assert -edge[:, 0] == pytest.approx(hole.green[:, 1], abs=0.01)  # left of the line is left
    assert all(picture.holds(x, y) for x, y in edge)
    assert picture.note == f"heights in {unit} above the front edge"
    assert len(picture.bands) >= 5
    assert [c.text for c in picture.contours if c.text]


def test_a_green_without_heights_says_so() -> None:
    picture = ground_picture(read_hole(DEMO / "venue.geojson", "4"), YARDS)
    assert (picture.bands, picture.contours) == ((), ())
    assert "counts as level" in picture.note


def test_the_pattern_is_that_of_the_answer(hole: Hole, advice: Advice) -> None:
    picture = pattern_picture(advice, ground_picture(hole, YARDS))
    best, s = advice.options[0], advice.situation
    assert picture.hole == (-s.location.y, -s.location.x)
    assert picture.landing == (-best.landing_y, -best.landing_x)
    assert picture.ball[0] > 20.0  # right of the approach is right on the page
    start, end = places(picture.aim)
    assert start == pytest.approx(picture.ball, abs=0.01)
    aside = np.subtract(end, picture.hole)
    toward = np.subtract(picture.hole, picture.ball)
    assert np.hypot(*aside) == pytest.approx(abs(best.aim_right_m), abs=0.02)
    assert abs(aside @ toward) < 0.02 * np.hypot(*toward)
    inner, outer = (np.array(places(p)) for p in (picture.half, picture.most))
    assert np.ptp(inner, axis=0).prod() < np.ptp(outer, axis=0).prod()


def test_the_side_view_ends_where_it_lands(advice: Advice) -> None:
    for units in (YARDS, METRES):
        picture = side_picture(advice, units)
        best = advice.options[0]
        flown = np.array(places(picture.flight.flight))
        along = best.landing_m / units.far_m
        assert flown[-1, 0] == pytest.approx(along, abs=0.5)
        assert -flown[:, 1].min() == pytest.approx(best.apex_m / units.far_m, rel=0.03)
        left, _top, width, _height = (float(v) for v in picture.landing.box.split())
        assert left < advice.situation.number_m / units.far_m < left + width
        assert picture.unit == units.far


def test_the_ladder_stands_in_order_and_to_scale(demo_book: Path) -> None:
    numbers = numbers_on(demo_book, Day(REFERENCE_DAY))
    picture = ladder_picture(numbers, YARDS)
    at = np.array([rung.at for rung in picture.rungs])
    carry = np.array([n.today_m for n in numbers])
    assert np.polyfit(carry, at, 1)[0] > 0.0
    assert np.corrcoef(carry, at)[0, 1] == pytest.approx(1.0)
    for rung in picture.rungs:
        assert rung.ball[0] < rung.centre[0] <= rung.at <= rung.centre[1] < rung.ball[1]


Make = Callable[..., Any]


@pytest.mark.parametrize("draw", [spread_picture, feel_picture])
def test_a_scatter_shows_every_ball_that_has_both(draw: Make) -> None:
    balls = [
        Ball(shot="54", carry_m=70.0 + k, called_m=71.0, side_m=float(k - 2)) for k in range(5)
    ]
    picture = draw([*balls, Ball(shot="54", carry_m=70.0)], YARDS)
    assert picture.dots.count("M") == 5
    assert picture.told.startswith("5 balls")
    assert all(
        picture.left <= x <= picture.width for x, _ in places(picture.dots.replace("h0", ""))
    )
    assert draw(balls[:1], YARDS) is None
