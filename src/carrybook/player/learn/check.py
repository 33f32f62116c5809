"""Does what was learnt foretell the balls? And how fast do more balls make a number sharper?"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from scipy.special import ndtr, stdtr

from carrybook.base.numerics import Floats
from carrybook.player.bag import Shot
from carrybook.player.balls import Ball
from carrybook.player.learn.learn import Questions, learn_quick, questions_of
from carrybook.player.learn.problem import FREEDOM, Answer, Problem
from carrybook.player.level import Player

__all__ = ["Coverage", "CurvePoint", "check_coverage", "learning_curve", "places_of"]

LEVELS = (0.5, 0.8, 0.9)
_LEAST_OF_SHOT = 10  # balls, ours: below that a share of a shot says nothing
_DRAWS = 100
_ROWS = 4000  # balls checked, the newest


@dataclass(frozen=True, slots=True)
class Coverage:
    """How many balls fell inside the intervals that they should fill.

    Parameters
    ----------
    what : str
        "carry" or "side", "newest day, foretold from the days before", or the label of a shot.
    balls : int
        How many were looked at.
    inside : tuple of float
        Share inside the intervals of 50, 80 and 90 %. [1]
    """

    what: str
    balls: int
    inside: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class CurvePoint:
    """How well stock carries are known after so many balls.

    Parameters
    ----------
    balls : int
        Balls learnt from, the oldest first.
    label : str
        The shot.
    of_shot : int
        How many of them were of this shot.
    width_m : float
        Width of the interval that holds its stock carry with 90 % probability. [m]
    """

    balls: int
    label: str
    of_shot: int
    width_m: float


def places_of(problem: Problem, answer: Answer) -> Floats:
    """Where each value stands in what the draws foretell, 0 to 1: evenly spread if all is well.

    Parameters
    ----------
    problem, answer : Problem, Answer
        Of one kind of value.
    """
    draws = np.linspace(0, len(answer.odd) - 1, min(_DRAWS, len(answer.odd))).astype(int)
    line = np.concatenate([answer.line[g.name][draws] for g in problem.groups], axis=1)
    scale = np.concatenate([answer.scale[g.name][draws] for g in problem.scale_groups], axis=1)
    total = np.zeros(len(problem.values))
    for beta, zeta, odd in zip(line, scale, answer.odd[draws, 0], strict=True):
        miss = problem.values - problem.design @ beta
        core = stdtr(FREEDOM, miss / np.exp(problem.scale_design @ zeta))
        total += (1.0 - odd) * core + odd * ndtr(miss / problem.odd_sd)
    return total / len(draws)


def check_coverage(
    shots: Sequence[Shot],
    balls: Sequence[Ball],
    rng: np.random.Generator,
    *,
    player: Player | None = None,
) -> tuple[Coverage, ...]:
    """Posterior predictive coverage, by the quick engine.

    Parameters
    ----------
    shots, balls : sequence of Shot, sequence of Ball
        The bag and the log.
    rng : Generator
        For the draws.
    player : Player, optional
        How well they play.

    Returns
    -------
    coverage : tuple of Coverage
        Of carry and side; shot by shot; and, where there are two days, of the newest day foretold
        from the days before.
    """
    asked = questions_of(shots, balls, rng, player=player)
    carry = places_of(asked.problems["carry"], asked.quick["carry"])
    rows = [_inside("carry", carry)]
    if len(asked.problems["side"].values):
        rows.append(_inside("side", places_of(asked.problems["side"], asked.quick["side"])))
    for k, shot in enumerate(asked.log.shots):
        own = carry[asked.log.shot == k]
        if len(own) >= _LEAST_OF_SHOT:
            rows.append(_inside(shot.label, own))
    newest = _newest_day(asked, rng)
    return (*rows, newest) if newest else tuple(rows)


def learning_curve(
    shots: Sequence[Shot],
    balls: Sequence[Ball],
    rng: np.random.Generator,
    progress: Callable[[str, float], None] | None = None,
    *,
    player: Player | None = None,
) -> tuple[CurvePoint, ...]:
    """Learn from the first few balls, from more, and from all.

    Parameters
    ----------
    shots, balls : sequence of Shot, sequence of Ball
        The bag, and the log in the order struck.
    rng : Generator
        For the draws.
    progress : callable, optional
        Told what is being done and which share of it is done.
    player : Player, optional
        How well they play.
    """
    sizes = [0, *(n for n in (5, 10, 20, 40, 80, 160, 320, 640, 1280, 2560) if n < len(balls))]
    points = []
    for k, size in enumerate([*sizes, len(balls)]):
        if progress:
            progress(f"learning from {size} balls", k / (len(sizes) + 1.0))
        learnt = learn_quick(shots, balls[:size], rng, player=player)
        for j, shot in enumerate(shots):
            low, high = np.quantile(learnt.draws["bias"][:, j], (0.05, 0.95))
            width = shot.stock_carry_m * float(np.exp(high) - np.exp(low))
            points.append(CurvePoint(size, shot.label, learnt.balls[j], width))
    return tuple(points)


def _inside(what: str, places: Floats) -> Coverage:
    off = 2.0 * np.abs(places - 0.5)
    return Coverage(what, len(places), tuple(float(np.mean(off <= level)) for level in LEVELS))


def _newest_day(asked: Questions, rng: np.random.Generator) -> Coverage | None:
    """Learn without the newest day and foretell its carries, with what a new day adds."""
    log = asked.log
    days = sorted({b.at.date() for b in log.balls if b.at})
    if len(days) < 2:
        return None
    old = [b for b in log.balls if not (b.at and b.at.date() == days[-1])]
    before = questions_of(log.shots, old, rng, player=log.player)
    new = np.array([bool(b.at and b.at.date() == days[-1]) for b in log.balls])
    problem, answer = asked.problems["carry"], before.quick["carry"]
    known = dict(answer.line)
    size = problem.groups[[g.name for g in problem.groups].index("day")].size
    sd = answer.sds["day"] if "day" in answer.sds else np.full(len(answer.odd), 0.02)
    known["day"] = sd[:, None] * rng.standard_normal((len(sd), size))
    steps = problem.groups[[g.name for g in problem.groups].index("stretch")].size
    known["stretch"] = np.zeros((len(sd), steps))
    rows = Problem(
        problem.values[new],
        problem.design[new],
        problem.groups,
        problem.scale_design[new],
        problem.scale_groups,
        problem.odd_sd[new],
        problem.kind[new],
    )
    places = places_of(rows, Answer(known, answer.scale, answer.sds, answer.odd))
    return _inside("newest day, foretold from the days before", places)
