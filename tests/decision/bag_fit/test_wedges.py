"""Wedges to choose from: what is owned, lofts between, clubs as they might turn out."""

from collections.abc import Callable
from dataclasses import replace
from math import degrees, radians

import pytest

from carrybook.base.constants import YARD
from carrybook.base.errors import NoSolutionError
from carrybook.decision.bag_fit.wedges import (
    BENT,
    CARRY_A_DEGREE,
    NEVER_HIT,
    Unknown,
    bent,
    candidates,
    is_wedge,
    lofts_between,
    otherwise,
    own_wedges,
    unknowns,
    wedge_of_loft,
)
from carrybook.player.loft_pattern import patterns_of
from carrybook.player.summary import ShotSummary

Shots = tuple[ShotSummary, ...]
MakeShots = Callable[..., Shots]


@pytest.fixture(scope="module")
def owned(shots_of: MakeShots) -> Shots:
    return shots_of((42, 138), (48, 118), (54, 98), (60, 78))


def test_clubs_rise_in_loft_and_untrusted_shots_do_not_count(shots_of: MakeShots) -> None:
    doubtful = shots_of((56, 90), trusted=False)
    found = own_wedges([*reversed(shots_of((48, 118), (60, 78))), *doubtful])
    assert [w.label for w in found] == ["48", "60"]
    assert all(w.owned for w in found)
    assert found[0].full_m == pytest.approx(118.0 * YARD)


def test_lofts_that_are_owned_are_not_guessed(owned: Shots) -> None:
    wedges = own_wedges(s for s in owned if is_wedge(s))
    found = [degrees(loft) for loft in lofts_between(radians(46), radians(56), wedges)]
    assert found == pytest.approx([46, 47, 49, 50, 51, 52, 53, 55, 56])


def test_candidates_are_owned_and_guessed_ones_in_order(owned: Shots) -> None:
    found = candidates(owned, radians(46), radians(64))
    assert [round(degrees(w.loft_rad)) for w in found] == list(range(46, 65))
    assert [w.label for w in found if w.owned] == ["48", "54", "60"]
    carries = [w.full_m for w in found]
    assert carries == sorted(carries, reverse=True)
    assert unknowns(found) == {k: w.unknown for k, w in enumerate(found) if not w.owned}


def test_the_further_from_what_is_owned_the_less_is_known(owned: Shots) -> None:
    known = {round(degrees(w.loft_rad)): w.unknown for w in candidates(owned, 0.8, 1.13)}
    assert known[54] is None
    for loft, away in ((55, 1), (62, 2), (64, 4)):
        unknown = known[loft]
        assert unknown is not None
        assert unknown.carry == pytest.approx(NEVER_HIT.carry + away * CARRY_A_DEGREE)
        assert replace(unknown, carry=NEVER_HIT.carry) == NEVER_HIT


def test_without_a_wedge_there_is_nothing_to_go_by(shots_of: MakeShots) -> None:
    with pytest.raises(NoSolutionError, match="no trusted shot with a wedge"):
        candidates(shots_of((42, 138)), radians(46), radians(64))


def test_a_loft_out_of_reach_is_no_candidate(shots_of: MakeShots) -> None:
    found = candidates(shots_of((56, 90)), radians(46), radians(68))
    assert round(degrees(found[0].loft_rad)), round(degrees(found[-1].loft_rad)) == (48, 64)
    assert wedge_of_loft(patterns_of(shots_of((56, 90))), radians(68)) is None


def test_a_bent_club_keeps_its_scatter_and_moves_as_loft_does(owned: Shots) -> None:
    mine = own_wedges(replace(s, spread=0.1) if s.shot.club.label == "54" else s for s in owned)
    patterns = patterns_of([s for w in mine for s in w.shots])
    found = bent(mine[2], patterns, radians(52))
    assert found is not None
    (shot,) = found.shots
    assert found.unknown == BENT
    assert shot.spread == 0.1
    assert mine[2].full_m < found.full_m < mine[1].full_m


def test_otherwise_moves_one_thing_at_a_time(owned: Shots) -> None:
    (wedge,) = own_wedges(owned[1:2])
    unknown = Unknown(carry=0.1, scatter=0.2, launch_rad=0.05, spin=0.3)
    longer, wilder, higher, spinning = (w.shots[0] for w in otherwise(wedge, unknown))
    usual = wedge.shots[0]
    assert longer.stock_m == pytest.approx(1.1 * usual.stock_m)
    assert longer.shot.longest_m == pytest.approx(1.1 * usual.shot.longest_m)
    assert wilder.spread == pytest.approx(1.2 * usual.spread)
    assert wilder.side_rad == pytest.approx(1.2 * usual.side_rad)
    assert higher.launch_rad == pytest.approx(usual.launch_rad + 0.05)
    assert spinning.spin_per_speed == pytest.approx(1.3 * usual.spin_per_speed)
    assert {s.stock_m for s in (wilder, higher, spinning)} == {usual.stock_m}
