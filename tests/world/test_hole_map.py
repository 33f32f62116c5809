"""A hole in its own axes: where things lie, what they are made of, and what a bad map is told."""

import json
from collections.abc import Callable
from contextlib import suppress
from itertools import pairwise
from math import cos, degrees, radians, sin
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from carrybook.base.constants import FOOT
from carrybook.base.errors import BadInputError
from carrybook.base.numerics import Floats
from carrybook.world.ground import Surface
from carrybook.world.hole import Hole
from carrybook.world.hole_map import list_holes, read_hole

Feature = dict[str, object]
Save = Callable[..., Path]
Draw = Callable[..., Feature]


def square_grid(step: float) -> Floats:
    axis = np.arange(-60.0, 90.1, step)
    return np.stack(np.meshgrid(axis, axis, indexing="ij"), axis=-1).reshape(-1, 2)


def test_axes_of_a_plain_hole(save_map: Save, draw_hole: Draw, green: Feature) -> None:
    hole = read_hole(save_map(draw_hole(), green, name="Nowhere", copyright="Me"), "4")
    assert (hole.venue, hole.ref, hole.par, hole.attribution) == ("Nowhere", "4", 4, "Me")
    assert sin(hole.bearing_rad) == pytest.approx(0.0, abs=1e-5)
    expected = {(0.0, -10.0), (30.0, -10.0), (30.0, 10.0), (0.0, 10.0)}
    assert {(round(x, 3), round(y, 3)) for x, y in hole.green} == expected
    assert not hole.heights_known
    assert not hole.ground.heights.any()


def test_outline_runs_counter_clockwise_and_stays_open(
    save_map: Save, draw_hole: Draw, draw_ring: Draw
) -> None:
    clockwise = [(-10.0, 0.0), (-10.0, 30.0), (10.0, 30.0), (10.0, 0.0)]
    outline = read_hole(save_map(draw_hole(), draw_ring("golf=green", clockwise)), "4").green
    x, y = outline.T
    assert outline.shape == (4, 2)
    assert 0.5 * (x @ np.roll(y, -1) - y @ np.roll(x, -1)) == pytest.approx(600.0, rel=1e-4)


@pytest.mark.parametrize("bearing", [0.0, 37.0, 90.0, 200.0, 359.0])
def test_turning_the_map_changes_only_the_bearing(
    save_map: Save, draw_hole: Draw, draw_ring: Draw, bearing: float
) -> None:
    c, s = cos(radians(bearing)), sin(radians(bearing))

    def turned(points: list[tuple[float, float]]) -> list[tuple[float, float]]:
        return [(c * e + s * n, c * n - s * e) for e, n in points]

    green = turned([(-10.0, 0.0), (10.0, 0.0), (10.0, 30.0), (-10.0, 30.0)])
    bunker = turned([(12.0, 5.0), (18.0, 5.0), (18.0, 15.0), (12.0, 15.0)])
    line = turned([(90.0, -320.0), (0.0, -200.0), (0.0, 15.0)])
    hole = read_hole(
        save_map(draw_hole(line), draw_ring("golf=green", green), draw_ring("golf=bunker", bunker)),
        "4",
    )
    assert (cos(hole.bearing_rad), sin(hole.bearing_rad)) == pytest.approx((c, s), abs=1e-5)
    np.testing.assert_allclose(hole.green.min(axis=0), (0.0, -10.0), atol=2e-3)
    np.testing.assert_allclose(hole.green.max(axis=0), (30.0, 10.0), atol=2e-3)
    (outline,) = (points for kind, points in hole.areas if kind == "bunker")
    np.testing.assert_allclose(outline.min(axis=0), (5.0, -18.0), atol=2e-3)


def test_front_most_point_is_the_front_edge(
    save_map: Save, draw_hole: Draw, draw_ring: Draw
) -> None:
    slanted = [(-10.0, 0.0), (10.0, 8.0), (10.0, 30.0), (-10.0, 30.0)]
    hole = read_hole(save_map(draw_hole(), draw_ring("golf=green", slanted)), "4")
    assert hole.green[:, 0].min() == pytest.approx(0.0, abs=1e-6)
    assert hole.green[:, 0].max() == pytest.approx(30.0, abs=1e-3)


def test_short_last_segment_does_not_turn_the_approach(
    save_map: Save, draw_hole: Draw, green: Feature
) -> None:
    hole = read_hole(save_map(draw_hole([(0.0, -300.0), (0.0, 14.0), (1.0, 15.0)]), green), "4")
    assert degrees(hole.bearing_rad) < 3.0


def test_net_reaches_from_200_yd_short_to_60_m_beyond(
    save_map: Save, draw_hole: Draw, green: Feature
) -> None:
    ground = read_hole(save_map(draw_hole(), green), "4").ground
    far = (np.array(ground.heights.shape) - 1) * ground.step + (ground.x0, ground.y0)
    assert ground.step == 0.5
    assert (ground.x0, ground.y0) == pytest.approx((-185.0, -70.0), abs=0.5)
    assert far == pytest.approx((90.0, 70.0), abs=0.5)


def test_surfaces_and_which_lies_on_top(
    save_map: Save, draw_hole: Draw, draw: Draw, draw_line: Draw, green: Feature
) -> None:
    """Points as (x, y): y counts to the left, so west of the line is positive."""
    features = (
        draw_hole(),
        green,
        draw("golf=fairway", -20, -150, 20, 5),
        draw("golf=tee", -5, -170, 5, -160),
        draw("golf=bunker", 9, 10, 18, 20),  # one metre of it under the green
        draw("natural=sand", -18, 10, -10.5, 20),
        draw("golf=water_hazard", -60, -40, -30, 0),
        draw("golf=out_of_bounds", 40, -100, 70, 60),
        draw_line([(25, -100), (25, 60)], golf="cartpath"),
        draw("golf=green", 30, -90, 38, -80),  # a practice green
    )
    ground = read_hole(save_map(*features), "4").ground
    expected = {
        (15.0, 0.0): Surface.GREEN,
        (15.0, -9.5): Surface.GREEN,
        (15.0, -14.0): Surface.BUNKER,
        (15.0, 14.0): Surface.BUNKER,
        (-0.5, 0.0): Surface.FRINGE,
        (5.0, 10.5): Surface.FRINGE,
        (15.0, 10.75): Surface.BUNKER,
        (-2.0, 0.0): Surface.FAIRWAY,
        (-165.0, 0.0): Surface.FAIRWAY,
        (-20.0, 45.0): Surface.WATER,
        (-20.0, -50.0): Surface.OUT_OF_BOUNDS,
        (-20.0, -25.0): Surface.PATH,
        (-85.0, -34.0): Surface.GREEN,
        (32.0, 0.0): Surface.ROUGH,
        (60.0, 30.0): Surface.ROUGH,
    }
    assert {point: ground.surface_at(*point) for point in expected} == expected


def test_fringe_that_the_map_draws_replaces_ours(
    save_map: Save, draw_hole: Draw, draw: Draw, green: Feature
) -> None:
    path = save_map(draw_hole(), green, draw("golf=fringe", -14, -4, 14, 34))
    assert read_hole(path, "4").ground.surface_at(-3.0, 0.0) is Surface.FRINGE


def test_areas_come_lowest_first_and_only_from_near_the_green(
    save_map: Save, draw_hole: Draw, draw: Draw, green: Feature
) -> None:
    features = (
        draw("golf=bunker", 12, 5, 18, 15),
        draw("golf=fairway", -20, -150, 20, -5),
        draw("golf=bunker", 0, -290, 5, -280),  # 280 m from the green
        draw("leisure=golf_course", -400, -400, 400, 400),
    )
    hole = read_hole(save_map(draw_hole(), green, *features), "4")
    assert [kind for kind, _ in hole.areas] == ["fairway", "fringe", "bunker"]


def test_nearest_green_belongs_to_the_hole(
    save_map: Save, draw_hole: Draw, draw: Draw, green: Feature
) -> None:
    other = draw("golf=green", 40, 0, 70, 50)
    short = draw_hole([(0.0, -300.0), (0.0, -30.0)])  # the line ends 30 m short of the green
    for features in ((green, other), (other, green)):
        hole = read_hole(save_map(short, *features), "4")
        assert np.ptp(hole.green, axis=0) == pytest.approx((30.0, 20.0), abs=1e-2)


@pytest.mark.parametrize(("par", "expected"), [(5, 5), ("3", 3), ("four", 0), (None, 0), (40, 0)])
def test_par(save_map: Save, draw_hole: Draw, green: Feature, par: object, expected: int) -> None:
    assert read_hole(save_map(draw_hole(par=par), green), "4").par == expected


def test_holes_of_a_map(save_map: Save, draw_hole: Draw, green: Feature) -> None:
    path = save_map(draw_hole(ref=4), green, draw_hole(ref="10A"), draw_hole(ref=None))
    assert list_holes(path) == ("4", "10A")
    assert read_hole(path, " 4 ").ref == "4"


def tilted(points: Floats) -> Floats:
    return np.column_stack([points, 20.0 + 0.02 * points[:, 1] + 0.01 * points[:, 0]])


@pytest.mark.parametrize(("column", "scale"), [("height_m", 1.0), ("height_ft", 1.0 / FOOT)])
def test_tilted_plane_comes_back(
    save_map: Save, save_heights: Save, draw_hole: Draw, green: Feature, column: str, scale: float
) -> None:
    heights = save_heights(tilted(square_grid(3.0)), f"lon,lat,{column}", scale)
    hole = read_hole(save_map(draw_hole(), green), "4", heights)
    ground = hole.ground
    x = ground.x0 + ground.step * np.arange(ground.heights.shape[0])
    y = ground.y0 + ground.step * np.arange(ground.heights.shape[1])
    on_green = np.ix_((x >= 0.0) & (x <= 30.0), (y >= -10.0) & (y <= 10.0))
    plane = 0.02 * x[:, None] - 0.01 * y[None, :]  # east is right of this hole, y counts left
    assert hole.heights_known
    np.testing.assert_allclose(ground.heights[on_green], plane[on_green], atol=1e-3)


@pytest.mark.parametrize(
    ("ref", "line", "message"),
    [
        ("7", None, r"^hole '7' is not in course.geojson; holes there: 4$"),
        ("", None, r"^hole '' is not in course.geojson; holes there: 4$"),
        (
            "4",
            [(0, -1200), (0, 15)],
            r"^hole 4 in course.geojson is 1215 m long; .* longitude first",
        ),
        ("4", [(0, 10), (0, 15)], r"^hole 4 in course.geojson is 5 m long; expected 20 to 1000 m"),
        (
            "4",
            [(0, 300), (0, -50)],
            r"^hole 4 has no green in course.geojson within 40 m of the end",
        ),
    ],
)
def test_bad_holes(
    save_map: Save,
    draw_hole: Draw,
    green: Feature,
    ref: str,
    line: list[tuple[float, float]] | None,
    message: str,
) -> None:
    features = (draw_hole(line) if line else draw_hole(), green)
    with pytest.raises(BadInputError, match=message):
        read_hole(save_map(*features), ref)


def test_map_without_greens_or_holes(save_map: Save, draw_hole: Draw, green: Feature) -> None:
    with pytest.raises(BadInputError, match=r"^hole 4 has no green in course\.geojson"):
        read_hole(save_map(draw_hole()), "4")
    with pytest.raises(BadInputError, match=r"holes there: none$"):
        read_hole(save_map(green), "4")


def test_green_of_no_believable_size(save_map: Save, draw_hole: Draw, draw: Draw) -> None:
    path = save_map(draw_hole(), draw("golf=green", -10, 0, 10, 7000))
    with pytest.raises(
        BadInputError, match=r"^the green of hole 4 .* is 7000 m deep and 20 m wide; expected 3 to"
    ):
        read_hole(path, "4")


def test_two_holes_of_one_number(save_map: Save, draw_hole: Draw, green: Feature) -> None:
    with pytest.raises(
        BadInputError, match=r"has 2 holes with ref 4; keep one course in a file, or"
    ):
        read_hole(save_map(draw_hole(), green, draw_hole()), "4")


def test_hole_drawn_as_an_area(save_map: Save, draw_ring: Draw, green: Feature) -> None:
    feature = draw_ring("golf=hole", [(0, 0), (5, 0), (5, 5)])
    feature["properties"] = {"golf": "hole", "ref": "4"}
    with pytest.raises(BadInputError, match=r"hole 4 in course.geojson is not a line from tee"):
        read_hole(save_map(feature, green), "4")


def test_heights_of_another_place(
    save_map: Save, save_heights: Save, draw_hole: Draw, green: Feature
) -> None:
    spots = tilted(square_grid(3.0) + np.array([5000.0, 0.0]))
    with pytest.raises(
        BadInputError, match=r"^heights.csv: no spot within 300 m .* hole 4; .* is 4\.9 km away"
    ):
        read_hole(save_map(draw_hole(), green), "4", save_heights(spots))


def test_too_few_heights(
    save_map: Save, save_heights: Save, draw_hole: Draw, green: Feature
) -> None:
    heights = save_heights(tilted(np.array([(0.0, 5.0), (3.0, 20.0), (-6.0, 18.0), (50.0, 9.0)])))
    with pytest.raises(
        BadInputError, match=r"^heights.csv: 3 readings on and within 5 m .* hole 4; at least 4 are"
    ):
        read_hole(save_map(draw_hole(), green), "4", heights)


@pytest.fixture(scope="module")
def demo_map() -> str:
    folder = Path(__file__).parents[2] / "src" / "carrybook" / "app" / "demo_data"
    return (folder / "venue.geojson").read_text(encoding="utf-8")


@settings(max_examples=100, deadline=None)
@given(data=st.data())
def test_a_map_with_any_number_spoilt_is_read_or_refused(
    tmp_path_factory: pytest.TempPathFactory, demo_map: str, data: st.DataObject
) -> None:
    """Take the demo's map, put another value in one place of one feature."""
    course = json.loads(demo_map)
    feature = data.draw(st.sampled_from(course["features"]))
    steps: list[tuple[object, object]] = []
    value, holder = feature["geometry"]["coordinates"], feature["geometry"]
    steps.append((holder, "coordinates"))
    while isinstance(value, list):
        key = data.draw(st.integers(0, len(value) - 1))
        steps.append((value, key))
        value = value[key]
    holder, key = data.draw(st.sampled_from(steps))
    holder[key] = data.draw(
        st.one_of(st.floats(), st.floats(-180, 180), st.none(), st.just([]), st.text(max_size=3))
    )
    path = tmp_path_factory.getbasetemp() / "spoilt.geojson"
    path.write_text(json.dumps(course))
    with suppress(BadInputError):
        assert isinstance(read_hole(path, "4"), Hole)


def test_pairs_of_neighbouring_nodes_do_not_jump(
    save_map: Save, save_heights: Save, draw_hole: Draw, green: Feature
) -> None:
    """However the survey ends, the ground has no cliffs that it did not have."""
    hole = read_hole(save_map(draw_hole(), green), "4", save_heights(tilted(square_grid(3.0))))
    steps = [np.abs(b - a).max() for a, b in pairwise(hole.ground.heights)]
    assert max(steps) < 0.5 * 0.15
