"""From points to nets of rolls, from nets and values to aims: the kernels as functions."""

from dataclasses import dataclass

import numpy as np

from carrybook.base import constants as c
from carrybook.base.numerics import Floats, in_parts
from carrybook.outcomes.putt_aims import aim_kernel, strip_kernel, value_kernel
from carrybook.outcomes.putt_rolls import COLUMNS, ROWS, net_kernel
from carrybook.outcomes.putter import Putter
from carrybook.physics.cup import CENTRE_SPEED
from carrybook.physics.putt import capture_offsets, resistance_row, roll_numbers
from carrybook.world.ground import Ground

__all__ = ["MIDDLE_ENTRY", "Aims", "Guess", "Nets", "best_aims", "lookup", "roll_nets"]

MIDDLE_ENTRY = 0.2  # m2/s2; ours: energy at the hole where the search begins, 0.63 m/s
_SLOW_ENTRY = 0.05  # m2/s2; ours: slower than this, the last curl of a putt blurs its line
_PIECES = 16  # of the way from just there to too fast
# Ours: paces that are tried, as shares of that way; a little short of the hole is one of them.
_PACES = np.array([-0.15, -0.05, 0.02, 0.08, 0.15, 0.22, 0.30, 0.40, 0.50, 0.65, 0.80])
_RIM_SHARE = np.pi / 4.0  # mean of sqrt(R^2 - d^2) / R: how far before the centre the rim is met


@dataclass(frozen=True, slots=True)
class Guess:
    """Where the search for the line into the hole begins, one entry a point.

    Parameters
    ----------
    left : ndarray, shape (n,)
        Start line left of the straight line to the hole. [rad]
    beyond : ndarray, shape (n,)
        Reach less the distance to the hole. [m]
    entry : ndarray, shape (n,)
        Energy per mass at the hole that goes with them. [m2/s2]
    """

    left: Floats
    beyond: Floats
    entry: Floats

    @classmethod
    def straight(cls, like: Floats) -> "Guess":
        """Straight at the hole, as on the level."""
        return cls(np.zeros_like(like), np.full_like(like, 0.4), np.full_like(like, MIDDLE_ENTRY))


@dataclass(frozen=True, slots=True)
class Nets:
    """Rolls from n points, and the strip of putts that drop.

    Parameters
    ----------
    putter : Putter
        Whose errors the nets span.
    lines, reaches : ndarray, shape (n, COLUMNS), (n, ROWS)
        Start lines, counter-clockwise from the x axis [rad], and reaches [m], that were rolled.
    spread : ndarray, shape (n, 2)
        Error of the line with reading in it [rad], and what reading adds to that of the reach [m].
    stop_x, stop_y : ndarray, shape (n, ROWS, COLUMNS)
        Where they stop. [m]
    edges : ndarray, shape (n, k + 1)
        Reaches between which putts may drop, in equal pieces. [m]
    left, right : ndarray, shape (n, k)
        Start lines between which they do, by piece. [rad]
    """

    putter: Putter
    lines: Floats
    reaches: Floats
    spread: Floats
    stop_x: Floats
    stop_y: Floats
    edges: Floats
    left: Floats
    right: Floats


@dataclass(frozen=True, slots=True)
class Aims:
    """The best aim from n points.

    Parameters
    ----------
    line : ndarray, shape (n,)
        Start line, counter-clockwise from the x axis. [rad]
    reach : ndarray, shape (n,)
        How far it would roll on the level. [m]
    make : ndarray, shape (n,)
        Chance of holing. [1]
    putts : ndarray, shape (n,)
        Expected putts. [1]
    missed : ndarray, shape (n, ROWS, COLUMNS)
        Chance of each roll of the net, misses only. [1]
    """

    line: Floats
    reach: Floats
    make: Floats
    putts: Floats
    missed: Floats


def roll_nets(
    ground: Ground,
    hole: tuple[float, float],
    stimp_m: float,
    putter: Putter,
    x: Floats,
    y: Floats,
    guess: Guess,
) -> Nets:
    """Roll a net of putts from every point.

    Parameters
    ----------
    ground : Ground
        Height and surface.
    hole : tuple of float
        Where the hole is cut. [m]
    stimp_m : float
        Green speed. [m]
    putter : Putter
        How wide the nets are.
    x, y : ndarray, shape (n,)
        The points. [m]
    guess : Guess
        Where each search begins.
    """
    n, numbers, errors = len(x), roll_numbers(stimp_m), putter.row()
    resistances, captures = resistance_row(stimp_m), capture_offsets()
    rim = _RIM_SHARE * c.HOLE_RADIUS * numbers[4]
    drop = np.array([-rim, 0.5 * CENTRE_SPEED**2, _SLOW_ENTRY])
    lines, reaches, spread = np.empty((n, COLUMNS)), np.empty((n, ROWS)), np.empty((n, 2))
    offsets, energies, stop_x, stop_y = (np.empty((n, ROWS, COLUMNS)) for _ in range(4))
    edges, left, right = np.empty((n, _PIECES + 1)), np.empty((n, _PIECES)), np.empty((n, _PIECES))

    def work(first: int, last: int) -> None:
        net_kernel(
            first, last, x, y, guess.left, guess.beyond, guess.entry, hole[0], hole[1], numbers,
            resistances, ground.heights, ground.surfaces, ground.x0, ground.y0, ground.step,
            errors, drop, lines, reaches, spread, offsets, energies, stop_x, stop_y,
        )  # fmt: skip
        strip_kernel(
            first, last, lines, reaches, offsets, energies, drop, captures, edges, left, right
        )

    in_parts(work, n, least=16)
    return Nets(putter, lines, reaches, spread, stop_x, stop_y, edges, left, right)


def best_aims(nets: Nets, values: Floats) -> Aims:
    """Find the aim with the fewest expected putts from every point.

    Parameters
    ----------
    nets : Nets
        The rolls.
    values : ndarray, shape (n, ROWS, COLUMNS)
        Putts still needed from where each roll stops. [1]
    """
    n, errors = len(nets.lines), nets.putter.row()
    aims, missed = np.empty((n, 4)), np.empty((n, ROWS, COLUMNS))

    def work(first: int, last: int) -> None:
        aim_kernel(
            first, last, errors, nets.spread, nets.lines, nets.reaches, nets.edges, nets.left,
            nets.right, values, _PACES, aims, missed,
        )  # fmt: skip

    in_parts(work, n, least=16)
    line, reach, make, putts = (np.ascontiguousarray(column) for column in aims.T)
    return Aims(line, reach, make, putts, missed)


def lookup(
    x: Floats,
    y: Floats,
    hole: tuple[float, float],
    table: Floats,
    table_step: float,
    *,
    grid: Floats | None = None,
    corner: tuple[float, float] = (0.0, 0.0),
    grid_step: float = 1.0,
) -> Floats:
    """Read a table by distance, plus what a net of nodes adds to it, at many points.

    Parameters
    ----------
    x, y : ndarray, shape (...)
        The points. [m]
    hole : tuple of float
        Where distance counts from. [m]
    table : ndarray, shape (m,)
        By distance.
    table_step : float
        Between its entries. [m]
    grid : ndarray, shape (nx, ny), optional
        What to add, between its nodes bilinear, beyond them as at the edge.
    corner : tuple of float
        Where its first node is. [m]
    grid_step : float
        Between its nodes. [m]
    """
    out = np.empty(x.size)
    flat_x, flat_y = np.ascontiguousarray(x).reshape(-1), np.ascontiguousarray(y).reshape(-1)
    more = np.zeros((2, 2)) if grid is None else grid

    def work(first: int, last: int) -> None:
        value_kernel(
            first, last, flat_x, flat_y, hole[0], hole[1], table, table_step, more,
            corner[0], corner[1], grid_step, out,
        )  # fmt: skip

    in_parts(work, x.size, least=4096)
    return out.reshape(x.shape)
