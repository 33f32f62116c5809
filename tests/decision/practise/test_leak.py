"""Where strokes leak: more scatter, more often, less known: each makes practice worth more."""

from collections.abc import Callable, Sequence

import pytest

from carrybook.base.constants import YARD
from carrybook.base.errors import BadInputError, NoSolutionError
from carrybook.decision.demand import Demand
from carrybook.decision.practise.demand import usual_demand
from carrybook.decision.practise.leak import Leak, closer_by, leaks
from carrybook.decision.practise.levels import baseline_named
from carrybook.outcomes.plain_green import expected_strokes
from carrybook.player.level import Scatter
from carrybook.player.summary import ShotSummary
from carrybook.world.air import Air
from carrybook.world.faced import FacedShot
from carrybook.world.lie import Lie

MakeSummary = Callable[..., ShotSummary]


def one(summary: ShotSummary, *, times: float = 1.0, base: str = "scratch") -> Leak:
    demand = Demand((FacedShot(80.0 * YARD, Lie.FAIRWAY, times=times),), "here")
    return leaks([summary], demand, baseline_named(base, [summary])).rows[0]


def test_the_loss_is_the_difference_of_expected_strokes(summary: MakeSummary) -> None:
    known = summary(spread=0.07, side=0.05, balls=100_000, bias_se=1e-6)
    leak = one(known)
    exact = expected_strokes(80.0 * YARD, leak.play.own) - expected_strokes(80.0 * YARD, leak.base)
    assert leak.loss == pytest.approx(exact, abs=2e-3)
    assert leak.unsure < 0.005
    assert leak.hidden == pytest.approx(leak.loss)


def test_more_scatter_leaks_more(summary: MakeSummary) -> None:
    worths = [one(summary(spread=s)).worth for s in (0.05, 0.06, 0.08)]
    assert worths == sorted(worths)
    assert worths[0] < worths[-1]


def test_worth_grows_with_how_often_it_is_faced(summary: MakeSummary) -> None:
    shot = summary(spread=0.08)
    assert one(shot, times=3.0).worth == pytest.approx(3.0 * one(shot).worth)


def test_what_is_not_known_is_worth_looking_at(summary: MakeSummary) -> None:
    """Few balls of a shot that looks as good as the baseline: a loss may be there unseen."""
    base = baseline_named("scratch", []).scatter(80.0 * YARD, Lie.FAIRWAY)
    alike = {"spread": base.spread, "side": base.side_rad}
    few, many = (one(summary(balls=n, bias_se=0.01, **alike)) for n in (2, 400))
    assert few.unsure > 2.0 * many.unsure
    assert few.hidden > few.loss
    assert few.leaked > many.leaked
    assert few.told > many.told


def test_a_better_player_than_the_baseline_leaks_nothing(summary: MakeSummary) -> None:
    leak = one(summary(spread=0.02, side=0.015, balls=200))
    assert leak.loss < -0.2
    assert leak.leaked < 1e-3
    assert leak.worth == pytest.approx(leak.closer, rel=1e-2)


def test_a_tenth_less_scatter_saves_what_it_says() -> None:
    wide = Scatter(0.06, 0.04)
    less = Scatter(0.054, 0.036)
    saved = expected_strokes(80.0, wide) - expected_strokes(80.0, less)
    assert closer_by(80.0, wide) == pytest.approx(saved)
    assert closer_by(80.0, wide) > 0.0


def test_rows_come_by_worth_with_other_shots_beside_the_best(bag: Sequence[ShotSummary]) -> None:
    found = leaks(bag, usual_demand(), baseline_named("own", bag))
    worths = [row.worth for row in found.rows]
    assert worths == sorted(worths, reverse=True)
    row = next(r for r in found.rows if round(r.faced.distance_m / YARD) == 65)
    assert row.play.shot == "60"
    assert row.play.cue == "chest turns"
    assert "55 low" in {other.shot for other in row.others}
    assert {round(f.distance_m / YARD) for f in found.unreached} == {35}


def test_a_named_shot_is_taken_although_another_is_closer(bag: Sequence[ShotSummary]) -> None:
    demand = Demand((FacedShot(66.0 * YARD),), "here", played_with="55")
    assert leaks(bag, demand, baseline_named("own", bag)).rows[0].play.shot == "55"
    with pytest.raises(BadInputError, match="shot '12' is not in the book"):
        leaks(
            bag,
            Demand((FacedShot(66.0),), "", played_with="12"),
            baseline_named("tour", bag),
        )


def test_cold_air_moves_the_feel_and_not_the_loss(bag: Sequence[ShotSummary]) -> None:
    demand = Demand((FacedShot(80.0 * YARD, Lie.FAIRWAY, times=1.0),), "here")
    base = baseline_named("own", bag)
    warm, cold = (
        leaks(bag, demand, base, air=Air(t, 101_325.0, 0.5)).rows[0] for t in (303.15, 276.15)
    )
    assert cold.play.feel_m > warm.play.feel_m
    assert cold.loss == pytest.approx(warm.loss, abs=1e-3)


def test_with_room_a_shot_reaches_beyond_its_partials(bag: Sequence[ShotSummary]) -> None:
    demand = Demand(
        (
            FacedShot(36.0 * YARD, Lie.FAIRWAY, times=1.0),
            FacedShot(80.0 * YARD, Lie.FAIRWAY, times=1.0),
        ),
        "",
    )
    base = baseline_named("own", bag)
    assert len(leaks(bag, demand, base).unreached) == 1
    assert leaks(bag, demand, base, room=0.25).unreached == ()


def test_nothing_reached_is_no_answer(bag: Sequence[ShotSummary]) -> None:
    far = Demand((FacedShot(180.0 * YARD, Lie.FAIRWAY, times=1.0),), "far")
    with pytest.raises(NoSolutionError, match="none of your shots reaches any of these distances"):
        leaks(bag, far, baseline_named("own", bag))
