"""What moved the carries: two parts that sum, each from its own cause."""

from math import radians

import pytest

from carrybook.base.constants import YARD
from carrybook.base.errors import BadInputError
from carrybook.player.bag import Club, Flight, Shape, Shot
from carrybook.player.moved import moved_today
from carrybook.player.numbers import numbers_today
from carrybook.player.summary import summarise
from carrybook.world.air import REFERENCE_DAY, Air
from carrybook.world.lie import Lie, Moisture

SHOTS = [
    Shot(Club(str(loft), radians(loft)), Flight.STOCK, Shape.STRAIGHT, carry, 0.6 * carry, carry)
    for loft, carry in ((58, 78 * YARD), (48, 118 * YARD))
]
SUMMARIES = summarise(SHOTS, [])
COLD = Air(278.15, 101_325.0, 0.5)


def test_parts_sum_to_what_moved() -> None:
    moves = moved_today(SUMMARIES, COLD, lie=Lie.LIGHT_ROUGH, moisture=Moisture.WET)
    numbers = numbers_today(SUMMARIES, COLD, lie=Lie.LIGHT_ROUGH, moisture=Moisture.WET)
    assert tuple(m.number for m in moves) == numbers
    for m in moves:
        assert m.air_m + m.lie_m == pytest.approx(m.number.today_m - m.number.reference_m)
        assert m.air_m < 0.0 < abs(m.lie_m)


def test_a_clean_dry_lie_adds_nothing_and_the_reference_day_neither() -> None:
    for m in moved_today(SUMMARIES, COLD):
        assert m.lie_m == 0.0
    for m in moved_today(SUMMARIES, REFERENCE_DAY, lie=Lie.DEEP_ROUGH):
        assert m.air_m == pytest.approx(0.0, abs=2e-3)
        assert m.lie_m != 0.0


def test_sand_is_refused() -> None:
    with pytest.raises(BadInputError, match="sand"):
        moved_today(SUMMARIES, COLD, lie=Lie.SAND)
