"""Dragged places in the words that a person would have typed."""

from math import cos, radians, sin
from pathlib import Path

import pytest

from carrybook.app import services
from carrybook.app.services.place import default_location, holes_on, place_at
from carrybook.base.constants import YARD
from carrybook.base.errors import BadInputError
from carrybook.world.hole import Hole
from carrybook.world.hole_map import read_hole
from carrybook.world.locate import ball_behind, locate

MAP = Path(services.__file__).parents[1] / "demo_data" / "venue.geojson"


@pytest.fixture(scope="module")
def hole() -> Hole:
    """One of the invented course."""
    return read_hole(MAP, "4")


def test_the_holes_of_a_map() -> None:
    assert holes_on(MAP) == ("4", "11", "16")


def test_where_nobody_said_it_is_the_middle(hole: Hole) -> None:
    at = locate(hole, default_location(hole))
    deep = hole.green[:, 0].max() - hole.green[:, 0].min()
    assert at.on_m == pytest.approx(deep / 2.0, abs=0.5 * YARD)


@pytest.mark.parametrize(("metres", "unit"), [(True, 1.0), (False, YARD)])
def test_a_dragged_ball_leaves_the_hole_and_says_its_number(
    hole: Hole, metres: bool, unit: float
) -> None:
    at = locate(hole, "17 on, centre")
    ball = (at.x - 80.0 * cos(0.2), at.y - 80.0 * sin(0.2))
    place = place_at(hole, "17 on, centre", hole_at=None, ball_at=ball, metres=metres)
    assert place.hole_location == "17 on, centre"
    assert place.number == f"{round(80.0 / unit, 1):g}{'m' if metres else 'yd'}"
    assert place.off_line_deg == pytest.approx(11.46, abs=0.01)


def test_a_dragged_hole_leaves_the_ball_where_it_lies(hole: Hole) -> None:
    at = locate(hole, "17 on, centre")
    ball = ball_behind(hole, at, 80.0)
    place = place_at(
        hole, "17 on, centre", hole_at=(at.x + 5.0, at.y + 3.0), ball_at=ball, metres=True
    )
    moved = locate(hole, place.hole_location)
    off, number = radians(place.off_line_deg), float(place.number.removesuffix("m"))
    again = ball_behind(hole, moved, number, off_line_rad=off)
    assert again == pytest.approx(ball, abs=0.15)  # tenths of a metre and of a pace


def test_a_place_off_the_green_is_refused(hole: Hole) -> None:
    with pytest.raises(BadInputError, match="hole location is off the green"):
        place_at(hole, "", hole_at=(-9.0, 0.0), ball_at=(-80.0, 0.0), metres=True)
