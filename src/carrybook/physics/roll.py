"""Skid, then roll to rest on any ground by green speed; the cup on the way.

Rolling resistance comes from the stimp reading: a ball that leaves the bar at 1.83 m/s stops after
that distance on the level. On a slope gravity acts with 5/7, the share of a rolling sphere.

A step drifts half, meets slope and resistance there, drifts half: exact on a plane but for the
turn, one look at the ground. The last stride to rest has a closed form (docs/turf.md).
"""

import numpy as np

from carrybook.base import constants as c
from carrybook.base.errors import require_range
from carrybook.base.numerics import Floats, Ints, kernel
from carrybook.physics.cup import drops_kernel
from carrybook.physics.terrain import height_and_slope, surface_code

__all__ = ["STIMP_RELEASE", "rest_kernel", "roll_kernel", "rolling_resistance"]

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

    `numbers`: stride [m], gravity, hole radius, ball radius, centre capture speed. `resistances`:
    rolling resistance by surface, the green's own given apart, negative where a ball sinks.
    Code: 1 at rest, 2 in the hole, 3 in water, 4 still rolling after 60 s.
    """
    stride, gravity, hole_r, ball_r = numbers[0], numbers[1], numbers[2], numbers[3]
    time, code, longest = 0.0, 4, 1.0
    dry_x, dry_y = x, y
    surface = surface_code(x, y, surfaces, x0, y0, step)
    pull_x, pull_y, skidding = 0.0, 0.0, sx * sx + sy * sy > 1e-6
    near = (hole_r + 4.0 * stride) ** 2
    while time < 60.0:
        resist = green_resistance if surface == 0 else resistances[surface]
        if resist < 0.0:
            code = 3
            break
        dry_x, dry_y = x, y
        speed2 = vx * vx + vy * vy
        speed = np.sqrt(speed2)
        by_hole = (x - hole_x) ** 2 + (y - hole_y) ** 2 < near
        reach = 0.15 * stride if by_hole else stride
        nx, ny, nvx, nvy, dt, done = x, y, vx, vy, 0.0, False
        pull = np.sqrt(pull_x * pull_x + pull_y * pull_y)
        # the ground is looked at once more only where the last pull says that rest may be near
        if not skidding and speed2 < 2.0 * reach * (resist - 0.9 * pull):
            nx, ny, dt, done = _last_stride(
                x, y, vx, vy, resist, 5.0 / 7.0 * gravity, reach, heights, x0, y0, step
            )
            done = done and surface_code(nx, ny, surfaces, x0, y0, step) == surface
            nvx, nvy = (0.0, 0.0) if done else (vx, vy)
        if not done:
            if skidding:
                slip = np.sqrt(sx * sx + sy * sy)
                dt = min(slip / (3.5 * friction * gravity), min(longest, 0.05))
                dt = max(min(dt, reach / (speed + 1e-9)), 2e-4)
                mx, my = x + 0.5 * dt * vx, y + 0.5 * dt * vy
                _, gx, gy = height_and_slope(mx, my, heights, x0, y0, step)
                level = -gravity / (1.0 + gx * gx + gy * gy)
                pull_x, pull_y = level * gx, level * gy
                drag = friction * gravity / (slip + 1e-12)
                nvx, nvy = vx + dt * (pull_x - drag * sx), vy + dt * (pull_y - drag * sy)
            else:
                dt = min(reach, 0.4 * speed2 / (resist + pull)) / (speed + 1e-9)
                dt = max(min(dt, longest), 2e-3)
                mx, my = x + 0.5 * dt * vx, y + 0.5 * dt * vy
                _, gx, gy = height_and_slope(mx, my, heights, x0, y0, step)
                level = -5.0 / 7.0 * gravity / (1.0 + gx * gx + gy * gy)
                pull_x, pull_y = level * gx, level * gy
                nvx, nvy, dt = _slowed(vx, vy, pull_x, pull_y, resist, dt)
            nx, ny = x + 0.5 * dt * (vx + nvx), y + 0.5 * dt * (vy + nvy)
        under = surface_code(nx, ny, surfaces, x0, y0, step)
        if under != surface and not done and dt > 2e-3:  # come to the edge in ever shorter steps
            longest = 0.5 * dt
            continue
        longest = 1.0 if under != surface else longest
        if by_hole and drops_kernel(
            x, y, nx, ny, speed2, nvx * nvx + nvy * nvy, cup_shift, hole_x, hole_y,
            hole_r, ball_r, gravity, numbers[4],
        ):  # fmt: skip
            x, y, code = hole_x, hole_y, 2
            time += dt
            break
        if skidding:
            sx, sy = sx + dt * (pull_x - 3.5 * drag * sx), sy + dt * (pull_y - 3.5 * drag * sy)
            skidding = sx * sx + sy * sy > 1e-4
            pull_x, pull_y = 5.0 / 7.0 * pull_x, 5.0 / 7.0 * pull_y
        x, y, vx, vy, surface = nx, ny, nvx, nvy, under
        time += dt
        if done:
            code = 1
            break
    out[0], out[1], out[2], out[3], out[4], out[5] = x, y, time, code, dry_x, dry_y


@kernel
def _slowed(
    vx: float, vy: float, pull_x: float, pull_y: float, resist: float, dt: float
) -> tuple[float, float, float]:
    """Velocity after a while of a steady pull and resistance, and that while; shorter if it stops.

    A ball that a slope has stopped goes on down it, from a crawl.
    """
    speed = np.sqrt(vx * vx + vy * vy)
    if speed < 1e-5:
        pull = np.sqrt(pull_x * pull_x + pull_y * pull_y) + 1e-30
        gain = max(pull - resist, 0.0) * dt
        return gain * pull_x / pull, gain * pull_y / pull, dt
    dx, dy = vx / speed, vy / speed
    along = pull_x * dx + pull_y * dy - resist
    if speed + along * dt <= 0.0:
        dt = -speed / along
        return vx + dt * (pull_x - resist * dx), vy + dt * (pull_y - resist * dy), dt
    mx = vx + 0.5 * dt * (pull_x - resist * dx)
    my = vy + 0.5 * dt * (pull_y - resist * dy)
    drag = resist / np.sqrt(mx * mx + my * my)
    return vx + dt * (pull_x - drag * mx), vy + dt * (pull_y - drag * my), dt


@kernel
def _last_stride(
    x: float, y: float, vx: float, vy: float, resist: float, gain: float, reach: float,
    heights: Floats, x0: float, y0: float, step: float,
) -> tuple[float, float, float, bool]:  # fmt: skip
    """Rest point, time to it, and whether the ball does come to rest there within reach."""
    _, gx, gy = height_and_slope(x, y, heights, x0, y0, step)
    px, py = -gain * gx / (1.0 + gx * gx + gy * gy), -gain * gy / (1.0 + gx * gx + gy * gy)
    if px * px + py * py > 0.98 * resist * resist:
        return x, y, 0.0, False
    dx, dy, time = rest_kernel(vx, vy, px, py, resist)
    if dx * dx + dy * dy > reach * reach:
        return x, y, 0.0, False
    _, gx, gy = height_and_slope(x + 0.5 * dx, y + 0.5 * dy, heights, x0, y0, step)
    px, py = -gain * gx / (1.0 + gx * gx + gy * gy), -gain * gy / (1.0 + gx * gx + gy * gy)
    if px * px + py * py > 0.98 * resist * resist:
        return x, y, 0.0, False
    dx, dy, time = rest_kernel(vx, vy, px, py, resist)
    _, gx, gy = height_and_slope(x + dx, y + dy, heights, x0, y0, step)
    most = resist * (1.0 + gx * gx + gy * gy)
    holds = gain * gain * (gx * gx + gy * gy) <= most * most
    return x + dx, y + dy, time, holds


@kernel
def rest_kernel(
    vx: float, vy: float, pull_x: float, pull_y: float, resist: float
) -> tuple[float, float, float]:
    """Way and time to rest under a steady pull p and a resistance a > p against the motion.

    With w the angle from pull to velocity, along the pull v^2 [p (1 + cos^2 w) / 4 + a cos(w) / 2]
    / (a^2 - p^2), across it v^2 sin(w) (2 a + p cos w) / (4 a^2 - p^2), and in time
    v (a + p cos w) / (a^2 - p^2): from d/dt of v^2 f(w), ours.
    """
    speed = np.sqrt(vx * vx + vy * vy)
    pull = np.sqrt(pull_x * pull_x + pull_y * pull_y)
    if speed < 1e-12:
        return 0.0, 0.0, 0.0
    if pull > 1e-12 * resist:
        ex, ey = pull_x / pull, pull_y / pull
    else:
        ex, ey = vx / speed, vy / speed
    cos, sin = (vx * ex + vy * ey) / speed, (vy * ex - vx * ey) / speed
    firm = resist * resist - pull * pull
    along = speed * speed * (0.25 * pull * (1.0 + cos * cos) + 0.5 * resist * cos) / firm
    across = speed * speed * sin * (2.0 * resist + pull * cos) / (3.0 * resist * resist + firm)
    return along * ex - across * ey, along * ey + across * ex, speed * (resist + pull * cos) / firm
