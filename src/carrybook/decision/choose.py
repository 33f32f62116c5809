"""Which shot, where to land it, where to start it, what to feel: the choice by simulation."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from carrybook.base.constants import YARD
from carrybook.base.errors import NoSolutionError
from carrybook.base.numerics import Floats
from carrybook.decision.advice import Advice, Option, Situation
from carrybook.decision.candidates import (
    ASIDES,
    DEPTHS,
    Candidate,
    Spot,
    build,
    spots_over,
    world_of,
)
from carrybook.decision.explain import option_of
from carrybook.decision.select import Played, halve, play
from carrybook.outcomes.baseline import strokes_from
from carrybook.outcomes.draws import Draws, draw
from carrybook.outcomes.simulate import World
from carrybook.player.bag import Flight, Shape
from carrybook.player.summary import ShotSummary

__all__ = ["FULL", "ROUGH", "SETTLED", "Rounds", "choose"]

# Ours: how many options are told, draws behind each quoted figure, the finer second look, and when
# an effort is a stock one, a log short, a firmness a guess, a partial short, a wind strong, and a
# tendency worth saying.
_MOST_OPTIONS = 4
_STOCK_EFFORT = 0.05
_FEW_BALLS = 20
_GUESSED_FIRMNESS_G = 8.0
_SHORT_PARTIAL = 0.75
_STRONG_WIND = 9.0  # m/s
_SIDE_BIAS_WORTH_SAYING = 0.008  # rad
_WORTH_SAYING = 0.02  # strokes; ours: what is left out of the strokes is worth more than that
_NEARBY = np.array([-1.5, 0.0, 1.5]) * YARD

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
    """

    every: int
    first_draws: int
    closer_draws: int
    final_draws: int


FULL = Rounds(1, 64, 512, 4096)
SETTLED = Rounds(1, 16, 64, 1024)  # ours: for an eye that waits, within a second
ROUGH = Rounds(3, 8, 16, 192)  # ours: for a hand that still moves, within a third of one


def choose(
    situation: Situation,
    summaries: Sequence[ShotSummary],
    *,
    seed: int = 1,
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
    NoSolutionError
        No owned shot can land a ball near the hole from here.

    Notes
    -----
    Candidates are narrowed by sequential halving on shared draws; the best of each shot is looked
    at more finely, ranked on fresh draws, and quoted on fresh draws again, so that being picked
    does not flatter a figure. Differences are paired. Where the first does not separate from
    another, the simpler one goes first and the answer says so.
    """
    tell = progress or (lambda _what, _share: None)
    world = world_of(situation)
    rng = np.random.default_rng(seed)
    again = float(strokes_from(situation.lie, np.array([situation.number_m]))[0])
    allowed, left_out = _allowed(summaries)
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

    alive = halve(world, candidates, round_of, again, first_draws=effort.first_draws)
    tell("looking closer at the best of each shot", 0.5)
    finalists = _finalists(world, situation, alive, rng, again, effort.closer_draws)
    habit = _habit(world, situation, allowed)
    tell("playing the finalists", 0.7)
    finalists, ties, swapped = _ranked(world, finalists, draw(rng, effort.final_draws), again)
    tell("playing them again, afresh", 0.85)
    played = play(world, [*finalists, *habit], draw(rng, effort.final_draws), again)
    options = _options(world, situation, [*finalists, *habit], played)
    first, *others = (
        replace(o, close_call=o.close_call or tied) for o, tied in zip(options, ties, strict=False)
    )
    tell("done", 1.0)
    return Advice(
        situation=situation,
        options=(first, *sorted(others, key=lambda o: o.behind)),
        at_flag=options[-1] if habit else None,
        candidates=len(candidates),
        draws=effort.final_draws,
        seed=seed,
        left_out=tuple(left_out),
        doubts=_doubts(situation, first, swapped),
    )


def _allowed(summaries: Sequence[ShotSummary]) -> tuple[list[ShotSummary], list[str]]:
    trusted = [s for s in summaries if s.shot.trusted]
    left_out = [
        f"{s.shot.label}: you do not trust it in competition"
        for s in summaries
        if not s.shot.trusted
    ]
    return trusted, left_out


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
    first_draws: int,
) -> list[Candidate]:
    """The best of each of the best shots, after a finer look around its landing spot."""
    best: dict[str, Candidate] = {}
    for candidate in alive:
        best.setdefault(candidate.summary.shot.label, candidate)
    finer = []
    for candidate in list(best.values())[:_MOST_OPTIONS]:
        near = [
            Spot(candidate.spot.past_m + p, candidate.spot.right_m + a)
            for p in _NEARBY
            for a in _NEARBY
        ]
        around = build(world, situation, candidate.summary, near) or [candidate]
        finer.append(
            halve(world, around, lambda n: draw(rng, n), again, first_draws=first_draws)[0]
        )
    return finer


def _habit(world: World, situation: Situation, summaries: Sequence[ShotSummary]) -> list[Candidate]:
    """The stock shot that needs the least adjusting, landed at the hole; empty where none is."""
    at_hole = [c for s in summaries for c in build(world, situation, s, [Spot(0.0, 0.0)])]
    return sorted(at_hole, key=_effort)[:1]


def _effort(candidate: Candidate) -> float:
    """How far the feel number is from the stock carry, relative to it."""
    stock = candidate.summary.shot.stock_carry_m
    return abs(candidate.feel_m / stock - 1.0)


def _simplicity(candidate: Candidate) -> tuple[bool, bool, bool, float]:
    """Simpler sorts first: stock flight, straight, near its stock carry."""
    shot = candidate.summary.shot
    effort = _effort(candidate)
    return (
        shot.flight is not Flight.STOCK,
        shot.shape is not Shape.STRAIGHT,
        effort > _STOCK_EFFORT,
        effort,
    )


def _ranked(
    world: World, finalists: Sequence[Candidate], draws: Draws, again: float
) -> tuple[list[Candidate], list[bool], bool]:
    """Order by strokes on fresh draws; of those that tie with the fewest, the simplest goes first.

    Gives the order, which of it tie, and whether simplicity put another first.
    """
    strokes = play(world, finalists, draws, again).finish.strokes
    order = [int(k) for k in np.argsort(strokes.mean(axis=1), kind="stable")]
    fewest = order[0]
    tied = {k for k in order if _close(strokes[k] - strokes[fewest])}
    first = min(tied, key=lambda k: _simplicity(finalists[k]))
    order.sort(key=lambda k: k != first)
    ties = [k in tied and k != first for k in order]
    return [finalists[k] for k in order], ties, first != fewest


def _close(difference: Floats) -> bool:
    """Whether a paired difference does not separate, or is too small to matter."""
    mean = abs(float(difference.mean()))
    error = float(difference.std(ddof=1) / np.sqrt(len(difference)))
    return mean < max(2.0 * error, _WORTH_SAYING)


def _options(
    world: World, situation: Situation, candidates: Sequence[Candidate], played: Played
) -> tuple[Option, ...]:
    strokes = played.finish.strokes
    options = []
    for row, candidate in enumerate(candidates):
        option = option_of(world, situation, candidate, played, row, strokes[0])
        close = row > 0 and (option.behind < 0.0 or _close(strokes[row] - strokes[0]))
        options.append(replace(option, close_call=close))
    return tuple(options)


def _doubts(situation: Situation, best: Option, tie_broken: bool) -> tuple[str, ...]:
    doubts = []
    if tie_broken:
        doubts.append("the first options do not separate; the simpler swing was put first")
    summary = best.summary
    label, shot = summary.shot.label, summary.shot
    if summary.balls < _FEW_BALLS:
        doubts.append(f"{label} rests on few balls; its carry and scatter lean on a prior")
    if summary.not_flown:
        doubts.append(
            f"{summary.not_flown} logged carries of {label} fit no flight and do not count"
        )
    if not summary.launch_measured:
        doubts.append(f"launch and spin of {label} come from its loft, not from measured balls")
    if shot.shape is not Shape.STRAIGHT:
        doubts.append(f"the curve of {label} is not computed; it is flown straight")
    if best.feel_m < _SHORT_PARTIAL * shot.stock_carry_m:
        doubts.append("so short a partial is taken to launch and spin as the full swing does")
    if abs(summary.side_bias_rad) > _SIDE_BIAS_WORTH_SAYING:
        side = "right" if summary.side_bias_rad > 0.0 else "left"
        doubts.append(f"your {label} tends to the {side}; the start line allows for that")
    if situation.wind.speed_mps > _STRONG_WIND:
        doubts.append("so strong a wind is beyond what lift and drag were measured for")
    if situation.firmness_sd_g >= _GUESSED_FIRMNESS_G:
        doubts.append("firmness is a guess; watch one ball land and the run is known far better")
    if not situation.hole.heights_known:
        doubts.append("no heights for this hole: the green counts as level")
    doubts.append("putts are counted by length; their slope is not in the strokes yet")
    doubts.append("strokes off the green are a tour player's, not yours")
    return tuple(doubts)
