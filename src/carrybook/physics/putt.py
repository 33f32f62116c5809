"""One putt on any ground: rolled forward past the hole to rest, and backward from the hole.

A rolling ball feels the rolling resistance against its way and 5/7 of gravity down the slope. Both
are known at every point, so a putt that enters the hole in some direction at some speed can be
rolled back in time, and shows from where, in which direction and how fast it must have been struck.
The strength of a putt is its reach: how far it would roll on the level.
"""

from dataclasses import dataclass

import numpy as np

from carrybook.base import constants as c
from carrybook.base.numerics import Floats, Ints, kernel
from carrybook.physics.cup import CENTRE_SPEED, capture_speed
from carrybook.physics.roll import rolling_resistance
from carrybook.physics.shot import GROUND_ROWS
from carrybook.physics.terrain import height_and_slope, surface_code
from carrybook.world.ground import Ground, Surface

__all__ = [
    "NUMBERS_ROW",
    "Rolled",
    "back_kernel",
    "capture_offsets",
    "path_of_putt",
    "putt_kernel",
    "resistance_row",
    "roll_numbers",
    "roll_putt",
]

NUMBERS_ROW = ("gravity", "longest_step", "shrink", "slowest", "resistance")
_LONGEST_STEP = 0.12  # s; ours, docs/putting.md: finer steps move the offset at the hole by < 1 mm
_SHRINK = 0.3  # of the time it still takes to stop: steps shorten toward the end of a roll
_SLOWEST = 0.02  # m/s; a ball this slow has under half a millimetre to go
_SPEEDS = 256  # entries of the table of capture


@dataclass(frozen=True, slots=True)
class Rolled:
    """One putt that was rolled over the hole as if it were not there.

    Parameters
    ----------
    offset_m : float
        How far it passes the centre of the hole, left of its way positive. [m]
    entry : float
        Kinetic energy per mass where it is nearest to the hole; for a putt that stops before,
        minus the resistance times what is missing. [m2/s2]
    x, y : float
        Where it stops. [m]
    """

    offset_m: float
    entry: float
    x: float
    y: float


def resistance_row(stimp_m: float) -> Floats:
    """Rolling resistance by :class:`carrybook.world.ground.Surface`, shape (8,). [m/s2]

    Raises
    ------
    OutOfRangeError
        A green speed outside its range.
    """
    row = GROUND_ROWS[:, 2].copy()
    row[Surface.GREEN] = rolling_resistance(stimp_m)
    return row


def roll_numbers(stimp_m: float) -> Floats:
    """Numbers of the roll, columns :data:`NUMBERS_ROW`."""
    return np.array([c.GRAVITY, _LONGEST_STEP, _SHRINK, _SLOWEST, rolling_resistance(stimp_m)])


def capture_offsets() -> Floats:
    """Greatest offset that still drops, at evenly spaced speeds from 0 to the greatest. [m]"""
    offsets = np.linspace(0.0, c.HOLE_RADIUS, 2001)
    speeds = np.array([capture_speed(float(d)) for d in offsets])
    wanted = np.linspace(0.0, CENTRE_SPEED, _SPEEDS)
    return np.interp(wanted, speeds[::-1], offsets[::-1])


def roll_putt(
    ground: Ground,
    start: tuple[float, float],
    hole: tuple[float, float],
    *,
    direction_rad: float,
    reach_m: float,
    stimp_m: float,
    longest_step_s: float = _LONGEST_STEP,
) -> Rolled:
    """Roll one putt to rest, over the hole as if it were not there.

    Parameters
    ----------
    ground : Ground
        Height and surface.
    start, hole : tuple of float
        Where it starts; where the hole is cut. [m]
    direction_rad : float
        Start line, counter-clockwise from the x axis. [rad]
    reach_m : float
        How far it would roll on the level. [m]
    stimp_m : float
        Green speed. [m]
    longest_step_s : float
        Longest step in time. [s]

    Notes
    -----
    Pure rolling from the start: the skid of the first tenth or two of a putt is left out, so reach
    is a matter of feel, not of the speed off the face.
    """
    numbers = roll_numbers(stimp_m)
    numbers[1] = longest_step_s
    offset, entry, x, y = putt_kernel(
        start[0], start[1], direction_rad, reach_m, hole[0], hole[1], numbers,
        resistance_row(stimp_m), ground.heights, ground.surfaces, ground.x0, ground.y0, ground.step,
    )  # fmt: skip
    return Rolled(offset, entry, x, y)


def path_of_putt(
    ground: Ground,
    start: tuple[float, float],
    *,
    direction_rad: float,
    reach_m: float,
    stimp_m: float,
) -> Floats:
    """Points along one putt, over the hole as if it were not there, shape (n, 2). [m]

    Parameters
    ----------
    ground, start, direction_rad, reach_m, stimp_m
        As in :func:`roll_putt`.
    """
    points, count = np.empty((1500, 2)), np.zeros(1)
    _path_kernel(
        start[0], start[1], direction_rad, reach_m, roll_numbers(stimp_m),
        resistance_row(stimp_m), ground.heights, ground.surfaces, ground.x0, ground.y0,
        ground.step, points, count,
    )  # fmt: skip
    return points[: int(count[0])]


@kernel
def _pull(
    x: float, y: float, gravity: float, heights: Floats, x0: float, y0: float, step: float
) -> tuple[float, float]:
    """Acceleration of a rolling ball down the slope."""
    _, gx, gy = height_and_slope(x, y, heights, x0, y0, step)
    pull = -5.0 / 7.0 * gravity / (1.0 + gx * gx + gy * gy)
    return pull * gx, pull * gy


@kernel
def _rk4(
    x: float,
    y: float,
    vx: float,
    vy: float,
    px: float,
    py: float,
    resist: float,
    gravity: float,
    dt: float,
    heights: Floats,
    x0: float,
    y0: float,
    step: float,
) -> tuple[float, float, float, float]:
    """One Runge-Kutta step of rolling; (px, py) is the pull where it begins."""
    h = 0.5 * dt
    r = resist / (np.sqrt(vx * vx + vy * vy) + 1e-12)
    ax1, ay1 = px - r * vx, py - r * vy
    ux, uy = vx + h * ax1, vy + h * ay1
    qx, qy = _pull(x + h * vx, y + h * vy, gravity, heights, x0, y0, step)
    r = resist / (np.sqrt(ux * ux + uy * uy) + 1e-12)
    ax2, ay2 = qx - r * ux, qy - r * uy
    wx, wy = vx + h * ax2, vy + h * ay2
    qx, qy = _pull(x + h * ux, y + h * uy, gravity, heights, x0, y0, step)
    r = resist / (np.sqrt(wx * wx + wy * wy) + 1e-12)
    ax3, ay3 = qx - r * wx, qy - r * wy
    zx, zy = vx + dt * ax3, vy + dt * ay3
    qx, qy = _pull(x + dt * wx, y + dt * wy, gravity, heights, x0, y0, step)
    r = resist / (np.sqrt(zx * zx + zy * zy) + 1e-12)
    ax4, ay4 = qx - r * zx, qy - r * zy
    s = dt / 6.0
    return (
        x + s * (vx + 2.0 * ux + 2.0 * wx + zx),
        y + s * (vy + 2.0 * uy + 2.0 * wy + zy),
        vx + s * (ax1 + 2.0 * ax2 + 2.0 * ax3 + ax4),
        vy + s * (ay1 + 2.0 * ay2 + 2.0 * ay3 + ay4),
    )


@kernel
def _path_kernel(
    x: float,
    y: float,
    direction: float,
    reach: float,
    numbers: Floats,
    resistances: Floats,
    heights: Floats,
    surfaces: Ints,
    x0: float,
    y0: float,
    step: float,
    points: Floats,
    count: Floats,
) -> None:
    """Fill in points along a putt until it first stops, and how many."""
    speed = np.sqrt(2.0 * numbers[4] * reach)
    vx, vy = speed * np.cos(direction), speed * np.sin(direction)
    for n in range(points.shape[0]):
        points[n, 0], points[n, 1] = x, y
        count[0] = n + 1
        resist = resistances[surface_code(x, y, surfaces, x0, y0, step)]
        speed = np.sqrt(vx * vx + vy * vy)
        if resist < 0.0 or speed <= numbers[3]:
            break
        px, py = _pull(x, y, numbers[0], heights, x0, y0, step)
        slowing = resist - (px * vx + py * vy) / speed
        dt = 0.5 * numbers[1]
        if slowing * dt > numbers[2] * speed:
            dt = max(numbers[2] * speed / slowing, 0.004)
        x, y, vx, vy = _rk4(x, y, vx, vy, px, py, resist, numbers[0], dt, heights, x0, y0, step)


@kernel
def putt_kernel(
    x: float,
    y: float,
    direction: float,
    reach: float,
    hole_x: float,
    hole_y: float,
    numbers: Floats,
    resistances: Floats,
    heights: Floats,
    surfaces: Ints,
    x0: float,
    y0: float,
    step: float,
) -> tuple[float, float, float, float]:
    """Roll to rest: offset at the hole, energy there (:class:`Rolled`), and where it stops."""
    gravity, longest, shrink, slowest = numbers[0], numbers[1], numbers[2], numbers[3]
    speed = np.sqrt(2.0 * numbers[4] * reach)
    vx, vy = speed * np.cos(direction), speed * np.sin(direction)
    offset, entry, passed = 0.0, 0.0, False
    slowing = numbers[4]
    for _ in range(1500):
        resist = resistances[surface_code(x, y, surfaces, x0, y0, step)]
        if resist < 0.0:
            break
        px, py = _pull(x, y, gravity, heights, x0, y0, step)
        speed = np.sqrt(vx * vx + vy * vy)
        if speed <= slowest:
            force = np.sqrt(px * px + py * py)
            if force <= resist:
                break
            speed = 1.01 * slowest  # the slope sets it off
            vx, vy = speed * px / force, speed * py / force
        slowing = resist - (px * vx + py * vy) / speed
        dt = longest
        if slowing * dt > shrink * speed:
            dt = max(shrink * speed / slowing, 0.004)
        nx, ny, nvx, nvy = _rk4(x, y, vx, vy, px, py, resist, gravity, dt, heights, x0, y0, step)
        if not passed:
            after = (hole_x - nx) * nvx + (hole_y - ny) * nvy
            if after <= 0.0:
                before = (hole_x - x) * vx + (hole_y - y) * vy
                passed = True
                part = max(before, 0.0) / (max(before, 0.0) - after + 1e-30)
                cx, cy = x + part * (nx - x), y + part * (ny - y)
                ux, uy = vx + part * (nvx - vx), vy + part * (nvy - vy)
                offset = (ux * (cy - hole_y) - uy * (cx - hole_x)) / np.sqrt(ux * ux + uy * uy)
                entry = 0.5 * (ux * ux + uy * uy)
        x, y, vx, vy = nx, ny, nvx, nvy
    if not passed:
        speed = np.sqrt(vx * vx + vy * vy) + 1e-30
        offset = (vx * (y - hole_y) - vy * (x - hole_x)) / speed
        ahead = ((hole_x - x) * vx + (hole_y - y) * vy) / speed
        entry = -max(slowing, 0.1 * numbers[4]) * ahead
    return offset, entry, x, y


@kernel
def back_kernel(
    hole_x: float,
    hole_y: float,
    entry: float,
    lines: int,
    furthest: float,
    numbers: Floats,
    resistances: Floats,
    heights: Floats,
    surfaces: Ints,
    x0: float,
    y0: float,
    step: float,
    grid_x: float,
    grid_y: float,
    grid_step: float,
    near: Floats,
    start: Floats,
    reach: Floats,
) -> None:
    """Roll back from the hole in many directions and note at each node the nearest of the rolls.

    All of them enter over the centre with the same energy. `near` (nx, ny) holds the distance from
    node to roll so far [m], `start` the start line left of the straight one [rad], `reach` the
    reach beyond the distance to the hole [m]; only nodes that a roll passes closer are written.
    """
    gravity, longest, slowest = numbers[0], numbers[1], numbers[3]
    for k in range(lines):
        turn = 2.0 * np.pi * k / lines
        x, y = hole_x, hole_y
        vx, vy = -np.sqrt(2.0 * entry) * np.cos(turn), -np.sqrt(2.0 * entry) * np.sin(turn)
        for _ in range(1500):  # time runs backward: velocity turned round, resistance helps
            resist = resistances[surface_code(x, y, surfaces, x0, y0, step)]
            speed = np.sqrt(vx * vx + vy * vy)
            far = np.sqrt((x - hole_x) ** 2 + (y - hole_y) ** 2)
            if resist < 0.0 or speed < 5.0 * slowest or far > furthest:
                break
            px, py = _pull(x, y, gravity, heights, x0, y0, step)
            dt = min(longest, 0.7 * grid_step / speed)
            x, y, vx, vy = _rk4(x, y, vx, vy, px, py, -resist, gravity, dt, heights, x0, y0, step)
            i = int(np.floor((x - grid_x) / grid_step + 0.5))
            j = int(np.floor((y - grid_y) / grid_step + 0.5))
            if i < 0 or j < 0 or i >= near.shape[0] or j >= near.shape[1]:
                continue
            away = np.sqrt((x - grid_x - i * grid_step) ** 2 + (y - grid_y - j * grid_step) ** 2)
            if away < near[i, j]:
                straight = np.arctan2(hole_y - y, hole_x - x)
                left = np.arctan2(-vy, -vx) - straight
                near[i, j] = away
                start[i, j] = left - 2.0 * np.pi * np.floor(left / (2.0 * np.pi) + 0.5)
                far = np.sqrt((x - hole_x) ** 2 + (y - hole_y) ** 2)
                reach[i, j] = 0.5 * (vx * vx + vy * vy) / numbers[4] - far
