"""The chain adds up, its parts are where they belong, and nothing that was not said is guessed."""

from collections.abc import Callable
from dataclasses import replace
from itertools import product

import numpy as np
import pytest
from benchmarks.invented_seasons import Habits

from carrybook.base.constants import YARD
from carrybook.decision.advice import Situation
from carrybook.decision.candidates import Spot as LandingSpot
from carrybook.decision.candidates import build, world_of
from carrybook.decision.review.baselines import TOUR_BASELINE, Baseline
from carrybook.decision.review.greens import GREEN_WORDS, cut_of
from carrybook.decision.review.season import columns_of
from carrybook.decision.review.split import FACTS, PARTS, Causes, _shapley, split
from carrybook.outcomes.draws import draw
from carrybook.outcomes.simulate import simulate
from carrybook.outcomes.strokes import finish_of
from carrybook.player.round_shots import Facts, PlayedRound, Rest, RoundShot
from carrybook.player.summary import ShotSummary
from carrybook.world.described_hole import described_hole
from carrybook.world.hole import HoleLocation
from carrybook.world.lie import Lie

MakeRounds = Callable[..., tuple[PlayedRound, ...]]
MakeShot = Callable[..., RoundShot]
Bag = tuple[ShotSummary, ...]


@pytest.fixture
def split_of(bag: Bag, one_round: MakeRounds) -> Callable[..., Causes]:
    def make(*shots: RoundShot, baseline: Baseline | None = TOUR_BASELINE) -> Causes:
        return split(columns_of(one_round(*shots), bag), bag, baseline)

    return make


def adds_up(found: Causes) -> bool:
    """Whether the parts of every shot are baseline less strokes, to the last bit but a few."""
    gained = found.baseline - found.strokes
    return bool(np.abs(np.nansum(found.parts, axis=1) - gained).max() < 1e-12)


RIVAL = Baseline("rival", {Lie.FAIRWAY: np.array([[20.0, 2.6], [120.0, 3.4]])})


@pytest.mark.parametrize("baseline", [TOUR_BASELINE, None, RIVAL])
@pytest.mark.parametrize("habits", [Habits(), Habits(0.05, 0.6, 4.0, 3.0)])
def test_the_parts_of_a_season_add_up_to_the_score(
    bag: Bag, played: MakeRounds, habits: Habits, baseline: Baseline | None
) -> None:
    season = columns_of(played(habits), bag)
    found = split(season, bag, baseline)
    assert adds_up(found)
    score = sum(shot.strokes for shot in season.shots)
    assert found.baseline.sum() - np.nansum(found.parts) == pytest.approx(score, abs=1e-9)


def test_whatever_is_missing_it_still_adds_up(
    split_of: Callable[..., Causes], shot: MakeShot
) -> None:
    """Every mixture of what may be left unsaid, and the odd ends a ball comes to."""
    blank = {
        "intended_m": None, "aim_right_m": None, "hole_location": "", "wind_mps": None,
        "landing_past_m": None,
    }  # fmt: skip
    mixed = [
        shot(
            **{
                name: value
                for (name, value), gone in zip(blank.items(), which, strict=True)
                if gone
            }
        )
        for which in product((False, True), repeat=len(blank))
    ]
    ends = [
        shot(finish=Rest.HOLED, finish_m=0.0, putts=0),
        shot(finish=Rest.WATER, finish_m=20.0, penalties=1, others=1),
        shot(finish=Rest.ROUGH, finish_m=20.0, penalties=1, others=1),
        shot(lie=Lie.SAND), shot(lie=Lie.DEEP_ROUGH), shot(number_m=150 * YARD),
        shot(true=Facts(number_m=95 * YARD, lie=Lie.LIGHT_ROUGH, firmness_g=120.0)),
    ]  # fmt: skip
    assert adds_up(split_of(*mixed, *ends))
    assert adds_up(split_of(*mixed, *ends, baseline=None))


def test_what_was_not_said_is_within_execution(
    split_of: Callable[..., Causes], shot: MakeShot
) -> None:
    found = split_of(
        shot(), shot(intended_m=None), shot(wind_mps=None), shot(landing_past_m=None),
        shot(lie=Lie.SAND),
    )  # fmt: skip
    told = {name: np.isfinite(found.part(name)).tolist() for name in PARTS}
    assert told["choice"] == [True, False, False, True, False]
    assert told["distance"] == told["side"] == [True, False, False, False, False]
    assert told["execution"] == [False, True, True, True, True]
    assert told["bounce"] == [True, True, True, False, False]
    assert all(told["level"])
    assert all(told["after"])
    assert not any(any(told[fact]) for fact in FACTS)


def test_only_facts_that_were_learnt_are_told(
    split_of: Callable[..., Causes], shot: MakeShot
) -> None:
    windy = Facts(wind_mps=8.0, wind_from_rad=0.0)
    found = split_of(shot(true=windy), shot(true=Facts(number_m=80 * YARD)))
    assert found.part("wind")[0] < -0.02  # short of where it was meant to land
    assert np.isnan(found.part("wind")[1])
    assert np.isfinite(found.part("number")[1])
    assert np.isnan(found.part("lie")).all()


def test_the_same_fact_costs_nothing(split_of: Callable[..., Causes], shot: MakeShot) -> None:
    same = Facts(number_m=88 * YARD, lie=Lie.FAIRWAY)
    found = split_of(shot(true=same))
    assert found.part("number")[0] == pytest.approx(0.0, abs=1e-12)
    assert found.part("lie")[0] == pytest.approx(0.0, abs=1e-12)


def test_against_the_own_book_level_is_nothing(
    split_of: Callable[..., Causes], shot: MakeShot
) -> None:
    ours, tours = split_of(shot(), baseline=None), split_of(shot())
    assert ours.part("level")[0] == 0.0
    for name in PARTS[1:]:
        np.testing.assert_allclose(ours.part(name), tours.part(name), atol=1e-12)


def test_a_poor_choice_is_found_in_choice_alone(
    split_of: Callable[..., Causes], shot: MakeShot
) -> None:
    good = shot(intended_m=84 * YARD)
    landed = -4.0 + 18 * YARD
    long = replace(good, intended_m=102 * YARD, shot="52", landing_past_m=landed)
    found = split_of(good, long)
    assert (found.part("choice") <= 0.0).all()
    assert found.part("choice")[1] < found.part("choice")[0] - 0.1
    assert found.part("distance")[1] == pytest.approx(found.part("distance")[0], abs=0.25)


def test_the_best_is_never_worse_than_what_was_chosen(bag: Bag, played: MakeRounds) -> None:
    found = split(columns_of(played(), bag), bag)
    assert np.nanmax(found.part("choice")) <= 1e-12
    assert (
        np.nanmean(found.part("choice")) > -0.02
    )  # an invented player without habits chooses well


def test_luck_has_its_sign(split_of: Callable[..., Causes], shot: MakeShot) -> None:
    near = shot(finish_m=0.5, putts=1)
    far = shot(finish_m=12.0, putts=3)
    found = split_of(near, far)
    assert found.part("bounce")[0] > 0.0 > found.part("bounce")[1]
    assert found.part("after")[1] < -0.5
    holed = split_of(shot(finish=Rest.HOLED, finish_m=0.0, putts=0))
    assert holed.part("bounce")[0] > 0.5
    assert holed.part("after")[0] == 0.0


def test_a_mirror_of_everything_gives_the_same_parts(
    split_of: Callable[..., Causes], shot: MakeShot
) -> None:
    """Left is as good as right: the green is, and these wedges do not curve."""
    one = shot(hole_location="back left", aim_right_m=2.0, landing_right_m=5.0, finish_m=6.0)
    other = shot(hole_location="back right", aim_right_m=-2.0, landing_right_m=-5.0, finish_m=6.0)
    found = split_of(one, other)
    np.testing.assert_allclose(found.parts[0], found.parts[1], atol=0.01)


def test_shapley_shares_add_up_and_treat_alike_alike() -> None:
    """shapley-1953: of v = a + b + 2ab both get half; a third that adds nothing gets nothing."""
    table = {
        mix: np.array([1.0 * mix[0] + 1.0 * mix[1] + 2.0 * mix[0] * mix[1]])
        for mix in product((False, True), repeat=3)
    }
    assert _shapley(table, 3)[0] == pytest.approx([2.0, 2.0, 0.0])


def test_it_agrees_with_balls_on_the_true_ground(
    bag: Bag, split_of: Callable[..., Causes], shot: MakeShot
) -> None:
    """What was chosen is worth what thousands of simulated balls are on the same green."""
    hole = described_hole(GREEN_WORDS)
    made = shot(hole_location="middle right", firmness_g=90.0)
    cut = cut_of(made)
    at = HoleLocation(cut.x, cut.y, cut.x, 10.0, 10.0, 10.0)
    situation = Situation(
        hole, at, cut.x - made.number_m, cut.y, firmness_g=90.0, firmness_sd_g=10.0
    )
    world = world_of(situation)
    (candidate,) = build(world, situation, bag[1], [LandingSpot(-5.0 * YARD, -1.0)])
    ends, _ = simulate(world, [candidate.swing], draw(np.random.default_rng(1), 6000))
    finish = finish_of(ends, hole.ground, (cut.x, cut.y), again=3.0)
    aim = float(np.tan(candidate.swing.start_right_rad) * made.number_m)
    found = split_of(replace(made, intended_m=candidate.feel_m, aim_right_m=aim))
    assert found.chosen[0] == pytest.approx(float(finish.strokes.mean()), abs=0.06)
