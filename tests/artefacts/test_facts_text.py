"""Facts that would change a choice, said as a caddie would."""

from dataclasses import replace
from math import radians

import pytest

from carrybook.artefacts import words as w
from carrybook.artefacts.facts_text import find_out_lines, flip_lines
from carrybook.decision.advice import Advice, Fact, Flip, Worth


@pytest.mark.parametrize(
    ("flip", "said"),
    [
        (Flip(Fact.FIRMNESS, -1.0, 72.0, "52"), "if the green is softer than 72 g (soft): the 52"),
        (Flip(Fact.FIRMNESS, 1.0, 108.0, "52"), "if the green is firmer than 108 g (firm): the 52"),
        (Flip(Fact.WIND, 2.0, 4.4704, "52"), "if the wind is over 10 mph: the 52"),
        (
            Flip(Fact.DIRECTION, -2.0, radians(-10.0), "52"),
            "from 350 degrees, or further the other",
        ),
        (
            Flip(Fact.DIRECTION, 2.0, radians(67.0), "52"),
            "from 70 degrees, or further clockwise: the 52",
        ),
        (Flip(Fact.DIRECTION, 1.0, radians(356.0), "52"), "from 0 degrees, or further clockwise"),
        (Flip(Fact.GREEN_SPEED, -2.0, 2.7432, "52"), "if the green runs under 9.0 ft: the 52"),
        (Flip(Fact.LIE, -1.5, 0.42, "52"), "with less than 42 % of its dry spin: the 52"),
    ],
)
def test_a_flip_names_its_fact_and_value(advice: Advice, flip: Flip, said: str) -> None:
    (line,) = flip_lines(replace(advice, flips=(flip,)), w.units_named("yards"))
    assert said in line
    assert line.endswith(": the 52 instead")


def test_only_what_is_worth_a_look_is_told_with_its_error(advice: Advice) -> None:
    worths = (
        Worth(Fact.FIRMNESS, 0.031, 0.004),
        Worth(Fact.WIND, 0.031, 0.02),  # not told from nothing
        Worth(Fact.GREEN_SPEED, 0.004, 0.0001),  # too little
    )
    (line,) = find_out_lines(replace(advice, worths=worths))
    assert line.startswith("how firm the green is")
    assert "(worth 0.03 +- under 0.01 strokes)" in line
    (chance,) = find_out_lines(replace(advice, worths=worths, at_most=3))
    assert chance.endswith("of the chance)")
