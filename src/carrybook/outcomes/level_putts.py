"""Putts on the level by distance: where a putting map starts, and what it adds its slopes to."""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from carrybook.base.numerics import Floats
from carrybook.outcomes.putt_solve import Guess, Nets, best_aims, lookup, roll_nets
from carrybook.outcomes.putter import Putter
from carrybook.world.ground import flat_ground

__all__ = ["TABLE_STEP", "LevelPutts", "level_putts"]

TABLE_STEP = 0.05  # m
_FURTHEST = 60.0  # m
_DISTANCES = np.concatenate([[0.05], np.geomspace(0.15, _FURTHEST, 64)])  # ours
_ROUNDS = 8  # of putts worked out from putts; the last change is below 1e-4


@dataclass(frozen=True, slots=True)
class LevelPutts:
    """Tables by distance on the level, every :data:`TABLE_STEP`.

    Parameters
    ----------
    putts : ndarray, shape (n,)
        Expected putts. [1]
    make : ndarray, shape (n,)
        Chance of holing. [1]
    past : ndarray, shape (n,)
        How far past the hole the best pace would finish. [m]
    """

    putts: Floats
    make: Floats
    past: Floats

    def at(self, table: Floats, distance_m: Floats) -> Floats:
        """Read one of the tables."""
        return np.interp(distance_m, TABLE_STEP * np.arange(len(table)), table)


@lru_cache(maxsize=8)
def level_putts(putter: Putter, stimp_m: float) -> LevelPutts:
    """Work out the tables.

    Parameters
    ----------
    putter : Putter
        Who putts.
    stimp_m : float
        Green speed. [m]

    Returns
    -------
    level : LevelPutts
        Beyond 60 m the value at 60 m.
    """
    x = -_DISTANCES
    guess = Guess.straight(x)
    ground = flat_ground(extent_m=200.0, step=4.0)
    nets = roll_nets(ground, (0.0, 0.0), stimp_m, putter, x, np.zeros_like(x), guess)
    fine = np.linspace(0.0, _FURTHEST, round(_FURTHEST / TABLE_STEP) + 1)
    putts = 1.0 + np.minimum(fine / 12.0, 1.0)
    for _ in range(_ROUNDS):
        aims = best_aims(nets, _values(nets, putts))
        putts = _through(aims.putts, 1.0, fine)
    past = aims.reach - _DISTANCES
    return LevelPutts(
        putts, np.clip(_through(aims.make, 1.0, fine), 0.0, 1.0), _through(past, past[0], fine)
    )


def _values(nets: Nets, putts: Floats) -> Floats:
    return lookup(nets.stop_x, nets.stop_y, (0.0, 0.0), putts, TABLE_STEP)


def _through(values: Floats, at_hole: float, fine: Floats) -> Floats:
    """A smooth table through the solved distances."""
    from scipy.interpolate import PchipInterpolator

    knots, known = np.concatenate([[0.0], _DISTANCES]), np.concatenate([[at_hole], values])
    return np.asarray(PchipInterpolator(knots, known)(fine))
