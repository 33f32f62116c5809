"""The review in words and as a picture: what is drawn is what was found."""

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from benchmarks.invented_seasons import Habits, invented_bag, invented_rounds

from carrybook.artefacts.review import review_figure
from carrybook.artefacts.review_text import (
    PART_HINTS,
    PART_WORDS,
    against_words,
    cost_words,
    interval_words,
    pattern_words,
    practice_command,
)
from carrybook.artefacts.words import METRES, YARDS
from carrybook.decision.review.patterns import ALL_SHOTS, Measure, Pattern
from carrybook.decision.review.review import Cost, PartSum, Review, review
from carrybook.decision.review.split import PARTS


@cache
def found() -> Review:
    bag = invented_bag()
    habits = Habits(reads_wind=0.5)
    return review(invented_rounds(bag, np.random.default_rng(1), rounds=8, habits=habits), bag)


LOOK = Pattern(
    "into the wind", Measure.DEPTH, 80, 24, -3.0, -4.5, -1.5, -3.6, 0.001, stands=True
)  # fmt: skip


def test_every_part_has_words() -> None:
    assert {*PARTS, "gained"} == PART_WORDS.keys()


def test_every_part_is_explained_in_a_short_line_of_its_own() -> None:
    assert PART_HINTS.keys() == PART_WORDS.keys()
    assert len({*PART_HINTS.values()}) == len(PART_HINTS)
    assert all(0 < len(hint) <= 64 for hint in PART_HINTS.values())


def test_a_bar_for_each_part_with_its_interval() -> None:
    told = found()
    (axes,) = review_figure(told).axes
    shown = [told.gained, *(p for p in told.parts if p.shots)]
    bars = [bar.get_width() for bar in axes.patches]
    assert bars == pytest.approx([p.per_round for p in shown])
    lines = [line for line in axes.lines if line.get_gid() == "interval"]
    assert [tuple(line.get_xdata()) for line in lines] == [(p.low, p.high) for p in shown]
    assert [t.get_text() for t in axes.get_yticklabels()] == [PART_WORDS[p.name] for p in shown]
    assert axes.yaxis_inverted()


def test_the_title_says_whose_strokes() -> None:
    figure = review_figure(found())
    words = [text.get_text() for text in figure.texts]
    assert words[0] == "strokes gained a round, 8 rounds"
    assert words[1].endswith("against a tour player's average")
    assert figure.get_size_inches()[0] == 4.5


def test_without_intervals_none_are_drawn() -> None:
    told = found()
    bare = replace(
        told,
        gained=replace(told.gained, low=None, high=None),
        parts=tuple(replace(p, low=None, high=None) for p in told.parts),
    )
    (axes,) = review_figure(bare).axes
    assert [line for line in axes.lines if line.get_gid() == "interval"] == []


def test_against_whom() -> None:
    told = found()
    assert against_words(told) == "a tour player's average"
    assert against_words(replace(told, against="book")) == "your own book"
    assert against_words(replace(told, against="Sam\n")) == "Sam's average"


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (
            {},
            "into the wind: it lands 3.3 yd shorter than the others, against your book (1.6 to",
        ),
        (
            {"where": ALL_SHOTS},
            "all shots: it lands 3.3 yd shorter than your book says (1.6 to 4.9;",
        ),
        (
            {"measure": Measure.SIDE, "difference": 3.0, "low": 1.5, "high": 4.5},
            "into the wind: it lands 3.3 yd further right than the others",
        ),
        (
            {"measure": Measure.CHOICE, "difference": -0.1, "low": -0.15, "high": -0.05},
            "into the wind: you lose 0.10 strokes a shot in the choice against your other shots"
            " (0.05 to 0.15; 80 shots in 24 rounds)",
        ),
        (
            {"measure": Measure.SHORT_RIGHT, "difference": 0.1, "low": 0.05, "high": 0.15},
            "short right of where it should land: 10 in 100 more than your scatter explains (5 to",
        ),
    ],
)
def test_a_pattern_in_words(change: dict[str, object], words: str) -> None:
    assert pattern_words(replace(LOOK, **change), YARDS).startswith(words)  # type: ignore[arg-type]


def test_in_metres() -> None:
    assert "3.0 m shorter" in pattern_words(LOOK, METRES)


def test_a_cost_in_words_and_its_practice() -> None:
    cost = Cost("distance", 0.42, 0.1, 0.74, (70, 90), clear=True)
    assert cost_words(cost) == "distance: 0.4 strokes a round, 0.1 to 0.7; most from 70 to 90 yd"
    assert practice_command(cost) == "carrybook practise plan --focus 70-90yd"
    assert "; not told from luck;" in cost_words(replace(cost, low=-0.1, clear=False))
    alone = cost_words(replace(cost, low=None, high=None, clear=False))
    assert alone.startswith("distance: 0.4 strokes a round; not told from luck")


def test_an_interval_has_signs() -> None:
    assert interval_words(PartSum("side", 0.0, -0.5, 0.25, 9)) == "-0.50 to +0.25"
    assert interval_words(PartSum("side", 0.0, None, None, 9)) == ""
