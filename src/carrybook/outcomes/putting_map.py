"""Expected putts, chance of holing and best aim from every point of a green, for one hole location.

A few hundred putts are rolled back in time from the hole, which tells every point roughly where and
how hard to aim; around that, a net of putts is rolled forward from each point to rest. Everything
after that is arithmetic: the chance of holing, where misses stop, and the aim with the fewest putts
given what is left from there, until nothing changes. docs/putting.md says how well this holds.
"""

from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from carrybook.base.constants import HOLE_RADIUS
from carrybook.base.errors import BadInputError
from carrybook.base.numerics import Flags, Floats, Ints
from carrybook.outcomes.level_putts import TABLE_STEP, LevelPutts, level_putts
from carrybook.outcomes.off_green import FROM_FRINGE, strokes_off_green
from carrybook.outcomes.putt_solve import (
    MIDDLE_ENTRY,
    Aims,
    Guess,
    Nets,
    best_aims,
    lookup,
    roll_nets,
)
from carrybook.outcomes.putter import TOUR_PUTTER, Putter
from carrybook.physics.putt import back_kernel, resistance_row, roll_numbers
from carrybook.world.ground import Ground, Surface

__all__ = [
    "KEPT_WITHIN",
    "PuttingMap",
    "Solved",
    "build_map",
    "kept_map",
    "solve_points",
    "surface_of",
]

COARSE_STEP = 1.0  # m; within 0.005 strokes of 0.5 m over the finishes of a choice, docs/putting.md
_MARGIN = 4.0  # m beyond the green
_FURTHEST = 60.0  # m; nobody putts from further
KEPT_WITHIN = 25.0  # m; ours: few approaches finish further away on the green
_LINES = 720  # rolled back from the hole
_ENTRIES = (MIDDLE_ENTRY, 0.6, 1.2)  # m2/s2; faster ones where the slope lets nothing arrive slowly
_BEYOND = 1.5  # of the distance that is mapped; ours: from further back no roll comes in again
_ROUNDS = 2  # of aims chosen anew; ours, a third changes putts by less than 0.001


@dataclass(frozen=True, slots=True)
class PuttingMap:
    """Putts from every node of a green to one hole.

    All arrays are (nx, ny), x along the first axis, nan where `solved` is false.

    Parameters
    ----------
    ground : Ground
        Height and surface.
    hole : tuple of float
        Where the hole is cut. [m]
    stimp_m : float
        Green speed. [m]
    putter : Putter
        Who putts.
    x0, y0, step : float
        Position of the first node, and distance between nodes. [m]
    solved : ndarray of bool
        Nodes on green and fringe.
    line_rad : ndarray
        Best start line, counter-clockwise from the x axis. [rad]
    reach_m : ndarray
        Best pace: how far the putt would roll on the level. [m]
    make : ndarray
        Chance of holing. [1]
    putts : ndarray
        Expected putts; from the fringe with the extra that it costs. [1]
    three : ndarray
        Chance of needing three putts or more. [1]
    level : LevelPutts
        The same by distance on the level.
    more_putts, more_make : ndarray
        What the slopes add to `level`, carried on beyond the green from its edge. [1]
    """

    ground: Ground
    hole: tuple[float, float]
    stimp_m: float
    putter: Putter
    x0: float
    y0: float
    step: float
    solved: Flags
    line_rad: Floats
    reach_m: Floats
    make: Floats
    putts: Floats
    three: Floats
    level: LevelPutts
    more_putts: Floats
    more_make: Floats

    def putts_at(self, x: Floats, y: Floats) -> Floats:
        """Expected putts from points on green or fringe, shape as given. [1]"""
        return self._read(x, y, self.level.putts, self.more_putts)

    def make_at(self, x: Floats, y: Floats) -> Floats:
        """Chance of holing from points on green or fringe, shape as given. [1]"""
        return np.clip(self._read(x, y, self.level.make, self.more_make), 0.0, 1.0)

    def _read(self, x: Floats, y: Floats, table: Floats, grid: Floats) -> Floats:
        corner = (self.x0, self.y0)
        return lookup(
            x, y, self.hole, table, TABLE_STEP, grid=grid, corner=corner, grid_step=self.step
        )


@dataclass(frozen=True, slots=True)
class Solved:
    """The best putts from some points, with the rolls they rest on.

    Parameters
    ----------
    nets : Nets
        The rolls.
    aims : Aims
        What to aim at.
    """

    nets: Nets
    aims: Aims


def build_map(
    ground: Ground,
    hole: tuple[float, float],
    *,
    stimp_m: float,
    putter: Putter = TOUR_PUTTER,
    step: float = 0.5,
    box: tuple[float, float, float, float] | None = None,
    within_m: float = _FURTHEST,
) -> PuttingMap:
    """Work out the best putt from every point of a green.

    Parameters
    ----------
    ground : Ground
        Height and surface.
    hole : tuple of float
        Where the hole is cut. [m]
    stimp_m : float
        Green speed. [m]
    putter : Putter
        Who putts.
    step : float, default 0.5
        Between the nodes. [m]
    box : tuple of float, optional
        Least x, least y, greatest x, greatest y of the nodes; else the green that holds the hole
        and 4 m around it. [m]
    within_m : float, default 60
        Distance from the hole beyond which slopes count as at the nearest node within it. [m]

    Raises
    ------
    BadInputError
        The hole is not on a green.
    OutOfRangeError
        A green speed outside its range.
    """
    if ground.surface_at(*hole) is not Surface.GREEN:
        raise BadInputError("the hole is not on a green")
    low_x, low_y, high_x, high_y = box or _box_of_green(ground, hole)
    nx, ny = (max(2, int(np.ceil(w / step)) + 1) for w in (high_x - low_x, high_y - low_y))
    x, y = np.meshgrid(low_x + step * np.arange(nx), low_y + step * np.arange(ny), indexing="ij")
    surface = surface_of(ground, x, y)
    solved = (surface == Surface.GREEN) | (surface == Surface.FRINGE)
    solved &= np.hypot(x - hole[0], y - hole[1]) < within_m
    guess = _rolled_back(ground, hole, stimp_m, (low_x, low_y), step, solved, within_m)
    nets = roll_nets(ground, hole, stimp_m, putter, x[solved], y[solved], guess)
    extra = np.where(surface[solved] == Surface.FRINGE, FROM_FRINGE, 0.0)
    empty = np.full(solved.shape, np.nan)
    level = level_putts(putter, stimp_m)
    start = PuttingMap(
        ground, hole, stimp_m, putter, low_x, low_y, step, solved, empty, empty, empty, empty,
        empty, level, np.zeros(solved.shape), np.zeros(solved.shape),
    )  # fmt: skip
    return _settle(start, nets, extra, np.hypot(x - hole[0], y - hole[1]))


@dataclass(frozen=True, eq=False)
class _Same:
    """A ground that equals itself only: arrays have no hash."""

    ground: Ground

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Same) and other.ground is self.ground

    def __hash__(self) -> int:
        return id(self.ground)


def kept_map(
    ground: Ground,
    hole: tuple[float, float],
    *,
    stimp_m: float,
    putter: Putter = TOUR_PUTTER,
    step: float = COARSE_STEP,
    within_m: float = KEPT_WITHIN,
) -> PuttingMap:
    """Give the map of :func:`build_map`, the last few kept; parameters as there.

    One that is kept already and goes further serves as well.
    """
    kept = _kept(_Same(ground), hole, stimp_m, putter, step)
    far = max((each for each in list(kept) if each >= within_m), default=within_m)
    if far not in kept:
        kept[far] = build_map(ground, hole, stimp_m=stimp_m, putter=putter, step=step, within_m=far)
    return kept[far]


@lru_cache(maxsize=8)
def _kept(
    _same: _Same, _hole: tuple[float, float], _stimp_m: float, _putter: Putter, _step: float
) -> dict[float, PuttingMap]:
    """Maps of one hole location by how far they go. [m]"""
    return {}


def solve_points(chart: PuttingMap, x: Floats, y: Floats) -> Solved:
    """Find the best putts from any points, with the map for what is left after a miss.

    Parameters
    ----------
    chart : PuttingMap
        The map of this hole location.
    x, y : ndarray, shape (n,)
        The points. [m]
    """
    from scipy.spatial import cKDTree

    at_x, at_y = (a[chart.solved] for a in _nodes(chart))
    nearest = cKDTree(np.column_stack([at_x, at_y])).query(np.column_stack([x, y]))[1]
    dx, dy = chart.hole[0] - at_x[nearest], chart.hole[1] - at_y[nearest]
    left = _turned(chart.line_rad[chart.solved][nearest] - np.arctan2(dy, dx))
    beyond = chart.reach_m[chart.solved][nearest] - np.hypot(dx, dy)
    guess = Guess(left, beyond, np.full(len(x), MIDDLE_ENTRY))
    nets = roll_nets(chart.ground, chart.hole, chart.stimp_m, chart.putter, x, y, guess)
    off = _off_green(chart, nets)
    return Solved(nets, best_aims(nets, _values(chart, nets, off)))


def surface_of(ground: Ground, x: Floats, y: Floats) -> Ints:
    """Surface under many points; beyond the net, the nearest square counts."""
    i = np.clip(np.floor((x - ground.x0) / ground.step + 0.5), 0, ground.surfaces.shape[0] - 1)
    j = np.clip(np.floor((y - ground.y0) / ground.step + 0.5), 0, ground.surfaces.shape[1] - 1)
    return ground.surfaces[i.astype(np.int64), j.astype(np.int64)]


def _box_of_green(ground: Ground, hole: tuple[float, float]) -> tuple[float, float, float, float]:
    """Bounds of the green that holds the hole, and a margin."""
    from scipy.ndimage import find_objects, label

    parts, _ = label(ground.surfaces == Surface.GREEN)
    i, j = (round((h - o) / ground.step) for h, o in zip(hole, (ground.x0, ground.y0), strict=True))
    across, along = find_objects(parts)[parts[i, j] - 1]
    low = ground.x0 + ground.step * across.start, ground.y0 + ground.step * along.start
    high = ground.x0 + ground.step * across.stop, ground.y0 + ground.step * along.stop
    reach = [
        (max(a, h - _FURTHEST), min(b, h + _FURTHEST))
        for a, b, h in zip(low, high, hole, strict=True)
    ]
    (low_x, high_x), (low_y, high_y) = reach
    return low_x - _MARGIN, low_y - _MARGIN, high_x + _MARGIN, high_y + _MARGIN


def _rolled_back(
    ground: Ground,
    hole: tuple[float, float],
    stimp_m: float,
    corner: tuple[float, float],
    step: float,
    solved: Flags,
    within_m: float,
) -> Guess:
    """Guess line and reach at every solved node from rolls back in time, or its neighbour's."""
    numbers, resistances = roll_numbers(stimp_m), resistance_row(stimp_m)
    left, beyond, entry = (np.full(solved.shape, np.nan) for _ in range(3))
    for energy in _ENTRIES:
        near, found = (
            np.full(solved.shape, 0.75 * step),
            (np.zeros(solved.shape), np.zeros(solved.shape)),
        )
        back_kernel(
            hole[0], hole[1], energy, _LINES, _BEYOND * within_m, numbers, resistances,
            ground.heights, ground.surfaces, ground.x0, ground.y0, ground.step,
            corner[0], corner[1], step, near, *found,
        )  # fmt: skip
        new = np.isnan(entry) & (near < 0.75 * step)
        left[new], beyond[new], entry[new] = found[0][new], found[1][new], energy
        if not np.isnan(entry[solved]).any():
            break
    known = ~np.isnan(entry)
    return Guess(*(_carried_on(values, known)[solved] for values in (left, beyond, entry)))


def _carried_on(values: Floats, known: Flags) -> Floats:
    """Give unknown nodes the value of the nearest known one."""
    from scipy.ndimage import distance_transform_edt

    if known.all():
        return values
    nearest = distance_transform_edt(~known, return_distances=False, return_indices=True)
    return np.asarray(values[tuple(nearest)])


def _settle(chart: PuttingMap, nets: Nets, extra: Floats, far: Floats) -> PuttingMap:
    """Choose aims, value misses by the map so far, and again until little changes."""
    level, solved, off = chart.level, chart.solved, _off_green(chart, nets)
    flat_putts = level.at(level.putts, far[solved])
    flat_make = level.at(level.make, far[solved])
    in_hole = far[solved] < HOLE_RADIUS  # no line leads from there
    for _ in range(_ROUNDS):
        aims = best_aims(nets, _values(chart, nets, off))
        aims.make[in_hole], aims.putts[in_hole], aims.missed[in_hole] = 1.0, 1.0, 0.0
        more_make = _spread(aims.make - flat_make, solved)
        putts = aims.putts
        for _ in range(4):  # the same aims, what is left after a miss anew
            more = _spread(putts + extra - flat_putts, solved)
            chart = replace(chart, more_putts=more, more_make=more_make)
            putts = 1.0 + (aims.missed * _values(chart, nets, off)).sum(axis=(1, 2))
    left = np.where(np.isnan(off), 1.0 - chart.make_at(nets.stop_x, nets.stop_y), 1.0)
    three = (aims.missed * left).sum(axis=(1, 2))
    found = (aims.line, aims.reach, aims.make, putts + extra, three)
    line, reach, make, putts, three = (_placed(values, solved) for values in found)
    return replace(chart, line_rad=line, reach_m=reach, make=make, putts=putts, three=three)


def _off_green(chart: PuttingMap, nets: Nets) -> Floats:
    """Strokes from where rolls stop that ran off the green; nan for the others."""
    far = np.hypot(nets.stop_x - chart.hole[0], nets.stop_y - chart.hole[1])
    return strokes_off_green(surface_of(chart.ground, nets.stop_x, nets.stop_y), far)


def _values(chart: PuttingMap, nets: Nets, off: Floats) -> Floats:
    return np.where(np.isnan(off), chart.putts_at(nets.stop_x, nets.stop_y), off)


def _spread(values: Floats, solved: Flags) -> Floats:
    return np.ascontiguousarray(_carried_on(_placed(values, solved), solved))


def _placed(values: Floats, solved: Flags) -> Floats:
    placed = np.full(solved.shape, np.nan)
    placed[solved] = values
    return placed


def _nodes(chart: PuttingMap) -> tuple[Floats, Floats]:
    nx, ny = chart.solved.shape
    x, y = chart.x0 + chart.step * np.arange(nx), chart.y0 + chart.step * np.arange(ny)
    return np.meshgrid(x, y, indexing="ij")


def _turned(angle: Floats) -> Floats:
    """An angle within half a turn either way."""
    return np.asarray(angle - 2.0 * np.pi * np.floor(angle / (2.0 * np.pi) + 0.5))
