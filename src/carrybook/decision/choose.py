"""Which shot, where to land it, where to start it, what to feel: the choice by simulation."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from carrybook.base.constants import YARD
from carrybook.base.errors import NoSolutionError, require_range
from carrybook.decision.advice import Advice, Option, Situation
from carrybook.decision.allowed import allowed_from
from carrybook.decision.candidates import (
    ASIDES,
    DEPTHS,
    Candidate,
    Spot,
    build,
    spots_over,
    world_of,
)
from carrybook.decision.doubts import SHORT_PARTIAL, doubts_of
from carrybook.decision.explain import option_of
from carrybook.decision.facts import facts_that_matter
from carrybook.decision.select import (
    Cost,
    Played,
    best_of_each_shot,
    compare,
    fewest_strokes,
    halve,
    is_close,
    play,
)  # fmt: skip
from carrybook.decision.settle import settle
from carrybook.outcomes.baseline import strokes_from
from carrybook.outcomes.draws import Draws, draw
from carrybook.outcomes.putting_map import KEPT_WITHIN
from carrybook.outcomes.simulate import World
from carrybook.player.bag import Flight, Shape
from carrybook.player.summary import ShotSummary

__all__ = ["FULL", "ROUGH", "SETTLED", "Rounds", "choose"]

# Ours: how many options are told, when an effort is a stock one, and draws behind each fact.
_MOST_OPTIONS = 4
_STOCK_EFFORT = 0.05
_FACT_DRAWS = 256
_NEAR_KEPT, _FAR_KEPT = 4, 10  # spots near the finalists, and others, that a fact may favour

Progress = Callable[[str, float], None]


@dataclass(frozen=True, slots=True)
class Rounds:
    """How much is played before an answer is given.

    Parameters
    ----------
    every : int
        Every how many of the landing spots of the full net are tried, in depth and in width.
    first_draws : int
        Draws of the first round over all candidates; each later round doubles them.
    closer_draws : int
        Draws of the first round of the finer look at the best of each shot.
    final_draws : int
        Draws that rank the finalists, and as many fresh ones behind each quoted figure.
    putts_within_m : float
        Distance from the hole within which putts are mapped where they start; most of the time of
        an answer for a hole location that is new. [m]
    """

    every: int
    first_draws: int
    closer_draws: int
    final_draws: int
    putts_within_m: float = KEPT_WITHIN


FULL = Rounds(every=1, first_draws=16, closer_draws=256, final_draws=10_000)
SETTLED = Rounds(1, 16, 48, 1024)  # ours: for an eye that waits, within a second
# Ours: for a hand that still moves, within a third of one. The smaller map takes half the time and
# moves expected strokes by under 0.01, docs/putting.md.
ROUGH = Rounds(3, 8, 8, 192, putts_within_m=10.0)


def choose(
    situation: Situation,
    summaries: Sequence[ShotSummary],
    *,
    seed: int = 1,
    at_most: int | None = None,
    facts: bool = True,
    progress: Progress | None = None,
    effort: Rounds = FULL,
) -> Advice:
    """Choose the shot that leaves the fewest expected strokes.

    Parameters
    ----------
    situation : Situation
        Where the ball lies, where the hole is cut, and the day.
    summaries : sequence of ShotSummary
        The shots the player owns, and what the log says of them.
    seed : int, default 1
        The same seed gives the same answer.
    at_most : int, optional
        Choose for the greatest chance to hole out in so many strokes at most instead, 1 to 6: match
        play, or a score that must be made.
    facts : bool, default True
        Whether to look for the facts that would change the choice.
    progress : callable, optional
        Told what is being done and the share that is done, 0 to 1.
    effort : Rounds, default FULL
        How much is played; less gives a rougher answer sooner, with larger standard errors.

    Returns
    -------
    advice : Advice
        Best first, one option for each shot, with reasons and doubts.

    Raises
    ------
    BadInputError
        A lie that is not modelled.
    OutOfRangeError
        A number of strokes outside 1 to 6.
    NoSolutionError
        No owned shot can land a ball near the hole from here.

    Notes
    -----
    Candidates are narrowed by sequential halving on shared draws; the best of each shot is looked
    at more finely, compared on fresh draws as often as it takes to tell them apart, and quoted on
    fresh draws again, so that being picked does not flatter a figure. Differences are paired. Where
    the first does not separate from another, the simpler one goes first and the answer says so.
    """
    if at_most is not None:
        require_range("at most", at_most, 1, 6, "strokes")
    cost = fewest_strokes if at_most is None else _failing(at_most)
    tell = progress or (lambda _what, _share: None)
    world = replace(world_of(situation), putts_within_m=effort.putts_within_m)
    rng = np.random.default_rng(seed)
    again = float(strokes_from(situation.lie, np.array([situation.number_m]))[0])
    allowed, left_out = allowed_from(summaries, situation)
    tell("finding what reaches", 0.0)
    spots = spots_over(DEPTHS[:: effort.every], ASIDES[:: effort.every])
    found = {s.shot.label: build(world, situation, s, spots) for s in allowed}
    candidates = [c for some in found.values() for c in some]
    if not candidates:
        raise NoSolutionError(_nothing_reaches(situation, summaries))
    left_out += [
        f"{label}: cannot land a ball near this hole with a partial you allow"
        for label, some in found.items()
        if not some
    ]

    def round_of(n: int) -> Draws:
        tell("playing every candidate", 0.1)  # before every round, so that it can be stopped soon
        return draw(rng, n)

    alive = halve(world, candidates, round_of, again, first_draws=effort.first_draws, cost=cost)
    tell("looking closer at the best of each shot", 0.4)
    finalists, around = _finalists(world, situation, alive, rng, again, cost, effort.closer_draws)
    habit = _habit(world, situation, allowed)

    def compared(n: int) -> Draws:
        tell("playing the finalists", 0.5)
        return draw(rng, n)

    most = effort.final_draws
    order, tied = compare(world, finalists, compared, again, most=most, cost=cost)
    finalists, ties, swapped = _simplest_first(finalists, order, tied)
    tell("playing them again, afresh", 0.6)
    played = play(world, [*finalists, *habit], draw(rng, most), again)
    options = _options(world, situation, [*finalists, *habit], played, at_most)
    first, *others = (
        replace(o, close_call=o.close_call or tied) for o, tied in zip(options, ties, strict=False)
    )
    tell("asking which fact would change it", 0.75)
    matter = (
        facts_that_matter(
            world, finalists[0], [*finalists, *around], draw(rng, _FACT_DRAWS), again, cost
        )
        if facts
        else ((), ())
    )
    tell("done", 1.0)
    return Advice(
        situation=situation,
        options=(first, *sorted(others, key=lambda o: o.behind)),
        at_flag=options[-1] if habit else None,
        candidates=len(candidates),
        draws=effort.final_draws,
        seed=seed,
        at_most=at_most,
        flips=matter[0],
        worths=matter[1],
        left_out=tuple(left_out),
        doubts=doubts_of(situation, first, swapped),
    )


def _failing(at_most: int) -> Cost:
    """Chance of needing more strokes than that."""
    return lambda finish: 1.0 - finish.at_most(at_most)


def _nothing_reaches(situation: Situation, summaries: Sequence[ShotSummary]) -> str:
    number, wind = situation.number_m / YARD, situation.wind.speed_mps
    if not summaries:
        return (
            "the book holds no shots yet; add one: carrybook shots add 54 --loft 54deg --carry 82yd"
        )
    low = min(s.shot.shortest_m for s in summaries) / YARD
    high = max(s.shot.longest_m for s in summaries) / YARD
    return (
        f"none of your shots lands a ball near a hole {number:.0f} yd away from this lie"
        f"{' in this wind' if wind > 0.0 else ''};"
        f" your trusted shots cover {low:.0f} to {high:.0f} yd, calm, on an ordinary day"
    )


def _finalists(
    world: World,
    situation: Situation,
    alive: Sequence[Candidate],
    rng: np.random.Generator,
    again: float,
    cost: Cost,
    first_draws: int,
) -> tuple[list[Candidate], list[Candidate]]:
    """The best of each of the best shots after a finer look around its spot; and what was near."""
    finer: list[Candidate] = []
    rest: list[Candidate] = []
    looks = (draw(rng, first_draws), draw(rng, 3 * first_draws))
    for place in best_of_each_shot(alive)[:_MOST_OPTIONS]:
        found = settle(world, situation, alive[place], looks, again, cost)
        finer.append(found.best)
        rest += found.near[:_NEAR_KEPT]
    return finer, [*rest, *alive[:_FAR_KEPT]]


def _habit(world: World, situation: Situation, summaries: Sequence[ShotSummary]) -> list[Candidate]:
    """The stock shot that needs the least adjusting, landed at the hole; empty where none is."""
    at_hole = [c for s in summaries for c in build(world, situation, s, [Spot(0.0, 0.0)])]
    return sorted(at_hole, key=_effort)[:1]


def _effort(candidate: Candidate) -> float:
    """How far the feel number is from the stock carry, relative to it."""
    stock = candidate.summary.shot.stock_carry_m
    return abs(candidate.feel_m / stock - 1.0)


def _simplicity(candidate: Candidate) -> tuple[bool, bool, bool, bool, float]:
    """Simpler sorts first: no short partial, stock flight, straight, near its stock carry."""
    shot = candidate.summary.shot
    effort = _effort(candidate)
    return (
        candidate.feel_m < SHORT_PARTIAL * shot.stock_carry_m,
        shot.flight is not Flight.STOCK,
        shot.shape is not Shape.STRAIGHT,
        effort > _STOCK_EFFORT,
        effort,
    )


def _simplest_first(
    finalists: Sequence[Candidate], order: Sequence[int], tied: set[int]
) -> tuple[list[Candidate], list[bool], bool]:
    """Of those that tie with the best, put the simplest first.

    Gives the new order, which of it tie, and whether simplicity put another first.
    """
    first = min(tied, key=lambda k: _simplicity(finalists[k]))
    ordered = sorted(order, key=lambda k: k != first)
    ties = [k in tied and k != first for k in ordered]
    return [finalists[k] for k in ordered], ties, first != order[0]


def _options(
    world: World,
    situation: Situation,
    candidates: Sequence[Candidate],
    played: Played,
    at_most: int | None,
) -> tuple[Option, ...]:
    costs = played.finish.strokes if at_most is None else _failing(at_most)(played.finish)
    options = []
    for row, candidate in enumerate(candidates):
        option = option_of(world, situation, candidate, played, row, costs)
        close = row > 0 and (option.behind < 0.0 or is_close(costs[row] - costs[0]))
        chance = None if at_most is None else 1.0 - float(costs[row].mean())
        options.append(replace(option, close_call=close, chance=chance))
    return tuple(options)
