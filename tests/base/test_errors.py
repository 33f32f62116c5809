"""Errors name what, value, range, unit, and how many."""

import numpy as np
import pytest

from carrybook.base.errors import BadInputError, OutOfRangeError, require_range
from carrybook.base.words import named
from carrybook.world.lie import Lie


def test_inside_is_quiet() -> None:
    require_range("carry", [1.0, 2.0, 3.0], 1.0, 3.0, "m")


@pytest.mark.parametrize("value", [0.5, 3.5, float("nan"), float("inf"), -float("inf")])
def test_outside_names_everything(value: float) -> None:
    with pytest.raises(OutOfRangeError, match=rf"carry = {value:.6g} m is outside 1 to 3 m$"):
        require_range("carry", value, 1.0, 3.0, "m")


def test_many_say_how_many() -> None:
    with pytest.raises(OutOfRangeError, match=r"carry = 9 m is outside 1 to 3 m \(2 of 4 values\)"):
        require_range("carry", np.array([1.0, 9.0, 2.0, -1.0]), 1.0, 3.0, "m")


def test_range_errors_are_bad_input_and_value_errors() -> None:
    assert issubclass(OutOfRangeError, BadInputError)
    assert issubclass(BadInputError, ValueError)


@pytest.mark.parametrize("words", ["light rough", "Light-Rough", " LIGHT_ROUGH ", "light  rough"])
def test_words_are_read_however_they_are_written(words: str) -> None:
    assert named(Lie, words, "lie") is Lie.LIGHT_ROUGH


def test_words_not_known_list_those_that_are() -> None:
    with pytest.raises(
        BadInputError, match=r"lie = 'swamp' is not one of: tee, fairway, light rough"
    ):
        named(Lie, "swamp", "lie")


def test_yards_are_told_in_metres_too() -> None:
    told = r"carry = 300 yd is outside 3 to 275 yd \(274\.3 m; 2\.74 to 251 m\)$"
    with pytest.raises(OutOfRangeError, match=told):
        require_range("carry", 300.0, 3.0, 275.0, "yd")
    with pytest.raises(OutOfRangeError, match=r"to 60 deg$"):
        require_range("angle", 90.0, 0.0, 60.0, "deg")
