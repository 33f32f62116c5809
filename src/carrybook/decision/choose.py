"""Which shot, where to land it, where to start it, what to feel: the choice by simulation."""

from collections.abc import Callable, Sequence
from dataclasses import replace

import numpy as np

from carrybook.base.constants import YARD
from carrybook.base.errors import NoSolutionError
from carrybook.base.numerics import Floats
from carrybook.decision.advice import Advice, Option, Situation
from carrybook.decision.candidates import Candidate, Spot, build, spots_over, world_of
from carrybook.decision.explain import option_of
from carrybook.decision.select import Played, halve, play
from carrybook.outcomes.baseline import strokes_from
from carrybook.outcomes.draws import Draws, draw
from carrybook.outcomes.simulate import World
from carrybook.player.bag import Flight, Shape
from carrybook.player.summary import ShotSummary

__all__ = ["choose"]

# Ours: how many options are told, draws behind each quoted figure, the finer second look, and when
# an effort is a stock one, a log short and a firmness a guess.
_MOST_OPTIONS = 4
_FINAL_DRAWS = 4096
_STOCK_EFFORT = 0.05
_FEW_BALLS = 20
_GUESSED_FIRMNESS_G = 8.0
_WORTH_SAYING = 0.01  # strokes; ours: a smaller difference is not worth a different shot
_NEARBY = np.array([-1.5, 0.0, 1.5]) * YARD

Progress = Callable[[str, float], None]


def choose(
    situation: Situation,
    summaries: Sequence[ShotSummary],
    *,
    seed: int = 1,
    progress: Progress | None = None,
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
    found = {s.shot.label: build(world, situation, s, spots_over()) for s in allowed}
    candidates = [c for some in found.values() for c in some]
    if not candidates:
        raise NoSolutionError(_nothing_reaches(situation, summaries))
    left_out += [
        f"{label}: cannot land a ball near this hole with a partial you allow"
        for label, some in found.items()
        if not some
    ]
    tell("playing every candidate", 0.1)
    alive = halve(world, candidates, lambda n: draw(rng, n), again)
    tell("looking closer at the best of each shot", 0.5)
    finalists = _finalists(world, situation, alive, rng, again)
    habit = _habit(world, situation, allowed) or finalists[0]
    tell("playing the finalists", 0.7)
    finalists, tie_broken = _ranked(world, finalists, draw(rng, _FINAL_DRAWS), again)
    tell("playing them again, afresh", 0.85)
    played = play(world, [*finalists, habit], draw(rng, _FINAL_DRAWS), again)
    options = _options(world, situation, [*finalists, habit], played)
    tell("done", 1.0)
    return Advice(
        situation=situation,
        options=options[:-1],
        at_flag=options[-1],
        candidates=len(candidates),
        draws=_FINAL_DRAWS,
        seed=seed,
        left_out=tuple(left_out),
        doubts=_doubts(situation, options[0], tie_broken),
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
    number = situation.number_m / YARD
    if not summaries:
        return (
            "the book holds no shots yet; add one: carrybook shots add 54 --loft 54deg --carry 82yd"
        )
    low = min(s.shot.shortest_m for s in summaries) / YARD
    high = max(s.shot.longest_m for s in summaries) / YARD
    return (
        f"none of your shots lands a ball near a hole {number:.0f} yd away from this lie;"
        f" your trusted shots cover {low:.0f} to {high:.0f} yd on an ordinary day"
    )


def _finalists(
    world: World,
    situation: Situation,
    alive: Sequence[Candidate],
    rng: np.random.Generator,
    again: float,
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
        finer.append(halve(world, around, lambda n: draw(rng, n), again, first_draws=512)[0])
    return finer


def _habit(
    world: World, situation: Situation, summaries: Sequence[ShotSummary]
) -> Candidate | None:
    """The stock shot that needs the least adjusting, landed at the hole: what habit would do."""
    at_hole = [c for s in summaries for c in build(world, situation, s, [Spot(0.0, 0.0)])]
    return min(at_hole, key=_effort, default=None)


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
) -> tuple[list[Candidate], bool]:
    """Order by strokes on fresh draws; among those not separate from the first, the simplest."""
    strokes = play(world, finalists, draws, again).finish.strokes
    order = [int(k) for k in np.argsort(strokes.mean(axis=1), kind="stable")]
    first = order[0]
    tied = [k for k in order if _close(strokes[k] - strokes[first])]
    simplest = min(tied, key=lambda k: _simplicity(finalists[k]))
    order.remove(simplest)
    return [finalists[k] for k in [simplest, *order]], simplest != first


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
        close = row > 0 and _close(strokes[row] - strokes[0])
        options.append(replace(option, close_call=close))
    first, *others, habit = options
    return (first, *sorted(others, key=lambda o: o.behind), habit)


def _doubts(situation: Situation, best: Option, tie_broken: bool) -> tuple[str, ...]:
    doubts = []
    if tie_broken:
        doubts.append("the first options do not separate; the simpler swing was put first")
    if best.summary.balls < _FEW_BALLS:
        doubts.append(
            f"{best.summary.shot.label} rests on {best.summary.balls} balls;"
            " its carry and scatter lean on a prior"
        )
    if not best.summary.launch_measured:
        doubts.append(
            f"launch and spin of {best.summary.shot.label} come from its loft, not measured balls"
        )
    if situation.firmness_sd_g >= _GUESSED_FIRMNESS_G:
        doubts.append("firmness is a guess; watch one ball land and the run is known far better")
    if not situation.hole.heights_known:
        doubts.append("no heights for this hole: the green counts as level")
    doubts.append("putts are counted by length; their slope is not in the strokes yet")
    doubts.append("strokes off the green are a tour player's, not yours")
    return tuple(doubts)
