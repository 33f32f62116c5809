"""The bag that costs fewest: players with a known answer, and no difference where there is none."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from math import degrees, radians

import numpy as np
import pytest

from carrybook.base.constants import YARD
from carrybook.base.errors import BadInputError
from carrybook.decision.bag_fit.bags import all_bags, mean_costs, played, saving
from carrybook.decision.bag_fit.demand import demand_over
from carrybook.decision.bag_fit.doubt import Chance, doubt_of
from carrybook.decision.bag_fit.fit import fit_bag, reaching, taken_from
from carrybook.decision.bag_fit.greens import Greens
from carrybook.decision.bag_fit.options import BagFit, Taken, from_short_partials, over_greens
from carrybook.decision.bag_fit.table import build_table
from carrybook.decision.bag_fit.wedges import (
    NEVER_HIT,
    Unknown,
    Wedge,
    candidates,
    own_wedges,
    wedge_of_loft,
)
from carrybook.decision.demand import Demand
from carrybook.decision.select import WORTH_SAYING
from carrybook.player.loft_pattern import patterns_of
from carrybook.player.summary import ShotSummary
from carrybook.world.faced import FacedShot

Shots = tuple[ShotSummary, ...]
MakeShots = Callable[..., Shots]
GREENS = Greens()
FEW = Chance(count=256)
# Two full wedges only, hardly any partial: nothing of theirs carries 85 yd.
WITH_A_GAP = ((50, 110), (60, 72))


def fitted(wedges: Sequence[Wedge], demand: Demand, **asked: object) -> BagFit:
    return fit_bag(lambda _lie, _wet: wedges, demand, GREENS, chance=FEW, **asked)  # type: ignore[arg-type]


@pytest.fixture(scope="module")
def gap(shots_of: MakeShots) -> BagFit:
    wedges = candidates(shots_of(*WITH_A_GAP, shortest=0.95), radians(46), radians(64))
    places = tuple(FacedShot(yd * YARD) for yd in (71, 85, 87, 109))
    return fitted(wedges, Demand(places, "gap"), sizes=(2, 3))


def test_a_gap_gets_a_club_that_covers_it(gap: BagFit) -> None:
    assert gap.carried is not None
    assert gap.advised.size == 3
    (one,) = (o for o in gap.options if o.size == 3 and o.new == 1)
    (new,) = (w for w in one.wedges if not w.owned)
    assert new.full_m == pytest.approx(86.0 * YARD, abs=5.0 * YARD)
    assert one.saving is not None
    assert one.saving.is_real
    assert one.saving.strokes > 0.1
    assert [one.taken[k].club for k in (1, 2)] == [new.label] * 2
    assert {taken.club for taken in gap.carried.taken} == {"50", "60"}
    assert one.strokes - gap.options[gap.best].strokes < one.saving.strokes


def test_lofts_alike_hold_the_best(gap: BagFit) -> None:
    lofts = [w.loft_rad for w in gap.options[gap.best].wedges]
    assert all(low <= loft <= high for loft, (low, high) in zip(lofts, gap.alike, strict=True))


def test_options_are_the_best_of_each_number_of_new_clubs(gap: BagFit) -> None:
    of_three = [o for o in gap.options if o.size == 3]
    assert [o.new for o in of_three] == sorted({o.new for o in of_three})
    assert gap.bags == 171 + 969  # of 19 lofts, two and three
    assert min(gap.options, key=lambda o: o.strokes).strokes == pytest.approx(
        gap.options[gap.best].strokes, abs=0.01
    )


def test_two_clubs_of_one_loft_make_no_difference(shots_of: MakeShots) -> None:
    shots = shots_of((48, 118), (54, 98), (60, 78))
    twin = wedge_of_loft(patterns_of(shots), radians(54))
    assert twin is not None
    wedges = (*own_wedges(shots), twin)
    table = build_table(
        lambda _lie, _wet: wedges, demand_over(60.0 * YARD, 110.0 * YARD), GREENS, count=128
    )
    found = saving(table, (0, 2, 3), (0, 1, 2))
    assert found.strokes == pytest.approx(0.0, abs=1e-6)
    assert not found.is_real


def test_where_the_bag_covers_everything_it_is_kept(shots_of: MakeShots) -> None:
    """Clubs 2 deg apart, with long partials: a third of them can go and nothing is lost."""
    shots = shots_of((52, 100), (54, 94), (56, 88), shortest=0.5)
    wedges = candidates(shots, radians(52), radians(56))
    found = fitted(wedges, demand_over(60.0 * YARD, 85.0 * YARD, 5.0 * YARD), sizes=(3,))
    assert found.advised is found.carried
    best = found.options[found.best]
    assert best.saving is None or not best.saving.is_real


def test_without_scatter_one_more_club_is_never_worse(shots_of: MakeShots) -> None:
    wedges = own_wedges(shots_of((48, 118), (52, 104), (56, 90), (60, 76), scatter=1e-6))
    exact = tuple(replace(w, shots=tuple(replace(s, bias_se=0.0) for s in w.shots)) for w in wedges)
    table = build_table(
        lambda _lie, _wet: exact, demand_over(60.0 * YARD, 110.0 * YARD), GREENS, count=128
    )
    whole = played(table, (0, 1, 2, 3)).mean()
    costs = mean_costs(table, all_bags(table, 3))
    assert (mean_costs(table, [(0, 1, 2, 3)])[0] <= costs).all()
    assert all(whole <= played(table, bag).mean() + 0.01 for bag in all_bags(table, 3))


def test_a_club_to_keep_is_kept(shots_of: MakeShots) -> None:
    shots = shots_of((48, 118), (54, 98), (60, 78))
    wedges = candidates(shots, radians(50), radians(56))
    demand = demand_over(70.0 * YARD, 90.0 * YARD, 10.0 * YARD)
    found = fitted(wedges, demand, sizes=(2,), keep=("60",))
    assert all("60" in [w.label for w in o.wedges] for o in found.options)


def test_clubs_that_are_no_wedges_stay_and_are_not_counted(shots_of: MakeShots) -> None:
    shots = shots_of((42, 138), (48, 118), (54, 98), (60, 78))
    wedges = (*own_wedges(shots[:1]), *candidates(shots, radians(50), radians(56)))
    demand = demand_over(70.0 * YARD, 130.0 * YARD, 20.0 * YARD)
    found = fitted(wedges, demand, sizes=(2,))
    assert all(o.size == 2 and "42" not in [w.label for w in o.wedges] for o in found.options)
    assert found.options[found.best].taken[-1].club == "42"


def test_what_cannot_be_chosen_is_said(shots_of: MakeShots) -> None:
    wedges = own_wedges(shots_of((54, 98), (60, 78)))
    demand = demand_over(70.0 * YARD, 80.0 * YARD)
    with pytest.raises(BadInputError, match="3 wedges cannot be chosen: 0 are to be kept, and"):
        fitted(wedges, demand, sizes=(3,))
    with pytest.raises(BadInputError, match=r"club 'SW' has no trusted shot .* are: 54, 60"):
        fitted(wedges, demand, sizes=(2,), keep=("SW",))


def test_reach_is_from_the_shortest_partial_to_the_longest(shots_of: MakeShots) -> None:
    low, high = reaching(own_wedges(shots_of((54, 98), (60, 78), shortest=0.5)))
    assert (low / YARD, high / YARD) == pytest.approx((39.0, 98.0))


def test_what_is_not_known_grows_with_what_is_not_known(shots_of: MakeShots) -> None:
    wedges = own_wedges(shots_of((50, 110), (60, 76)))
    demand = demand_over(70.0 * YARD, 110.0 * YARD, 20.0 * YARD)

    def doubt(times: float) -> float:
        unknown = {0: Unknown(*(times * getattr(NEVER_HIT, name) for name in Unknown.__slots__))}
        (found,) = doubt_of(lambda _lie, _wet: wedges, [(0, 1)], unknown, demand, GREENS, FEW)
        return found

    assert 0.0 < doubt(0.5) < doubt(1.0) < 0.2
    assert doubt_of(lambda _lie, _wet: wedges, [(0, 1)], {}, demand, GREENS, FEW) == [0.0]


def test_what_is_taken_says_how_unsure_it_is_only_where_bags_differ(shots_of: MakeShots) -> None:
    wedges = own_wedges(shots_of((50, 110), (56, 90), (60, 76)))
    table = build_table(
        lambda _lie, _wet: wedges, demand_over(70.0 * YARD, 110.0 * YARD, 20.0 * YARD), GREENS,
        count=64,
    )  # fmt: skip
    with_it = taken_from(table, (0, 1, 2), (0, 2))
    assert [t.unsure > 0.0 for t in with_it] == [t.club == "56" for t in with_it]
    assert all(t.unsure == 0.0 for t in taken_from(table, (0, 1, 2)))


def test_savings_nearer_than_the_partials_are_told_apart(gap: BagFit) -> None:
    assert gap.carried is not None
    best = gap.options[gap.best]
    shot = gap.carried.wedges[0].shots[0].shot
    near = Taken("50", "50", shot.shortest_m, 3.0)
    far = Taken("50", "50", shot.longest_m, 3.0)
    cheaper = tuple(Taken("x", "x", 1.0, 2.8) for _ in range(4))
    best = replace(best, taken=cheaper, saving=replace(best.saving, strokes=0.2))  # type: ignore[type-var]
    for taken, share in (((near,) * 4, 1.0), ((near, far, far, far), 0.25), ((far,) * 4, 0.0)):
        mine = replace(gap.carried, taken=taken)
        found = replace(gap, carried=mine, options=(best,), best=0)
        assert from_short_partials(found) == pytest.approx(share)
    assert from_short_partials(replace(gap, carried=None)) == 0.0


def test_greens_are_put_together_by_distance() -> None:
    places = (FacedShot(60.0), FacedShot(60.0, green=1), FacedShot(60.0, green=2))
    taken = [
        Taken(c, c, 1.0, s, u) for c, s, u in (("a", 2.4, 0.0), ("b", 2.5, 0.1), ("b", 2.9, 0.2))
    ]
    ((place, found),) = over_greens(Demand(places, ""), taken)
    assert place == FacedShot(60.0)
    assert (found.shot, found.strokes, found.unsure) == (
        "b",
        pytest.approx(2.6),
        pytest.approx(0.1),
    )


def test_common_practice_is_as_good_as_the_best(shots_of: MakeShots) -> None:
    """A 46 and three wedges near 51, 56 and 60: what most carry (common practice, no source).

    For a player of even gaps; never fitted, looked at once.
    """
    shots = shots_of((46, 124), (51, 108), (56, 92), (60, 80))
    wedges = candidates(shots, radians(46), radians(62))
    demand = demand_over(50.0 * YARD, 120.0 * YARD, 10.0 * YARD)
    found = fitted(wedges, demand, sizes=(4,))
    best = found.options[found.best]
    assert best.saving is None or best.saving.strokes < 3.0 * WORTH_SAYING
    for (low, high), loft in zip(found.alike, (46, 51, 56, 60), strict=True):
        assert degrees(low) - 2.0 <= loft <= degrees(high) + 2.0
    assert np.isfinite(best.strokes)
