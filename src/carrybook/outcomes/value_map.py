"""What a ball costs that ends near an invented hole: read off a map, for any distance to it.

On level ground a shot ends where it ends, however far away the hole is. So every shot is played
once, and what it leaves is read off a map that is moved to each distance that is asked about. A
ball that lands on the green ends as on green; any other ends as on fairway.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from carrybook.base.constants import FOOT, YARD
from carrybook.base.errors import require_range
from carrybook.base.numerics import Flags, Floats, Ints, in_parts, kernel
from carrybook.outcomes.level_putts import level_putts
from carrybook.outcomes.off_green import FROM_FRINGE, strokes_off_green
from carrybook.outcomes.putter import TOUR_PUTTER
from carrybook.world.ground import Surface

__all__ = ["Ends", "ValueMap", "invented_green", "strokes_left"]

# Ours: a round green of 600 m2, about what is usual, with its fringe, fairway before it and light
# rough elsewhere; and how far around it the map reaches.
GREEN_RADIUS = 15.0 * YARD
_FRINGE = 1.5 * YARD
_STEP = 0.3
_BEFORE, _BEHIND, _BESIDE = -80.0, 50.0, 45.0


@dataclass(frozen=True, slots=True)
class ValueMap:
    """Strokes to hole out from every point around a hole that stands at the origin.

    Parameters
    ----------
    x0, y0, step : float
        Position of the first node and distance between nodes. [m]
    strokes : ndarray, shape (nx, ny)
        Expected strokes from each node, x away from the player. [1]
    green : ndarray of bool, shape (nx, ny)
        Nodes on green and fringe: a ball that lands there ends as on green.
    """

    x0: float
    y0: float
    step: float
    strokes: Floats
    green: Flags


@dataclass(frozen=True, slots=True)
class Ends:
    """Where balls of many shots touch down and end, the ball at the origin. [m]

    Parameters
    ----------
    land, green, other : ndarray, shape (rows, n, 2)
        First touch; end where that was on green; end where it was on fairway.
    """

    land: Floats
    green: Floats
    other: Floats


def invented_green(
    hole_on_m: float = 0.0, *, stimp_m: float = 10.0 * FOOT, radius_m: float = GREEN_RADIUS
) -> ValueMap:
    """Make the map of a level round green.

    Parameters
    ----------
    hole_on_m : float
        How far behind the middle of the green the hole is cut. [m]
    stimp_m : float
        Green speed. [m]
    radius_m : float
        Of the green, 5 to 30. [m]

    Raises
    ------
    OutOfRangeError
        A radius outside its range, or a hole that is not on the green.

    Notes
    -----
    Putts of a tour player on the level, and a tour player's averages off the green.
    """
    require_range("radius of the green", radius_m, 5.0, 30.0, "m")
    require_range("hole behind the middle", hole_on_m, -0.9 * radius_m, 0.9 * radius_m, "m")
    x = np.arange(_BEFORE, _BEHIND, _STEP)[:, None]
    y = np.arange(-_BESIDE, _BESIDE, _STEP)[None, :]
    away, out = np.hypot(x, y), np.hypot(x + hole_on_m, y)
    front = (np.abs(y) < radius_m) & (x + hole_on_m < 0.0)
    surface = np.where(front, int(Surface.FAIRWAY), int(Surface.ROUGH))
    level = level_putts(TOUR_PUTTER, stimp_m)
    putts = level.at(level.putts, away)
    fringe, green = out <= radius_m + _FRINGE, out <= radius_m
    off = strokes_off_green(surface, away)
    strokes = np.where(green, putts, np.where(fringe, putts + FROM_FRINGE, off))
    return ValueMap(_BEFORE, -_BESIDE, _STEP, strokes, fringe)


def strokes_left(ends: Ends, rows: Ints, distances_m: Floats, maps: Sequence[ValueMap]) -> Floats:
    """Read what shots cost from distances, the stroke itself included.

    Parameters
    ----------
    ends : Ends
        Where the balls of each shot end.
    rows : ndarray of int64, shape (k,)
        Which of them.
    distances_m : ndarray, shape (k,)
        From how far each is played. [m]
    maps : sequence of ValueMap
        Alike in size; each counts as often as the others.

    Returns
    -------
    strokes : ndarray, shape (k, n)
        Under every draw, averaged over the maps. [1]
    """
    strokes = np.array([m.strokes for m in maps])
    green = np.array([m.green for m in maps])
    net, out = maps[0], np.empty((len(rows), ends.land.shape[1]))
    distances = np.ascontiguousarray(distances_m, dtype=np.float64)

    def read(first: int, last: int) -> None:
        value_kernel(
            first, last, rows, distances, ends.land, ends.green, ends.other, strokes, green,
            net.x0, net.y0, net.step, out,
        )  # fmt: skip

    in_parts(read, len(rows), least=64)
    return out


@kernel
def value_kernel(
    first: int,
    last: int,
    rows: Ints,
    distances: Floats,
    land: Floats,
    on_green: Floats,
    elsewhere: Floats,
    strokes: Floats,
    green: Flags,
    x0: float,
    y0: float,
    step: float,
    out: Floats,
) -> None:
    """Fill rows first..last of `out`, shape (k, n): one stroke and what is left, over all maps."""
    count, nx, ny = strokes.shape
    for k in range(first, last):
        row, away = rows[k], distances[k] + x0
        for n in range(out.shape[1]):
            i = min(max(int((land[row, n, 0] - away) / step + 0.5), 0), nx - 1)
            j = min(max(int((land[row, n, 1] - y0) / step + 0.5), 0), ny - 1)
            gi = min(max(int((on_green[row, n, 0] - away) / step + 0.5), 0), nx - 1)
            gj = min(max(int((on_green[row, n, 1] - y0) / step + 0.5), 0), ny - 1)
            oi = min(max(int((elsewhere[row, n, 0] - away) / step + 0.5), 0), nx - 1)
            oj = min(max(int((elsewhere[row, n, 1] - y0) / step + 0.5), 0), ny - 1)
            total = 0.0
            for m in range(count):
                if green[m, i, j]:
                    total += strokes[m, gi, gj]
                else:
                    total += strokes[m, oi, oj]
            out[k, n] = 1.0 + total / count
