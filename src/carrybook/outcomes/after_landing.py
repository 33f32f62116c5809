"""What a landing is worth on a level green: runs drawn once for many, strokes read off a net.

A choice simulates every ball on the true ground. Where hundreds of remembered shots are weighed at
once that is more than is known of them: here a ball lands by the player's scatter, runs as balls of
its kind run on the level on what it lands on, and is worth what its finish is worth. That it may
cross from one surface to another while it runs, or fall in, is left out.
"""

from dataclasses import dataclass

import numpy as np

from carrybook.base.constants import FOOT
from carrybook.base.numerics import Floats, Ints, in_parts, kernel
from carrybook.outcomes.landing import Patch, drop_many
from carrybook.outcomes.turf import drawn_turf
from carrybook.physics.roll import rolling_resistance
from carrybook.player.robust import DEGREES_OF_FREEDOM
from carrybook.world.ground import Surface

__all__ = ["RUN_ON", "Chance", "GreenNets", "chance", "mean_after", "runs_of"]

# Surfaces on which runs are drawn, and which of them each surface of a ground counts as. Into water
# or out of bounds a ball runs nowhere.
RUN_ON = (Surface.GREEN, Surface.FAIRWAY, Surface.ROUGH, Surface.BUNKER)
_STIMP = 10.0 * FOOT  # ours: of a green that nobody stimped
_RUNS = 32  # ours: runs drawn for each kind of ball and surface
_LONGEST_RUN = 40.0  # m; ours
_WILDEST = 8.0  # ours: as in carrybook.outcomes.draws


@dataclass(frozen=True, slots=True)
class Chance:
    """Even draws of one shot, the same for all shots.

    Parameters
    ----------
    along, aside : ndarray, shape (n,)
        Student t with four degrees of freedom, a wild swing wild in both. [1]
    unsure : ndarray, shape (n,)
        Standard normal: what is not known of the centre and of the wind. [1]
    run : ndarray of int64, shape (n,)
        Which of the runs drawn. [1]
    """

    along: Floats
    aside: Floats
    unsure: Floats
    run: Ints

    def first(self, count: int) -> "Chance":
        """Give the first so many of them, which are even too."""
        return Chance(self.along[:count], self.aside[:count], self.unsure[:count], self.run[:count])


@dataclass(frozen=True, slots=True)
class GreenNets:
    """Nets over greens, all of one size.

    Parameters
    ----------
    x0, y0, step : float
        First node and distance between nodes, in the axes of a hole. [m]
    strokes : ndarray, shape (m, nx, ny)
        Expected strokes to hole out from a ball that lies there, one net for each place that the
        hole is cut. [1]
    runs_as : ndarray of int64, shape (m, nx, ny)
        Number in :data:`RUN_ON` of what a ball lands on; -1 where it stays.
    """

    x0: float
    y0: float
    step: float
    strokes: Floats
    runs_as: Ints


def chance(count: int) -> Chance:
    """Draw evenly: points of an additive sequence turned into quantiles, each in all four mirrors.

    Parameters
    ----------
    count : int
        How many, a multiple of four.

    Notes
    -----
    The generalised golden ratio in four dimensions: scatter of depth and of side, how wild the
    swing is, what is unsure. The mirrors make every mean and correlation nothing. Runs go round.
    """
    from scipy.special import gammaincinv, ndtri

    ratio = 1.0
    for _ in range(40):
        ratio = (1.0 + ratio) ** (1.0 / 5.0)
    steps = ratio ** -np.arange(1.0, 5.0)
    even = (0.5 + np.outer(np.arange(1, count // 4 + 1), steps)) % 1.0
    nu = DEGREES_OF_FREEDOM
    wild = np.sqrt(nu / (2.0 * gammaincinv(nu / 2.0, even[:, 2])))
    along, aside = (np.clip(ndtri(even[:, k]) * wild, -_WILDEST, _WILDEST) for k in (0, 1))
    unsure = np.asarray(ndtri(even[:, 3]))
    mirrors = np.array([[1.0, 1.0, -1.0, -1.0], [1.0, -1.0, 1.0, -1.0], [1.0, -1.0, -1.0, 1.0]])
    along, aside, unsure = (
        (each[:, None] * mirror).ravel()
        for each, mirror in zip((along, aside, unsure), mirrors, strict=True)
    )
    run = (np.arange(4 * (count // 4)) * 13) % _RUNS  # 13 and 32 share no factor: all in turn
    return Chance(along, aside, unsure, run.astype(np.int64))


def runs_of(kinds: Floats, seed: int = 1) -> Floats:
    """Draw how balls of some kinds run on the level.

    Parameters
    ----------
    kinds : ndarray, shape (m, 5)
        Speed [m/s], angle of descent [rad] and spin [rad/s] at landing; firmness of the green and
        how unsure it is. [Clegg gravities]
    seed : int, default 1
        The same seed gives the same runs.

    Returns
    -------
    runs : ndarray, shape (m, 4, 32)
        On each of :data:`RUN_ON`, along the line. [m]
    """
    z = np.random.default_rng(seed).standard_normal((4, _RUNS))
    z -= z.mean(axis=1, keepdims=True)  # the middle of the draws is the middle
    m = len(kinds)
    arrivals = np.zeros((m, _RUNS, 5))
    arrivals[:, :, 0], arrivals[:, :, 1] = kinds[:, 0, None], -kinds[:, 1, None]
    arrivals[:, :, 2] = kinds[:, 2, None]
    firmness = np.clip(kinds[:, 3, None] + kinds[:, 4, None] * z[0], 40.0, 160.0)
    tilt, restitution, friction = (np.tile(row, m) for row in z[1:])
    turf = drawn_turf(firmness.ravel(), tilt, restitution, friction)
    turf[:, 3] = rolling_resistance(_STIMP)
    runs = [drop_many(arrivals.reshape(-1, 5), turf, Patch(surface=on))[:, 0] for on in RUN_ON]
    held = np.clip(np.nan_to_num(np.array(runs)), -_LONGEST_RUN, _LONGEST_RUN)
    return np.ascontiguousarray(held.reshape(len(RUN_ON), m, _RUNS).transpose(1, 0, 2))


def mean_after(nets: GreenNets, runs: Floats, which: Ints, aims: Floats, drawn: Chance) -> Floats:
    """Expected strokes after shots that land around their aims, not counting the shot.

    Parameters
    ----------
    nets : GreenNets
        Strokes from where a ball lies.
    runs : ndarray, shape (k, 4, 32)
        From :func:`runs_of`.
    which : ndarray of int64, shape (n, 2)
        Net and kind of each shot.
    aims : ndarray, shape (n, 6)
        Landing on average, x and y in the axes of the hole; scale of the scatter in depth and to
        the side, what is unsure in depth; correlation of long and right. [m], but the last. [1]
    drawn : Chance
        The chance they share.

    Returns
    -------
    strokes : ndarray, shape (n,)
        [1]
    """
    out = np.empty(len(aims))

    def work(first: int, last: int) -> None:
        _mean_after(
            first, last, nets.x0, nets.y0, nets.step, nets.strokes, nets.runs_as, runs, which,
            aims, drawn.along, drawn.aside, drawn.unsure, drawn.run, out,
        )  # fmt: skip

    in_parts(work, len(aims))
    return out


@kernel
def _mean_after(
    first: int,
    last: int,
    x0: float,
    y0: float,
    step: float,
    strokes: Floats,
    runs_as: Ints,
    runs: Floats,
    which: Ints,
    aims: Floats,
    along: Floats,
    aside: Floats,
    unsure: Floats,
    run: Ints,
    out: Floats,
) -> None:
    """Mean over the draws; beyond the net its edge counts."""
    nx, ny = strokes.shape[1], strokes.shape[2]
    for n in range(first, last):
        net, kind = which[n, 0], which[n, 1]
        x, y, deep, wide, vague, rho = aims[n]
        across = np.sqrt(max(0.0, 1.0 - rho * rho))
        total = 0.0
        for k in range(len(along)):
            px = (x + deep * along[k] + vague * unsure[k] - x0) / step
            py = (y - wide * (rho * along[k] + across * aside[k]) - y0) / step
            i = min(max(int(px + 0.5), 0), nx - 1)
            j = min(max(int(py + 0.5), 0), ny - 1)
            on = runs_as[net, i, j]
            if on >= 0:
                px += runs[kind, on, run[k]] / step
            px = min(max(px, 0.0), nx - 1.001)
            py = min(max(py, 0.0), ny - 1.001)
            i, j = int(px), int(py)
            u, v = px - i, py - j
            total += (1.0 - u) * (
                (1.0 - v) * strokes[net, i, j] + v * strokes[net, i, j + 1]
            ) + u * ((1.0 - v) * strokes[net, i + 1, j] + v * strokes[net, i + 1, j + 1])
        out[n] = total / len(along)
