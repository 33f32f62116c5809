"""Narrowing many candidates to a few by simulation, on shared draws: halving, then comparing."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from carrybook.base.numerics import Floats
from carrybook.decision.candidates import Candidate
from carrybook.outcomes.draws import Draws
from carrybook.outcomes.putting_map import kept_map
from carrybook.outcomes.simulate import World, simulate
from carrybook.outcomes.strokes import Finish, finish_of

__all__ = [
    "WORTH_SAYING",
    "Cost",
    "Played",
    "best_of_each_shot",
    "compare",
    "fewest_strokes",
    "halve",
    "is_close",
    "play",
]

Cost = Callable[[Finish], Floats]  # what is to be small: a number for each ball

# Ours: draws of a round of comparing; strokes that are worth saying, for what is left out of them
# is worth more than that.
_ROUND = 1024
WORTH_SAYING = 0.02
_WORTH_SWAPPING = 0.5 * WORTH_SAYING  # what a simpler swing may cost at most


def fewest_strokes(finish: Finish) -> Floats:
    """The usual cost: expected strokes to hole out."""
    return finish.strokes


@dataclass(frozen=True, slots=True)
class Played:
    """Candidates under shared draws: ends (k, n, 9), landings (k, n, 10), finishes (k, n)."""

    ends: Floats
    landings: Floats
    finish: Finish


def play(world: World, candidates: Sequence[Candidate], draws: Draws, again: float) -> Played:
    """Play every candidate under every draw.

    Parameters
    ----------
    world : World
        Everything around the swing.
    candidates : sequence of Candidate, length k
        What to play.
    draws : Draws, length n
        The shared chance.
    again : float
        Expected strokes from where the ball lies, for a ball that is lost. [1]
    """
    ends, landings = simulate(world, [c.swing for c in candidates], draws)
    chart = kept_map(world.ground, world.hole, stimp_m=world.stimp_m, within_m=world.putts_within_m)
    finish = finish_of(ends, world.ground, world.hole, again=again, chart=chart)
    return Played(ends, landings, finish)


def halve(
    world: World,
    candidates: Sequence[Candidate],
    draws: Callable[[int], Draws],
    again: float,
    *,
    first_draws: int = 32,
    survivors: int = 12,
    cost: Cost = fewest_strokes,
) -> list[Candidate]:
    """Keep the better half again and again, with twice the draws each time.

    Parameters
    ----------
    world : World
        Everything around the swing.
    candidates : sequence of Candidate
        What to choose from.
    draws : callable
        Gives a fresh set of so many shared draws.
    again : float
        Expected strokes for a ball that is lost. [1]
    first_draws : int
        Draws of the first round.
    survivors : int
        How many are left at the end.
    cost : callable
        What is to be small.

    Returns
    -------
    best : list of Candidate
        Best first; the best of every shot is always among them, so that the answer can offer
        options that differ in kind.

    Notes
    -----
    Sequential halving (karnin-2013) on the mean of shared draws; the rounds add up.
    """
    alive = list(candidates)
    total = np.zeros(len(alive))
    seen, count = 0, first_draws
    while True:
        total += cost(play(world, alive, draws(count), again).finish).sum(axis=1)
        seen += count
        order = np.argsort(total / seen, kind="stable")
        if len(alive) <= survivors:
            return [alive[k] for k in order]
        keep = set(order[: max(survivors, len(alive) // 2)].tolist())
        ordered = [alive[k] for k in order]
        keep |= {int(order[place]) for place in best_of_each_shot(ordered)}
        if len(keep) == len(alive):
            return [alive[k] for k in order]
        rows = [int(k) for k in order if k in keep]
        alive, total = [alive[k] for k in rows], total[rows]
        count = seen


def best_of_each_shot(ordered: Sequence[Candidate]) -> list[int]:
    """Where the first candidate of every shot stands.

    Parameters
    ----------
    ordered : sequence of Candidate
        Best first.
    """
    first: dict[str, int] = {}
    for place, candidate in enumerate(ordered):
        first.setdefault(candidate.summary.shot.label, place)
    return list(first.values())


def compare(
    world: World,
    candidates: Sequence[Candidate],
    draws: Callable[[int], Draws],
    again: float,
    *,
    most: int,
    cost: Cost = fewest_strokes,
) -> tuple[list[int], set[int]]:
    """Put a few candidates in order, each played as often as telling it from the best takes.

    Parameters
    ----------
    world : World
        Everything around the swing.
    candidates : sequence of Candidate
        What to compare.
    draws : callable
        Gives a fresh set of so many shared draws.
    again : float
        Expected strokes for a ball that is lost. [1]
    most : int
        Most draws for any of them.
    cost : callable
        What is to be small.

    Returns
    -------
    order : list of int
        Numbers of the candidates, best first.
    tied : set of int
        Those that do not separate from the best, the best among them.

    Notes
    -----
    Optimal budget allocation (chen-2000) on paired differences: a rival d behind with a standard
    deviation s of the difference needs (2 s / d)^2 draws, and gets no more; the best plays on with
    all who need more.
    """
    costs: list[Floats] = [np.empty(0)] * len(candidates)
    active = list(range(len(candidates)))
    while active and len(costs[active[0]]) < most:
        count = min(_ROUND, most - len(costs[active[0]]))
        played = cost(play(world, [candidates[k] for k in active], draws(count), again).finish)
        for k, row in zip(active, played, strict=True):
            costs[k] = np.concatenate([costs[k], row])
        best = min(active, key=lambda k: float(costs[k].mean()))
        rivals = [k for k in active if k != best and _needs_more(costs[k] - costs[best])]
        active = sorted([best, *rivals]) if rivals else []
    order = sorted(range(len(candidates)), key=lambda k: float(costs[k].mean()))
    first = costs[order[0]]
    shared = [min(len(first), len(c)) for c in costs]
    tied = {k for k, n in enumerate(shared) if is_close(costs[k][:n] - first[:n], _WORTH_SWAPPING)}
    return order, tied


def _needs_more(difference: Floats) -> bool:
    """Whether a paired difference has not been played often enough to be told from nothing."""
    gap = max(abs(float(difference.mean())), _WORTH_SWAPPING)
    needed: bool = len(difference) < (2.0 * float(difference.std(ddof=1)) / gap) ** 2
    return needed


def is_close(difference: Floats, least: float = WORTH_SAYING) -> bool:
    """Whether a paired difference does not separate, or is too small to matter.

    Parameters
    ----------
    difference : ndarray, shape (n,)
        Cost of one less that of another under the same draws. [1]
    least : float
        Less than that does not matter. [1]
    """
    mean = abs(float(difference.mean()))
    error = float(difference.std(ddof=1) / np.sqrt(len(difference)))
    return mean < max(2.0 * error, least)
