"""One ninth of one green from likely distances, and what fits on a card."""

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from carrybook.base.constants import YARD
from carrybook.decision.advice import Situation, Trouble
from carrybook.decision.choose import choose
from carrybook.decision.lay_ups import LayUpScatter
from carrybook.decision.look import Pains
from carrybook.decision.plan import (
    NOWHERE,
    Brief,
    Piece,
    Planned,
    pieces_of,
    plan_piece,
    zone_plan_of,
)
from carrybook.decision.prepared import Zone, ZonePlan
from carrybook.decision.zones import zone_locations
from carrybook.player.summary import ShotSummary
from carrybook.world.ground import Surface
from carrybook.world.lie import Lie

MakeSituation = Callable[..., Situation]
Bag = tuple[ShotSummary, ...]
FEW = Pains(first=16, finer=32, final=512)


def brief(situation: Situation, bag: Bag, *yards: float, **more: object) -> Brief:
    numbers = tuple(y * YARD for y in yards)
    scatter = LayUpScatter(0.0, 0.0)
    return Brief(situation, bag, numbers, scatter, pains=FEW, **more)  # type: ignore[arg-type]


def done(told: Brief, zone: Zone = Zone.MIDDLE_CENTRE) -> Planned:
    return plan_piece(
        told, Piece(zone_locations(told.situation.hole, told.situation.stimp_m)[zone], zone)
    )


def test_a_hole_is_a_piece_for_each_ninth_and_one_for_what_to_leave() -> None:
    places = {
        zone: replace(NOWHERE, x=x) for x, zone in enumerate((Zone.FRONT_LEFT, Zone.BACK_LEFT))
    }
    ninths = [Piece(at, zone) for zone, at in places.items()]
    assert list(pieces_of(places, None)) == list(pieces_of(places, Zone.FRONT_RIGHT)) == ninths
    assert list(pieces_of(places, Zone.BACK_LEFT)) == [*ninths, Piece(places[Zone.BACK_LEFT])]


def test_a_cell_is_the_choice_there(situation: MakeSituation, bag: Bag) -> None:
    (cell,) = done(brief(situation(), bag, 88.0)).cells
    at = cell.location
    placed = replace(situation(), location=at, ball_x=at.x - 88.0 * YARD, ball_y=at.y)
    advice = choose(placed, bag)
    options = {o.summary.shot.label for o in advice.options if o.close_call}
    assert cell.shot in {advice.options[0].summary.shot.label, *options}
    assert cell.strokes == pytest.approx(advice.options[0].strokes, abs=0.06)
    assert (cell.hole, cell.zone) == ("1", Zone.MIDDLE_CENTRE)
    assert cell.number_m == pytest.approx(88.0 * YARD)


def test_what_cannot_be_planned_is_said(situation: MakeSituation, bag: Bag) -> None:
    base = situation()
    surfaces = base.hole.ground.surfaces.copy()
    x = base.hole.ground.x0 + base.hole.ground.step * np.arange(surfaces.shape[0])
    surfaces[(x > -70.0) & (x < -50.0)] = int(Surface.WATER)
    ground = replace(base.hole.ground, surfaces=surfaces)
    wet = replace(base, hole=replace(base.hole, ground=ground))
    found = done(brief(wet, bag, 30.0, 80.0, 100.0))
    assert [round(c.number_m / YARD) for c in found.cells] == [100]
    assert [(o.hole, o.zone, round(o.number_m / YARD), o.why) for o in found.left_out] == [
        ("1", Zone.MIDDLE_CENTRE, 30, "none of your shots lands a ball near the hole"),
        ("1", Zone.MIDDLE_CENTRE, 80, "the ball would lie in water"),
    ]


def test_the_lie_is_the_maps_unless_it_was_said(situation: MakeSituation, bag: Bag) -> None:
    base = situation()
    surfaces = np.full_like(base.hole.ground.surfaces, int(Surface.ROUGH))
    surfaces[base.hole.ground.surfaces == int(Surface.GREEN)] = int(Surface.GREEN)
    rough = replace(
        base, hole=replace(base.hole, ground=replace(base.hole.ground, surfaces=surfaces))
    )
    (mapped,) = done(brief(rough, bag, 85.0)).cells
    (said,) = done(brief(rough, bag, 85.0, lie=Lie.FAIRWAY)).cells
    assert (mapped.lie, said.lie) == (Lie.LIGHT_ROUGH, Lie.FAIRWAY)


def test_water_on_one_side_is_the_miss_to_avoid(situation: MakeSituation, bag: Bag) -> None:
    told = brief(situation(water_left_of=13.0), bag, 95.0)
    (cell,) = done(told, Zone.MIDDLE_LEFT).cells
    assert cell.miss is Trouble.WATER
    assert 0.0 < cell.miss_share < 0.5
    assert cell.landing_right_m > 0.0


def test_the_same_seed_gives_the_same_piece(situation: MakeSituation, bag: Bag) -> None:
    told = brief(situation(), bag, 85.0)
    assert done(told) == done(told)


def test_a_piece_without_a_zone_is_what_to_leave(situation: MakeSituation, bag: Bag) -> None:
    told = brief(situation(), bag, 85.0, lie=Lie.FAIRWAY)
    found = plan_piece(
        told, Piece(zone_locations(told.situation.hole, told.situation.stimp_m)[Zone.MIDDLE_CENTRE])
    )
    assert found.cells == ()
    assert found.lay_up is not None
    assert found.lay_up.hole == "1"
    assert 40.0 * YARD <= found.lay_up.flat_low_m <= found.lay_up.flat_high_m <= 121.0 * YARD
    assert len(found.lay_up.left_m) >= 5


def test_what_fits_on_a_card(situation: MakeSituation, bag: Bag) -> None:
    (cell,) = done(brief(situation(), bag, 88.0)).cells
    assert zone_plan_of(replace(cell, other="60", miss=Trouble.SHORT)) == ZonePlan(
        "1", Zone.MIDDLE_CENTRE, cell.number_m, cell.shot, cell.feel_m, cell.landing_to_hole_m,
        cell.landing_right_m, Trouble.SHORT, close_call=True,
    )  # fmt: skip
    assert not zone_plan_of(replace(cell, other="")).close_call
