"""Chance, drawn once and shared: every candidate meets the same swings, gusts and bounces."""

from dataclasses import dataclass, fields

import numpy as np

from carrybook.base.numerics import Floats
from carrybook.player.robust import DEGREES_OF_FREEDOM

__all__ = ["Draws", "draw"]

_WILDEST = 8.0  # ours: a swing further out than eight scales is not a shot any more


@dataclass(frozen=True, slots=True)
class Draws:
    """Standard numbers of `n` shots; what they mean is said in :mod:`carrybook.outcomes.simulate`.

    Parameters
    ----------
    carry, side : ndarray, shape (n,)
        Student t with four degrees of freedom, a wild swing wild in both; independent otherwise.
    centre, launch, spin, curve, lie_spin, lie_speed, lift : ndarray, shape (n,)
        Standard normal: the player's true centre, scatter of launch and spin, the true curve, what
        the lie does, what nobody knows of lift where it may reverse.
    gust, veer, wind, bearing : ndarray, shape (n,)
        Standard normal: turbulence of speed and direction, error of the judged mean of both.
    firmness, tilt, restitution, friction, stimp, cup : ndarray, shape (n,)
        Standard normal: the green.
    band : ndarray, shape (n,)
        Even from 0 to 1: which set of lift and drag is true, by the weights the log gives them.
    """

    carry: Floats
    side: Floats
    centre: Floats
    launch: Floats
    spin: Floats
    curve: Floats
    lie_spin: Floats
    lie_speed: Floats
    lift: Floats
    gust: Floats
    veer: Floats
    wind: Floats
    bearing: Floats
    firmness: Floats
    tilt: Floats
    restitution: Floats
    friction: Floats
    stimp: Floats
    cup: Floats
    band: Floats

    def __len__(self) -> int:
        """Number of shots."""
        return len(self.band)


def draw(rng: np.random.Generator, count: int) -> Draws:
    """Draw the chance of `count` shots.

    Parameters
    ----------
    rng : numpy.random.Generator
        Where chance comes from.
    count : int
        How many.
    """
    normal = rng.standard_normal((19, count))
    wild = np.sqrt(DEGREES_OF_FREEDOM / rng.chisquare(DEGREES_OF_FREEDOM, count))
    swings = np.clip(normal[:2] * wild, -_WILDEST, _WILDEST)
    band = rng.random(count)
    names = [f.name for f in fields(Draws)][2:-1]
    return Draws(swings[0], swings[1], **dict(zip(names, normal[2:], strict=True)), band=band)
