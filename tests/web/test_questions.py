"""What was typed, with its unit, and what is wrong beside which question."""

import pytest

from carrybook.app.forms.weather import AirForm
from carrybook.app.web.questions import (
    Question,
    RefusedError,
    beside,
    checked,
    fields,
    typed_in,
)
from carrybook.app.web.rooms.common import AIR, SHOT
from carrybook.app.web.rooms.situation import QUESTIONS
from carrybook.base.errors import BadInputError

NUMBER = Question("number", "Number", ("yd", "m"), "88", about=("number to hole",))


@pytest.mark.parametrize(
    ("typed", "units", "answer"),
    [
        ("88", "yards", "88yd"),
        (" 88,5 ", "metres", "88,5m"),
        ("70m", "yards", "70m"),
        ("-3", "yards", "-3yd"),
        ("about 80", "yards", "about 80"),
    ],
)
def test_a_bare_number_takes_the_unit_beside_it(typed: str, units: str, answer: str) -> None:
    assert typed_in([NUMBER], {"number": typed, "other": "x"}, units) == {"number": answer}


def test_an_answer_is_told_where_it_is_not_what_stands_first() -> None:
    lie = Question("lie", "Lie", choices=("fairway", "sand"), value="fairway")
    cases = (({}, False), ({"lie": "fairway"}, False), ({"lie": "sand"}, True))
    for typed, told in cases:
        assert fields([lie], typed, "yards")["lie"].told is told
    assert fields([NUMBER], {"number": "88yd"}, "yards")["number"].told
    assert not fields([NUMBER], {"number": ""}, "yards")["number"].told


def test_an_empty_answer_is_none() -> None:
    assert typed_in([NUMBER], {"number": "  "}, "yards") == {}


def test_what_is_wrong_stands_beside_its_question_in_the_words_of_the_command_line() -> None:
    with pytest.raises(RefusedError, match="air temperature") as caught:
        checked(AirForm, {"temp": "hot"}, AIR)
    assert caught.value.field == "temp"
    with pytest.raises(BadInputError) as same:
        AirForm.of(temp="hot")
    assert str(same.value) == str(caught.value)


def test_what_is_missing_is_named_with_an_example() -> None:
    from carrybook.app.forms.shots import ShotForm

    with pytest.raises(RefusedError, match="loft is missing; write it like 54") as caught:
        checked(ShotForm, {"club": "54"}, SHOT)
    assert caught.value.field == "loft"


def test_a_message_of_a_service_finds_its_question() -> None:
    error = BadInputError("number to hole 4 = 9 yd is outside 15 to 200 yd")
    assert beside(error, [NUMBER]).field == "number"
    assert beside(BadInputError("something else"), [NUMBER]).field == ""
    refused = RefusedError("number", "other")
    assert beside(refused, [NUMBER]) is refused


@pytest.mark.parametrize(
    ("typed", "units", "shown"),
    [("88yd", "yards", "88"), ("88yd", "metres", "88yd"), ("about 8yd", "yards", "about 8yd")],
)
def test_the_unit_beside_the_field_does_not_stand_in_it(typed: str, units: str, shown: str) -> None:
    assert fields([NUMBER], {"number": typed}, units)["number"].value == shown


def test_the_question_that_says_most_of_the_message_gets_it() -> None:
    error = BadInputError("hole location = '99 on' is off the green")
    assert beside(error, QUESTIONS).field == "hole_location"


def test_a_field_shows_what_was_typed_and_its_problem() -> None:
    field = fields([NUMBER], {"number": "9yd"}, "metres", RefusedError("too short", "number"))
    assert (field["number"].value, field["number"].unit_shown) == ("9yd", "m")
    assert field["number"].problem == "too short"
