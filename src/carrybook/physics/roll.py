"""Skid, then roll to rest on any ground by green speed; the cup on the way.

Rolling resistance comes from the stimp reading: a ball that leaves the bar at 1.83 m/s stops after
that distance on the level. On a slope gravity acts with 5/7, the share of a rolling sphere.
"""

import numpy as np

from carrybook.base import constants as c
from carrybook.base.errors import require_range
from carrybook.base.numerics import Floats, Ints, kernel
from carrybook.physics.cup import capture_speed_kernel
from carrybook.physics.terrain import height_and_slope, surface_code

__all__ = ["STIMP_RELEASE", "roll_kernel", "rolling_resistance"]

STIMP_RELEASE = 1.83  # m/s; holmes-1991, hubbard-alaways-1999 (from memory); others say up to 1.95


def rolling_resistance(stimp_m: float) -> float:
    """Deceleration of a ball rolling on the level.

    Parameters
    ----------
    stimp_m : float
        Green speed: distance from the stimp bar, 1.2 to 5.5. [m]

    Returns
    -------
    deceleration : float
        v0^2 / (2 S). [m/s2]

    Raises
    ------
    OutOfRangeError
        The reading is outside its range.

    Notes
    -----
    Sources differ on v0 by 7 %, so speed and distance off the stimp do too, unless v0 cancels.
    """
    require_range("green speed", stimp_m / c.FOOT, 4.0, 18.0, "ft")
    return STIMP_RELEASE**2 / (2.0 * stimp_m)


@kernel
def roll_kernel(
    x: float,
    y: float,
    vx: float,
    vy: float,
    sx: float,
    sy: float,
    green_resistance: float,
    friction: float,
    cup_shift: float,
    hole_x: float,
    hole_y: float,
    numbers: Floats,
    resistances: Floats,
    heights: Floats,
    surfaces: Ints,
    x0: float,
    y0: float,
    step: float,
    out: Floats,
) -> None:
    """Skid with slip (sx, sy), then roll until rest; fills `out`: x, y, time, code, last dry x, y.

    `numbers`: time step, gravity, hole radius, ball radius, centre capture speed. `resistances`:
    rolling resistance by surface, the green's own given apart, negative where a ball sinks.
    Code: 1 at rest, 2 in the hole, 3 in water, 4 still rolling after 60 s.
    """
    dt0, gravity, hole_r, ball_r, centre = (
        numbers[0],
        numbers[1],
        numbers[2],
        numbers[3],
        numbers[4],
    )
    time, code = 0.0, 4
    dry_x, dry_y = x, y
    while time < 60.0:
        surface = surface_code(x, y, surfaces, x0, y0, step)
        resist = green_resistance if surface == 0 else resistances[surface]
        if resist < 0.0:
            code = 3
            break
        dry_x, dry_y = x, y
        _, gx, gy = height_and_slope(x, y, heights, x0, y0, step)
        level = 1.0 / (1.0 + gx * gx + gy * gy)
        slip = np.sqrt(sx * sx + sy * sy)
        dt = dt0
        if slip > 1e-9:  # skid: friction along the slip, gravity on the slope
            dt = min(dt, slip * 2.0 / 7.0 / (friction * gravity))
            ax = -gravity * gx * level - friction * gravity * sx / slip
            ay = -gravity * gy * level - friction * gravity * sy / slip
            nx, ny = x + dt * (vx + 0.5 * dt * ax), y + dt * (vy + 0.5 * dt * ay)
            nvx, nvy = vx + dt * ax, vy + dt * ay
            left = max(0.0, 1.0 - 3.5 * friction * gravity * dt / slip)
            left = 0.0 if left < 1e-9 else left
            sx, sy = sx * left, sy * left
            stopped = False
        else:
            nx, ny, nvx, nvy, dt, stopped = _roll_step(
                x, y, vx, vy, resist, gravity, dt, heights, x0, y0, step
            )
        if _drops(x, y, nx, ny, vx, vy, cup_shift, hole_x, hole_y, hole_r, ball_r, gravity, centre):
            x, y, code = hole_x, hole_y, 2
            time += dt
            break
        x, y, vx, vy = nx, ny, nvx, nvy
        time += dt
        if stopped:
            code = 1
            break
    out[0], out[1], out[2], out[3], out[4], out[5] = x, y, time, code, dry_x, dry_y


@kernel
def _roll_step(
    x: float,
    y: float,
    vx: float,
    vy: float,
    resist: float,
    gravity: float,
    dt: float,
    heights: Floats,
    x0: float,
    y0: float,
    step: float,
) -> tuple[float, float, float, float, float, bool]:
    """One midpoint step of pure rolling; ends early, exactly, where the ball comes to a stop."""
    _, gx, gy = height_and_slope(x, y, heights, x0, y0, step)
    pull = -5.0 / 7.0 * gravity / (1.0 + gx * gx + gy * gy)
    px, py = pull * gx, pull * gy
    speed = np.sqrt(vx * vx + vy * vy)
    if speed < 1e-6:
        force = np.sqrt(px * px + py * py)
        if force <= resist:
            return x, y, 0.0, 0.0, 0.0, True
        vx, vy = 1e-5 * px / force, 1e-5 * py / force  # the slope sets it off
        speed = 1e-5
    dx, dy = vx / speed, vy / speed
    along = px * dx + py * dy - resist
    if along < 0.0 and speed + along * dt <= 0.0:  # stops, or turns, within this step
        t = -speed / along
        cx, cy = px - (px * dx + py * dy) * dx, py - (px * dx + py * dy) * dy
        nvx, nvy = cx * t, cy * t
        nx = x + 0.5 * speed * t * dx + 0.5 * cx * t * t
        ny = y + 0.5 * speed * t * dy + 0.5 * cy * t * t
        still = np.sqrt(px * px + py * py) <= resist and np.sqrt(nvx * nvx + nvy * nvy) < 0.05
        if still:
            nvx, nvy = 0.0, 0.0
        return nx, ny, nvx, nvy, t, still
    ax, ay = px - resist * dx, py - resist * dy
    mx, my = x + 0.5 * dt * vx, y + 0.5 * dt * vy
    mvx, mvy = vx + 0.5 * dt * ax, vy + 0.5 * dt * ay
    _, gx, gy = height_and_slope(mx, my, heights, x0, y0, step)
    pull = -5.0 / 7.0 * gravity / (1.0 + gx * gx + gy * gy)
    speed = np.sqrt(mvx * mvx + mvy * mvy) + 1e-30
    ax, ay = pull * gx - resist * mvx / speed, pull * gy - resist * mvy / speed
    return x + dt * mvx, y + dt * mvy, vx + dt * ax, vy + dt * ay, dt, False


@kernel
def _drops(
    x: float,
    y: float,
    nx: float,
    ny: float,
    vx: float,
    vy: float,
    shift: float,
    hole_x: float,
    hole_y: float,
    hole_r: float,
    ball_r: float,
    gravity: float,
    centre: float,
) -> bool:
    """Whether the ball drops on its way from (x, y) to (nx, ny); `shift` blurs the edge."""
    dx, dy = nx - x, ny - y
    length2 = dx * dx + dy * dy + 1e-30
    part = min(max(((hole_x - x) * dx + (hole_y - y) * dy) / length2, 0.0), 1.0)
    ex, ey = x + part * dx - hole_x, y + part * dy - hole_y
    offset2 = ex * ex + ey * ey
    if offset2 >= hole_r * hole_r:
        return False
    limit = capture_speed_kernel(np.sqrt(offset2), hole_r, ball_r, gravity, centre)
    drops: bool = np.sqrt(vx * vx + vy * vy) < limit * (1.0 + shift)
    return drops
