"""Firmness in words and as a reading."""

import pytest

from carrybook.base.errors import BadInputError, OutOfRangeError
from carrybook.world.firmness import (
    DAMPNESS,
    FIRMNESS,
    dampened,
    firmness_named,
    water_change_named,
)


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


@pytest.mark.parametrize("words", ["108g+-6g", "108 g +- 6 g", "108g±6g", " 108g +/- 6g"])
def test_a_reading_may_say_how_unsure_it_is(words: str) -> None:
    assert firmness_named(words) == (108.0, 6.0)


def test_a_word_may_too() -> None:
    assert firmness_named("firm +- 15g") == (110.0, 15.0)


@pytest.mark.parametrize(
    ("words", "message"),
    [
        ("108g+-6", r"uncertainty of the firmness = 6 has no unit; write it like 6g"),
        ("108g+-90g", r"uncertainty of the firmness = 90 g is outside 1 to 40 g"),
        ("rock+-6g", r"firmness = 'rock' is not one of"),
        ("108g+-", r"uncertainty of the firmness = '' is not a number"),
    ],
)
def test_says_what_is_wrong_with_how_unsure_it_is(words: str, message: str) -> None:
    with pytest.raises(BadInputError, match=message):
        firmness_named(words)


def test_water_softens_as_one_site_showed_and_makes_it_less_sure() -> None:
    # 98 g at 23 % water, 70 g at 41 %: -1.6 g a per cent (reports of one site, turf-classes).
    softer, sd = dampened(98.0, 5.0, 0.18)
    assert softer == pytest.approx(70.0, abs=1.0)
    assert sd == pytest.approx(15.2, abs=0.1)
    assert dampened(90.0, 10.0, 0.0) == (90.0, 10.0)
    assert dampened(150.0, 10.0, -0.25)[0] == 160.0  # no green is harder than we know of


def test_words_for_water_go_from_dry_to_soaked() -> None:
    changes = [water_change_named(word) for word in DAMPNESS]
    assert changes == sorted(changes)
    assert water_change_named("As-Judged".replace("-", " ")) == 0.0
    assert water_change_named("+6%") == pytest.approx(0.06)
    assert water_change_named("-4 %") == pytest.approx(-0.04)


def test_water_of_no_turf_is_refused() -> None:
    with pytest.raises(BadInputError, match=r"moisture = 'moist' is not one of: dried out, drier"):
        water_change_named("moist")
    with pytest.raises(OutOfRangeError, match="moisture"):
        water_change_named("60%")
    with pytest.raises(OutOfRangeError, match="moisture = 50 % is outside -30 to 30 %"):
        dampened(90.0, 10.0, 0.5)
