"""What to leave: agreement with the choice at one spot, symmetry, hazards, the flat part."""

from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from carrybook.base.constants import YARD
from carrybook.base.errors import BadInputError, NoSolutionError, OutOfRangeError
from carrybook.decision import lay_ups as spots
from carrybook.decision import leave as room
from carrybook.decision.advice import Situation, Trouble
from carrybook.decision.choose import choose
from carrybook.decision.lay_ups import LayUpScatter, LeaveAsked, scatter_of
from carrybook.decision.leave import (
    Against,
    LeaveTable,
    lay_up_of,
    leave,
)
from carrybook.decision.look import Pains
from carrybook.decision.select import WORTH_SAYING
from carrybook.outcomes.baseline import strokes_from
from carrybook.player.summary import ShotSummary
from carrybook.world.ground import Surface
from carrybook.world.lie import Lie

MakeSituation = Callable[..., Situation]
Bag = tuple[ShotSummary, ...]
FEW = Pains(first=16, finer=32, final=512, shots=1)
EXACT = LayUpScatter(0.0, 0.0)


def asked(*yards: float, scatter: LayUpScatter = EXACT, **more: object) -> LeaveAsked:
    return LeaveAsked(tuple(y * YARD for y in yards), scatter, **more)  # type: ignore[arg-type]


def painted(situation: Situation, surface: Surface, near_yd: float, far_yd: float) -> Situation:
    """Lay a band of one surface across the approach, between two distances from the hole."""
    ground = situation.hole.ground
    x = ground.x0 + ground.step * np.arange(ground.surfaces.shape[0])
    away = (situation.location.x - x) / YARD
    surfaces = ground.surfaces.copy()
    surfaces[(away >= near_yd) & (away <= far_yd)] = int(surface)
    hole = replace(situation.hole, ground=replace(ground, surfaces=surfaces))
    return replace(situation, hole=hole)


@pytest.fixture(scope="module")
def plain(situation: MakeSituation, bag: Bag) -> LeaveTable:
    return leave(situation(), bag, asked(50, 60, 70, 80, 90, 100, 110), pains=FEW)


def test_without_scatter_it_is_the_choice_at_that_spot(situation: MakeSituation, bag: Bag) -> None:
    (found,) = leave(situation(), bag, asked(88)).distances
    advice = choose(situation(88.0), bag)
    best = advice.options[0]
    as_good = {best.summary.shot.label: best.feel_m}
    as_good |= {o.summary.shot.label: o.feel_m for o in advice.options if o.close_call}
    assert found.feel_m == pytest.approx(as_good[found.shot], abs=5.0 * YARD)
    assert found.strokes == pytest.approx(best.strokes, abs=0.03)
    assert (found.behind, found.flat, found.troubles) == (0.0, True, {})


def test_closer_costs_less_on_an_open_hole(plain: LeaveTable) -> None:
    """As tour averages have it (broadie-2014)."""
    strokes = [d.strokes for d in plain.distances]
    assert plain.distances[plain.best].left_m < 70.0 * YARD
    assert strokes[-1] - strokes[1] > 0.05
    assert all(b - a > -WORTH_SAYING for a, b in pairwise(strokes[1:]))


def test_the_flat_part_is_unbroken_and_hardly_costs_more(plain: LeaveTable) -> None:
    flat = [d for d in plain.distances if d.flat]
    low, high = plain.flat_m
    assert plain.distances[plain.best] in flat
    assert [d.left_m for d in plain.distances if low <= d.left_m <= high] == [
        d.left_m for d in flat
    ]
    assert all(d.behind <= WORTH_SAYING for d in flat)


def test_flat_stops_at_a_step_and_at_what_is_not_known() -> None:
    means = np.array([2.50, 2.60, 2.51, 2.50, 2.515, np.nan, 2.50])
    assert room._flat(means, 3) == [False, False, True, True, True, False, False]


def test_a_mirrored_hole_mirrors_the_answer(situation: MakeSituation, bag: Bag) -> None:
    scatter = LayUpScatter(5.0, 10.0)
    left, right = (
        leave(situation(**{water: 15.0}), bag, asked(80, scatter=scatter), pains=FEW)
        for water in ("water_left_of", "water_right_of")
    )
    for a, b in zip(left.distances, right.distances, strict=True):
        assert a.troubles == b.troubles
        assert a.troubles[Trouble.WATER] > 0.0
        assert a.strokes == pytest.approx(b.strokes, abs=0.05)


def test_off_line_to_both_sides_is_alike(situation: MakeSituation, bag: Bag) -> None:
    one, other = (
        leave(situation(), bag, asked(80, off_line_rad=turn), pains=FEW).distances[0].strokes
        for turn in (0.2, -0.2)
    )
    assert one == pytest.approx(other, abs=0.04)


def test_water_costs_a_stroke_and_is_kept_clear_of(situation: MakeSituation, bag: Bag) -> None:
    wet = painted(situation(), Surface.WATER, 55.0, 75.0)
    scatter = LayUpScatter(4.0 * YARD, 0.0)
    table = leave(wet, bag, asked(65, 80, 95, scatter=scatter), pains=FEW)
    inside, edge, clear = table.distances
    assert inside.surface is Surface.WATER
    assert inside.troubles[Trouble.WATER] > 0.95
    assert inside.strokes - clear.strokes > 0.9
    assert 0.05 < edge.troubles[Trouble.WATER] < 0.3
    assert clear.troubles == {}
    assert table.distances[table.best] is clear
    assert lay_up_of(table).note == "Water: up to 100 % of them."


def test_more_scatter_costs_more_beside_water(situation: MakeSituation, bag: Bag) -> None:
    wet = painted(situation(), Surface.WATER, 40.0, 70.0)
    cost = [
        leave(wet, bag, asked(80, scatter=LayUpScatter(s * YARD, 0.0)), pains=FEW)
        .distances[0]
        .strokes
        for s in (0.0, 10.0)
    ]
    assert cost[1] - cost[0] > 0.05


def test_sand_counts_as_the_baseline_says(situation: MakeSituation, bag: Bag) -> None:
    """Strokes from sand at that distance (broadie-2014), for a lay-up that surely ends there."""
    sandy = painted(situation(), Surface.BUNKER, 60.0, 80.0)
    found = leave(sandy, bag, asked(70, 100), pains=FEW).distances[0]
    assert found.strokes == pytest.approx(float(strokes_from(Lie.SAND, np.array([70.0 * YARD]))[0]))
    assert (found.shot, found.feel_m, found.surface) == ("", 0.0, Surface.BUNKER)


def test_out_of_bounds_is_the_lay_up_again(situation: MakeSituation, bag: Bag) -> None:
    """With a share p out of bounds: J = (rest + 2 p) / (1 - p)."""
    scatter = LayUpScatter(0.0, 10.0)
    safe = leave(situation(), bag, asked(85, scatter=scatter), pains=FEW).distances[0]
    beyond = situation()
    ground = beyond.hole.ground
    y = ground.y0 + ground.step * np.arange(ground.surfaces.shape[1])
    surfaces = ground.surfaces.copy()
    surfaces[: int((-40.0 - ground.x0) / ground.step), y > 8.0] = int(Surface.OUT_OF_BOUNDS)
    fenced = replace(beyond, hole=replace(beyond.hole, ground=replace(ground, surfaces=surfaces)))
    found = leave(fenced, bag, asked(85, scatter=scatter), pains=FEW).distances[0]
    lost = found.troubles[Trouble.OUT_OF_BOUNDS]
    assert 0.1 < lost < 0.4
    assert found.strokes == pytest.approx(safe.strokes + 2.0 * lost / (1.0 - lost), abs=0.03)


def test_all_out_of_bounds_is_no_place_to_lay_up(situation: MakeSituation, bag: Bag) -> None:
    fenced = painted(situation(), Surface.OUT_OF_BOUNDS, 60.0, 80.0)
    table = leave(fenced, bag, asked(70, 100), pains=FEW)
    assert np.isnan(table.distances[0].strokes)
    assert table.best == 1
    assert len(lay_up_of(table).left_m) == 1
    with pytest.raises(NoSolutionError):
        leave(fenced, bag, asked(70), pains=FEW)


def test_rough_is_taken_from_the_map_unless_a_lie_is_said(
    situation: MakeSituation, bag: Bag
) -> None:
    rough = painted(situation(), Surface.ROUGH, 60.0, 120.0)
    (mapped,) = leave(rough, bag, asked(85), pains=FEW).distances
    (said,) = leave(rough, bag, asked(85, lie=Lie.FAIRWAY), pains=FEW).distances
    (grown,) = leave(situation(), bag, asked(85, lie=Lie.LIGHT_ROUGH), pains=FEW).distances
    assert mapped.strokes == pytest.approx(grown.strokes, abs=1e-9)
    assert mapped.strokes > said.strokes
    assert mapped.troubles == {Trouble.ROUGH: 1.0}


def test_a_favourite_is_held_against_closer_ones(situation: MakeSituation, bag: Bag) -> None:
    table = leave(situation(), bag, asked(60, 80, 100, favourite_m=100.0 * YARD), pains=FEW)
    assert table.closer is not None
    assert table.closest is not None
    assert len(table.distances) == 3
    by = {round(d.left_m / YARD): d.strokes for d in table.distances}
    assert table.closest.left_m == pytest.approx(60.0 * YARD)
    assert table.closest.saves == pytest.approx(by[100] - by[60])
    assert table.closer.saves >= table.closest.saves
    assert table.closest.unsure > 0.0


def test_a_favourite_between_two_steps_is_looked_at_too(situation: MakeSituation, bag: Bag) -> None:
    table = leave(situation(), bag, asked(80, favourite_m=84.0 * YARD), pains=FEW)
    assert [round(d.left_m / YARD) for d in table.distances] == [80, 84]


@pytest.mark.parametrize(
    ("saves", "sure", "matters"),
    [(0.05, 0.01, True), (0.05, 0.02, False), (0.02, 0.0, False), (-0.05, 0.01, True)],
)
def test_what_does_not_separate_does_not_matter(saves: float, sure: float, matters: bool) -> None:
    assert Against(60.0, 80.0, saves, sure).matters is matters


def test_the_same_seed_gives_the_same_table(situation: MakeSituation, bag: Bag) -> None:
    scatter = LayUpScatter(3.0, 3.0)
    first, again = (
        leave(situation(), bag, asked(80, scatter=scatter), seed=5, pains=FEW) for _ in range(2)
    )
    assert first.distances == again.distances


def test_lay_ups_have_the_spread_that_was_said(situation: MakeSituation) -> None:
    values = spots._normal(21)
    assert values.mean() == pytest.approx(0.0, abs=1e-12)
    assert values.std() == pytest.approx(1.0)
    assert list(spots._normal(1)) == [0.0]
    one = asked(80, scatter=LayUpScatter(6.0, 0.0))
    away = np.array([d for d, _ in spots.lay_ups(situation(), one, 80.0 * YARD)])
    assert away.std() == pytest.approx(6.0)
    assert away.mean() == pytest.approx(80.0 * YARD)


def test_between_two_distances_strokes_are_on_a_straight_line() -> None:
    assert spots._between((50.0, 60.0), 52.5) == ((50.0, 0.75), (60.0, 0.25))
    assert spots._between((50.0, 60.0), 60.0) == ((60.0, 1.0),)
    assert spots._between((50.0, 60.0), 45.0) == ((50.0, 1.0),)
    assert spots._between((50.0, 60.0), 65.0) == ((60.0, 1.0),)


def test_scatter_is_that_of_the_longest_shot(bag: Bag) -> None:
    longest = next(s for s in bag if s.shot.label == "48")
    found = scatter_of(bag)
    assert found.depth_m == pytest.approx(118.0 * YARD * longest.spread)
    assert found.side_m == pytest.approx(118.0 * YARD * longest.side_rad)
    assert found.source == "as your 48 does at its stock carry"


def test_where_no_shot_reaches_it_says_so(situation: MakeSituation, bag: Bag) -> None:
    table = leave(situation(), bag, asked(20, 85), pains=FEW)
    assert np.isnan(table.distances[0].strokes)
    assert table.distances[0].shot == ""
    with pytest.raises(NoSolutionError, match="none of your shots lands a ball near the hole"):
        leave(situation(), bag, asked(20), pains=FEW)


def test_bad_questions_are_refused() -> None:
    with pytest.raises(BadInputError, match="distances to leave must rise"):
        asked(90, 80)
    with pytest.raises(BadInputError, match="at least"):
        asked()
    with pytest.raises(OutOfRangeError, match="distance left = 10 yd is outside 15 to 200 yd"):
        asked(10)
    with pytest.raises(OutOfRangeError, match="distance left = 300 yd"):
        asked(80, favourite_m=300.0 * YARD)
    with pytest.raises(OutOfRangeError, match="scatter of the lay-up in side = 50 yd"):
        LayUpScatter(1.0, 50.0 * YARD)


def test_progress_is_told(situation: MakeSituation, bag: Bag) -> None:
    told: list[float] = []
    leave(situation(), bag, asked(80, 90), pains=FEW, progress=lambda _, share: told.append(share))
    assert told == sorted(told)
    assert told[-1] == 1.0
