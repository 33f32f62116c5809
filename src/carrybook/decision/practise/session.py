"""A session that fits in balls and in minutes: warm-up, blocks to build, random balls to test.

Order: blocks for building, one ball to one target at random for testing; random order is the
honest one for a test, and no proven large win for a skilled player's learning (czyz-2024). Both
are labelled, and never taken together.
"""

from collections.abc import Iterator, Sequence
from itertools import pairwise

import numpy as np

from carrybook.base.constants import YARD
from carrybook.base.errors import BadInputError, require_range
from carrybook.base.numerics import Floats
from carrybook.decision.practise.kinds import Aim, Kind
from carrybook.decision.practise.leak import Leak, Leaks, Play
from carrybook.decision.practise.parts import Plan, PlannedBall, Practised, Step
from carrybook.decision.practise.standing import StandingTest
from carrybook.world.lie import Lie

__all__ = [
    "plan_again",
    "plan_session",
    "plan_test",
    "shares",
]

# Warm-up of ten minutes at least: fewer injuries (gosheger-2003). The rest of these is ours.
WARM_UP_MIN = 10.0
_MOVING_MIN = 5.0  # of them without a ball
_WARM_UP_BALLS, _WARM_UP_SHARE = 10, 0.2  # at most so many, and so much of all balls
_BLOCK_MIN, _RANDOM_MIN = 0.5, 0.75  # minutes a ball; a random one is called, and a new target
_REST_EVERY, _REST_MIN = 18, 2.0  # balls between rests, three blocks; and how long each is
_NO_REST_BEFORE = 5  # so few balls need none
# Ours: the first balls of a target win most; after 60 in the last weeks the next win 0.4 of that.
_FADES_BALLS, _FADES = 60.0, 1.4
_BLOCK_BALLS = 6  # of one target in a block; summaries of about that many are read best
_MOST_BLOCKS = 2  # of one target in a session
_FEWEST = 6  # balls without which there is nothing to plan
_OTHER_SHOT = 1.0 / 3.0  # of random balls are played with another shot that reaches
_WARM_UP_SHARES = (0.4, 0.6, 0.8, 1.0)  # of the longest: easy ones first

# Ours: share of the balls that are struck in blocks. Some random ones always show its worth.
_IN_BLOCKS = {Aim.BUILD: 0.75, Aim.TEST: 0.0, Aim.MIXED: 0.5}


def plan_session(
    found: Leaks,
    *,
    balls: int,
    minutes: float,
    aim: Aim = Aim.MIXED,
    seed: int = 1,
    practised: Practised | None = None,
) -> Plan:
    """Build a session where practice is worth most.

    Parameters
    ----------
    found : Leaks
        Where strokes leak.
    balls : int
        Balls there are, 10 to 300, the warm-up's among them.
    minutes : float
        Time there is, 15 to 240, the warm-up's ten among them. [min]
    aim : Aim
        What it is for.
    seed : int, default 1
        The same seed gives the same order.
    practised : mapping of (str, int) to int, optional
        Balls struck in blocks in the last weeks, by shot and distance in whole metres.

    Raises
    ------
    OutOfRangeError
        Balls or minutes outside their range.

    Notes
    -----
    Blocks go by worth, less where blocks were struck lately, at most two of one target. Random
    balls go by what is faced and what measuring tells, no target twice in a row.
    """
    require_range("balls", balls, 10, 300, "balls")
    require_range("minutes", minutes, 15.0, 240.0, "min")
    rng = np.random.default_rng(seed)
    warm_up = _warm_up(found, min(_WARM_UP_BALLS, int(balls * _WARM_UP_SHARE)))
    in_blocks, at_random = _fitting(balls - warm_up.count, minutes - WARM_UP_MIN, _IN_BLOCKS[aim])
    before = practised or {}
    struck = [*_blocks(found, in_blocks, before), *_random(found, at_random, rng)]
    steps = (warm_up, *_with_rests(struck))
    return Plan(aim, balls, minutes, steps, found, seed, practised=before)


def plan_again(plan: Plan, *, seed: int) -> Plan:
    """The same session in another order, for another week.

    Parameters
    ----------
    plan : Plan
        The plan.
    seed : int
        Where the order comes from.
    """
    if plan.standing is not None:
        return plan_test(plan.leaks, plan.standing, seed=seed)
    return plan_session(
        plan.leaks, balls=plan.balls, minutes=plan.minutes, aim=plan.aim, seed=seed,
        practised=plan.practised,
    )  # fmt: skip


def plan_test(found: Leaks, standing: StandingTest, *, seed: int) -> Plan:
    """Build the session of a standing test: its balls, in an order of their own each time.

    Parameters
    ----------
    found : Leaks
        What is known of the distances of the test, each from the fairway.
    standing : StandingTest
        The test.
    seed : int
        The same seed gives the same order.

    Raises
    ------
    BadInputError
        A distance of the test that no owned shot reaches any more.
    """
    if found.unreached:
        far = ", ".join(f"{f.distance_m / YARD:.0f} yd" for f in found.unreached)
        raise BadInputError(
            f"the standing test has {far}, which none of your shots reaches; log with a bag that"
            " does, or begin a new test: carrybook practise test --new"
        )
    by_target = {leak.faced.distance_m: leak for leak in found.rows}
    order = standing.order(np.random.default_rng(seed))
    struck = [_ball(by_target[target], Kind.TEST, by_target[target].play) for target in order]
    warm_up = _warm_up(found, _WARM_UP_BALLS)
    steps = (warm_up, *_with_rests(struck))
    minutes = sum(step.minutes for step in steps)
    return Plan(Aim.TEST, sum(s.count for s in steps), minutes, steps, found, seed, standing)


def shares(worths: Floats, practised: Floats, blocks: int, most: int) -> list[int]:
    """Give blocks out one by one, to where the next one wins most.

    Parameters
    ----------
    worths : ndarray, shape (n,)
        What practice can win at each. [1]
    practised : ndarray, shape (n,)
        Balls struck there in the last weeks. [1]
    blocks, most : int
        Blocks there are, and the most that one may get.

    Returns
    -------
    given : list of int
        For each.

    Notes
    -----
    What is still to be won falls with the balls struck there as (1 + balls / 60)^-0.4, so the next
    block wins in proportion to worth times (1 + balls / 60)^-1.4: a power law of practice
    (newell-rosenbloom-1981); its constants are ours.
    """
    given = np.zeros(len(worths), dtype=np.int64)
    weights = np.maximum(np.asarray(worths, dtype=float), 1e-12)
    for _ in range(blocks):
        balls = practised + _BLOCK_BALLS * given
        wins = np.where(given < most, weights * (1.0 + balls / _FADES_BALLS) ** -_FADES, -1.0)
        given[int(np.argmax(wins))] += 1
    return [int(n) for n in given]


def _fitting(balls: int, minutes: float, in_blocks: float) -> tuple[int, int]:
    """The most balls in blocks and at random that fit in both."""
    for n in range(balls, _FEWEST - 1, -1):
        block = round(n * in_blocks / _BLOCK_BALLS) * _BLOCK_BALLS
        block = min(block, n)
        rests = (n - 1) // _REST_EVERY * _REST_MIN
        if block * _BLOCK_MIN + (n - block) * _RANDOM_MIN + rests <= minutes:
            return block, n - block
    return 0, min(balls, int(minutes / _RANDOM_MIN))


def _warm_up(found: Leaks, count: int) -> Step:
    """Moving first, then few balls, the easiest first."""
    longest = max(found.rows, key=lambda leak: leak.faced.distance_m)
    parts = np.array_split(np.arange(count), len(_WARM_UP_SHARES))
    swings = []
    for share, part in zip(_WARM_UP_SHARES, parts, strict=True):
        wanted = share * longest.faced.distance_m
        near = min(found.rows, key=lambda leak: abs(leak.faced.distance_m - wanted))
        if len(part):
            feel = min(near.play.feel_m, share * longest.play.feel_m)
            swings.append((near.play.shot, feel, len(part)))
    return Step(Kind.WARM_UP, WARM_UP_MIN, warm_up=tuple(swings))


def _blocks(found: Leaks, balls: int, practised: Practised) -> Iterator[PlannedBall]:
    """Blocks by worth; two of one target come apart."""
    targets = _clean(found.rows)
    before = [practised.get((t.play.shot, round(t.faced.distance_m)), 0) for t in targets]
    given = shares(
        np.array([t.worth for t in targets]),
        np.array(before, dtype=float),
        balls // _BLOCK_BALLS,
        _most(targets, balls),
    )
    for turn in range(max(given, default=0)):
        for leak, blocks in zip(targets, given, strict=True):
            if turn < blocks:
                yield from (_ball(leak, Kind.BLOCK, leak.play) for _ in range(_BLOCK_BALLS))


def _most(targets: Sequence[Leak], balls: int) -> int:
    """Blocks of one target at most: more only where there are too few targets."""
    return max(_MOST_BLOCKS, -(-(balls // _BLOCK_BALLS) // len(targets)))


def _clean(rows: Sequence[Leak]) -> list[Leak]:
    """Targets to build on: from grass cut short where the same is also faced from rough."""
    kept: dict[tuple[str, int], Leak] = {}
    for leak in sorted(rows, key=lambda k: (k.faced.lie is not Lie.FAIRWAY, -k.worth)):
        kept.setdefault((leak.play.shot, round(leak.faced.distance_m)), leak)
    return sorted(kept.values(), key=lambda leak: leak.worth, reverse=True)


def _random(found: Leaks, balls: int, rng: np.random.Generator) -> Iterator[PlannedBall]:
    """One ball to one target: what is faced and what is not known, no target twice in a row."""
    rows = found.rows
    told = np.array([leak.worth + leak.told for leak in rows])
    faced = np.array([leak.faced.times for leak in rows])
    weights = 0.5 * told / told.sum() + 0.5 * faced / faced.sum()
    for k in _apart(_spread_out(weights, balls, rng), rng):
        leak = rows[k]
        other = leak.others and rng.random() < _OTHER_SHOT
        play = leak.others[int(rng.integers(len(leak.others)))] if other else leak.play
        yield _ball(leak, Kind.RANDOM, play)


def _spread_out(weights: Floats, balls: int, rng: np.random.Generator) -> list[int]:
    """Which targets, by weight: systematic sampling, so that few balls still cover them."""
    ends = np.cumsum(weights) / weights.sum() * balls
    picks = np.searchsorted(ends, np.arange(balls) + rng.random())
    picks = np.minimum(picks, len(weights) - 1)
    return [int(k) for k in rng.permutation(picks)]


def _apart(order: list[int], rng: np.random.Generator) -> list[int]:
    """Move what comes twice in a row, as far as there is something else."""
    for _ in range(50):
        twice = [k for k, (a, b) in enumerate(pairwise(order), start=1) if a == b]
        if not twice:
            break
        for k in twice:
            j = int(rng.integers(len(order)))
            order[k], order[j] = order[j], order[k]
    return order


def _ball(leak: Leak, kind: Kind, play: Play) -> PlannedBall:
    return PlannedBall(kind, leak.faced.distance_m, leak.faced.lie, play, leak.base)


def _with_rests(balls: Sequence[PlannedBall]) -> Iterator[Step]:
    """Put balls into steps of one kind, and of one target in a block, with rests between."""
    step: list[PlannedBall] = []
    for k, ball in enumerate(balls):
        rests = k > 0 and k % _REST_EVERY == 0 and len(balls) - k >= _NO_REST_BEFORE
        if step and (rests or _of_step(step[-1]) != _of_step(ball)):
            yield _struck(step)
            step = []
        if rests:
            yield Step(Kind.REST, _REST_MIN)
        step.append(ball)
    if step:
        yield _struck(step)


def _of_step(ball: PlannedBall) -> tuple[Kind, float, str]:
    return (
        (ball.kind, ball.target_m, ball.play.shot)
        if ball.kind is Kind.BLOCK
        else (ball.kind, 0.0, "")
    )


def _struck(balls: list[PlannedBall]) -> Step:
    each = _BLOCK_MIN if balls[0].kind is Kind.BLOCK else _RANDOM_MIN
    return Step(balls[0].kind, each * len(balls), tuple(balls))
