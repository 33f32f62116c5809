"""What a club costs from a place: as a full simulation on such ground says; sense, symmetry."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from math import pi, radians

import numpy as np
import pytest

from carrybook.base.constants import FOOT, YARD
from carrybook.decision.bag_fit.bags import choices
from carrybook.decision.bag_fit.demand import demand_over, on_greens
from carrybook.decision.bag_fit.greens import Greens
from carrybook.decision.bag_fit.table import Table, build_table, choose_swings
from carrybook.decision.bag_fit.wedges import Wedge, own_wedges
from carrybook.decision.demand import Demand
from carrybook.outcomes.draws import draw
from carrybook.outcomes.simulate import World, simulate
from carrybook.outcomes.strokes import finish_of
from carrybook.outcomes.swing import swings_of
from carrybook.outcomes.value_map import GREEN_RADIUS, invented_green
from carrybook.physics.strike import lie_effect
from carrybook.player.summary import ShotSummary
from carrybook.world.air import REFERENCE_DAY
from carrybook.world.faced import FacedShot
from carrybook.world.ground import Ground, Surface
from carrybook.world.lie import Lie, Moisture
from carrybook.world.wind import CALM, Wind

Shots = tuple[ShotSummary, ...]
MakeShots = Callable[..., Shots]
MIDDLE = Greens(holes_m=(0.0,))


def table_of(
    wedges: Sequence[Wedge], demand: Demand, greens: Greens = MIDDLE, count: int = 256
) -> Table:
    return build_table(lambda _lie, _wet: wedges, demand, greens, count=count)


@pytest.fixture(scope="module")
def wedges(shots_of: MakeShots) -> tuple[Wedge, ...]:
    return own_wedges(shots_of((48, 118), (54, 98), (60, 78)))


@pytest.fixture(scope="module")
def plain(wedges: tuple[Wedge, ...]) -> Table:
    return table_of(wedges, demand_over(50.0 * YARD, 110.0 * YARD, 10.0 * YARD))


def round_green(number_m: float) -> Ground:
    """Lay a level round green, the hole in its middle at the origin, where the map has it."""
    x, y = np.arange(-number_m - 20.0, 80.0, 0.5), np.arange(-60.0, 60.5, 0.5)
    px, py = np.meshgrid(x, y, indexing="ij")
    surfaces = np.full(px.shape, int(Surface.ROUGH), dtype=np.int64)
    surfaces[(np.abs(py) < GREEN_RADIUS) & (px < 0.0)] = int(Surface.FAIRWAY)
    surfaces[np.hypot(px, py) <= GREEN_RADIUS + 1.5 * YARD] = int(Surface.FRINGE)
    surfaces[np.hypot(px, py) <= GREEN_RADIUS] = int(Surface.GREEN)
    return Ground(float(x[0]), -60.0, 0.5, np.zeros(px.shape), surfaces)


def test_it_costs_what_a_full_simulation_on_such_ground_says(
    wedges: tuple[Wedge, ...], plain: Table
) -> None:
    """The same swing from 80 yd, played onto real ground and into a real hole."""
    number, place = 80.0 * YARD, 3
    summary = wedges[1].shots[0]
    feel = np.array([plain.feel_m[1, place]])
    world = World(
        ground=round_green(number), start=np.array([-number, 0.0, 0.0]), hole=(0.0, 0.0),
        line_right_rad=0.0, air=REFERENCE_DAY, wind=CALM, wind_level_m=0.0,
        lie=lie_effect(Lie.FAIRWAY, Moisture.DRY), firmness_g=90.0, firmness_sd_g=10.0,
        stimp_m=10.0 * FOOT,
    )  # fmt: skip
    swings = swings_of(summary, summary.reference_for(feel), np.zeros(1))
    ends, _ = simulate(world, swings, draw(np.random.default_rng(9), 4096))
    again = finish_of(ends, world.ground, world.hole, again=2.8).strokes
    error = again.std() / 64.0 + plain.strokes[1, place].std() / 16.0
    assert plain.strokes[1, place].mean() == pytest.approx(again.mean(), abs=3.0 * error + 0.02)


def test_a_club_costs_least_where_it_reaches(plain: Table) -> None:
    means = plain.strokes.mean(axis=2)
    assert (np.diff(means[0, :4]) < 0.0).all()  # its partials begin at 71 yd
    assert means[2, :3].max() < 2.8 < 3.0 < means[2, -1]
    assert (np.diff(means[2, 3:]) > 0.0).all()


def test_swings_stay_within_the_partials(wedges: tuple[Wedge, ...], plain: Table) -> None:
    for wedge, feels in zip(wedges, plain.feel_m, strict=True):
        shot = wedge.shots[0].shot
        assert feels.min() >= shot.shortest_m - 0.31
        assert feels.max() <= shot.longest_m + 0.31


def test_choosing_and_judging_use_different_draws_and_agree(plain: Table) -> None:
    judged = plain.strokes.mean(axis=2)
    assert not np.array_equal(plain.first, judged)
    error = plain.strokes.std(axis=2) / np.sqrt(len(plain.draws))
    assert (np.abs(plain.first - judged) < 6.0 * error + 0.01).all()


def test_the_same_seed_gives_the_same_table_whatever_else_is_in_it(
    wedges: tuple[Wedge, ...], plain: Table
) -> None:
    alone = table_of(wedges[1:2], plain.demand)
    np.testing.assert_allclose(alone.strokes[0], plain.strokes[1], rtol=1e-9)


def test_order_and_scale_of_a_demand_do_not_matter(wedges: tuple[Wedge, ...], plain: Table) -> None:
    turned = Demand(tuple(replace(s, times=5.0) for s in plain.demand.shots[::-1]), "")
    again = table_of(wedges, turned)
    np.testing.assert_allclose(again.first[:, ::-1], plain.first, rtol=1e-12)
    assert again.demand.shares == pytest.approx(plain.demand.shares)


def test_rough_costs_more_than_fairway_and_more_scatter_than_less(
    shots_of: MakeShots,
) -> None:
    demand = Demand((FacedShot(80.0 * YARD), FacedShot(80.0 * YARD, Lie.LIGHT_ROUGH)), "")
    usual, wild = (
        table_of(own_wedges(shots_of((54, 98), scatter=s)), demand).strokes.mean(axis=2)[0]
        for s in (1.0, 2.0)
    )
    assert usual[1] - usual[0] > 0.05
    assert (wild - usual > 0.1).all()


def test_firmness_of_a_place_goes_before_that_of_all(wedges: tuple[Wedge, ...]) -> None:
    own = Demand((FacedShot(80.0 * YARD, firmness_g=130.0),), "")
    unsaid = Demand((FacedShot(80.0 * YARD),), "")
    one = table_of(wedges, own)
    other = table_of(wedges, unsaid, replace(MIDDLE, firmness_g=130.0))
    np.testing.assert_array_equal(one.strokes, other.strokes)


def test_a_wind_from_either_side_is_alike_and_into_it_takes_more(
    wedges: tuple[Wedge, ...],
) -> None:
    demand = Demand((FacedShot(80.0 * YARD),), "")

    def blown(from_rad: float) -> Table:
        return table_of(wedges, demand, replace(MIDDLE, wind=Wind(5.0, from_rad)), 512)

    left, right, into = blown(1.5 * pi), blown(0.5 * pi), blown(0.0)
    error = left.strokes[1, 0].std() / np.sqrt(512.0)
    assert left.strokes[1, 0].mean() == pytest.approx(right.strokes[1, 0].mean(), abs=4.0 * error)
    assert into.feel_m[1, 0] > left.feel_m[1, 0] + 2.0


def test_into_greens_of_a_course_each_place_has_its_own(wedges: tuple[Wedge, ...]) -> None:
    """One green with a hole in its middle, one that is all rough on one side: aim the other way."""
    even = invented_green()
    half = np.where(np.arange(even.strokes.shape[1])[None, :] * even.step + even.y0 > 1.0, 1.0, 0.0)
    spoiled = replace(even, strokes=even.strokes + half)
    greens = replace(MIDDLE, course=(even, spoiled))
    one = Demand((FacedShot(80.0 * YARD, times=2.0),), "one")
    demand = on_greens(one, 2, "into two greens")
    assert [(p.green, p.times) for p in demand.shots] == [
        (0, 2.0), (1, 2.0),
    ]  # fmt: skip
    first, second = table_of(wedges, demand, greens).strokes.mean(axis=2)[1]
    plain = table_of(wedges, one).strokes.mean(axis=2)[1, 0]
    assert first == pytest.approx(plain, abs=0.05)
    assert 0.1 < second - first < 0.45  # half a stroke if it could not aim away


def test_a_shot_that_curves_is_started_so_that_it_lands_on_the_line(shots_of: MakeShots) -> None:
    (straight,) = shots_of((54, 98), scatter=0.2)
    tilted = replace(straight, curve=replace(straight.curve, axis_rad=radians(12.0)))
    demand = Demand((FacedShot(80.0 * YARD),), "")
    wedges = [Wedge(name, 0.9, (s,)) for name, s in (("a", straight), ("b", tilted))]
    one, other = table_of(wedges, demand).strokes.mean(axis=2)[:, 0]
    assert one == pytest.approx(other, abs=0.05)


def test_progress_is_told(wedges: tuple[Wedge, ...]) -> None:
    told: list[float] = []
    build_table(
        lambda _lie, _wet: wedges[:1], Demand((FacedShot(80.0),), ""), MIDDLE, count=32,
        progress=lambda _what, share: told.append(share),
    )  # fmt: skip
    assert told == sorted(told)
    assert told[-1] == 1.0


def test_greens_of_several_firmnesses_at_once_are_as_each_alone(wedges: tuple[Wedge, ...]) -> None:
    demand = Demand((FacedShot(70.0 * YARD), FacedShot(95.0 * YARD, Lie.LIGHT_ROUGH)), "")
    both = [replace(MIDDLE, firmness_g=g) for g in (70.0, 130.0)]
    chosen = choose_swings(lambda _lie, _wet: wedges, demand, both, count=128)
    for greens, found in zip(both, chosen, strict=True):
        alone = table_of(wedges, demand, greens, 128)
        np.testing.assert_array_equal(found.first, alone.first)
        np.testing.assert_array_equal(found.judged().strokes, alone.strokes)


def test_held_against_each_other_bags_take_what_they_took_and_the_rest_is_left_out(
    wedges: tuple[Wedge, ...], plain: Table
) -> None:
    """Clubs far behind are given up, what no bag takes is not judged; the rest is the same."""
    bags = [(0, 1, 2), (1, 2)]
    some = build_table(lambda _l, _w: wedges, plain.demand, MIDDLE, count=256, bags=bags)
    places = np.arange(len(plain.demand.shots))
    for bag in bags:
        taken = choices(some, bag)
        np.testing.assert_array_equal(taken, choices(plain, bag))
        np.testing.assert_array_equal(some.first[taken, places], plain.first[taken, places])
        np.testing.assert_array_equal(some.strokes[taken, places], plain.strokes[taken, places])
        np.testing.assert_array_equal(some.feel_m[taken, places], plain.feel_m[taken, places])
        np.testing.assert_array_equal(some.shot[taken, places], plain.shot[taken, places])
    assert np.isinf(some.first).any()
    judged = np.isfinite(some.strokes[..., 0])
    assert judged.sum() == len({(k, p) for bag in bags for p, k in enumerate(choices(some, bag))})
