"""What a finish costs: expected strokes to hole out from where each ball ended."""

from dataclasses import dataclass

import numpy as np

from carrybook.base.numerics import Flags, Floats, Ints
from carrybook.outcomes.baseline import strokes_from
from carrybook.outcomes.off_green import FROM_FRINGE, LIE_ON
from carrybook.outcomes.putting import TOUR, PuttingSkill, expected_putts, make_probability
from carrybook.outcomes.putting_map import PuttingMap
from carrybook.physics.shot import End
from carrybook.world.ground import Ground, Surface
from carrybook.world.lie import Lie

__all__ = ["Finish", "finish_of"]


@dataclass(frozen=True, slots=True)
class Finish:
    """Where balls finished and what that costs.

    Parameters
    ----------
    strokes : ndarray, shape (...)
        Expected strokes to hole out, this one included. [1]
    surface : ndarray of int64, shape (...)
        :class:`carrybook.world.ground.Surface` of the finish.
    distance : ndarray, shape (...)
        From the finish to the hole; from the water's edge for a ball in water. [m]
    holed : ndarray of bool, shape (...)
        In the hole.
    make : ndarray, shape (...)
        Chance of holing the next stroke; off green and fringe taken as none. [1]
    """

    strokes: Floats
    surface: Ints
    distance: Floats
    holed: Flags
    make: Floats

    def at_most(self, strokes: int) -> Floats:
        """Chance of holing out in so many strokes at most, this one included, shape (...).

        Parameters
        ----------
        strokes : int
            1 or more.

        Notes
        -----
        From what is expected and the chance of the next stroke: nobody is taken to need more than
        three putts, or more than one stroke over a baseline's whole part from elsewhere.
        """
        left = strokes - 1
        if left == 0:
            return self.holed.astype(np.float64)
        if left == 1:
            return np.where(self.holed, 1.0, self.make)
        first = self.make if left == 2 else 0.0
        return np.clip(1.0 - (self.strokes - 1.0 - left + first), 0.0, 1.0)


def finish_of(
    ends: Floats,
    ground: Ground,
    hole: tuple[float, float],
    *,
    again: float,
    skill: PuttingSkill = TOUR,
    chart: PuttingMap | None = None,
) -> Finish:
    """Value the ends of many shots.

    Parameters
    ----------
    ends : ndarray, shape (..., 9)
        Columns :data:`carrybook.physics.shot.END_ROW`.
    ground : Ground
        Height and surface.
    hole : tuple of float
        Where the hole is cut. [m]
    again : float
        Expected strokes from where the ball lay, for a ball that must be played again. [1]
    skill : PuttingSkill
        Who putts, where there is no map.
    chart : PuttingMap, optional
        Putts from every point of this green to this hole, its slopes included.

    Notes
    -----
    Green: putts by the map, or else by distance alone. Elsewhere: the tour baseline. Water: one
    penalty stroke and a drop in rough at the point where it last crossed the edge. Out of bounds,
    or never seen to land: stroke and distance.
    """
    code = ends[..., 2].astype(np.int64)
    x, y = ends[..., 0].copy(), ends[..., 1].copy()
    surface = _surface(ground, x, y)
    wet = code == End.WATER
    surface = np.where(wet, int(Surface.WATER), surface)
    edge_x, edge_y = _edge_of_water(ends[wet], ground)
    x[wet], y[wet] = edge_x, edge_y
    distance = np.hypot(x - hole[0], y - hole[1])
    strokes, make = np.ones_like(distance), np.zeros_like(distance)
    putting = (surface == Surface.GREEN) | (surface == Surface.FRINGE)
    if chart is None:
        make[putting] = make_probability(distance[putting], skill)
        on = surface == Surface.GREEN
        strokes[on] += expected_putts(distance[on], skill)
        on = surface == Surface.FRINGE
        strokes[on] += expected_putts(distance[on], skill) + FROM_FRINGE
    else:
        make[putting] = chart.make_at(x[putting], y[putting])
        strokes[putting] += chart.putts_at(x[putting], y[putting])
    for kind, lie in LIE_ON.items():
        on = surface == kind
        strokes[on] += strokes_from(lie, distance[on])
    strokes[wet] += 1.0 + strokes_from(Lie.LIGHT_ROUGH, distance[wet])
    lost = (surface == Surface.OUT_OF_BOUNDS) & ~wet | (code == End.ALOFT)
    strokes[lost] = 2.0 + again
    holed = code == End.HOLED
    strokes[holed] = 1.0
    return Finish(strokes, surface, np.where(holed, 0.0, distance), holed, make)


def _surface(ground: Ground, x: Floats, y: Floats) -> Ints:
    i = np.clip(np.floor((x - ground.x0) / ground.step + 0.5), 0, ground.surfaces.shape[0] - 1)
    j = np.clip(np.floor((y - ground.y0) / ground.step + 0.5), 0, ground.surfaces.shape[1] - 1)
    return ground.surfaces[i.astype(np.int64), j.astype(np.int64)]


def _edge_of_water(ends: Floats, ground: Ground) -> tuple[Floats, Floats]:
    """Where each ball last crossed the edge: back from the splash toward its last dry point."""
    share = np.linspace(0.0, 1.0, 401)
    x = ends[:, 0:1] + share * (ends[:, 6:7] - ends[:, 0:1])
    y = ends[:, 1:2] + share * (ends[:, 7:8] - ends[:, 1:2])
    dry = _surface(ground, x, y) != Surface.WATER
    first = np.argmax(dry, axis=1)
    rows = np.arange(len(ends))
    return x[rows, first], y[rows, first]
