"""Strokes read off a map: against the tables it is made of, the kernel against plain Python."""

import inspect

import numpy as np
import pytest

from carrybook.base.constants import FOOT, YARD
from carrybook.base.errors import OutOfRangeError
from carrybook.base.numerics import plain
from carrybook.outcomes import value_map
from carrybook.outcomes.baseline import strokes_from
from carrybook.outcomes.level_putts import level_putts
from carrybook.outcomes.putter import TOUR_PUTTER
from carrybook.outcomes.value_map import (
    GREEN_RADIUS,
    Ends,
    ValueMap,
    ends_read,
    hole_values,
    invented_green,
    strokes_left,
)
from carrybook.world.ground import Ground, Surface
from carrybook.world.hole import Hole, HoleLocation
from carrybook.world.lie import Lie

STIMP = 10.0 * FOOT
ONE = np.zeros(1, dtype=np.int64)


@pytest.fixture(scope="module")
def middle() -> ValueMap:
    return invented_green(stimp_m=STIMP)


def ended(x: float, y: float = 0.0, *, land_x: float | None = None) -> Ends:
    """Make one ball of one shot that ends at x, y; on fairway it would end 40 m further right."""
    land = np.array([[[x if land_x is None else land_x, y]]])
    return Ends(land, np.array([[[x, y]]]), np.array([[[x, y - 40.0]]]))


@pytest.mark.parametrize("feet", [3.0, 10.0, 30.0])
def test_a_ball_on_the_green_costs_itself_and_its_putts(middle: ValueMap, feet: float) -> None:
    level = level_putts(TOUR_PUTTER, STIMP)
    far = 80.0 * YARD
    found = strokes_left(ended(far - feet * FOOT), ONE, np.array([far]), [middle])
    expected = 1.0 + float(level.at(level.putts, np.array(feet * FOOT)))
    assert found[0, 0] == pytest.approx(expected, abs=0.06)  # half a step of the map


def test_a_ball_in_the_rough_costs_what_the_tour_needs_from_there(middle: ValueMap) -> None:
    """From 25 yd, broadie-2014."""
    far, left = 80.0 * YARD, 25.0 * YARD
    ball = Ends(*(np.array([[[far, left]]]) for _ in range(3)))
    found = strokes_left(ball, ONE, np.array([far]), [middle])
    expected = 1.0 + float(strokes_from(Lie.LIGHT_ROUGH, np.array([left]))[0])
    assert found[0, 0] == pytest.approx(expected, abs=0.01)


def test_short_of_the_green_is_fairway_and_costs_less_than_beyond(middle: ValueMap) -> None:
    far, away = 80.0 * YARD, 25.0 * YARD
    short, long = (
        Ends(*(np.array([[[far + side * away, 0.0]]]) for _ in range(3))) for side in (-1.0, 1.0)
    )
    found = [strokes_left(b, ONE, np.array([far]), [middle])[0, 0] for b in (short, long)]
    lies = (Lie.FAIRWAY, Lie.LIGHT_ROUGH)
    expected = [1.0 + float(strokes_from(lie, np.array([away]))[0]) for lie in lies]
    assert found == pytest.approx(expected, abs=0.01)


def test_where_it_lands_says_how_it_runs(middle: ValueMap) -> None:
    far = 80.0 * YARD
    on, off = (ended(far, land_x=x) for x in (far - 5.0, far - 40.0))
    assert strokes_left(on, ONE, np.array([far]), [middle])[0, 0] < 2.1
    assert strokes_left(off, ONE, np.array([far]), [middle])[0, 0] > 3.0


def test_it_is_mirrored_and_only_the_difference_to_the_hole_counts(middle: ValueMap) -> None:
    def read(ball_m: float, hole_m: float, side: float) -> float:
        ends = Ends(*(np.array([[[ball_m, side]]]) for _ in range(3)))
        return float(strokes_left(ends, ONE, np.array([hole_m]), [middle])[0, 0])

    assert read(80.0, 85.0, 6.0) == pytest.approx(read(80.0, 85.0, -6.0), abs=0.03)
    assert read(80.0, 85.0, 6.0) == pytest.approx(read(60.0, 65.0, 6.0), abs=1e-12)


def test_maps_count_alike(middle: ValueMap) -> None:
    back = invented_green(8.0 * YARD, stimp_m=STIMP)
    ball, far = ended(75.0), np.array([80.0])
    one, other, both = (
        strokes_left(ball, ONE, far, maps)[0, 0] for maps in ([middle], [back], [middle, back])
    )
    assert both == pytest.approx(0.5 * (one + other), abs=1e-12)


def test_a_hole_near_the_back_has_less_green_behind_it(middle: ValueMap) -> None:
    back = invented_green(8.0 * YARD, stimp_m=STIMP)
    behind, before = ended(90.0), ended(70.0)
    far = np.array([80.0])
    assert strokes_left(behind, ONE, far, [back]) > strokes_left(behind, ONE, far, [middle])
    assert strokes_left(before, ONE, far, [back]) == pytest.approx(
        strokes_left(before, ONE, far, [middle]), abs=0.02
    )


def test_far_beyond_the_map_the_edge_counts(middle: ValueMap) -> None:
    found = [
        strokes_left(ended(x, land_x=x), ONE, np.array([80.0]), [middle])[0, 0] for x in (-99, -500)
    ]
    assert found[0] == found[1] > 3.0


def test_kernel_equals_plain(middle: ValueMap) -> None:
    rng = np.random.default_rng(3)
    points = [rng.normal((80.0, 0.0), 12.0, (5, 7, 2)) for _ in range(3)]
    rows, away = np.array([4, 0, 2]), np.array([70.0, 80.0, 95.0])
    strokes, takes = middle.strokes[None], middle.takes[None]
    aside = np.array([0.0, 3.0, -4.0])
    rim = (middle.x0, middle.y0, middle.step)
    got, want = np.empty((3, 7)), np.empty((3, 7))
    value_map.value_kernel(0, 3, rows, away, aside, *points, strokes, takes, *rim, got)
    plain(value_map.value_kernel)(0, 3, rows, away, aside, *points, strokes, takes, *rim, want)
    np.testing.assert_array_equal(got, want)
    np.testing.assert_array_equal(got, strokes_left(Ends(*points), rows, away, [middle], aside))


def test_kernel_reads_no_outside_number() -> None:
    seen = inspect.getclosurevars(plain(value_map.value_kernel))
    assert seen.globals == {}
    assert set(seen.builtins) <= {"int", "max", "min", "range"}


def course_hole(*, water_left: float) -> tuple[Hole, HoleLocation]:
    """Lay a level round green, as the invented one, with water so far left and sand behind."""
    x, y = np.arange(-100.0, 80.0, 0.5), np.arange(-70.0, 70.5, 0.5)
    px, py = np.meshgrid(x, y, indexing="ij")
    surfaces = np.full(px.shape, int(Surface.ROUGH), dtype=np.int64)
    surfaces[(np.abs(py) < GREEN_RADIUS) & (px < 0.0)] = int(Surface.FAIRWAY)
    surfaces[px > 25.0] = int(Surface.BUNKER)
    surfaces[py > water_left] = int(Surface.WATER)
    surfaces[np.hypot(px, py) <= GREEN_RADIUS + 1.5 * YARD] = int(Surface.FRINGE)
    surfaces[np.hypot(px, py) <= GREEN_RADIUS] = int(Surface.GREEN)
    turn = np.linspace(0.0, 2.0 * np.pi, 60, endpoint=False)
    green = GREEN_RADIUS * np.column_stack([np.cos(turn), np.sin(turn)])
    ground = Ground(-100.0, -70.0, 0.5, np.zeros(px.shape), surfaces)
    r = GREEN_RADIUS
    return Hole("Testing", "1", 4, ground, green, (), 0.0), HoleLocation(0.0, 0.0, r, r, r, r)


@pytest.fixture(scope="module")
def real() -> ValueMap:
    return hole_values(*course_hole(water_left=20.0), stimp_m=STIMP)


def test_a_real_green_like_the_invented_one_costs_the_same(
    middle: ValueMap, real: ValueMap
) -> None:
    def at(chart: ValueMap, x: float, y: float) -> float:
        return float(chart.strokes[round((x - chart.x0) / 0.3), round((y - chart.y0) / 0.3)])

    for x, y in ((3.0, 0.0), (-6.0, 5.0), (0.0, -10.0), (-30.0, 0.0), (0.0, -30.0)):
        assert at(real, x, y) == pytest.approx(at(middle, x, y), abs=0.03)


def test_water_costs_a_stroke_and_what_lands_in_it_stays(real: ValueMap) -> None:
    far = np.array([80.0])
    ball = Ends(np.array([[[80.0, 24.0]]]), np.zeros((1, 1, 2)), np.zeros((1, 1, 2)))
    expected = 2.0 + float(strokes_from(Lie.LIGHT_ROUGH, np.array([24.0]))[0])
    assert strokes_left(ball, ONE, far, [real])[0, 0] == pytest.approx(expected, abs=0.02)


def test_sand_holds_a_ball_where_it_lands(real: ValueMap) -> None:
    """broadie-2014, from sand."""
    ball = Ends(np.array([[[110.0, 0.0]]]), np.zeros((1, 1, 2)), np.zeros((1, 1, 2)))
    expected = 1.0 + float(strokes_from(Lie.SAND, np.array([30.0]))[0])
    found = strokes_left(ball, ONE, np.array([80.0]), [real])[0, 0]
    assert found == pytest.approx(expected, abs=0.02)


def test_aiming_away_moves_the_whole_pattern(real: ValueMap) -> None:
    far = np.array([80.0])
    ball, moved = ended(80.0, 4.0), ended(80.0, -2.0)
    aimed = strokes_left(ball, ONE, far, [real], np.array([-6.0]))
    assert aimed[0, 0] == pytest.approx(strokes_left(moved, ONE, far, [real])[0, 0], abs=1e-12)


def test_says_what_is_wrong() -> None:
    with pytest.raises(OutOfRangeError, match=r"radius of the green = 40 m is outside 5 to 30 m"):
        invented_green(radius_m=40.0)
    with pytest.raises(OutOfRangeError, match=r"hole behind the middle = 14 m is outside"):
        invented_green(14.0)


def test_only_the_ends_that_are_marked_are_read(middle: ValueMap) -> None:
    """Two maps, balls all around the green: what is not marked may be anything."""
    rng = np.random.default_rng(8)
    at = rng.uniform((40.0, -30.0), (110.0, 30.0), (4, 50, 2))
    rows, far = np.array([0, 1, 3, 3]), np.array([70.0, 80.0, 75.0, 76.0])
    maps, asides = [middle, invented_green(8.0, stimp_m=STIMP)], np.array([0.0, 3.0, 0.0, -3.0])
    marks = np.zeros((4, 50), dtype=bool), np.zeros((4, 50), dtype=bool)
    ends_read(at, rows, far, maps, asides, marks, draws=(10, 50))
    assert not any(m[2].any() or m[:, :10].any() for m in marks)  # not asked for
    assert all(0.1 < m[rows, 10:].mean() < 0.9 for m in marks)
    known = Ends(at, at + 2.0, at - 5.0)
    spoiled = Ends(at, *(np.where(m[..., None], e, 1e6) for m, e in zip(
        marks, (known.green, known.other), strict=True)))  # fmt: skip
    both = [strokes_left(ends, rows, far, maps, asides)[:, 10:] for ends in (known, spoiled)]
    np.testing.assert_array_equal(*both)


def test_no_end_is_read_of_a_ball_that_stays_where_it_lands(middle: ValueMap) -> None:
    water = ValueMap(
        middle.x0, middle.y0, middle.step, middle.strokes, np.full_like(middle.takes, 2)
    )
    marks = np.zeros((1, 1), dtype=bool), np.zeros((1, 1), dtype=bool)
    ends_read(np.array([[[70.0, 0.0]]]), ONE, np.array([70.0]), [water], np.zeros(1), marks,
              draws=(0, 1))  # fmt: skip
    assert not marks[0].any()
    assert not marks[1].any()


def test_the_marks_of_the_kernel_are_those_of_plain_python(middle: ValueMap) -> None:
    at = np.random.default_rng(9).uniform((50.0, -25.0), (100.0, 25.0), (2, 20, 2))
    rows, far, asides = np.array([0, 1, 1]), np.array([70.0, 75.0, 80.0]), np.zeros(3)
    found = []
    for kernel in (value_map.reads_kernel, plain(value_map.reads_kernel)):
        marks = np.zeros((2, 20), dtype=bool), np.zeros((2, 20), dtype=bool)
        kernel(
            0, 20, rows, far, asides, at, middle.takes[None], middle.x0, middle.y0, middle.step,
            *marks,
        )  # fmt: skip
        found.append(marks)
    np.testing.assert_array_equal(found[0], found[1])


def test_the_first_draws_are_the_first_of_all(middle: ValueMap) -> None:
    at = np.random.default_rng(7).uniform((60.0, -10.0), (90.0, 10.0), (1, 30, 2))
    ends, far = Ends(at, at, at), np.array([75.0])
    some = strokes_left(ends, ONE, far, [middle], draws=12)
    np.testing.assert_array_equal(some, strokes_left(ends, ONE, far, [middle])[:, :12])
