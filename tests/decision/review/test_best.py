"""The best choice is found among all that is owned, within reach, and beats what is around it."""

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from carrybook.base.constants import YARD
from carrybook.decision.review.baselines import TOUR_BASELINE
from carrybook.decision.review.best import Best, _first, best_of
from carrybook.decision.review.chosen import Chosen
from carrybook.decision.review.season import columns_of, condition_of
from carrybook.decision.review.weigh import scales_of
from carrybook.outcomes.after_landing import chance
from carrybook.player.bag import Flight
from carrybook.player.round_shots import PlayedRound, RoundShot
from carrybook.player.summary import ShotSummary
from carrybook.world.lie import Lie

MakeRounds = Callable[..., tuple[PlayedRound, ...]]
MakeShot = Callable[..., RoundShot]
Bag = tuple[ShotSummary, ...]


@pytest.fixture
def best(one_round: MakeRounds) -> Callable[..., Best]:
    def find(owned: Bag, *shots: RoundShot) -> Best:
        season = columns_of(one_round(*shots), owned)
        believed, _ = condition_of(season, true=False)
        return best_of(season, owned, believed, scales_of(season, TOUR_BASELINE), chance(256))

    return find


def test_the_nearest_wedge_landed_short_on_the_line(
    best: Callable[..., Best], bag: Bag, shot: MakeShot
) -> None:
    found = best(bag, shot(number_m=80 * YARD), shot(number_m=112 * YARD))
    assert found.shot[1] > found.shot[0]
    assert (found.past < 2.0).all()
    assert np.abs(found.right).max() < 3.0
    assert (found.strokes > 2.0).all()
    assert (found.strokes < 3.2).all()


def test_further_and_rougher_is_dearer(best: Callable[..., Best], bag: Bag, shot: MakeShot) -> None:
    strokes = best(bag, *(shot(number_m=n * YARD) for n in (60, 80, 100, 115))).strokes
    assert (np.diff(strokes) > 0.0).all()


def test_nothing_beside_it_is_better(
    bag: Bag, shot: MakeShot, best: Callable[..., Best], one_round: MakeRounds
) -> None:
    """The best, struck as it would be, against the same swing felt and aimed a little otherwise."""
    shots = [
        shot(number_m=n * YARD, hole_location=w) for n in (70, 95) for w in ("front left", "back")
    ]
    found = best(bag, *shots)
    season = columns_of(one_round(*shots), bag)
    believed, _ = condition_of(season, true=False)
    scales, drawn = scales_of(season, TOUR_BASELINE), chance(256)
    start = np.arctan2(found.right, believed.number + found.past)
    at = Chosen(bag, np.arange(4), found.shot, found.felt, start)
    worth = at.worth(believed, scales, drawn)
    assert worth == pytest.approx(found.strokes, abs=0.02)
    for felt, aim in ((1.06, 0.0), (0.94, 0.0), (1.0, 0.05), (1.0, -0.05)):
        other = replace(at, felt=at.felt * felt, start=at.start + aim)
        assert (other.worth(believed, scales, drawn) > worth - 0.02).all()


def test_what_is_not_trusted_or_not_for_the_lie_is_not_chosen(
    best: Callable[..., Best], bag: Bag, shot: MakeShot
) -> None:
    (first,) = best(bag, shot()).shot
    doubted = tuple(replace(s, shot=replace(s.shot, trusted=k != first)) for k, s in enumerate(bag))
    assert best(doubted, shot()).shot[0] != first
    low = tuple(replace(s, shot=replace(s.shot, flight=Flight.LOW)) for s in bag)
    rough = shot(lie=Lie.DEEP_ROUGH, shot=low[1].shot.label)
    assert np.isnan(best(low, rough).strokes[0])


def test_out_of_reach_has_no_best(best: Callable[..., Best], bag: Bag, shot: MakeShot) -> None:
    found = best(bag, shot(number_m=200 * YARD), shot())
    assert np.isnan(found.strokes[0])
    assert found.shot[0] == -1
    assert np.isfinite(found.strokes[1])


def test_the_first_of_each_row() -> None:
    row, worth = np.array([0, 1, 0, 1, 0]), np.array([3.0, 1.0, 2.0, 5.0, 4.0])
    assert _first(row, worth, 1).tolist() == [2, 1]
    assert _first(row, worth, 2).tolist() == [2, 0, 1, 3]
