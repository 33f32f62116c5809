"""Narrowing many candidates to a few by simulation: halving on shared draws."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from carrybook.base.numerics import Floats
from carrybook.decision.candidates import Candidate
from carrybook.outcomes.draws import Draws
from carrybook.outcomes.putting_map import kept_map
from carrybook.outcomes.simulate import World, simulate
from carrybook.outcomes.strokes import Finish, finish_of

__all__ = ["Played", "halve", "play"]


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
    chart = kept_map(world.ground, world.hole, stimp_m=world.stimp_m)
    finish = finish_of(ends, world.ground, world.hole, again=again, chart=chart)
    return Played(ends, landings, finish)


def halve(
    world: World,
    candidates: Sequence[Candidate],
    draws: Callable[[int], Draws],
    again: float,
    *,
    first_draws: int = 64,
    survivors: int = 12,
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
        total += play(world, alive, draws(count), again).finish.strokes.sum(axis=1)
        seen += count
        order = np.argsort(total / seen, kind="stable")
        if len(alive) <= survivors:
            return [alive[k] for k in order]
        keep = set(order[: max(survivors, len(alive) // 2)].tolist())
        keep |= _best_of_each_shot(alive, order)
        if len(keep) == len(alive):
            return [alive[k] for k in order]
        rows = [int(k) for k in order if k in keep]
        alive, total = [alive[k] for k in rows], total[rows]
        count = seen


def _best_of_each_shot(alive: Sequence[Candidate], order: np.ndarray) -> set[int]:
    first: dict[str, int] = {}
    for k in order:
        first.setdefault(alive[k].summary.shot.label, int(k))
    return set(first.values())
