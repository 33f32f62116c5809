"""Firmness in words and as a reading."""

import pytest

from carrybook.base.errors import BadInputError, OutOfRangeError
from carrybook.world.firmness import FIRMNESS, firmness_named


def test_words_are_the_middles_of_our_classes() -> None:
    assert firmness_named("firm") == (110.0, 10.0)
    assert firmness_named(" Very-Firm ") == (130.0, 10.0)


def test_a_reading_is_surer_than_a_word() -> None:
    assert firmness_named("105g") == (105.0, 5.0)
    assert firmness_named("95.5 g") == (95.5, 5.0)


def test_words_go_from_soft_to_firm() -> None:
    assert list(FIRMNESS.values()) == sorted(FIRMNESS.values())


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (
            "rock",
            r"firmness = 'rock' is not one of: soft, medium, firm, very firm; nor .* like 95g",
        ),
        ("", r"firmness = '' is not one of"),
        ("nan", r"firmness = 'nan' is not one of"),
        ("105", r"firmness = 105 has no unit; write it like 95g"),
        ("105yd", r"'yd' is not a unit of firmness"),
    ],
)
def test_says_what_is_wrong(words: str, message: str) -> None:
    with pytest.raises(BadInputError, match=message):
        firmness_named(words)


def test_refuses_what_no_green_is() -> None:
    with pytest.raises(OutOfRangeError, match=r"firmness = 400 g is outside 40 to 160 g"):
        firmness_named("400g")
