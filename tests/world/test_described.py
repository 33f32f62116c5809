"""Described greens: each line read back from the surface; and what a bad line is told."""

from contextlib import suppress
from itertools import pairwise
from math import pi

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from carrybook.base.constants import FOOT, YARD
from carrybook.base.errors import BadInputError
from carrybook.world.described import read_description
from carrybook.world.described_hole import described_hole
from carrybook.world.ground import Surface
from carrybook.world.hole import UNNUMBERED, Hole
from carrybook.world.locate import locate
from carrybook.world.shape import doubt_at, shape_at

SIZE = "30 deep, 24 wide"
FULL = """
# a remark
name     The Links
number   7; par 3; plays north-east
front    142
30 deep, 24 wide
tilt back to front 2 %
shelf at 18 paces, rises 2 ft over 3 paces, on the right half
false front 4 deep, 8 %
run-off left, falls 2 ft over 5
mound 8 on, 6 from the left, 6 in high, 6 across
bunker short right 4 paces off, 8 by 6
water left 5 paces off all along
fairway in front, 30 wide
around rough
fringe 2
hole 11 on, 4 from the right
"""


def drawn(*facts: str) -> Hole:
    return described_hole("\n".join((SIZE, *facts)))


def rise(hole: Hole, near: tuple[float, float], far: tuple[float, float]) -> float:
    """Height of one place above another, both in paces on and right."""
    x, y = np.array([near, far]).T * YARD
    heights = shape_at(hole.ground, x, -y).height
    return float(heights[1] - heights[0])


def slopes(hole: Hole, on: float, right: float) -> tuple[float, float]:
    """Rise per cent going on and going right."""
    shape = shape_at(hole.ground, on * YARD, -right * YARD)
    return 100.0 * float(shape.slope_x), -100.0 * float(shape.slope_y)


def area(hole: Hole, kind: str) -> shapely.Polygon:
    (outline,) = (points for name, points in hole.areas if name == kind)
    return shapely.Polygon(outline)


def test_names_and_numbers() -> None:
    hole = described_hole(FULL)
    assert (hole.venue, hole.ref, hole.par) == ("The Links", "7", 3)
    assert hole.bearing_rad == pytest.approx(pi / 4.0)
    assert hole.front_number_m == pytest.approx(142 * YARD)
    assert locate(hole, hole.location_words).on_m == pytest.approx(11 * YARD)
    assert hole.heights_known
    assert "Described" in hole.notes[0]
    bare = drawn()
    assert (bare.ref, bare.bearing_rad, bare.location_words) == (UNNUMBERED, None, "")
    assert not bare.heights_known
    assert not bare.ground.heights.any()


@pytest.mark.parametrize("words", [SIZE, "24 wide 30 deep", "green: 30 paces deep, 24yd wide",
                                   "27.432 m deep, 21.9456m wide"])  # fmt: skip
def test_size_is_that_of_the_outline(words: str) -> None:
    green = described_hole(words).green
    np.testing.assert_allclose(green.min(axis=0), (0.0, -12 * YARD), atol=0.02)
    np.testing.assert_allclose(green.max(axis=0), (30 * YARD, 12 * YARD), atol=0.02)


def test_an_outline_may_be_given_instead() -> None:
    hole = described_hole("outline 0 0, 6 -11, 20 -13, 31 -2, 26 10, 8 9")
    green = shapely.Polygon(hole.green)
    assert green.exterior.is_ccw
    assert green.bounds == pytest.approx(tuple(YARD * v for v in (0, -10, 31, 13)))


@pytest.mark.parametrize(
    ("words", "on", "right"),
    [
        ("tilt back to front 3 %", 3.0, 0.0),
        ("falls 2 % to the front-left", 2.0 / 2**0.5, 2.0 / 2**0.5),
        ("slopes left to right 1.5 %", 0.0, -1.5),
        ("front to back 2 %", -2.0, 0.0),
        ("tilt 2% right to left", 0.0, 2.0),
        ("tilt back to front 2 %\ntilt left to right 1 %", 2.0, -1.0),
        ("tilt level", 0.0, 0.0),
    ],
)
def test_tilt_comes_back_all_over_the_green(words: str, on: float, right: float) -> None:
    hole = drawn(words)
    for place in ((2, 0), (15, 0), (28, 0), (15, -11), (15, 11)):
        assert slopes(hole, *place) == pytest.approx((on, right), abs=0.01)


def test_a_tilt_levels_out_beyond_the_green() -> None:
    hole = drawn("tilt back to front 3 %")
    assert slopes(hole, 55, 0) == pytest.approx((0.0, 0.0), abs=1e-6)
    assert abs(rise(hole, (-100, 0), (0, 0))) < 0.2
    across = drawn("tilt left to right 2 %")
    with_run_off = drawn("run-off right, falls 2 ft over 5")
    for place in ((-100, 8), (-100, -8), (15, 75), (85, 8)):
        assert slopes(across, *place) == pytest.approx((0.0, 0.0), abs=1e-6)
        assert slopes(with_run_off, *place) == pytest.approx((0.0, 0.0), abs=1.0)


def test_tier_rises_as_told_over_as_much_as_told() -> None:
    hole = drawn("shelf at 18 paces, rises 2 ft over 3 paces", "tilt back to front 2 %")
    assert rise(hole, (18, 0), (21, 0)) == pytest.approx(2 * FOOT, abs=0.02)
    assert slopes(hole, 10, 0)[0] == pytest.approx(2.0, abs=0.01)
    assert slopes(hole, 25, 0)[0] == pytest.approx(2.0, abs=0.01)
    mean = 100.0 * 2 * FOOT / (3 * YARD)
    assert mean < slopes(hole, 19.5, 0)[0] < 1.25 * mean


def test_tier_on_half_of_the_green_only() -> None:
    hole = drawn("tier at 18 on, rises 2 ft over 3, on the right half")
    assert rise(hole, (17, 8), (22, 8)) == pytest.approx(2 * FOOT, abs=0.005)
    assert rise(hole, (17, -8), (22, -8)) == pytest.approx(0.0, abs=0.005)


def test_tiers_that_drop_and_tiers_along_the_side() -> None:
    assert rise(drawn("step at 10, drops 1 ft over 2"), (9, 0), (13, 0)) == pytest.approx(
        -FOOT, abs=0.005
    )
    side = drawn("shelf 8 from the right, rises 1 ft over 2")
    assert rise(side, (15, 3), (15, 7)) == pytest.approx(FOOT, abs=0.005)
    assert rise(side, (15, -9), (15, 3)) == pytest.approx(0.0, abs=0.005)


def test_false_front_has_its_slope_and_keeps_the_rest() -> None:
    hole = drawn("false front 4 deep, 8 %", "tilt back to front 2 %")
    assert slopes(hole, 2, 0)[0] == pytest.approx(8.0, abs=0.05)
    assert slopes(hole, 6, 0)[0] == pytest.approx(2.0, abs=0.05)
    assert slopes(hole, -1, 0)[0] == pytest.approx(8.0, abs=0.05)


def test_run_off_falls_away_on_its_side_only() -> None:
    hole = drawn("run-off right, falls 2 ft over 5")
    assert rise(hole, (15, 12), (15, 19)) == pytest.approx(-2 * FOOT, abs=0.02)
    assert rise(hole, (15, -12), (15, -19)) == pytest.approx(0.0, abs=1e-9)
    assert rise(hole, (15, 0), (15, 11.5)) == pytest.approx(0.0, abs=1e-4)
    assert hole.ground.surface_at(15 * YARD, -15 * YARD) is Surface.FAIRWAY
    rough = drawn("run-off right, 10 % for 5, rough")
    assert rough.ground.surface_at(15 * YARD, -15 * YARD) is Surface.ROUGH
    assert rise(rough, (15, 12), (15, 19)) == pytest.approx(-0.5 * YARD, abs=0.02)


def test_mound_and_hollow() -> None:
    for words, sign in (("mound", 1.0), ("hollow", -1.0)):
        hole = drawn(f"{words} at 12 on, centre, 1 ft high, 8 across")
        assert rise(hole, (12, 6), (12, 0)) == pytest.approx(sign * FOOT, abs=0.02)


@pytest.mark.parametrize(
    ("words", "off", "way"),
    [
        ("short right, 4 off", 4.0, (-1, 1)),
        ("back left, 2 paces off", 2.0, (1, -1)),
        ("left, 12 on, 3 off", 3.0, (0, -1)),
        ("right, at the edge", 0.0, (0, 1)),
        ("over, 6 off the green", 6.0, (1, 0)),
    ],
)
def test_bunkers_lie_where_they_were_put(words: str, off: float, way: tuple[int, int]) -> None:
    hole = drawn(f"bunker {words}, 8 by 6")
    bunker = area(hole, "bunker")
    assert bunker.distance(shapely.Polygon(hole.green)) == pytest.approx(off * YARD, abs=0.05)
    assert bunker.area == pytest.approx(pi / 4.0 * 8 * 6 * YARD**2, rel=0.02)
    x, y = bunker.centroid.coords[0]
    if "12 on" in words:
        assert x == pytest.approx(12 * YARD, abs=0.6)
    else:
        assert (np.sign(round(x / YARD - 15)), np.sign(round(-y / YARD))) == way
    assert hole.ground.surface_at(x, y) is Surface.BUNKER


def test_bands_run_along_their_side() -> None:
    hole = drawn("water left, 5 off, all along", "ob back 20 off all across",
                 "water short, 30 off, all across, 10 wide")  # fmt: skip
    surface = hole.ground.surface_at
    for on in (-150, 0, 15, 60):
        assert surface(on * YARD, 16.5 * YARD) is not Surface.WATER or on == -35
        assert surface(on * YARD, 17.6 * YARD) is Surface.WATER or on == 60
    assert surface(51 * YARD, 0.0) is Surface.OUT_OF_BOUNDS
    assert surface(-35 * YARD, 0.0) is Surface.WATER
    assert surface(-41 * YARD, 0.0) is Surface.ROUGH


def test_what_lies_around() -> None:
    hole = drawn("fairway in front, 30 wide", "fringe 2")
    surface = hole.ground.surface_at
    assert surface(-10 * YARD, 14 * YARD) is Surface.FAIRWAY
    assert surface(-10 * YARD, 16 * YARD) is Surface.ROUGH
    assert surface(-1.5 * YARD, 0.0) is Surface.FRINGE
    assert drawn("around fairway").ground.surface_at(40 * YARD, 0.0) is Surface.FAIRWAY


def test_the_surface_has_no_cliffs_and_says_how_sure_it_is() -> None:
    hole = described_hole(FULL)
    jumps = [np.abs(b - a).max() for a, b in pairwise(hole.ground.heights)]
    assert max(jumps) < 0.5 * 0.35
    assert hole.doubt is not None
    height, slope = doubt_at(hole.ground, hole.doubt, np.array([0.0, 12 * YARD, 19.5 * YARD]),
                             np.array([0.0, 0.0, -6 * YARD]))  # fmt: skip
    assert height[0] == pytest.approx(0.0, abs=0.02)
    assert slope[1] == pytest.approx(0.005, abs=0.001)
    assert slope[2] > 0.03


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("", r"^green does not say how large it is; add '30 deep, 24 wide'$"),
        ("tilt level", r"^green does not say how large"),
        ("30 deep", r"^green: '30 deep' is not understood; write it like '30 deep, 24 wide'$"),
        ("pond left", r"'pond left' is not understood; a line tells of: size, outline,"),
        (f"{SIZE}\ntilt 3 % up", r"^green, line 2: 'tilt 3 % up' .* 'tilt back to front 2 %'$"),
        (f"{SIZE}; tilt 80 % left to right", r"slope = 80 % is outside 0 to 25 %$"),
        (f"{SIZE}; tilt front to left 2 %", r"front to left does not run across the green$"),
        (f"{SIZE}; {SIZE}", r"size is said twice; once is enough$"),
        (f"{SIZE}; shelf at 18, rises 2 over 3", r"write it like 'shelf at 18, rises 2 ft over 3"),
        (f"{SIZE}; shelf at 18, rises 9 ft over 1", r"too steep to putt$"),
        (f"{SIZE}; shelf at 18, rises 30 ft over 20", r"rise = 30 ft is outside 2 cm to 6 m$"),
        (f"{SIZE}; bunker left", r"write it like 'bunker short right, 4 off, 8 by 6'$"),
        (f"{SIZE}; bunker short, 5 on, 2 off, 8 by 6", r"a place 'N on' needs left or right"),
        (f"{SIZE}; bunker left, 40 on, 2 off, 8 by 6", r"on the green \(30 paces deep\)$"),
        (f"{SIZE}; water short 5 off all across", r"back to you, like 'all across, 20 wide'"),
        (f"{SIZE}; hole 40 on, centre", r"off the green .* the green is 30 paces deep$"),
        (f"{SIZE}; mound somewhere, 1 ft high, 8 across", r"hole location = 'somewhere' is not"),
        (f"{SIZE}; mound 12 on centre, 4 ft high, 5 across", r"5 across is too steep to putt$"),
        (f"{SIZE}; false front 2 deep, 3 ft", r"a false front of 50 % is above 25 %$"),
        (f"{SIZE}; run-off left, falls 9 ft over 2", r"is a wall$"),
        (f"{SIZE}; plays 400 deg", r"bearing = 400 deg is outside 0 to 360 deg$"),
        ("outline 0 0, 5 5, 9", r"an outline needs pairs, three or more"),
        ("outline 0 0, 10 10, 0 10, 10 0", r"the outline crosses itself, or holds nothing"),
        ("2 deep, 24 wide", r"distance = 2 is outside 3 to 200 m$"),
        ("\n".join([SIZE] * 101), r"^green has 101 facts; a description has at most 100$"),
        (f"{SIZE}; {'x' * 500}", r"x\.\.\.' is not understood; a line tells of"),
    ],
)  # fmt: skip
def test_bad_lines_say_how_to_write_them(text: str, message: str) -> None:
    with pytest.raises(BadInputError, match=message) as caught:
        described_hole(text)
    assert "\n" not in str(caught.value)


TOLD = """30 24 deep wide tilt back to front left right % 2 3.5 shelf at on rises ft over , ;
half bunker water short off by all along false run-off falls mound high across hole 11 from the
outline -5 0 name é # in m 9e9 plays north par fringe fairway around"""
WORDS = st.sampled_from([*TOLD.split(), "\n", ""])


@settings(max_examples=150, deadline=None)
@given(st.one_of(st.text(max_size=80), st.lists(WORDS, max_size=25).map(" ".join)))
def test_any_words_are_read_or_refused_in_a_line(text: str) -> None:
    try:
        read_description(f"{SIZE}\n{text}")
    except BadInputError as error:
        assert "\n" not in str(error)  # noqa: PT017 - either outcome is right


@settings(max_examples=40, deadline=None)
@given(st.data())
def test_a_description_with_a_piece_spoilt_is_drawn_or_refused(data: st.DataObject) -> None:
    lines = FULL.strip().splitlines()
    n = data.draw(st.integers(0, len(lines) - 1))
    words = lines[n].split(" ")
    words[data.draw(st.integers(0, len(words) - 1))] = data.draw(WORDS)
    lines[n] = " ".join(words)
    with suppress(BadInputError):
        assert np.isfinite(described_hole("\n".join(lines)).ground.heights).all()
