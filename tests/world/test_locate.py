"""Pin-sheet words on a green whose edges are known, and the ball behind them."""

from collections.abc import Callable
from contextlib import suppress
from math import hypot, inf, nan, pi, radians
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from carrybook.base.constants import YARD
from carrybook.base.errors import BadInputError, OutOfRangeError
from carrybook.world.ground import Surface, flat_ground
from carrybook.world.hole import Hole
from carrybook.world.hole_map import read_hole
from carrybook.world.locate import ball_behind, locate, number_from, words_at


def hole_with(green: list[tuple[float, float]]) -> Hole:
    return Hole("Nowhere", "4", 4, flat_ground(), np.array(green) * YARD, (), 0.0)


# 31 paces deep; 22 paces wide, its right edge 10 paces right of the line.
PLAIN = hole_with([(0.0, -10.0), (31.0, -10.0), (31.0, 12.0), (0.0, 12.0)])


@pytest.mark.parametrize(
    ("words", "x", "y"),
    [
        ("24 on, 5 from the right", 24.0, -5.0),
        ("24 on 5 right", 24.0, -5.0),
        ("24 on, 5R", 24.0, -5.0),
        ("  24  ON ,  5 paces in from the Left ", 24.0, 7.0),
        ("24on 5l", 24.0, 7.0),
        ("24 paces on, 5 yds off left", 24.0, 7.0),
        ("24 on, centre", 24.0, 1.0),
        ("24 on middle", 24.0, 1.0),
        ("24 on, in the center", 24.0, 1.0),
        ("22m on, 4m from the left", 22.0 / YARD, 12.0 - 4.0 / YARD),
        ("60 ft on, 4.5 m from the right", 20.0, 4.5 / YARD - 10.0),
        ("22,5 on, 4,5 left", 22.5, 7.5),
        ("1 on, 1 from the left", 1.0, 11.0),
    ],
)
def test_words(words: str, x: float, y: float) -> None:
    location = locate(PLAIN, words)
    assert (location.x, location.y) == pytest.approx((x * YARD, y * YARD))
    assert location.on_m == pytest.approx(x * YARD)
    assert location.behind_m == pytest.approx((31.0 - x) * YARD)
    assert location.from_left_m == pytest.approx((12.0 - y) * YARD)
    assert location.from_right_m == pytest.approx((y + 10.0) * YARD)


@pytest.mark.parametrize(
    "words",
    ["", "5 right", "24", "24 on", "24 on, 5", "nan on, 5 right", "24 on, nan right",
     "24 on, 5 behind", "24 miles on, 5 right", "on, right", "24 on, 5 left, 3 right"],
)  # fmt: skip
def test_words_not_understood_show_how(words: str) -> None:
    with pytest.raises(BadInputError, match=r"is not understood; write it like '24 on, 5 from"):
        locate(PLAIN, words)


@pytest.mark.parametrize(
    ("words", "message"),
    [
        ("40 on, 5 right", "the green is 31 paces deep$"),
        ("0 on, 5 right", "the green is 31 paces deep$"),
        ("28.5m on, 1m from the left", "the green is 28 m deep$"),
        ("40m on, 5m right", "the green is 28 m deep$"),
        ("24 on, 21.5 right", "the green is 31 paces deep, and 22 paces wide at that depth$"),
        ("24 on, -1 right", "22 paces wide at that depth$"),
        ("24 on, 0.9 left", "22 paces wide at that depth$"),
        ("30.5 on, 5 right", "the green is 31 paces deep, and 22 paces wide at that depth$"),
        ("24 on, 25 m left", "the green is 28 m deep, and 20 m wide at that depth$"),
    ],
)
def test_off_the_green_says_how_large_it_is(words: str, message: str) -> None:
    with pytest.raises(BadInputError, match=message) as caught:
        locate(PLAIN, words)
    said = f"hole location = '{words}' is off the green or within a pace of its edge: the green is"
    assert str(caught.value).startswith(said)


def test_unbelievable_length() -> None:
    with pytest.raises(OutOfRangeError, match="depth of the hole location"):
        locate(PLAIN, "99999 on, 5 right")
    with pytest.raises(OutOfRangeError, match=r"depth .* = -3 paces is outside 0 to 1094 paces"):
        locate(PLAIN, "-3 on, 5 right")
    with pytest.raises(OutOfRangeError, match="side of the hole location = 999 paces"):
        locate(PLAIN, "24 on, 999 right")


def test_depth_counts_from_the_front_most_point() -> None:
    shifted = hole_with([(3.0, -10.0), (34.0, -10.0), (34.0, 12.0), (3.0, 12.0)])
    location = locate(shifted, "24 on, 5 right")
    assert location.x == pytest.approx(27.0 * YARD)
    assert location.on_m == pytest.approx(24.0 * YARD)


def test_side_edges_are_those_at_that_depth() -> None:
    wedge = hole_with([(0.0, -2.0), (20.0, -12.0), (20.0, 12.0), (0.0, 2.0)])
    assert locate(wedge, "10 on, 3 right").y == pytest.approx(-4.0 * YARD)
    with pytest.raises(BadInputError, match="14 paces wide at that depth"):
        locate(wedge, "10 on, 14 right")


def test_gap_of_a_horseshoe_is_off_the_green() -> None:
    horseshoe = hole_with(
        [(0, -10), (20, -10), (20, -4), (8, -4), (8, 4), (20, 4), (20, 10), (0, 10)]
    )
    assert locate(horseshoe, "15 on, 3 right").y == pytest.approx(-7.0 * YARD)
    assert locate(horseshoe, "4 on, centre").behind_m == pytest.approx(4.0 * YARD)
    with pytest.raises(BadInputError, match="off the green"):
        locate(horseshoe, "15 on, centre")


def test_bunker_inside_the_green_is_off_the_green(
    save_map: Callable[..., Path],
    draw_hole: Callable[..., dict[str, object]],
    draw_ring: Callable[..., dict[str, object]],
) -> None:
    ring = [(-10.0, 0.0), (10.0, 0.0), (10.0, 30.0), (-10.0, 30.0)]
    pot = [(-2.0, 10.0), (2.0, 10.0), (2.0, 14.0), (-2.0, 14.0)]
    hole = read_hole(save_map(draw_hole(), draw_ring("golf=green", ring, pot)), "4")
    assert hole.ground.surface_at(12.0, 0.0) is Surface.ROUGH
    with pytest.raises(BadInputError, match="off the green"):
        locate(hole, "12m on, centre")


def test_ball_straight_behind() -> None:
    location = locate(PLAIN, "20 on, 10 right")
    assert ball_behind(PLAIN, location, 80.0 * YARD) == pytest.approx((-60.0 * YARD, 0.0))


def test_ball_off_line_to_the_right() -> None:
    location = locate(PLAIN, "20 on, 10 right")
    x, y = ball_behind(PLAIN, location, 80.0 * YARD, off_line_rad=radians(30.0))
    assert (x, y) == pytest.approx(((20.0 - 69.2820323) * YARD, -40.0 * YARD))


@given(number=st.floats(15.0, 200.0), off_line=st.floats(-pi / 3, pi / 3))
def test_ball_is_as_far_as_the_number(number: float, off_line: float) -> None:
    location = locate(PLAIN, "20 on, 10 right")
    x, y = ball_behind(PLAIN, location, number * YARD, off_line_rad=off_line)
    assert hypot(location.x - x, location.y - y) == pytest.approx(number * YARD)


@pytest.mark.parametrize("number", [14.0, 201.0, -80.0, float("nan"), float("inf")])
def test_number_outside_its_range(number: float) -> None:
    location = locate(PLAIN, "20 on, 10 right")
    with pytest.raises(OutOfRangeError, match=r"number to hole 4 = .* outside 15 to 200 yd"):
        ball_behind(PLAIN, location, number * YARD)


def test_angle_outside_its_range() -> None:
    location = locate(PLAIN, "20 on, 10 right")
    with pytest.raises(OutOfRangeError, match=r"approach = 61 deg is outside -60 to 60 deg"):
        ball_behind(PLAIN, location, 80.0, off_line_rad=radians(61.0))


@given(words=st.one_of(st.text(max_size=30), st.from_regex(r"\d+ on,? -?\d+\.?\d* ?[mlr]{0,2}")))
def test_any_words_are_placed_or_refused(words: str) -> None:
    with suppress(BadInputError):
        location = locate(PLAIN, words)
        assert PLAIN.ground.surface_at(location.x, location.y) is Surface.GREEN


def test_a_place_is_said_in_words_that_find_it_again() -> None:
    at = locate(PLAIN, "12 on, 6 from the left")
    words = words_at(PLAIN, at.x + 1.3, at.y - 0.7)
    again = locate(PLAIN, words)
    assert (again.x, again.y) == pytest.approx((at.x + 1.3, at.y - 0.7), abs=0.05)  # half a tenth


@pytest.mark.parametrize("spot", [(-3.0, 0.0), (nan, 0.0), (1e9, 0.0), (5.0, inf)])
def test_a_place_beside_the_green_has_no_words(spot: tuple[float, float]) -> None:
    with pytest.raises(BadInputError, match="hole location is off the green"):
        words_at(PLAIN, *spot)


@pytest.mark.parametrize("degrees", [-40.0, 0.0, 25.0])
def test_number_and_angle_are_those_that_put_the_ball_there(degrees: float) -> None:
    at = locate(PLAIN, "12 on, centre")
    ball = ball_behind(PLAIN, at, 80.0, off_line_rad=radians(degrees))
    assert number_from(at, *ball) == pytest.approx((80.0, radians(degrees)))
