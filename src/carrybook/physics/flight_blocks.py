"""Many flights at once: sixteen balls a block, laid out so that the processor packs several.

A block is one flat buffer in which row `r` of lane `j` is `b[16 * r + j]`: the offsets are
constants, so the compiler sees that lanes do not touch each other. A lane that has landed gets
steps of no length and waits for the others.

Rows: 0-6 position, velocity, spin; 7-9 spin axis; 10-14 wind, its shear, offset and level; 15-22
coefficients; 23 length of the step; 24-30 the state before; 31 height over the ground; 32 whether
it has been above it; 33 landed; 34 time; 35 top; 36 part of the last step; 40-46 where a stage of
the Runge-Kutta step looks; 47-53 what its stages add up to.
"""

import numpy as np

from carrybook.base.numerics import Floats, Ints, inlined, kernel
from carrybook.physics.terrain import height_and_slope

__all__ = ["fly_blocks"]


@inlined
def exp_(x: float) -> float:
    """Exponential without a branch, -700 < x < 700: a power of two times a Taylor polynomial.

    Degree 7 on |r| < ln(2) / 2: relative error below 8e-9.
    """
    t = x * 1.4426950408889634 + 6755399441055744.0  # x / ln 2, rounded by the size of the sum
    r = x - (t - 6755399441055744.0) * 0.6931471805599453
    p = 1.0 / 24.0 + r * (1.0 / 120.0 + r * (1.0 / 720.0 + r * (1.0 / 5040.0)))
    p = 1.0 + r * (1.0 + r * (0.5 + r * (1.0 / 6.0 + r * p)))
    return p * np.int64((np.float64(t).view(np.int64) + 1023) << 52).view(np.float64)


@inlined
def log_(x: float) -> float:
    """Natural logarithm without a branch or a division, x > 0: exponent and a polynomial.

    Ours: least squares at Chebyshev nodes for ln(1 + f) on 1/sqrt(2) <= 1 + f < sqrt(2), degree 8;
    absolute error below 4e-8.
    """
    bits = np.float64(x).view(np.int64)
    k = (bits - 0x3FE6A09E667F3BCD) >> 52
    f = np.int64(bits - (k << 52)).view(np.float64) - 1.0
    p = -0.17405911833610702 + f * (0.1636587995231944 - f * 0.09842353531361618)
    p = 0.33335709737451924 + f * (-0.24952128487663844 + f * (0.1988280259476702 + f * p))
    p = 0.9999998571599676 + f * (-0.5000094528500214 + f * p)
    return 2.8611006155884598e-08 + f * p + k * 0.6931471805599453


@inlined
def _push(
    vx: float, vy: float, vz: float, z: float, spin: float, ax: float, ay: float, az: float,
    wind_x: float, wind_y: float, shear: float, offset: float, level: float,
    lift_limit: float, lift_rate: float, drag_base: float, drag_rate: float,
    crisis: float, crisis_re: float, crisis_rate: float, decay: float,
    gain: float, reynolds: float, gravity: float,
) -> tuple[float, float, float, float]:  # fmt: skip
    """Acceleration of one ball and the rate of its spin, with one root and one division."""
    share = max(0.0, offset + shear * log_(max(z - level, 1e-6)))
    ux, uy = vx - wind_x * share, vy - wind_y * share
    speed = np.sqrt(ux * ux + uy * uy + vz * vz) + 1e-9
    soft = 1.0 + exp_(min(max((speed * reynolds - crisis_re) * crisis_rate, -50.0), 50.0))
    inverse = 1.0 / (speed * soft)
    ratio = spin * soft * inverse  # spin over speed
    lift = lift_limit - lift_limit * exp_(max(lift_rate * ratio, -50.0))
    drag = drag_base + drag_rate * ratio + crisis * speed * inverse
    up, back = gain * speed * lift, gain * speed * drag
    fx = up * (ay * vz - az * uy) - back * ux
    fy = up * (az * ux - ax * vz) - back * uy
    fz = up * (ax * uy - ay * ux) - back * vz - gravity
    return fx, fy, fz, decay * spin * speed


@kernel
def block_step(b: Floats, gain: float, reynolds: float, gravity: float) -> None:
    """One Runge-Kutta step of every lane by its own length; the state before goes to rows 24 to 30.

    Each stage is a loop of its own over the lanes, so that the processor has several lanes in hand
    while one waits for its root and its division.
    """
    for k in range(112):
        b[384 + k] = b[k]
    for k in range(112):
        b[640 + k] = b[k]
    for k in range(112):
        b[752 + k] = 0.0
    for stage in range(3):
        part, weight = (1.0, 2.0) if stage == 2 else (0.5, 1.0 + stage)
        for j in range(16):
            h = part * b[368 + j]
            vx, vy, vz = b[688 + j], b[704 + j], b[720 + j]
            p, q, r, s = _push(
                vx, vy, vz, b[672 + j], b[736 + j], b[112 + j], b[128 + j], b[144 + j],
                b[160 + j], b[176 + j], b[192 + j], b[208 + j], b[224 + j],
                b[240 + j], b[256 + j], b[272 + j], b[288 + j],
                b[304 + j], b[320 + j], b[336 + j], b[352 + j], gain, reynolds, gravity,
            )  # fmt: skip
            b[752 + j] += weight * vx
            b[768 + j] += weight * vy
            b[784 + j] += weight * vz
            b[800 + j] += weight * p
            b[816 + j] += weight * q
            b[832 + j] += weight * r
            b[848 + j] += weight * s
            b[672 + j] = b[416 + j] + h * vz
            b[688 + j], b[704 + j] = b[432 + j] + h * p, b[448 + j] + h * q
            b[720 + j], b[736 + j] = b[464 + j] + h * r, b[480 + j] + h * s
    for j in range(16):
        k = b[368 + j] * (1.0 / 6.0)
        vx, vy, vz = b[688 + j], b[704 + j], b[720 + j]
        p, q, r, s = _push(
            vx, vy, vz, b[672 + j], b[736 + j], b[112 + j], b[128 + j], b[144 + j],
            b[160 + j], b[176 + j], b[192 + j], b[208 + j], b[224 + j],
            b[240 + j], b[256 + j], b[272 + j], b[288 + j],
            b[304 + j], b[320 + j], b[336 + j], b[352 + j], gain, reynolds, gravity,
        )  # fmt: skip
        b[j] = b[384 + j] + k * (b[752 + j] + vx)
        b[16 + j] = b[400 + j] + k * (b[768 + j] + vy)
        b[32 + j] = b[416 + j] + k * (b[784 + j] + vz)
        b[48 + j] = b[432 + j] + k * (b[800 + j] + p)
        b[64 + j] = b[448 + j] + k * (b[816 + j] + q)
        b[80 + j] = b[464 + j] + k * (b[832 + j] + r)
        b[96 + j] = b[480 + j] + k * (b[848 + j] + s)


@kernel
def fly_blocks(
    first: int,
    last: int,
    order: Ints,
    launches: Floats,
    starts: Floats,
    body: Floats,
    aero: Floats,
    which_aero: Ints,
    winds: Floats,
    heights: Floats,
    x0: float,
    y0: float,
    step: float,
    steps: Floats,
    most_steps: int,
    out: Floats,
) -> None:
    """Fly the rows order[first..last]; landings go to `out` (LANDING_ROW).

    Rows that fly about as long belong side by side in `order`: a block is as slow as its slowest.
    `steps` are the lengths of the first steps; the last of them is kept on.
    """
    b = np.zeros(16 * 54)
    top = heights.max()
    for base in range(first, last, 16):
        lanes = min(16, last - base)
        _load(b, order[base : base + lanes], launches, starts, body, aero, which_aero, winds)
        _gaps(b, 16, heights, x0, y0, step)
        for j in range(16):
            b[512 + j] = 1.0 if b[496 + j] > -1e-6 else 0.0  # has been above the ground
        flying, time = 16, 0.0
        for n in range(most_steps):
            h = steps[min(n, steps.shape[0] - 1)]
            for j in range(16):
                b[368 + j] = h if b[528 + j] == 0.0 else 0.0
            block_step(b, body[0], body[1], body[3])
            flying -= _landed(b, n, time, h, top, heights, x0, y0, step)
            time += h
            if flying == 0:
                break
        _meet(b, body, heights, x0, y0, step)
        for j in range(lanes):
            k = order[base + j]
            for r in range(7):
                out[k, r] = b[16 * r + j]
            out[k, 7], out[k, 8], out[k, 9] = b[544 + j], b[560 + j] - starts[k, 2], b[528 + j]


@kernel
def _load(
    b: Floats,
    rows: Ints,
    launches: Floats,
    starts: Floats,
    body: Floats,
    aero: Floats,
    which_aero: Ints,
    winds: Floats,
) -> None:
    """Put launches into the lanes; lanes over the end repeat the last one."""
    for j in range(16):
        k = rows[min(j, rows.shape[0] - 1)]
        speed, angle, tilt, right = launches[k, 0], launches[k, 1], launches[k, 3], launches[k, 4]
        level, cr, sr = speed * np.cos(angle), np.cos(right), np.sin(right)
        ct, st = np.cos(tilt), np.sin(tilt)
        for r in range(3):
            b[16 * r + j] = starts[k, r]
        b[48 + j], b[64 + j], b[80 + j] = level * cr, -level * sr, speed * np.sin(angle)
        b[96 + j] = launches[k, 2]
        b[112 + j], b[128 + j], b[144 + j] = -sr * ct, -cr * ct, -st
        shear = winds[k, 2]
        b[160 + j], b[176 + j], b[192 + j] = winds[k, 0], winds[k, 1], shear
        b[208 + j] = 1.0 - shear * np.log(winds[k, 3])
        b[224 + j] = winds[k, 4]
        a, radius = aero[which_aero[k]], body[2]
        b[240 + j], b[256 + j] = a[0], -radius / a[1]
        b[272 + j], b[288 + j] = a[2], a[3] * radius
        b[304 + j], b[320 + j], b[336 + j] = a[4], a[5], 1.0 / a[6]
        b[352 + j] = -a[7] / radius
        b[528 + j], b[544 + j], b[560 + j] = 0.0, 0.0, starts[k, 2]


@kernel
def _gaps(b: Floats, lanes: int, heights: Floats, x0: float, y0: float, step: float) -> None:
    """Height of each lane over the ground, into row 31."""
    for j in range(lanes):
        ground = height_and_slope(b[j], b[16 + j], heights, x0, y0, step)[0]
        b[496 + j] = b[32 + j] - ground


@kernel
def _landed(
    b: Floats,
    n: int,
    time: float,
    h: float,
    top: float,
    heights: Floats,
    x0: float,
    y0: float,
    step: float,
) -> int:
    """Note tops and landings of this step; a landed lane keeps the state before. Gives how many."""
    count = 0
    for j in range(16):
        if b[528 + j] > 0.0:
            continue
        z, before, fast, vz = b[32 + j], b[416 + j], b[464 + j], b[80 + j]
        if fast > 0.0 and vz <= 0.0:  # the top: where the cubic through both ends is level
            t = fast / (fast - vz)
            for _ in range(3):
                slope = _hermite_slope(before, z, fast * h, vz * h, t)
                bend = _hermite_bend(before, z, fast * h, vz * h, t)
                t = min(max(t - slope / bend, 0.0), 1.0) if bend < 0.0 else t
            b[560 + j] = max(b[560 + j], _hermite(before, z, fast * h, vz * h, t))
        if z > top:
            b[512 + j] = 1.0
            continue
        ground, gx, gy = height_and_slope(b[j], b[16 + j], heights, x0, y0, step)
        gap = z - ground
        if gap >= 0.0:
            b[512 + j] = 1.0
        elif b[512 + j] > 0.0 and (n > 0 or vz < 0.0):
            under, hx, hy = height_and_slope(b[384 + j], b[400 + j], heights, x0, y0, step)
            fall0 = (fast - hx * b[432 + j] - hy * b[448 + j]) * h
            fall1 = (vz - gx * b[48 + j] - gy * b[64 + j]) * h
            b[576 + j] = h * _root(max(before - under, 0.0), gap, fall0, fall1)
            b[528 + j], b[544 + j] = 1.0, time
            for r in range(7):
                b[16 * r + j] = b[16 * (24 + r) + j]
            count += 1
    return count


@kernel
def _root(gap0: float, gap1: float, fall0: float, fall1: float) -> float:
    """Part of the step at which the cubic through both gaps is zero: Newton held in a bracket."""
    low, high = 0.0, 1.0
    t = gap0 / (gap0 - gap1)
    for _ in range(20):
        value = _hermite(gap0, gap1, fall0, fall1, t)
        if value > 0.0:
            low = t
        else:
            high = t
        slope = _hermite_slope(gap0, gap1, fall0, fall1, t)
        following = t - value / slope if slope != 0.0 else low
        if not low < following < high:
            following = 0.5 * (low + high)
        if abs(following - t) < 1e-12:
            break
        t = following
    return t


@kernel
def _hermite(a: float, b: float, da: float, db: float, t: float) -> float:
    """Cubic with these ends and slopes."""
    rest = 1.0 - t
    return (
        a * rest * rest * (1.0 + 2.0 * t)
        + b * t * t * (3.0 - 2.0 * t)
        + t * rest * (da * rest - db * t)
    )


@kernel
def _hermite_slope(a: float, b: float, da: float, db: float, t: float) -> float:
    """Its slope."""
    return (
        6.0 * t * (1.0 - t) * (b - a) + da * (1.0 - t) * (1.0 - 3.0 * t) + db * t * (3.0 * t - 2.0)
    )


@kernel
def _hermite_bend(a: float, b: float, da: float, db: float, t: float) -> float:
    """Its second derivative."""
    return 6.0 * (1.0 - 2.0 * t) * (b - a) + da * (6.0 * t - 4.0) + db * (6.0 * t - 2.0)


@kernel
def _meet(b: Floats, body: Floats, heights: Floats, x0: float, y0: float, step: float) -> None:
    """Bring landed lanes from the state before to the ground: part of a step, then what is left."""
    for j in range(16):
        b[368 + j] = b[576 + j] if b[528 + j] > 0.0 else 0.0
        b[544 + j] += b[368 + j]
    block_step(b, body[0], body[1], body[3])
    for j in range(16):
        b[368 + j] = 0.0
        if b[528 + j] > 0.0:
            ground, gx, gy = height_and_slope(b[j], b[16 + j], heights, x0, y0, step)
            fall = b[80 + j] - gx * b[48 + j] - gy * b[64 + j]
            if fall < 0.0:
                b[368 + j] = min(max((ground - b[32 + j]) / fall, -0.1), 0.1)
        b[544 + j] += b[368 + j]
    block_step(b, body[0], body[1], body[3])
