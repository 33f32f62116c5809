"""Sessions: they fit in balls and in minutes, go where it is worth most, and vary."""

from collections import Counter
from collections.abc import Sequence
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from carrybook.base.constants import YARD
from carrybook.base.errors import BadInputError, OutOfRangeError
from carrybook.decision.demand import Demand
from carrybook.decision.practise.demand import usual_demand
from carrybook.decision.practise.kinds import Aim, Kind
from carrybook.decision.practise.leak import Leaks, leaks
from carrybook.decision.practise.levels import baseline_named
from carrybook.decision.practise.parts import Plan
from carrybook.decision.practise.session import (
    WARM_UP_MIN,
    plan_again,
    plan_session,
    plan_test,
    shares,
)
from carrybook.decision.practise.standing import standing_test
from carrybook.player.summary import ShotSummary
from carrybook.world.faced import FacedShot
from carrybook.world.lie import Lie


@pytest.fixture(scope="module")
def found(bag: Sequence[ShotSummary]) -> Leaks:
    return leaks(bag, usual_demand(), baseline_named("own", bag))


def of_kind(plan: Plan, kind: Kind) -> list[float]:
    return [ball.target_m for ball in plan.struck if ball.kind is kind]


@settings(max_examples=60)
@given(
    balls=st.integers(10, 300),
    minutes=st.floats(15.0, 240.0),
    aim=st.sampled_from(Aim),
    seed=st.integers(0, 50),
)
def test_it_fits_in_balls_and_in_minutes(
    found: Leaks, balls: int, minutes: float, aim: Aim, seed: int
) -> None:
    plan = plan_session(found, balls=balls, minutes=minutes, aim=aim, seed=seed)
    assert plan.count <= balls
    assert plan.takes_min <= minutes
    assert plan.steps[0].kind is Kind.WARM_UP
    assert plan.steps[0].minutes >= WARM_UP_MIN
    assert len(plan.struck) >= 6
    assert plan.steps[-1].kind is not Kind.REST


def test_it_uses_what_there_is(found: Leaks) -> None:
    plan = plan_session(found, balls=60, minutes=90.0)
    assert plan.count == 60
    tight = plan_session(found, balls=60, minutes=45.0)
    assert 52 <= tight.count <= 60
    assert 42.0 <= tight.takes_min <= 45.0


def test_what_the_aim_says_is_struck_in_blocks(found: Leaks) -> None:
    plans = {aim: plan_session(found, balls=70, minutes=90.0, aim=aim) for aim in Aim}
    blocks = {aim: len(of_kind(plan, Kind.BLOCK)) for aim, plan in plans.items()}
    assert blocks[Aim.TEST] == 0
    assert 0 < blocks[Aim.MIXED] < blocks[Aim.BUILD] < len(plans[Aim.BUILD].struck)


def test_blocks_are_where_it_is_worth_most(found: Leaks) -> None:
    plan = plan_session(found, balls=60, minutes=60.0, aim=Aim.BUILD)
    built = [round(t) for t in of_kind(plan, Kind.BLOCK)]
    clean = [r for r in found.rows if r.faced.lie is Lie.FAIRWAY]
    best = sorted(clean, key=lambda r: r.worth, reverse=True)
    assert round(best[0].faced.distance_m) in built
    assert round(best[-1].faced.distance_m) not in built
    assert max(Counter(built).values()) <= 12
    runs = [s for s in plan.steps if s.kind is Kind.BLOCK]
    assert all(len({b.target_m for b in run.balls}) == 1 for run in runs)


def test_random_balls_go_to_another_target_each_time(found: Leaks) -> None:
    for seed in range(5):
        plan = plan_session(found, balls=60, minutes=60.0, aim=Aim.TEST, seed=seed)
        keys = [(b.target_m, b.lie) for b in plan.struck]
        assert sum(a == b for a, b in pairwise(keys)) <= 1
        assert len({b.lie for b in plan.struck}) == 2
        assert len({b.play.shot for b in plan.struck}) >= 4  # flights and clubs vary


def test_the_same_seed_gives_the_same_session(found: Leaks) -> None:
    first, again, other = (
        plan_session(found, balls=60, minutes=45.0, seed=seed) for seed in (4, 4, 5)
    )
    assert first == again
    assert first.struck != other.struck
    assert plan_again(first, seed=5) == other


def test_a_rest_comes_after_eighteen_balls_at_most(found: Leaks) -> None:
    plan = plan_session(found, balls=100, minutes=120.0)
    since = 0
    for step in plan.steps[1:]:
        since = 0 if step.kind is Kind.REST else since + step.count
        assert since <= 18 + 4


def test_a_warm_up_has_few_balls_the_shortest_first(found: Leaks) -> None:
    warm_up = plan_session(found, balls=60, minutes=45.0).steps[0].warm_up
    feels = [feel for _, feel, _ in warm_up]
    assert feels == sorted(feels)
    assert sum(n for *_, n in warm_up) == 10
    assert plan_session(found, balls=12, minutes=20.0).steps[0].count == 2


def test_where_hardly_anything_leaks_targets_still_vary(bag: Sequence[ShotSummary]) -> None:
    good = leaks(bag, usual_demand(), baseline_named("54", bag))
    assert sum(r.leaked for r in good.rows) < 5e-3
    plan = plan_session(good, balls=60, minutes=60.0, aim=Aim.BUILD)
    assert len({round(t) for t in of_kind(plan, Kind.BLOCK)}) >= 3


def test_too_little_is_refused(found: Leaks) -> None:
    with pytest.raises(OutOfRangeError, match="balls = 9 balls is outside 10 to 300 balls"):
        plan_session(found, balls=9, minutes=45.0)
    with pytest.raises(OutOfRangeError, match="minutes = 10 min is outside 15 to 240 min"):
        plan_session(found, balls=60, minutes=10.0)


def test_shares_go_to_where_the_next_block_wins_most() -> None:
    fresh, worths = np.zeros(3), np.array([6.0, 3.0, 1.0])
    given = shares(worths, fresh, 100, 100)
    assert given[0] > given[1] > given[2]
    # where many are given, what the next one wins is alike: worth (1 + balls / 60)^-1.4
    wins = worths * (1.0 + 6.0 * np.array(given) / 60.0) ** -1.4
    assert wins.max() / wins.min() < 1.2
    assert shares(worths, fresh, 5, 2) == [2, 2, 1]
    assert shares(np.zeros(3), fresh, 3, 2) == [1, 1, 1]


def test_what_was_practised_lately_waits() -> None:
    alike = np.ones(3)
    assert shares(alike, np.array([120.0, 0.0, 30.0]), 3, 2) == [0, 2, 1]


def test_blocks_move_on_as_they_are_struck(found: Leaks) -> None:
    first = plan_session(found, balls=60, minutes=60.0, aim=Aim.BUILD)
    struck = Counter((b.play.shot, round(b.target_m)) for b in first.struck if b.kind is Kind.BLOCK)
    many = {key: 10 * n for key, n in struck.items()}
    later = plan_session(found, balls=60, minutes=60.0, aim=Aim.BUILD, practised=many)
    before, after = ({round(t) for t in of_kind(p, Kind.BLOCK)} for p in (first, later))
    assert before != after
    assert plan_again(later, seed=later.seed) == later  # and so does a calendar of it


def test_a_standing_test_has_the_same_balls_in_another_order(bag: Sequence[ShotSummary]) -> None:
    standing = standing_test([s.shot for s in bag])
    faced = tuple(FacedShot(t, Lie.FAIRWAY, times=1.0) for t in standing.targets_m)
    here = leaks(bag, Demand(faced, "test"), baseline_named("own", bag))
    first, second = (plan_test(here, standing, seed=seed) for seed in (1, 2))
    assert len(first.struck) == 27
    assert {b.kind for b in first.struck} == {Kind.TEST}
    orders = [[b.target_m for b in plan.struck] for plan in (first, second)]
    assert orders[0] != orders[1]
    assert sorted(orders[0]) == sorted(orders[1])
    assert all(a != b for order in orders for a, b in pairwise(order))
    assert plan_again(first, seed=2) == second


def test_a_test_that_no_shot_reaches_any_more_is_refused(bag: Sequence[ShotSummary]) -> None:
    standing = standing_test([s.shot for s in bag])
    faced = (*(FacedShot(t, Lie.FAIRWAY, times=1.0) for t in standing.targets_m),)
    here = leaks(bag[:1], Demand(faced, "test"), baseline_named("own", bag))
    with pytest.raises(BadInputError, match="which none of your shots reaches"):
        plan_test(here, standing, seed=1)


def test_lengths_of_targets_are_believable(found: Leaks) -> None:
    plan = plan_session(found, balls=60, minutes=45.0)
    assert all(15.0 <= b.target_m / YARD <= 200.0 for b in plan.struck)
