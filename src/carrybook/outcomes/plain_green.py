"""What a miss costs where there is no green to look at: a plain round one, for the range.

On a range only carry and side are measured. The ball is taken to finish as far from a hole as it
landed from its target, on a level green of ordinary size with rough around it.
"""

from functools import cache

import numpy as np

from carrybook.base.constants import YARD
from carrybook.base.numerics import Floats
from carrybook.outcomes.baseline import strokes_from
from carrybook.outcomes.putting import expected_putts
from carrybook.player.level import Scatter
from carrybook.player.robust import DEGREES_OF_FREEDOM, HALF_WIDTH_68
from carrybook.world.lie import Lie

__all__ = ["expected_miss", "expected_strokes", "misses", "strokes_after", "swing_net"]

_GREEN_M = 13.8  # ours: radius of a round green of 600 m2
_FROM_EDGE_M = 4.0 * YARD  # randa-hole-positions: no hole nearer the edge
_FURTHEST_M, _STEP_M = 80.0, 0.25  # ours: of the table
_HOLES, _WAYS = 40, 90  # ours: places of the hole and directions of a miss that stand for all
_SIZES, _TURNS = 48, 24  # ours: sizes and directions of error that stand for all
_WILDEST = 8.0  # ours: as in carrybook.outcomes.draws


def strokes_after(miss_m: Floats) -> Floats:
    """Strokes still to play for a ball that finished so far from its target.

    Parameters
    ----------
    miss_m : ndarray, shape (...)
        From target to finish; beyond 80 m the value at 80 m. [m]

    Returns
    -------
    strokes : ndarray, shape (...)
        [1]

    Notes
    -----
    The hole is anywhere on the green but within four paces of its edge, the miss in any direction:
    the share that stays on counts putts of a tour player on the level, the rest the tour baseline
    from rough at that distance.
    """
    table = _strokes_table()
    return np.interp(miss_m, _STEP_M * np.arange(len(table)), table)


def misses(target_m: float, scatter: Scatter, *, side: bool = True) -> Floats:
    """Misses that stand for all misses of a player who scatters so, equally likely.

    Parameters
    ----------
    target_m : float
        Distance of the target. [m]
    scatter : Scatter
        The player's scatter around it.
    side : bool, default True
        Whether the side counts; else the error of carry alone.

    Returns
    -------
    misses : ndarray, shape (n,)
        [m]
    """
    depth, aside = swing_net()
    along = target_m * (np.exp(scatter.spread / HALF_WIDTH_68 * depth) - 1.0)
    across = target_m * scatter.side_rad / HALF_WIDTH_68 * aside if side else 0.0
    return np.hypot(along, across)


def expected_strokes(target_m: float, scatter: Scatter, *, side: bool = True) -> float:
    """Strokes to hole out from a distance for a player who scatters so; arguments as `misses`."""
    return 1.0 + float(strokes_after(misses(target_m, scatter, side=side)).mean())


def expected_miss(target_m: float, scatter: Scatter, *, side: bool = True) -> float:
    """Mean miss over the distance of the target; arguments as `misses`. [1]"""
    return float(misses(target_m, scatter, side=side).mean()) / target_m


@cache
def swing_net() -> tuple[Floats, Floats]:
    """Errors in depth and side that stand for all, in scales of a t with four degrees of freedom.

    Notes
    -----
    Both are wild together, as everywhere here. The length r of such a pair is longer than r with
    chance (1 + r^2 / v)^(-v/2), v degrees of freedom: middle quantiles of that, in even turns.
    """
    nu = DEGREES_OF_FREEDOM
    beyond = 1.0 - (np.arange(_SIZES) + 0.5) / _SIZES
    size = np.minimum(np.sqrt(nu * (beyond ** (-2.0 / nu) - 1.0)), _WILDEST)
    turn = 2.0 * np.pi * (np.arange(_TURNS) + 0.5) / _TURNS
    return np.outer(size, np.cos(turn)).ravel(), np.outer(size, np.sin(turn)).ravel()


@cache
def _strokes_table() -> Floats:
    miss = np.arange(0.0, _FURTHEST_M + _STEP_M, _STEP_M)
    stays = _share_on_green(miss)
    off = strokes_from(Lie.LIGHT_ROUGH, miss)
    return np.asarray(stays * expected_putts(miss) + (1.0 - stays) * off)


def _share_on_green(miss_m: Floats) -> Floats:
    """Share of misses of each length that stay on: over places of the hole, in all directions."""
    holes = (_GREEN_M - _FROM_EDGE_M) * np.sqrt((np.arange(_HOLES) + 0.5) / _HOLES)
    turns = np.cos(np.pi * (np.arange(_WAYS) + 0.5) / _WAYS)
    away = holes[:, None] ** 2 + miss_m[:, None, None] ** 2
    away = away + 2.0 * miss_m[:, None, None] * holes[:, None] * turns
    return np.asarray((away <= _GREEN_M**2).mean(axis=(1, 2)))
