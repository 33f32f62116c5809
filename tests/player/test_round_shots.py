"""A recorded shot: what must be there, what cannot be together, what follows from it."""

from dataclasses import replace

import pytest

from carrybook.base.constants import YARD
from carrybook.base.errors import BadInputError, OutOfRangeError
from carrybook.player.round_shots import Facts, Rest, RoundShot
from carrybook.world.lie import Lie

SHOT = RoundShot(
    hole=4,
    known=Facts(number_m=80.0, lie=Lie.FAIRWAY),
    shot="54",
    finish=Rest.GREEN,
    finish_m=4.0,
    putts=2,
)


def test_strokes_count_everything_until_it_is_holed() -> None:
    assert SHOT.strokes == 3
    assert replace(SHOT, others=1, penalties=1).strokes == 5
    assert replace(SHOT, finish=Rest.HOLED, finish_m=0.0, putts=0).strokes == 1


def test_nothing_is_filled_in() -> None:
    assert SHOT.landing_m is None
    assert SHOT.missed_m is None
    assert SHOT.known.wind_mps is None
    assert SHOT.true == Facts()


def test_where_it_missed_is_the_finish_or_else_the_landing() -> None:
    landed = replace(SHOT, landing_past_m=-5.0, landing_right_m=2.0)
    assert landed.missed_m == (-5.0, 2.0)
    assert replace(landed, finish_past_m=1.0, finish_right_m=3.0).missed_m == (1.0, 3.0)
    assert replace(SHOT, finish=Rest.HOLED, finish_m=0.0, putts=0).missed_m == (0.0, 0.0)


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"hole": 19}, "hole = 19 is outside 1 to 18"),
        ({"putts": 13}, "putts = 13 is outside 0 to 12"),
        ({"putts": 0}, "the ball was not holed, so putts, or strokes after it, are missing"),
        ({"finish": Rest.HOLED}, "holed has no putts and no distance left"),
        ({"shot": " "}, "hole 4: which shot was played is missing"),
        ({"known": Facts(lie=Lie.FAIRWAY)}, "needs its number and its lie"),
        ({"landing_past_m": 300.0}, "landing = 328.084 yd is outside -150 to 150 yd"),
        ({"intended_m": 1.0}, "intended carry = 1.09361 yd is outside 3 to 330 yd"),
    ],
)
def test_what_cannot_be_is_named(change: dict[str, object], message: str) -> None:
    with pytest.raises(BadInputError, match=message):
        replace(SHOT, **change)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("fact", "message"),
    [
        ({"number_m": 300.0 * YARD}, "number = 300 yd is outside 5 to 250 yd"),
        ({"wind_mps": -1.0}, "wind speed = "),
        ({"wind_from_rad": 7.0}, "wind direction = "),
        ({"firmness_g": 20.0}, "firmness = 20 g is outside 40 to 160 g"),
    ],
)
def test_facts_outside_their_range_are_named(fact: dict[str, float], message: str) -> None:
    with pytest.raises(OutOfRangeError, match=message):
        Facts(**fact)  # type: ignore[arg-type]


def test_what_a_shot_met_is_what_was_learnt_else_what_was_believed() -> None:
    known = Facts(number_m=80.0, wind_mps=4.0, wind_from_rad=0.5, lie=Lie.FAIRWAY, firmness_g=90.0)
    shot = replace(SHOT, known=known)
    assert shot.met == known
    stronger = replace(shot, true=Facts(wind_mps=7.0)).met
    assert (stronger.wind_mps, stronger.wind_from_rad) == (7.0, 0.5)
    assert replace(shot, true=Facts(number_m=85.0, lie=Lie.SAND)).met.number_m == 85.0
