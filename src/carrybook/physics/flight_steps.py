"""One ball at a time: the textbook form of the flight, for hops between bounces and for paths.

:mod:`carrybook.physics.flight_blocks` is the same arithmetic for many balls at once.
"""

import numpy as np

from carrybook.base.numerics import Floats, kernel
from carrybook.physics.terrain import height_and_slope

__all__ = ["acceleration", "fly_to_ground", "launch_one", "runge_kutta_step"]


@kernel
def acceleration(
    vx: float,
    vy: float,
    vz: float,
    z: float,
    spin: float,
    ax: float,
    ay: float,
    az: float,
    body: Floats,
    aero: Floats,
    wind: Floats,
) -> tuple[float, float, float, float]:
    """Acceleration of the ball, and the rate of change of its spin."""
    above = max(z - wind[4], 1e-6)
    share = max(0.0, 1.0 + wind[2] * np.log(above / wind[3]))
    ux, uy, uz = vx - wind[0] * share, vy - wind[1] * share, vz
    speed = np.sqrt(ux * ux + uy * uy + uz * uz) + 1e-12
    s = spin * body[2] / speed
    lift = aero[0] * (1.0 - np.exp(-s / aero[1]))
    drag = aero[2] + aero[3] * s
    drag += aero[4] / (1.0 + np.exp((speed * body[1] - aero[5]) / aero[6]))
    gain = body[0] * speed
    fx = gain * (lift * (ay * uz - az * uy) - drag * ux)
    fy = gain * (lift * (az * ux - ax * uz) - drag * uy)
    fz = gain * (lift * (ax * uy - ay * ux) - drag * uz) - body[3]
    return fx, fy, fz, -aero[7] * spin * speed / body[2]


@kernel
def runge_kutta_step(
    x: float,
    y: float,
    z: float,
    vx: float,
    vy: float,
    vz: float,
    spin: float,
    ax: float,
    ay: float,
    az: float,
    body: Floats,
    aero: Floats,
    wind: Floats,
    dt: float,
) -> tuple[float, float, float, float, float, float, float]:
    """One fourth-order Runge-Kutta step."""
    h = 0.5 * dt
    p1, q1, r1, s1 = acceleration(vx, vy, vz, z, spin, ax, ay, az, body, aero, wind)
    u2, v2, w2 = vx + h * p1, vy + h * q1, vz + h * r1
    p2, q2, r2, s2 = acceleration(
        u2, v2, w2, z + h * vz, spin + h * s1, ax, ay, az, body, aero, wind
    )
    u3, v3, w3 = vx + h * p2, vy + h * q2, vz + h * r2
    p3, q3, r3, s3 = acceleration(
        u3, v3, w3, z + h * w2, spin + h * s2, ax, ay, az, body, aero, wind
    )
    u4, v4, w4 = vx + dt * p3, vy + dt * q3, vz + dt * r3
    p4, q4, r4, s4 = acceleration(
        u4, v4, w4, z + dt * w3, spin + dt * s3, ax, ay, az, body, aero, wind
    )
    k = dt / 6.0
    return (
        x + k * (vx + 2.0 * (u2 + u3) + u4),
        y + k * (vy + 2.0 * (v2 + v3) + v4),
        z + k * (vz + 2.0 * (w2 + w3) + w4),
        vx + k * (p1 + 2.0 * (p2 + p3) + p4),
        vy + k * (q1 + 2.0 * (q2 + q3) + q4),
        vz + k * (r1 + 2.0 * (r2 + r3) + r4),
        spin + k * (s1 + 2.0 * (s2 + s3) + s4),
    )


@kernel
def fly_to_ground(
    x: float,
    y: float,
    z: float,
    vx: float,
    vy: float,
    vz: float,
    spin: float,
    ax: float,
    ay: float,
    az: float,
    body: Floats,
    aero: Floats,
    wind: Floats,
    heights: Floats,
    x0: float,
    y0: float,
    step: float,
    dt: float,
    short_steps: int,
    most_steps: int,
    out: Floats,
    track: Floats,
) -> None:
    """Fly from a state until the ball meets the ground; the landing goes to `out` (LANDING_ROW).

    The first `short_steps` are eight times shorter, where the wind changes fast near the ground.
    A `track` with rows is filled with the points on the way. A ball that starts below the ground,
    as one hit to a raised level, cannot land before it has been above it.
    """
    start_z, apex, time = z, z, 0.0
    above = z - height_and_slope(x, y, heights, x0, y0, step)[0] > -1e-6
    out[9] = 0.0
    n = 0
    for n in range(most_steps):
        if n < track.shape[0]:
            track[n, 0], track[n, 1], track[n, 2] = x, y, z
        h = dt if n >= short_steps else 0.125 * dt
        nx, ny, nz, nvx, nvy, nvz, nspin = runge_kutta_step(
            x, y, z, vx, vy, vz, spin, ax, ay, az, body, aero, wind, h
        )
        if vz > 0.0 and nvz <= 0.0:  # the top lies within this step; a parabola is exact enough
            apex = max(apex, z + 0.5 * vz * vz / (vz - nvz) * h)
        gap = nz - height_and_slope(nx, ny, heights, x0, y0, step)[0]
        if gap < 0.0 and above and (n > 0 or nvz < 0.0):
            part = _meeting(
                x, y, z, vx, vy, vz, spin, ax, ay, az, body, aero, wind,
                heights, x0, y0, step, h, gap,
            )  # fmt: skip
            x, y, z, vx, vy, vz, spin = runge_kutta_step(
                x, y, z, vx, vy, vz, spin, ax, ay, az, body, aero, wind, part
            )
            time += part
            out[9] = 1.0
            break
        above = above or gap >= 0.0
        x, y, z, vx, vy, vz, spin = nx, ny, nz, nvx, nvy, nvz, nspin
        time += h
        apex = max(apex, z)
        if z < start_z - 200.0:
            break
    if n + 1 < track.shape[0]:
        track[n + 1, 0], track[n + 1, 1], track[n + 1, 2] = x, y, z
    out[0], out[1], out[2] = x, y, z
    out[3], out[4], out[5] = vx, vy, vz
    out[6], out[7], out[8] = spin, time, apex - start_z


@kernel
def _meeting(
    x: float,
    y: float,
    z: float,
    vx: float,
    vy: float,
    vz: float,
    spin: float,
    ax: float,
    ay: float,
    az: float,
    body: Floats,
    aero: Floats,
    wind: Floats,
    heights: Floats,
    x0: float,
    y0: float,
    step: float,
    dt: float,
    gap_end: float,
) -> float:
    """Part of the step after which ball and ground meet: secant in a bracket (Illinois)."""
    low, high = 0.0, dt
    gap_low = z - height_and_slope(x, y, heights, x0, y0, step)[0]
    gap_high = gap_end
    part = dt
    side = 0
    for _ in range(30):
        part = (low * gap_high - high * gap_low) / (gap_high - gap_low)
        if not low < part < high:
            part = 0.5 * (low + high)
        px, py, pz, _, _, _, _ = runge_kutta_step(
            x, y, z, vx, vy, vz, spin, ax, ay, az, body, aero, wind, part
        )
        gap = pz - height_and_slope(px, py, heights, x0, y0, step)[0]
        if abs(gap) < 1e-7:
            break
        if gap > 0.0:
            low, gap_low = part, gap
            if side == 1:
                gap_high *= 0.5
            side = 1
        else:
            high, gap_high = part, gap
            if side == -1:
                gap_low *= 0.5
            side = -1
    return part


@kernel
def launch_one(
    launch: Floats,
    start: Floats,
    body: Floats,
    aero: Floats,
    wind: Floats,
    heights: Floats,
    x0: float,
    y0: float,
    step: float,
    dt: float,
    most_steps: int,
    out: Floats,
    track: Floats,
) -> None:
    """Turn a launch row into a state and fly it."""
    speed, angle, spin, tilt, right = launch[0], launch[1], launch[2], launch[3], launch[4]
    cr, sr = np.cos(right), np.sin(right)
    level, up = speed * np.cos(angle), speed * np.sin(angle)
    ct, st = np.cos(tilt), np.sin(tilt)
    fly_to_ground(
        start[0], start[1], start[2], level * cr, -level * sr, up, spin,
        -sr * ct, -cr * ct, -st,
        body, aero, wind, heights, x0, y0, step, dt, 8, most_steps, out, track,
    )  # fmt: skip
