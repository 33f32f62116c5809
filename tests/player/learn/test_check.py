"""Coverage of the balls by what was learnt, and the learning curve."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.stats import t as student

from carrybook.player.bag import Shot
from carrybook.player.balls import Ball
from carrybook.player.learn.check import check_coverage, learning_curve, places_of
from carrybook.player.learn.problem import Answer, Group, Problem, columns


def test_places_are_those_of_students_t() -> None:
    values = 0.1 * student.ppf([0.1, 0.5, 0.9], 4.0)
    first, one = np.zeros(3, dtype=np.int64), np.ones(3)
    line, groups = columns(3, [(Group("centre", 1, 1.0), first, one)])
    scale, scale_groups = columns(3, [(Group("scatter", 1, 1.0), first, one)])
    problem = Problem(values, line, groups, scale, scale_groups, np.full(3, 0.5), np.zeros(3))
    answer = Answer(
        {"centre": np.zeros((2, 1))},
        {"scatter": np.full((2, 1), np.log(0.1))},
        {},
        np.zeros((2, 1)),
    )
    assert places_of(problem, answer) == pytest.approx([0.1, 0.5, 0.9])


def test_balls_fall_where_they_should(shots: tuple[Shot, ...], balls: tuple[Ball, ...]) -> None:
    rows = {r.what: r for r in check_coverage(shots, balls, np.random.default_rng(1))}
    assert {"carry", "side", *(s.label for s in shots)} < rows.keys()
    for what in ("carry", "side"):
        half, eight, nine = rows[what].inside
        assert 0.42 < half < 0.58
        assert 0.74 < eight < 0.87
        assert 0.86 < nine < 0.96
    assert rows["carry"].balls == len(balls)
    assert rows["newest day, foretold from the days before"].balls < len(balls)


def test_one_day_alone_cannot_be_foretold(shots: tuple[Shot, ...], balls: tuple[Ball, ...]) -> None:
    one_day = tuple(replace(b, at=balls[0].at, side_m=None) for b in balls[:30])
    rows = check_coverage(shots, one_day, np.random.default_rng(1))
    assert not any("newest" in r.what or r.what == "side" for r in rows)


def test_the_curve_falls(shots: tuple[Shot, ...], balls: tuple[Ball, ...]) -> None:
    told: list[float] = []
    points = learning_curve(
        shots, balls[:60], np.random.default_rng(1), lambda words, share: told.append(share)
    )
    assert [p.balls for p in points[:: len(shots)]] == [0, 5, 10, 20, 40, 60]
    widths = np.array([p.width_m for p in points]).reshape(6, len(shots)).mean(axis=1)
    assert widths[0] > widths[3] > widths[5] > 0.0
    assert sum(p.of_shot for p in points if p.balls == 60) == 60
    assert told == sorted(told)
