"""Ninths of a green."""

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
import shapely

from carrybook.base.constants import YARD
from carrybook.decision.advice import Situation
from carrybook.decision.prepared import Zone
from carrybook.decision.zones import zone_locations, zone_of
from carrybook.world.hole import Hole
from carrybook.world.locate import locate

STIMP = 3.0  # m
MakeSituation = Callable[..., Situation]


@pytest.fixture(scope="module")
def hole(situation: MakeSituation) -> Hole:
    """Give an ellipse 30 m deep and 24 m wide."""
    return situation().hole


def test_a_round_green_offers_all_nine(hole: Hole) -> None:
    assert list(zone_locations(hole, STIMP)) == list(Zone)


def test_every_place_is_four_paces_in(hole: Hole) -> None:
    edge = shapely.Polygon(hole.green).exterior
    for at in zone_locations(hole, STIMP).values():
        assert edge.distance(shapely.Point(at.x, at.y)) >= 4.0 * YARD


def test_front_comes_before_back_and_left_lies_left(hole: Hole) -> None:
    at = zone_locations(hole, STIMP)
    assert at[Zone.FRONT_CENTRE].x < at[Zone.MIDDLE_CENTRE].x < at[Zone.BACK_CENTRE].x
    assert at[Zone.MIDDLE_LEFT].y > at[Zone.MIDDLE_CENTRE].y > at[Zone.MIDDLE_RIGHT].y
    assert (at[Zone.MIDDLE_CENTRE].x, at[Zone.MIDDLE_CENTRE].y) == pytest.approx(
        (15.0, 0.0), abs=0.6
    )


def test_a_mirrored_green_mirrors_its_places(hole: Hole) -> None:
    mirrored = replace(hole, green=hole.green[::-1] * (1.0, -1.0))
    there, here = zone_locations(mirrored, STIMP), zone_locations(hole, STIMP)
    for left, right in ((Zone.BACK_LEFT, Zone.BACK_RIGHT), (Zone.FRONT_RIGHT, Zone.FRONT_LEFT)):
        assert there[left].x == pytest.approx(here[right].x, abs=0.6)
        assert there[left].y == pytest.approx(-here[right].y, abs=0.6)


def test_a_place_is_said_as_on_a_pin_sheet(hole: Hole) -> None:
    at = zone_locations(hole, STIMP)[Zone.BACK_LEFT]
    again = locate(hole, f"{at.on_m:.4f}m on, {at.from_left_m:.4f}m from the left")
    assert (again.x, again.y) == pytest.approx((at.x, at.y), abs=1e-3)
    assert again.from_right_m == pytest.approx(at.from_right_m, abs=1e-3)
    assert again.behind_m == pytest.approx(at.behind_m, abs=1e-3)


def test_a_narrow_green_has_no_sides(hole: Hole) -> None:
    narrow = replace(hole, green=hole.green * np.array([1.0, 0.4]))
    assert {zone.value.split()[1] for zone in zone_locations(narrow, STIMP)} == {"centre"}


def test_a_tiny_green_offers_nothing(hole: Hole) -> None:
    assert zone_locations(replace(hole, green=0.2 * hole.green), STIMP) == {}


def test_a_slope_that_holds_no_ball_offers_nothing(hole: Hole) -> None:
    """More than six per cent at 10 ft is beyond the critical slope (lemons-2008)."""
    x = hole.ground.step * np.arange(hole.ground.heights.shape[0])
    tilted = replace(
        hole.ground, heights=np.broadcast_to(0.07 * x[:, None], hole.ground.heights.shape).copy()
    )
    assert zone_locations(replace(hole, ground=tilted), STIMP) == {}


def test_a_place_lies_in_the_ninth_that_it_was_found_for(hole: Hole) -> None:
    places = zone_locations(hole, STIMP)
    assert {zone: zone_of(hole, at) for zone, at in places.items()} == {z: z for z in places}
    corner = replace(places[Zone.FRONT_LEFT], x=-5.0, y=100.0)
    assert zone_of(hole, corner) is Zone.FRONT_LEFT
