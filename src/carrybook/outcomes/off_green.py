"""What a ball costs that lies off the green, by the surface it lies on."""

from collections.abc import Callable

import numpy as np

from carrybook.base.numerics import Floats, Ints
from carrybook.outcomes.baseline import strokes_from
from carrybook.world.ground import Surface
from carrybook.world.lie import Lie

__all__ = ["FROM_FRINGE", "LIE_ON", "strokes_off_green"]

FROM_FRINGE = 0.05  # strokes over a putt of that length; ours (judgement)
LIE_ON = {
    Surface.FAIRWAY: Lie.FAIRWAY,
    Surface.ROUGH: Lie.LIGHT_ROUGH,
    Surface.BUNKER: Lie.SAND,
    Surface.PATH: Lie.FAIRWAY,  # free relief, simplified to a fairway lie
}


def strokes_off_green(
    surface: Ints, distance_m: Floats, from_lie: Callable[[Lie, Floats], Floats] = strokes_from
) -> Floats:
    """Strokes to hole out for a ball that is off the green.

    Parameters
    ----------
    surface : ndarray of int64, shape (...)
        :class:`carrybook.world.ground.Surface` of where it lies.
    distance_m : ndarray, shape (...)
        To the hole. [m]
    from_lie : callable
        Strokes from a lie and distances; a tour player's where none is given.

    Returns
    -------
    strokes : ndarray, shape (...)
        nan on green and fringe. Water and out of bounds: one penalty stroke more than rough, from
        where the ball is (ours: a putt seldom goes further than the edge). [1]
    """
    strokes = np.full(np.shape(distance_m), np.nan)
    for kind, lie in LIE_ON.items():
        on = surface == kind
        strokes[on] = from_lie(lie, distance_m[on])
    lost = (surface == Surface.WATER) | (surface == Surface.OUT_OF_BOUNDS)
    strokes[lost] = 1.0 + from_lie(Lie.LIGHT_ROUGH, distance_m[lost])
    return strokes
