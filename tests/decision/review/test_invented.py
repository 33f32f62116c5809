"""Invented seasons are what they say: fair without habits, and off by them where there are some."""

from collections.abc import Callable

import numpy as np
import pytest
from benchmarks.invented_seasons import Habits

from carrybook.decision.review.review import Review
from carrybook.player.round_shots import PlayedRound
from carrybook.player.summary import ShotSummary

MakeRounds = Callable[..., tuple[PlayedRound, ...]]
Bag = tuple[ShotSummary, ...]


def test_the_same_seed_plays_the_same_season(bag: Bag, played: MakeRounds) -> None:
    from benchmarks.invented_seasons import invented_rounds

    again = invented_rounds(bag, np.random.default_rng(1), rounds=12)
    assert again == played(None, 1, 12)
    assert played(None, 2, 12) != again


def test_rounds_are_whole(played: MakeRounds) -> None:
    rounds = played(None, 1, 12)
    assert len(rounds) == 12
    for each in rounds:
        holes = [s.hole for s in each.shots]
        assert holes == sorted(set(holes))
        assert all(s.intended_m and s.landing_m and s.hole_location for s in each.shots)
    assert {r.round.setting for r in played(None, 1, 30)} == {"competition", "course"}


def test_without_habits_luck_comes_to_nothing(told: Callable[..., Review]) -> None:
    found = [told(None, seed).split for seed in (1, 2, 3)]
    for names in (("distance", "side"), ("bounce",), ("after",)):
        values = np.concatenate([s.total(*names) for s in found])
        assert abs(values.mean()) < 3.0 * values.std() / np.sqrt(len(values)) + 0.01


@pytest.mark.parametrize(
    ("habits", "part"),
    [
        (Habits(short_into_wind=0.08), "distance"),
        (Habits(long_m=6.0), "choice"),
        (Habits(short_side_m=4.0), "choice"),
        (Habits(reads_wind=0.5), "wind"),
    ],
)
def test_a_habit_costs_where_it_belongs(
    told: Callable[..., Review], habits: Habits, part: str
) -> None:
    """What is really lost, by the same luck with and without, is found where it belongs."""
    bad, good = told(habits).split, told().split
    found = (np.nansum(good.part(part)) - np.nansum(bad.part(part))) / 30.0
    lost = ((bad.strokes - bad.baseline).sum() - (good.strokes - good.baseline).sum()) / 30.0
    assert found > 0.15
    if part != "wind":  # a stronger wind than believed also makes the shot dearer for everybody
        assert found == pytest.approx(lost, abs=0.6)
