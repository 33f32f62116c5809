"""A first bag: what was said stays as said, the rest is a marked guess."""

from math import radians

import pytest

from carrybook.base.constants import YARD
from carrybook.base.errors import BadInputError
from carrybook.player.bag import Club, Source
from carrybook.player.prior_bag import prior_bag

SAID = [(Club("54", radians(54.0)), 82 * YARD), (Club("60", radians(60.0)), 70 * YARD)]


def test_what_was_said_stays_and_what_was_not_is_marked() -> None:
    shots = prior_bag(SAID, [Club("50", radians(50.0))])
    assert [shot.label for shot in shots] == ["50", "54", "60"]
    assert [shot.stock_carry_m / YARD for shot in shots] == pytest.approx([90.0, 82.0, 70.0])
    assert [shot.carry_source for shot in shots] == [Source.PRIOR, Source.SAID, Source.SAID]
    assert {shot.partials_source for shot in shots} == {Source.PRIOR}
    assert [shot.trusted for shot in shots] == [False, True, True]


def test_low_shots_are_guesses_and_shorter() -> None:
    shots = {shot.label: shot for shot in prior_bag(SAID, low=True)}
    assert list(shots) == ["54", "54 low", "60", "60 low"]
    low = shots["54 low"]
    assert low.stock_carry_m < shots["54"].stock_carry_m
    assert (low.carry_source, low.trusted) == (Source.PRIOR, False)


def test_a_guess_stays_within_what_a_shot_can_be() -> None:
    steep = [(Club("54", radians(54.0)), 82 * YARD), (Club("58", radians(58.0)), 20 * YARD)]
    assert prior_bag(steep, [Club("64", radians(64.0))])[-1].stock_carry_m == 10.0 * YARD


@pytest.mark.parametrize(
    ("said", "others", "message"),
    [
        (SAID[:1], [], "two wedges with their lofts and full carries are needed"),
        ([SAID[0], SAID[0]], [], "at least 2 deg apart"),
        ([(SAID[0][0], 60.0), (SAID[1][0], 70.0)], [], "carry grows with loft in what you said"),
        (SAID, [Club("54", radians(50.0))], "two wedges have one name"),
    ],
)
def test_what_makes_no_bag_is_refused(said: list, others: list, message: str) -> None:  # type: ignore[type-arg]
    with pytest.raises(BadInputError, match=message):
        prior_bag(said, others)
