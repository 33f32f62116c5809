"""Gaps and overlaps: carries, shares and worth of clubs that are known; where none is."""

from collections.abc import Callable
from math import radians

import pytest

from carrybook.base.constants import YARD
from carrybook.base.errors import NoSolutionError
from carrybook.decision.bag_fit.demand import demand_over
from carrybook.decision.bag_fit.doubt import Chance
from carrybook.decision.bag_fit.gaps import BagGaps, gaps_of
from carrybook.decision.bag_fit.greens import Greens
from carrybook.decision.bag_fit.wedges import candidates
from carrybook.decision.demand import Demand
from carrybook.player.summary import ShotSummary
from carrybook.world.faced import FacedShot

MakeShots = Callable[..., tuple[ShotSummary, ...]]
GREENS, FEW = Greens(), Chance(256)


@pytest.fixture(scope="module")
def found(shots_of: MakeShots) -> BagGaps:
    """Two full clubs far apart, a third that is nearly the second."""
    shots = shots_of((50, 110), (59, 73), (60, 71), shortest=0.95)
    wedges = candidates(shots, radians(50), radians(60))
    places = tuple(FacedShot(yd * YARD, times=n) for yd, n in ((70, 1.0), (86, 1.0), (108, 2.0)))
    return gaps_of(lambda _a, _b: wedges, Demand(places, ""), GREENS, chance=FEW)


def test_clubs_come_from_the_longest_with_the_gap_to_the_next(found: BagGaps) -> None:
    assert [c.wedge.label for c in found.clubs] == ["50", "59", "60"]
    gaps = [c.gap_m for c in found.clubs]
    assert gaps[:2] == pytest.approx([37.0 * YARD, 2.0 * YARD], abs=1e-6)
    assert gaps[2] is None
    assert all(c.full_se_m > 0.0 for c in found.clubs)
    assert found.clubs[0].gap_se_m > found.clubs[0].full_se_m  # type: ignore[operator]


def test_shares_are_those_of_the_demand(found: BagGaps) -> None:
    assert sum(c.share for c in found.clubs) == pytest.approx(1.0)
    assert found.clubs[0].share == pytest.approx(0.5)


def test_a_club_alone_at_its_distance_is_worth_more_than_one_of_two(found: BagGaps) -> None:
    only, one, other = (c.saves for c in found.clubs)
    assert only.is_real
    assert only.strokes > 0.3
    assert not one.is_real or not other.is_real
    assert min(one.strokes, other.strokes) < 0.1


def test_the_gap_stands_where_no_club_goes(found: BagGaps) -> None:
    near, gap, far = found.places
    assert gap.behind.is_real
    assert gap.behind.strokes > 0.2
    assert gap.made_for not in ("50", "59", "60")
    assert abs(near.behind.strokes) < 0.1
    assert far.taken.club == "50"
    assert far.next_behind > 0.3
    assert near.next_club in ("59", "60")


def test_one_club_has_no_gaps(shots_of: MakeShots) -> None:
    wedges = candidates(shots_of((54, 98)), radians(50), radians(60))
    demand = demand_over(80.0 * YARD, 80.0 * YARD)
    with pytest.raises(NoSolutionError, match="gaps need two clubs"):
        gaps_of(lambda _a, _b: wedges, demand, GREENS, chance=FEW)
