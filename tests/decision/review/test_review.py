"""A review: sums by round, what cost most, what would have been worth knowing, what is assumed."""

from collections.abc import Callable

import numpy as np
import pytest
from benchmarks.invented_seasons import Habits

from carrybook.base.constants import YARD
from carrybook.base.errors import BadInputError, NoSolutionError
from carrybook.decision.review.review import Review, review
from carrybook.decision.review.split import PARTS
from carrybook.player.round_shots import Facts, PlayedRound, RoundShot
from carrybook.player.summary import ShotSummary
from carrybook.world.lie import Lie

MakeRounds = Callable[..., tuple[PlayedRound, ...]]
MakeShot = Callable[..., RoundShot]
Bag = tuple[ShotSummary, ...]


def test_parts_and_the_whole_add_up(told: Callable[..., Review]) -> None:
    found = told()
    rounds, split = len(found.season.rounds), found.split
    gained = float((split.baseline - split.strokes).sum()) / rounds
    assert found.gained.per_round == pytest.approx(gained, abs=1e-9)
    assert sum(p.per_round for p in found.parts) == pytest.approx(gained, abs=1e-9)
    assert [p.name for p in found.parts] == list(PARTS)


def test_intervals_are_students_over_rounds(told: Callable[..., Review]) -> None:
    from scipy import stats

    found = told()
    sums = np.bincount(found.season.round_of, found.split.part("side"))
    side = next(p for p in found.parts if p.name == "side")
    low, high = stats.t.interval(
        0.95, len(sums) - 1, sums.mean(), sums.std(ddof=1) / np.sqrt(len(sums))
    )
    assert (side.low, side.high) == pytest.approx((low, high), rel=1e-6)


def test_the_dearest_cause_comes_first_with_its_practice(told: Callable[..., Review]) -> None:
    found = told(Habits(long_m=6.0))
    first = found.costs[0]
    assert first.cause == "choice"
    assert first.clear
    assert first.low is not None
    assert 0.0 < first.low < first.strokes
    low, high = first.band_yd
    assert first.focus == f"{low}-{high}yd"
    assert len(found.costs) <= 3
    assert [c.strokes for c in found.costs] == sorted(
        (c.strokes for c in found.costs), reverse=True
    )


def test_a_wind_believed_too_small_was_worth_knowing(told: Callable[..., Review]) -> None:
    found = told(Habits(reads_wind=0.5))
    (wind,) = found.worth_knowing
    part = next(p for p in found.parts if p.name == "wind")
    assert wind.name == "wind"
    assert part.shots >= wind.shots > 20
    assert wind.low is not None
    assert wind.low > 0.0
    # Knowing it would have saved less than it cost: into a wind it is dearer for everybody.
    assert wind.per_round < -part.per_round
    assert not told().worth_knowing


def test_knowing_what_was_believed_saves_nothing(
    bag: Bag, one_round: MakeRounds, shot: MakeShot
) -> None:
    same = review(one_round(shot(true=Facts(number_m=88 * YARD))), bag)
    assert same.split.knowing[0, 0] == pytest.approx(0.0, abs=1e-9)
    off = review(one_round(shot(true=Facts(number_m=100 * YARD))), bag)
    assert off.split.knowing[0, 0] > 0.1


def test_few_rounds_have_no_interval(bag: Bag, one_round: MakeRounds, shot: MakeShot) -> None:
    found = review(one_round(shot(), shot()), bag)
    assert found.gained.low is None
    assert all(p.high is None for p in found.parts)
    assert not found.patterns.told
    assert not any(c.clear for c in found.costs)


def test_notes_say_what_was_not_said(bag: Bag, one_round: MakeRounds, shot: MakeShot) -> None:
    notes = "; ".join(
        review(one_round(shot(wind_mps=None), shot(lie=Lie.SAND, hole_location="")), bag).notes
    )
    assert "greens are taken as level and of medium size" in notes
    assert "the wind was not said of 1 of 2 shots" in notes
    assert "where the hole was cut was not said of 1 of 2" in notes
    assert "of 2 shots choice and strike cannot be told apart" in notes
    assert "from sand only the result counts" in notes
    assert "a level green is easier than theirs" in notes
    assert "easier than theirs" not in "".join(review(one_round(shot()), bag, None).notes)


def test_nothing_recorded_and_shots_of_somebody_else(
    bag: Bag, one_round: MakeRounds, shot: MakeShot
) -> None:
    with pytest.raises(NoSolutionError, match="record some: carrybook round shot"):
        review(one_round(), bag)
    with pytest.raises(BadInputError, match="shot 'driver' of a round is not among your shots"):
        review(one_round(shot(shot="driver")), bag)
