"""Patterns: what is there is found, what is luck is left alone, however often one looks."""

from collections.abc import Callable
from itertools import pairwise

import numpy as np
import pytest
from benchmarks.invented_seasons import Habits

from carrybook.decision.review.features import (
    BANDS,
    Feature,
    _asked,
    band_of,
    features_of,
)
from carrybook.decision.review.patterns import ALL_SHOTS, Measure, _look, find_patterns
from carrybook.decision.review.review import Review
from carrybook.decision.review.season import columns_of
from carrybook.decision.review.split import Causes
from carrybook.player.round_shots import Facts, PlayedRound, RoundShot
from carrybook.player.summary import ShotSummary
from carrybook.world.lie import Moisture

MakeRounds = Callable[..., tuple[PlayedRound, ...]]
MakeShot = Callable[..., RoundShot]
Bag = tuple[ShotSummary, ...]


def test_a_carry_lost_into_the_wind_is_named(told: Callable[..., Review]) -> None:
    found = told(Habits(short_into_wind=0.08)).patterns
    first = found.looks[0]
    assert (first.where, first.measure) == ("into the wind", Measure.DEPTH)
    assert first.stands
    assert first.low < first.difference < first.high < 0.0
    assert first.raw < first.difference  # shrunk toward nothing


def test_an_aim_at_the_short_side_is_named(told: Callable[..., Review]) -> None:
    standing = told(Habits(short_side_m=4.0)).patterns.standing
    named = {(p.where, p.measure) for p in standing}
    assert ("holes cut left", Measure.CHOICE) in named
    assert ("holes cut right", Measure.CHOICE) in named
    assert all(p.difference < 0.0 for p in standing if "holes cut" in p.where)


def test_luck_is_left_alone(told: Callable[..., Review]) -> None:
    """A few seasons of it; benchmarks/review_study.py plays hundreds."""
    named = [len(told(None, seed).patterns.standing) for seed in (1, 2, 3)]
    assert sum(count > 0 for count in named) <= 1


def test_noise_is_named_in_a_twentieth_of_seasons_at_most(told: Callable[..., Review]) -> None:
    """The same season with whole rounds of the same size of noise in place of its values."""
    season, found = told().season, told().split
    rng, named = np.random.default_rng(5), 0
    tries = 40
    for _ in range(tries):
        noise = rng.standard_t(4.0, found.parts.shape) * 0.3
        noise += rng.normal(0.0, 0.1, (len(season.rounds), 1))[season.round_of]  # a day's form
        off = rng.standard_t(4.0, found.off_m.shape) * found.scatter[:, :2]
        made = Causes(
            noise, found.baseline, found.strokes, found.best, found.chosen, off, found.scatter,
            found.instead, found.knowing,
        )  # fmt: skip
        named += bool(find_patterns(season, made).standing)
    assert named <= 6  # of 40: more would be refused at the 1 % level, were it 5 %


def test_few_rounds_tell_nothing(told: Callable[..., Review]) -> None:
    found = told(Habits(short_side_m=4.0), 1, 5).patterns
    assert not found.told
    assert found.looks == found.standing == ()


def test_the_same_seed_gives_the_same_patterns(told: Callable[..., Review]) -> None:
    season, found = told().season, told().split
    assert find_patterns(season, found) == find_patterns(season, found)
    chances = [p.chance for p in find_patterns(season, found).looks]
    assert chances == sorted(chances)
    assert all(0.0 < c <= 1.0 for c in chances)


def test_an_estimate_is_the_difference_of_means() -> None:
    rng = np.random.default_rng(1)
    holds, values = rng.random(60) < 0.4, rng.normal(size=60)
    rounds, known = np.repeat(np.arange(6), 10), np.ones(60, dtype=np.bool_)
    (look,) = _look(Feature("x", holds), Measure.STRIKE, values, known, rounds)
    assert look.estimate == pytest.approx(values[holds].mean() - values[~holds].mean())
    assert (look.shots, look.rounds) == (int(holds.sum()), 6)
    (mean,) = _look(
        Feature(ALL_SHOTS, np.ones(60, dtype=np.bool_)), Measure.DEPTH, values, known, rounds,
        against_none=True,
    )  # fmt: skip
    assert mean.estimate == pytest.approx(values.mean())


def test_nothing_to_see_is_no_look() -> None:
    same, known = np.ones(20), np.ones(20, dtype=np.bool_)
    rounds = np.repeat(np.arange(4), 5)
    assert not list(_look(Feature("x", known), Measure.STRIKE, same, known, rounds))


def test_bands_hold_every_number() -> None:
    yard = 0.9144
    assert [band_of(y * yard) for y in (12, 49.9, 50, 89, 95, 129, 200)] == [0, 0, 1, 2, 3, 4, 5]
    assert all(one[1] == other[0] for one, other in pairwise(BANDS))


def test_questions_say_what_they_ask(bag: Bag, one_round: MakeRounds, shot: MakeShot) -> None:
    shots = (
        shot(hole=12, wind_mps=5.0, wind_from_rad=0.2, hole_location="back left"),
        shot(hole=3, true=Facts(wind_mps=5.0, wind_from_rad=3.1), moisture=Moisture.DEW),
        shot(temperature_k=280.0, hole_location="front right", firmness_g=120.0),
    )
    season = columns_of(one_round(*shots, setting="competition"), bag)
    asked = {f.name: f.holds.tolist() for f in _asked(season)}
    assert asked["into the wind"] == [True, False, False]
    assert asked["with the wind helping"] == [False, True, False]
    assert asked["last nine"] == [True, False, False]
    assert asked["back holes"] == asked["holes cut left"] == [True, False, False]
    assert asked["wet lies"] == [False, True, False]
    assert asked["cold mornings"] == asked["firm greens"] == [False, False, True]
    assert asked["competition"] == [True, True, True]
    assert features_of(season) == ()  # far too few to ask
