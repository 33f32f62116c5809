"""The judge: balls in a world whose truth is known, one after the other, in small plain steps.

It shares no code with the engines that it judges: textbook Runge-Kutta, heights looked up on a fine
net, bounces and rolls of vectors. Axes and units are those of the hole: x along the approach, y
left, z up, SI. What it does share are the laws: their numbers are the truth, handed in.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.interpolate import NdBSpline

from carrybook.base.numerics import in_parts, kernel
from carrybook.physics.shot import End
from carrybook.world.ground import Ground, Surface

__all__ = ["Lawn", "Nature", "Terrain", "carry_level", "play"]

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
# Gravity, radius, mass, radius of the hole, steps of flight, hop and roll, longest roll.
_NUMBERS = np.array([9.80665, 0.021335, 0.04593, 0.054, 0.04, 0.02, 0.02, 40.0])


@dataclass(frozen=True)
class Nature:
    """Air, wind and the ball in it, as they truly are; arrays are one value a ball."""

    density: float
    viscosity: float
    wind_x: Floats | float
    wind_y: Floats | float
    roughness: float
    wind_level: float
    lift_limit: float
    lift_scale: float
    drag_base: float
    drag_per_spin: float
    drag_crisis: float
    crisis_re: float
    crisis_width: float
    spin_decay: float


@dataclass(frozen=True)
class Lawn:
    """The green as each ball meets it, and other ground by factors on its tilt and restitution."""

    tilt: Floats
    restitution: Floats
    friction: Floats
    wrap: Floats
    resistance: Floats
    skid: float
    tangential: float
    grounds: Floats  # by surface: factors on tilt and restitution, resistance, on friction, on wrap
    penner: Floats  # e(n): three terms, their limit, beyond it
    crater: Floats  # the six numbers of the crater


class Terrain:
    """Heights, slopes and surfaces looked up on a net of 0.2 m."""

    def __init__(self, ground: Ground) -> None:
        """Sample the surface that the control net of a ground describes."""
        step, (nx, ny) = 0.2, ground.heights.shape
        last = np.array([nx - 2, ny - 2]) * ground.step
        knots = [ground.step * (np.arange(n + 3) - 1.5) for n in (nx, ny)]
        spline = NdBSpline(tuple(knots), ground.heights, k=2)
        self.origin = np.array([ground.x0, ground.y0])
        axes = [np.arange(0.5 * ground.step, end, step) for end in last]
        points = np.stack(np.meshgrid(*axes, indexing="ij"), axis=-1)
        self.corner = self.origin + 0.5 * ground.step
        self.step = step
        self.fields = np.stack(
            [spline(points), spline(points, nu=(1, 0)), spline(points, nu=(0, 1))], axis=-1
        )
        self.surfaces, self.net = ground.surfaces, ground.step


def carry_level(
    nature: Nature, speed: Floats, launch: Floats | float, spin_per_speed: Floats | float
) -> Floats:
    """Carries over level ground in calm air. [m]"""
    n = len(speed)
    level, up = speed * np.cos(launch), speed * np.sin(launch)
    velocity = np.stack([level, np.zeros(n), up], axis=-1)
    spin = np.stack([np.zeros(n), -spin_per_speed * speed, np.zeros(n)], axis=-1)
    fields = np.zeros((2, 2, 3))
    out = np.empty(n)
    sky, calm = _sky(nature), np.zeros(2)

    def work(first: int, last: int) -> None:
        state = np.empty(9)
        for k in range(first, last):
            state[:3] = 0.0
            state[3:6], state[6:] = velocity[k], spin[k]
            down = fly_plain(state, sky, calm, _NUMBERS, 0.04, fields, np.zeros(3))
            out[k] = state[0] if down else np.nan

    in_parts(work, n)
    return out


def play(
    nature: Nature,
    lawn: Lawn,
    terrain: Terrain,
    start: Floats,
    velocity: Floats,
    spin: Floats,
    hole: tuple[float, float],
) -> Floats:
    """Play balls to where they end: rows as :data:`carrybook.physics.shot.END_ROW`.

    `velocity` and `spin` are of shape (n, 3), as vectors. A ball that never comes down counts as
    aloft; one in water ends where it touched it.
    """
    n = len(velocity)
    ends = np.full((n, 9), np.nan)
    winds = np.column_stack([np.broadcast_to(nature.wind_x, n), np.broadcast_to(nature.wind_y, n)])
    turf = np.column_stack([lawn.tilt, lawn.restitution, lawn.friction, lawn.resistance, lawn.wrap])
    law = np.array([*lawn.penner, *lawn.crater, lawn.skid, lawn.tangential])
    net = np.array([*terrain.corner, terrain.step])
    where = np.array([*terrain.origin, terrain.net])
    codes = np.array([End.REST, End.HOLED, End.WATER, End.ROLLING, End.ALOFT], dtype=np.int64)
    kinds = np.array([Surface.GREEN, Surface.WATER], dtype=np.int64)

    def work(first: int, last: int) -> None:
        play_plain(
            first, last, np.ascontiguousarray(start), velocity, spin, winds, turf, _sky(nature),
            law, _NUMBERS, terrain.fields, net, terrain.surfaces, where, lawn.grounds,
            np.array(hole), codes, kinds, ends,
        )  # fmt: skip

    in_parts(work, n)
    return ends


def _sky(nature: Nature) -> Floats:
    n = nature
    return np.array(
        [n.density, n.viscosity, n.roughness, n.wind_level, n.lift_limit, n.lift_scale,
         n.drag_base, n.drag_per_spin, n.drag_crisis, n.crisis_re, n.crisis_width, n.spin_decay]
    )  # fmt: skip


@kernel
def look_up(x: float, y: float, fields: Floats, net: Floats) -> tuple[float, float, float]:
    """Height and its rise along x and y; beyond the net the edge goes on."""
    if net[2] <= 0.0:
        return 0.0, 0.0, 0.0
    a = min(max((x - net[0]) / net[2], 0.0), fields.shape[0] - 1.001)
    b = min(max((y - net[1]) / net[2], 0.0), fields.shape[1] - 1.001)
    i, j = int(a), int(b)
    s, t = a - i, b - j
    ll, lh, hl, hh = (1.0 - s) * (1.0 - t), (1.0 - s) * t, s * (1.0 - t), s * t
    f = fields
    z = ll * f[i, j, 0] + lh * f[i, j + 1, 0] + hl * f[i + 1, j, 0] + hh * f[i + 1, j + 1, 0]
    gx = ll * f[i, j, 1] + lh * f[i, j + 1, 1] + hl * f[i + 1, j, 1] + hh * f[i + 1, j + 1, 1]
    gy = ll * f[i, j, 2] + lh * f[i, j + 1, 2] + hl * f[i + 1, j, 2] + hh * f[i + 1, j + 1, 2]
    return z, gx, gy


@kernel
def rates(state: Floats, sky: Floats, wind: Floats, numbers: Floats, out: Floats) -> None:
    """Rate of position, velocity and spin of a ball in flight."""
    gravity, radius, mass = numbers[0], numbers[1], numbers[2]
    share = np.log(max(state[2] - sky[3], 1e-6) / sky[2]) / np.log(10.0 / sky[2])
    share = max(share, 0.0)
    ux, uy, uz = state[3] - share * wind[0], state[4] - share * wind[1], state[5]
    wx, wy, wz = state[6], state[7], state[8]
    speed = np.sqrt(ux * ux + uy * uy + uz * uz) + 1e-12
    turning = np.sqrt(wx * wx + wy * wy + wz * wz) + 1e-12
    ratio = turning * radius / speed
    lift = sky[4] * (1.0 - np.exp(-ratio / sky[5])) / turning
    reynolds = sky[0] * speed * 2.0 * radius / sky[1]
    drag = sky[6] + sky[7] * ratio + sky[8] / (1.0 + np.exp((reynolds - sky[9]) / sky[10]))
    gain = 0.5 * sky[0] * np.pi * radius * radius / mass * speed
    decay = -sky[11] * speed / radius
    out[0], out[1], out[2] = state[3], state[4], state[5]
    out[3] = gain * (lift * (wy * uz - wz * uy) - drag * ux)
    out[4] = gain * (lift * (wz * ux - wx * uz) - drag * uy)
    out[5] = gain * (lift * (wx * uy - wy * ux) - drag * uz) - gravity
    out[6], out[7], out[8] = decay * wx, decay * wy, decay * wz


@kernel
def fly_plain(
    state: Floats, sky: Floats, wind: Floats, numbers: Floats, h: float, fields: Floats, net: Floats
) -> bool:
    """Fly, in place, until the ball meets the ground from above: a straight share of a step."""
    gap, at, new, k = 0.0, np.empty(9), np.empty(9), np.empty((4, 9))
    for _ in range(round(20.0 / h)):
        rates(state, sky, wind, numbers, k[0])
        for stage in range(1, 4):
            ahead = h if stage == 3 else 0.5 * h
            for m in range(9):
                at[m] = state[m] + ahead * k[stage - 1, m]
            rates(at, sky, wind, numbers, k[stage])
        for m in range(9):
            new[m] = state[m] + h / 6.0 * (k[0, m] + 2.0 * k[1, m] + 2.0 * k[2, m] + k[3, m])
        over = new[2] - look_up(new[0], new[1], fields, net)[0]
        if over < 0.0 and new[5] < 0.0:
            share = gap / (gap - over) if gap > 0.0 else 1.0
            state += share * (new - state)
            return True
        state[:] = new
        gap = max(over, 0.0)
    return False


@kernel
def bounce_plain(state: Floats, up: Floats, turf: Floats, law: Floats, numbers: Floats) -> None:
    """One bounce, in place, as docs/turf.md has it; `turf`: tilt, restitution, friction, wrap."""
    radius = numbers[1]
    v, w = state[3:6].copy(), state[6:9].copy()
    into = -np.dot(v, up)
    along = v + into * up
    pace = np.sqrt(np.dot(along, along))
    speed = np.hypot(into, pace) + 1e-30
    lean = turf[0] * (speed / law[5]) * (2.0 * into * pace / speed**2) / law[6]
    lean = min(lean, law[7])
    normal = np.cos(lean) * up - np.sin(lean) * along / max(pace, 1e-9)
    n = -np.dot(v, normal)
    e = law[0] + law[1] * n + law[2] * n * n if n <= law[3] else law[4]
    e = min(e * turf[1], 1.0)
    tangent = v + n * normal
    buried = min(turf[3] * n * law[9], law[10])
    push = 1.0 - buried**2 / 6.0
    slip = push * tangent - radius * np.cross(w, normal)
    size = np.sqrt(np.dot(slip, slip)) + 1e-30
    hard = n * n / (n * n + law[8] ** 2)
    rub = law[11] * (1.0 - hard) + turf[2] * hard
    stop = (1.0 + law[12]) * size / (push**2 + 2.5)
    impulse = min(rub * (1.0 + e) * n, stop) * slip / size
    state[3:6] = tangent - push * impulse + e * n * normal
    state[6:9] = w + 2.5 / radius * np.cross(normal, impulse)


@kernel
def surface_plain(x: float, y: float, surfaces: Ints, where: Floats) -> int:
    """Surface of the square around a point."""
    i = min(max(int(np.floor((x - where[0]) / where[2] + 0.5)), 0), surfaces.shape[0] - 1)
    j = min(max(int(np.floor((y - where[1]) / where[2] + 0.5)), 0), surfaces.shape[1] - 1)
    return surfaces[i, j]


@kernel
def play_plain(
    first: int, last: int, start: Floats, velocity: Floats, spin: Floats, winds: Floats,
    turf: Floats, sky: Floats, law: Floats, numbers: Floats, fields: Floats, net: Floats,
    surfaces: Ints, where: Floats, grounds: Floats, hole: Floats, codes: Ints, kinds: Ints,
    ends: Floats,
) -> None:  # fmt: skip
    """Rows first..last, ball by ball."""
    state, up, here = np.empty(9), np.empty(3), np.empty(4)
    for k in range(first, last):
        state[:3], state[3:6], state[6:] = start, velocity[k], spin[k]
        end = ends[k]
        end[6], end[7], end[8] = start[0], start[1], 0.0
        down = fly_plain(state, sky, winds[k], numbers, numbers[4], fields, net)
        end[4], end[5], end[3], end[2] = state[0], state[1], 0.0, 0.0
        while end[2] == 0.0:
            if not down:
                end[2] = codes[4]
                break
            kind = surface_plain(state[0], state[1], surfaces, where)
            if kind == kinds[1]:
                end[2] = codes[2]
                break
            end[6], end[7] = state[0], state[1]
            _, gx, gy = look_up(state[0], state[1], fields, net)
            up[0], up[1], up[2] = -gx, -gy, 1.0
            up /= np.sqrt(1.0 + gx * gx + gy * gy)
            here[0], here[1] = turf[k, 0] * grounds[kind, 0], turf[k, 1] * grounds[kind, 1]
            here[2], here[3] = turf[k, 2] * grounds[kind, 3], turf[k, 4] * grounds[kind, 4]
            bounce_plain(state, up, here, law, numbers)
            end[3] += 1.0
            if np.dot(state[3:6], up) < 0.25 or end[3] >= 30.0:
                roll_plain(
                    state, up, turf[k], law, numbers, fields, net, surfaces, where, grounds, hole,
                    codes, kinds, end,
                )  # fmt: skip
                break
            down = fly_plain(state, sky, winds[k], numbers, numbers[5], fields, net)
        end[0], end[1] = state[0], state[1]


@kernel
def roll_plain(
    state: Floats, up: Floats, turf: Floats, law: Floats, numbers: Floats, fields: Floats,
    net: Floats, surfaces: Ints, where: Floats, grounds: Floats, hole: Floats, codes: Ints,
    kinds: Ints, end: Floats,
) -> None:  # fmt: skip
    """Skid and roll in small steps until the ball rests or is gone; `end` gets how and where."""
    gravity, h, mu, radius = numbers[0], numbers[6], law[11], numbers[1]
    x, y, vx, vy = state[0], state[1], state[3], state[4]
    sx = vx - radius * (state[7] * up[2] - state[8] * up[1])
    sy = vy - radius * (state[8] * up[0] - state[6] * up[2])
    end[2] = codes[3]
    for _ in range(round(numbers[7] / h)):
        kind = surface_plain(x, y, surfaces, where)
        end[2] = codes[2] if kind == kinds[1] else end[2]
        if kind == kinds[1]:
            break
        end[6], end[7] = x, y
        resist = turf[3] if kind == kinds[0] else grounds[kind, 2]
        _, gx, gy = look_up(x, y, fields, net)
        level = 1.0 + gx * gx + gy * gy
        ax, ay = -gravity * gx / level, -gravity * gy / level
        slip, pace = np.sqrt(sx * sx + sy * sy), np.sqrt(vx * vx + vy * vy)
        held = False
        if slip > 1e-6:
            gone = min(3.5 * mu * gravity * h, slip) / slip
            nx, ny = vx + ax * h - gone / 3.5 * sx, vy + ay * h - gone / 3.5 * sy
            sx, sy = sx * (1.0 - gone), sy * (1.0 - gone)
        else:
            ax, ay = 5.0 / 7.0 * ax, 5.0 / 7.0 * ay
            held = pace <= resist * h and np.sqrt(ax * ax + ay * ay) <= resist
            left = 0.0 if held else max(pace - resist * h, 0.0) / max(pace, 1e-9)
            go = 0.0 if held else h
            nx, ny = left * vx + go * ax, left * vy + go * ay
        dx, dy = 0.5 * h * (vx + nx), 0.5 * h * (vy + ny)
        vx, vy = nx, ny
        if drops_plain(x, y, dx, dy, np.sqrt(vx * vx + vy * vy), hole, numbers[3]):
            x, y, end[2] = hole[0], hole[1], codes[1]
            break
        x, y = x + dx, y + dy
        if held:
            end[2] = codes[0]
            break
    state[0], state[1] = x, y


@kernel
def drops_plain(
    x: float, y: float, dx: float, dy: float, pace: float, hole: Floats, radius: float
) -> bool:
    """Whether a ball drops: the speed at which it passes the centre at some offset (Holmes)."""
    tx, ty = hole[0] - x, hole[1] - y
    share = min(max((tx * dx + ty * dy) / (dx * dx + dy * dy + 1e-30), 0.0), 1.0)
    mx, my = tx - share * dx, ty - share * dy
    offset2 = (mx * mx + my * my) / radius**2
    if offset2 >= 1.0:
        return False
    return pace < 1.63 * (1.0 - offset2)
