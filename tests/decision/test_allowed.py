"""What may be played from a lie, in every question alike."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from carrybook.decision.advice import Situation
from carrybook.decision.allowed import allowed_from
from carrybook.decision.look import Pains, look, shared_draws
from carrybook.player.bag import Flight
from carrybook.player.summary import ShotSummary
from carrybook.world.lie import Lie

MakeSituation = Callable[..., Situation]
Bag = tuple[ShotSummary, ...]


@pytest.mark.parametrize("lie", [Lie.FAIRWAY, Lie.LIGHT_ROUGH])
def test_a_lie_that_lets_all_be_played_leaves_nothing_out(
    situation: MakeSituation, bag: Bag, lie: Lie
) -> None:
    assert allowed_from(bag, situation(lie=lie)) == (list(bag), [])


def test_deep_rough_leaves_low_flights_and_strong_lofts_out(
    situation: MakeSituation, bag: Bag
) -> None:
    strong = replace(
        bag[3], shot=replace(bag[3].shot, club=replace(bag[3].shot.club, loft_rad=0.7))
    )
    allowed, left_out = allowed_from((*bag[:3], strong), situation(lie=Lie.DEEP_ROUGH))
    assert allowed == [bag[0], bag[1]]
    assert left_out == [
        "54 low: a low flight does not get out of deep rough",
        "48: deep rough takes more loft than it has",
    ]


def test_what_is_not_trusted_is_left_out_first(situation: MakeSituation, bag: Bag) -> None:
    timid = replace(bag[2], shot=replace(bag[2].shot, trusted=False))
    _, left_out = allowed_from([timid], situation(lie=Lie.DEEP_ROUGH))
    assert left_out == ["54 low: you do not trust it in competition"]


def test_a_quick_look_keeps_to_it_too(situation: MakeSituation, bag: Bag) -> None:
    pains = Pains(first=16, finer=32, final=64)
    looked = look(situation(75.0, lie=Lie.DEEP_ROUGH), bag, shared_draws(1, pains), pains=pains)
    assert looked is not None
    assert all(c.summary.shot.flight is not Flight.LOW for c in looked.best)
