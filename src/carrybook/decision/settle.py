"""The last yard: where exactly to land one shot, read off a smooth surface through noisy costs.

Expected strokes are what the ground costs, smoothed by the player's own scatter, which is wider
than the nets here: so a paraboloid fits them well, and its lowest point is known better than which
of the tried spots came out lowest.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from carrybook.base.constants import YARD
from carrybook.base.numerics import Floats
from carrybook.decision.advice import Situation
from carrybook.decision.candidates import Candidate, Spot, build, build_around
from carrybook.decision.select import Cost, play
from carrybook.outcomes.draws import Draws
from carrybook.outcomes.simulate import World

__all__ = ["Settled", "lowest_point", "settle"]

_NET = np.array([-1.0, 0.0, 1.0])  # of each look, in its steps
_STEPS = (2.5 * YARD, 2.0 * YARD)  # ours: of the first look, and of the second around its best
_DENSE = np.array([-1.0, -0.5, 0.0, 0.5, 1.0])  # of each look where no paraboloid can be laid
_TERMS = 6  # of a paraboloid
_SURELY = 2.0  # standard errors by which a tried spot must beat the lowest point


@dataclass(frozen=True, slots=True)
class Settled:
    """Where a shot is best landed.

    Parameters
    ----------
    best : Candidate
        The shot, landed there.
    near : tuple of Candidate
        What was tried around it, the best first.
    """

    best: Candidate
    near: tuple[Candidate, ...]


def settle(
    world: World,
    situation: Situation,
    candidate: Candidate,
    draws: Sequence[Draws],
    again: float,
    cost: Cost,
) -> Settled:
    """Look closer and closer around the spot of one shot.

    Parameters
    ----------
    world : World
        Everything around the swing.
    situation : Situation
        What was asked.
    candidate : Candidate
        The shot and the spot to look around.
    draws : sequence of two Draws
        The chance of the first look and of the second.
    again : float
        Expected strokes for a ball that is lost. [1]
    cost : callable
        What is to be small.
    """
    best, near = candidate, [candidate]
    for step, chance in zip(_STEPS, draws, strict=True):
        tried = build_around(world, situation, best, step * _NET)
        whole = len(tried) == len(_NET) ** 2
        if not whole:  # it is at the end of its reach
            tried = build_around(world, situation, best, step * _DENSE)
        costs = cost(play(world, tried, chance, again).finish)
        near = [tried[k] for k in np.argsort(costs.mean(axis=1), kind="stable")]
        best = near[0]
        if whole:
            spots = np.array([(c.spot.past_m, c.spot.right_m) for c in tried])
            spot = Spot(*lowest_point(spots, costs.mean(axis=1)))
            exactly = build(world, situation, best.summary, [spot])
            if exactly and _ahead(world, exactly, chance, again, cost, costs) > -_SURELY:
                best = exactly[0]
    return Settled(best, tuple(near))


def _ahead(
    world: World,
    exactly: list[Candidate],
    chance: Draws,
    again: float,
    cost: Cost,
    costs: Floats,
) -> float:
    """How far the lowest point is ahead of the cheapest spot tried, in standard errors."""
    own = cost(play(world, exactly, chance, again).finish)[0]
    ahead = costs[int(costs.mean(axis=1).argmin())] - own
    error = float(ahead.std(ddof=1)) / len(ahead) ** 0.5
    return float(ahead.mean()) / error if error > 0.0 else 0.0


def lowest_point(spots: Floats, costs: Floats) -> tuple[float, float]:
    """Where a paraboloid through noisy costs is lowest, within the spots.

    Parameters
    ----------
    spots : ndarray, shape (n, 2)
        Where they were found. [m]
    costs : ndarray, shape (n,)
        The costs. [1]

    Returns
    -------
    past_m, right_m : float
        The lowest point; the cheapest of the spots where they are too few, or do not curve up.
    """
    cheapest = spots[int(costs.argmin())]
    middle, reach = spots.mean(axis=0), np.abs(spots - spots.mean(axis=0)).max(axis=0)
    if len(spots) < _TERMS or reach.min() <= 0.0:
        return float(cheapest[0]), float(cheapest[1])
    u, v = ((spots - middle) / reach).T
    terms = np.column_stack([np.ones_like(u), u, v, u * u, u * v, v * v])
    _, a, b, aa, ab, bb = np.linalg.lstsq(terms, costs, rcond=None)[0]
    if aa <= 0.0 or 4.0 * aa * bb <= ab * ab:
        return float(cheapest[0]), float(cheapest[1])
    u, v = np.linalg.solve([[2.0 * aa, ab], [ab, 2.0 * bb]], [-a, -b])
    if max(abs(u), abs(v)) > 1.0:  # beyond the spots: the lowest on their edges
        edges = [(e, np.clip(-(b + ab * e) / (2.0 * bb), -1.0, 1.0)) for e in (-1.0, 1.0)]
        edges += [(np.clip(-(a + ab * e) / (2.0 * aa), -1.0, 1.0), e) for e in (-1.0, 1.0)]
        u, v = min(edges, key=lambda p: _height(p, (a, b, aa, ab, bb)))
    past, right = middle + reach * np.array([u, v])
    return float(past), float(right)


def _height(at: tuple[float, float], slopes: tuple[float, ...]) -> float:
    (u, v), (a, b, aa, ab, bb) = at, slopes
    return a * u + b * v + aa * u * u + ab * u * v + bb * v * v
