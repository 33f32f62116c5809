"""Firmness from notes: precisions add, old notes and other greens count less, nothing twice."""

from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from carrybook.base.constants import FOOT
from carrybook.decision.noted import Evidence, belief_on, evidence_of
from carrybook.outcomes.firmness import FirmnessUpdate, Seen, update_firmness
from carrybook.outcomes.landing import Patch
from carrybook.world.firmness import UNSEEN
from carrybook.world.venue import VenueNote

DAY = date(2026, 5, 28)


@pytest.fixture(scope="module")
def learnt() -> FirmnessUpdate:
    """What two balls that ran out make of a green of which nobody said anything."""
    seen = [Seen("released 5 paces", 4.572, 4.572), Seen("ran out", 7.3, 22.9)]
    return update_firmness(UNSEEN, seen, Patch(), np.random.default_rng(1))


def test_nobody_said_anything() -> None:
    belief = belief_on(DAY, "4", (), ())
    assert (belief.firmness_g, belief.sd_g) == pytest.approx(UNSEEN)
    assert (belief.stimp_m, belief.noted) == (None, None)


def test_balls_of_that_day_and_green_give_what_learning_gives(learnt: FirmnessUpdate) -> None:
    """The prior is taken out of the evidence and put back once."""
    note = VenueNote(DAY, "4", saw=("released 5 paces", "ran out"))
    evidence = evidence_of(note, learnt)
    assert evidence is not None
    belief = belief_on(DAY, "4", [evidence], [note])
    assert (belief.firmness_g, belief.sd_g) == pytest.approx(learnt.after_g, rel=1e-9)
    assert belief.noted == DAY


def test_a_stated_firmness_with_balls_is_its_posterior(learnt: FirmnessUpdate) -> None:
    note = VenueNote(DAY, "4", 110.0, 10.0, saw=("ran out",))
    assert evidence_of(note, learnt) == Evidence(DAY, "4", *learnt.after_g)


def test_a_note_without_firmness_is_no_evidence() -> None:
    assert evidence_of(VenueNote(DAY, text="tucked"), None) is None
    stated = evidence_of(VenueNote(DAY, "", 110.0, 10.0), None)
    assert stated == Evidence(DAY, "", 110.0, 10.0)


def test_balls_that_say_nothing_are_no_evidence(learnt: FirmnessUpdate) -> None:
    blank = FirmnessUpdate(learnt.seen, learnt.grid_g, learnt.prior, learnt.prior, (0, 0, 0), ())
    wide = Evidence(DAY, "4", 95.0, 1e3)
    found = evidence_of(VenueNote(DAY, "4", saw=("x",)), blank)
    assert found is None or found.sd_g > wide.sd_g / 50.0


def test_precisions_add() -> None:
    """Two notes of the same day and green with 10 g each: closed form."""
    notes = [Evidence(DAY, "4", 110.0, 10.0), Evidence(DAY, "4", 120.0, 10.0)]
    belief = belief_on(DAY, "4", notes, ())
    precision = 20.0**-2 + 2 * 10.0**-2
    assert belief.sd_g == pytest.approx(precision**-0.5)
    assert belief.firmness_g == pytest.approx((95.0 / 400.0 + 230.0 / 100.0) / precision)


@pytest.mark.parametrize(
    ("days", "hole", "extra"),
    [(0, "4", 0.0), (1, "4", 16.0), (9, "4", 144.0), (0, "", 25.0), (0, "11", 64.0)],
)
def test_days_and_places_widen(days: int, hole: str, extra: float) -> None:
    note = Evidence(DAY - timedelta(days=days), hole, 115.0, 6.0)
    belief = belief_on(DAY, "4", [note], ())
    weight, before = 1.0 / (36.0 + extra), 1.0 / 400.0
    assert belief.firmness_g == pytest.approx((95.0 * before + 115.0 * weight) / (before + weight))


def test_last_year_hardly_counts_and_tomorrow_not_at_all() -> None:
    old = Evidence(DAY - timedelta(days=365), "", 140.0, 5.0)
    assert belief_on(DAY, "4", [old], ()).firmness_g == pytest.approx(95.0, abs=3.0)
    later = Evidence(DAY + timedelta(days=1), "4", 140.0, 5.0)
    assert belief_on(DAY, "4", [later], ()) == belief_on(DAY, "4", (), ())


@given(st.lists(st.tuples(st.floats(50, 150), st.floats(2, 30)), min_size=1, max_size=6))
def test_more_notes_never_make_it_less_sure(said: list[tuple[float, float]]) -> None:
    notes = [Evidence(DAY, "4", g, sd) for g, sd in said]
    beliefs = [belief_on(DAY, "4", notes[:k], ()) for k in range(len(notes) + 1)]
    sds = [belief.sd_g for belief in beliefs]
    assert sds == sorted(sds, reverse=True)
    low, high = min([95.0, *(g for g, _ in said)]), max([95.0, *(g for g, _ in said)])
    assert low - 1e-9 <= beliefs[-1].firmness_g <= high + 1e-9
    assert sds[-1] >= 3.0


def test_the_newest_green_speed_and_the_greens_own_before_the_course() -> None:
    notes = [
        VenueNote(DAY - timedelta(days=2), "4", stimp_m=12.0 * FOOT),
        VenueNote(DAY, "", stimp_m=10.0 * FOOT),
        VenueNote(DAY, "11", stimp_m=9.0 * FOOT),
        VenueNote(DAY + timedelta(days=1), "", stimp_m=11.0 * FOOT),
    ]
    speeds = {ref: belief_on(DAY, ref, (), notes).stimp_m for ref in ("", "4", "11", "16")}
    assert speeds == {"": 10 * FOOT, "4": 10 * FOOT, "11": 9 * FOOT, "16": 10 * FOOT}
    only = [VenueNote(DAY, "11", stimp_m=9.0 * FOOT)]
    assert belief_on(DAY, "", (), only).stimp_m == 9.0 * FOOT
    assert belief_on(DAY - timedelta(days=1), "", (), only).stimp_m is None
