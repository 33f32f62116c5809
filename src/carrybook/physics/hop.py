"""The flight between two bounces: short and slow, so a few long steps do.

The same forces as in :mod:`carrybook.physics.flight_steps`. A step of Runge and Kutta goes about
to the top, one to about the ground, where the parabola through speed and acceleration tells how
long it takes; what little is left is flown as that parabola.
"""

import numpy as np

from carrybook.base.numerics import Floats, inlined, kernel
from carrybook.physics.flight_blocks import exp_, log_
from carrybook.physics.terrain import height_and_slope

__all__ = ["hop_kernel"]


@inlined
def _push(
    vx: float, vy: float, vz: float, z: float, spin: float, ax: float, ay: float, az: float,
    body: Floats, aero: Floats, wind: Floats, offset: float,
) -> tuple[float, float, float, float]:  # fmt: skip
    """Acceleration of the ball, and its speed through the air."""
    share = max(0.0, offset + wind[2] * log_(max(z - wind[4], 1e-6)))
    ux, uy = vx - wind[0] * share, vy - wind[1] * share
    speed = np.sqrt(ux * ux + uy * uy + vz * vz) + 1e-9
    s = spin * body[2] / speed
    lift = aero[0] * (1.0 - exp_(max(-s / aero[1], -50.0)))
    crisis = exp_(min(max((speed * body[1] - aero[5]) / aero[6], -50.0), 50.0))
    drag = aero[2] + aero[3] * s + aero[4] / (1.0 + crisis)
    up, back = body[0] * speed * lift, body[0] * speed * drag
    return (
        up * (ay * vz - az * uy) - back * ux,
        up * (az * ux - ax * vz) - back * uy,
        up * (ax * uy - ay * ux) - back * vz - body[3],
        speed,
    )


@kernel
def hop_kernel(
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
    offset: float,
    heights: Floats,
    x0: float,
    y0: float,
    step: float,
    limits: Floats,
    out: Floats,
) -> None:
    """Fly from the ground to the ground; fills `out`: position, velocity, spin, time, -, landed.

    `limits`: longest step [s], what may be left to a parabola [s], greatest number of steps,
    longest hop of one step [s].
    `offset` = 1 - shear log(height) of the wind.
    """
    time, top = 0.0, z
    out[9] = 0.0
    for n in range(int(limits[2])):
        ground, gx, gy = height_and_slope(x, y, heights, x0, y0, step)
        p1, q1, r1, fast1 = _push(vx, vy, vz, z, spin, ax, ay, az, body, aero, wind, offset)
        gap = z - ground if n > 0 else 0.0
        climb, pull = vz - gx * vx - gy * vy, min(r1 - gx * p1 - gy * q1, -1.0)
        root = climb * climb - 2.0 * pull * gap
        left = (climb + np.sqrt(max(root, 0.0))) / -pull
        if n > 0 and abs(left) < limits[1] and climb < 0.0:
            x, y = x + left * vx, y + left * vy
            vx, vy, vz = vx + left * p1, vy + left * q1, vz + left * r1
            z = height_and_slope(x, y, heights, x0, y0, step)[0]
            time += left
            out[9] = 1.0
            break
        if n == 0 and left < limits[3]:  # so short that one look half way is enough
            h = 0.5 * left
            mx, my, mz = vx + h * p1, vy + h * q1, vz + h * r1
            p1, q1, r1, fast1 = _push(
                mx, my, mz, z + h * vz, spin, ax, ay, az, body, aero, wind, offset
            )
            spin *= 1.0 - aero[7] * left * fast1 / body[2]
            ex = x + left * (vx + h * p1)
            ey = y + left * (vy + h * q1)
            ground, gx, gy = height_and_slope(ex, ey, heights, x0, y0, step)
            gap = z + left * (vz + h * r1) - ground
            fall = gx * (vx + left * p1) + gy * (vy + left * q1) - (vz + left * r1)
            if fall > 0.0 and abs(gap) < limits[1] * fall:
                left += gap / fall
                x, y = x + left * (vx + 0.5 * left * p1), y + left * (vy + 0.5 * left * q1)
                vx, vy, vz = vx + left * p1, vy + left * q1, vz + left * r1
                z = height_and_slope(x, y, heights, x0, y0, step)[0]
                time, out[9] = left, 1.0
                break
            p1, q1, r1, fast1 = _push(vx, vy, vz, z, spin, ax, ay, az, body, aero, wind, offset)
        dt = min(0.5 * left if n == 0 else left, limits[0])
        h = 0.5 * dt
        u2, v2, w2 = vx + h * p1, vy + h * q1, vz + h * r1
        p2, q2, r2, _ = _push(u2, v2, w2, z + h * vz, spin, ax, ay, az, body, aero, wind, offset)
        u3, v3, w3 = vx + h * p2, vy + h * q2, vz + h * r2
        p3, q3, r3, fast3 = _push(
            u3, v3, w3, z + h * w2, spin, ax, ay, az, body, aero, wind, offset
        )
        u4, v4, w4 = vx + dt * p3, vy + dt * q3, vz + dt * r3
        p4, q4, r4, fast4 = _push(
            u4, v4, w4, z + dt * w3, spin, ax, ay, az, body, aero, wind, offset
        )
        k = dt / 6.0
        x += k * (vx + 2.0 * (u2 + u3) + u4)
        y += k * (vy + 2.0 * (v2 + v3) + v4)
        z += k * (vz + 2.0 * (w2 + w3) + w4)
        vx += k * (p1 + 2.0 * (p2 + p3) + p4)
        vy += k * (q1 + 2.0 * (q2 + q3) + q4)
        vz += k * (r1 + 2.0 * (r2 + r3) + r4)
        spin *= exp_(-aero[7] * k * (fast1 + 4.0 * fast3 + fast4) / body[2])
        time += dt
        top = max(top, z)
        if z < top - 200.0:
            break
    out[0], out[1], out[2] = x, y, z
    out[3], out[4], out[5] = vx, vy, vz
    out[6], out[7], out[8] = spin, time, 0.0
