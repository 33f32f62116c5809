"""What a ball costs that ends near a hole: read off a map, for any distance to it.

On level ground a shot ends where it ends, however far away the hole is. So every shot is played
once, and what it leaves is read off a map that is moved to each distance that is asked about. A
ball that lands on green ends as on green; one in sand or water stays; any other ends as on fairway.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from carrybook.base.constants import FOOT, YARD
from carrybook.base.errors import require_range
from carrybook.base.numerics import Flags, Floats, Ints, in_parts, kernel
from carrybook.outcomes.level_putts import level_putts
from carrybook.outcomes.off_green import FROM_FRINGE, strokes_off_green
from carrybook.outcomes.putter import TOUR_PUTTER
from carrybook.outcomes.putting_map import kept_map, surface_of
from carrybook.world.ground import Surface
from carrybook.world.hole import Hole, HoleLocation

__all__ = [
    "GREEN_RADIUS", "Ends", "ValueMap", "ends_read", "hole_values", "invented_green",
    "strokes_left",
]  # fmt: skip

# Ours: a round green of 600 m2, about what is usual, with its fringe, fairway before it and light
# rough elsewhere; and how far around it the map reaches.
GREEN_RADIUS = 15.0 * YARD
_FRINGE = 1.5 * YARD
_STEP = 0.3
_BEFORE, _BEHIND, _BESIDE = -80.0, 50.0, 45.0
_USUAL = 2.8  # strokes from about 100 yd of fairway, broadie-2014, for a ball to be played again
_STAYS = (Surface.BUNKER, Surface.WATER, Surface.OUT_OF_BOUNDS)


@dataclass(frozen=True, slots=True, eq=False)
class ValueMap:
    """Strokes to hole out from every point around a hole that stands at the origin.

    Two are alike only where they are one and the same.

    Parameters
    ----------
    x0, y0, step : float
        Position of the first node and distance between nodes. [m]
    strokes : ndarray, shape (nx, ny)
        Expected strokes from each node, x away from the player. [1]
    takes : ndarray of int64, shape (nx, ny)
        How a ball ends that lands there: 0 as on fairway, 1 as on green, 2 where it lands.
    """

    x0: float
    y0: float
    step: float
    strokes: Floats
    takes: Ints


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
    return ValueMap(_BEFORE, -_BESIDE, _STEP, strokes, fringe.astype(np.int64))


def hole_values(hole: Hole, location: HoleLocation, *, stimp_m: float = 10.0 * FOOT) -> ValueMap:
    """Make the map of a real hole, seen along its line of approach.

    Parameters
    ----------
    hole : Hole
        Its ground and surfaces.
    location : HoleLocation
        Where the hole is cut.
    stimp_m : float
        Green speed. [m]

    Notes
    -----
    Putts with the slopes of the green, a tour player's averages elsewhere; water costs a stroke and
    a drop in rough as far away, out of bounds a stroke and one more from a usual distance. What
    lands in sand, water or out of bounds stays there. Slopes do not turn the roll (ours).
    """
    x = location.x + np.arange(_BEFORE, _BEHIND, _STEP)
    y = location.y + np.arange(-_BESIDE, _BESIDE, _STEP)
    px, py = np.meshgrid(x, y, indexing="ij")
    surface, away = surface_of(hole.ground, px, py), np.hypot(px - location.x, py - location.y)
    putting = (surface == Surface.GREEN) | (surface == Surface.FRINGE)
    chart = kept_map(hole.ground, (location.x, location.y), stimp_m=stimp_m)
    strokes = strokes_off_green(surface, away)
    strokes[putting] = chart.putts_at(px[putting], py[putting])
    strokes[surface == Surface.OUT_OF_BOUNDS] = 1.0 + _USUAL
    takes = np.where(np.isin(surface, _STAYS), 2, putting)
    return ValueMap(_BEFORE, -_BESIDE, _STEP, strokes, takes.astype(np.int64))


def strokes_left(
    ends: Ends,
    rows: Ints,
    distances_m: Floats,
    maps: Sequence[ValueMap],
    asides_m: Floats | None = None,
    *,
    draws: int | None = None,
) -> Floats:
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
    asides_m : ndarray, shape (k,), optional
        How far left of the hole each is aimed; at it if not given. [m]
    draws : int, optional
        Only the first so many draws.

    Returns
    -------
    strokes : ndarray, shape (k, n)
        Under every draw, averaged over the maps. [1]
    """
    strokes, takes = _layers(tuple(maps))
    aside = np.zeros(len(rows)) if asides_m is None else asides_m
    net, out = maps[0], np.empty((len(rows), draws or ends.land.shape[1]))
    distances = np.ascontiguousarray(distances_m, dtype=np.float64)

    def read(first: int, last: int) -> None:
        value_kernel(
            first, last, rows, distances, aside, ends.land, ends.green, ends.other, strokes, takes,
            net.x0, net.y0, net.step, out,
        )  # fmt: skip

    in_parts(read, len(rows), least=64)
    return out


def ends_read(
    land: Floats,
    rows: Ints,
    distances_m: Floats,
    maps: Sequence[ValueMap],
    asides_m: Floats,
    found: tuple[Flags, Flags],
    *,
    draws: tuple[int, int],
) -> None:
    """Mark which ends :func:`strokes_left` reads.

    Parameters
    ----------
    land : ndarray, shape (rows, n, 2)
        First touch of the balls of each shot. [m]
    rows, distances_m, maps, asides_m
        As for :func:`strokes_left`.
    found : tuple of ndarray of bool, shape (rows, n)
        True is put where the end on green is read, and where that on fairway is.
    draws : tuple of int
        The first draw that is looked at, and the one after the last.
    """
    _, takes = _layers(tuple(maps))
    net = maps[0]
    reads_kernel(
        *draws, rows, np.ascontiguousarray(distances_m, dtype=np.float64), asides_m, land, takes,
        net.x0, net.y0, net.step, *found,
    )  # fmt: skip


@lru_cache(maxsize=8)
def _layers(maps: tuple[ValueMap, ...]) -> tuple[Floats, Ints]:
    """Strokes and takes of maps one upon the other, shape (maps, nx, ny); those of one as it is."""
    if len(maps) == 1:
        return maps[0].strokes[None], maps[0].takes[None]
    return np.array([m.strokes for m in maps]), np.array([m.takes for m in maps])


@kernel
def reads_kernel(
    first: int,
    last: int,
    rows: Ints,
    distances: Floats,
    asides: Floats,
    land: Floats,
    takes: Ints,
    x0: float,
    y0: float,
    step: float,
    on_green: Flags,
    elsewhere: Flags,
) -> None:
    """Mark the ends that `value_kernel` reads under draws first..last."""
    count, nx, ny = takes.shape
    for k in range(len(rows)):
        row, away, beside = rows[k], distances[k] + x0, y0 - asides[k]
        for n in range(first, last):
            if on_green[row, n] and elsewhere[row, n]:
                continue
            i = min(max(int((land[row, n, 0] - away) / step + 0.5), 0), nx - 1)
            j = min(max(int((land[row, n, 1] - beside) / step + 0.5), 0), ny - 1)
            for m in range(count):
                if takes[m, i, j] == 1:
                    on_green[row, n] = True
                elif takes[m, i, j] != 2:
                    elsewhere[row, n] = True


@kernel
def value_kernel(
    first: int,
    last: int,
    rows: Ints,
    distances: Floats,
    asides: Floats,
    land: Floats,
    on_green: Floats,
    elsewhere: Floats,
    strokes: Floats,
    takes: Ints,
    x0: float,
    y0: float,
    step: float,
    out: Floats,
) -> None:
    """Fill rows first..last of `out`, shape (k, n): one stroke and what is left, over all maps."""
    count, nx, ny = strokes.shape
    for k in range(first, last):
        row, away, beside = rows[k], distances[k] + x0, y0 - asides[k]
        for n in range(out.shape[1]):
            i = min(max(int((land[row, n, 0] - away) / step + 0.5), 0), nx - 1)
            j = min(max(int((land[row, n, 1] - beside) / step + 0.5), 0), ny - 1)
            gi = min(max(int((on_green[row, n, 0] - away) / step + 0.5), 0), nx - 1)
            gj = min(max(int((on_green[row, n, 1] - beside) / step + 0.5), 0), ny - 1)
            oi = min(max(int((elsewhere[row, n, 0] - away) / step + 0.5), 0), nx - 1)
            oj = min(max(int((elsewhere[row, n, 1] - beside) / step + 0.5), 0), ny - 1)
            total = 0.0
            for m in range(count):
                if takes[m, i, j] == 1:
                    total += strokes[m, gi, gj]
                elif takes[m, i, j] == 2:
                    total += strokes[m, i, j]
                else:
                    total += strokes[m, oi, oj]
            out[k, n] = 1.0 + total / count
