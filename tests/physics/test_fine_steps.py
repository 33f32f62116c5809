"""Finishes on contoured ground against a whole shot written the textbook way, in fine steps.

The plain form shares with the code the height of the ground, the numbers of the turf and the
equation of one bounce (which has tests of its own), and none of the ways in which it takes steps.
"""

import tracemalloc

import numpy as np
import pytest

from carrybook.base.constants import FOOT, GRAVITY
from carrybook.base.numerics import Floats, Ints, kernel
from carrybook.physics.aerodynamics import MID
from carrybook.physics.bounce import CRATER, RESTITUTION, bounce_kernel
from carrybook.physics.flight import body_row, wind_row
from carrybook.physics.flight_steps import runge_kutta_step
from carrybook.physics.roll import rolling_resistance
from carrybook.physics.shot import GROUND_ROWS, HOP_SPEED, End, play_batch
from carrybook.physics.terrain import height_and_slope, surface_code
from carrybook.physics.turf import turf_rows
from carrybook.world.air import REFERENCE_DAY
from carrybook.world.ground import Ground, Surface
from carrybook.world.wind import CALM, Wind

FAR = (900.0, 0.0)
BREEZE = Wind(5.0, 1.0)


def contoured(*, fringe: bool = False) -> Ground:
    """A green of swales with a tier 1 ft high, falling to the front; rough round it if asked."""
    x, y = np.meshgrid(np.arange(-20.0, 150.0, 0.5), np.arange(-50.0, 50.0, 0.5), indexing="ij")
    heights = 0.02 * x + 0.125 * np.sin(x / 4.0) * np.sin(y / 5.0)
    heights += 0.3 / (1.0 + np.exp(-(x - 70.0) / 0.6))
    surfaces = np.zeros(x.shape, dtype=np.int64)
    if fringe:
        away = np.hypot(x - 65.0, y)
        surfaces[away > 12.0] = int(Surface.FRINGE)
        surfaces[away > 13.0] = int(Surface.ROUGH)
    return Ground(-20.0, -50.0, 0.5, heights, surfaces)


def random_shots(n: int, seed: int) -> tuple[Floats, Floats]:
    rng = np.random.default_rng(seed)
    launches = np.column_stack(
        [
            rng.uniform(22, 40, n), rng.uniform(0.42, 0.75, n), rng.uniform(400, 1050, n),
            rng.uniform(-0.25, 0.25, n), rng.uniform(-0.1, 0.1, n),
        ]
    )  # fmt: skip
    turf = turf_rows(rng.uniform(65, 125, n))
    turf[:, 3] = rng.uniform(rolling_resistance(13.0 * FOOT), rolling_resistance(8.0 * FOOT), n)
    return launches, turf


def settle(launches: Floats, turf: Floats, ground: Ground) -> tuple[Floats, Floats]:
    n = len(launches)
    return play_batch(
        launches, turf, body_row(REFERENCE_DAY), MID.row()[None, :], np.zeros(n, dtype=np.int64),
        np.tile(wind_row(BREEZE), (n, 1)), ground, np.zeros(3), FAR,
    )  # fmt: skip


@pytest.mark.parametrize("fringe", [False, True])
def test_a_thousand_finishes_on_a_contoured_green_are_those_of_fine_steps(fringe: bool) -> None:
    ground = contoured(fringe=fringe)
    launches, turf = random_shots(1000, 4)
    ends, landings = settle(launches, turf, ground)
    plain = plain_finishes(
        launches, landings, turf, body_row(REFERENCE_DAY), MID.row(), wind_row(BREEZE), ground
    )
    apart = np.hypot(*(ends[:, :2] - plain[:, :2]).T)
    assert (apart < 0.02).mean() >= 0.99
    steady = plain[:, 2] > 0.1  # the rest hang on slopes that all but let go: a hair decides
    assert steady.mean() > 0.97
    assert (apart[steady] < 0.02).mean() >= 0.995
    assert np.median(apart) < 0.003


def test_balls_rest_only_where_the_slope_lets_them() -> None:
    ground = contoured(fringe=True)
    launches, turf = random_shots(3000, 8)
    ends, _ = settle(launches, turf, ground)
    assert set(ends[:, 2]) == {End.REST}
    own = {Surface.FRINGE: 0.8, Surface.ROUGH: 4.5}
    for end, resistance in zip(ends, turf[:, 3], strict=True):
        x, y = float(end[0]), float(end[1])
        net = (ground.heights, ground.x0, ground.y0, ground.step)
        _, gx, gy = height_and_slope(x, y, *net)
        pull = 5.0 / 7.0 * GRAVITY * np.hypot(gx, gy) / (1.0 + gx * gx + gy * gy)
        assert pull <= own.get(ground.surface_at(x, y), resistance) + 1e-9


def test_working_memory_does_not_grow_with_the_number_of_balls() -> None:
    peaks = []
    for n in (40_000, 160_000):
        launches, turf = random_shots(n, 1)
        winds = np.tile(wind_row(CALM), (n, 1))
        which, body, ground = np.zeros(n, dtype=np.int64), body_row(REFERENCE_DAY), contoured()
        given = (launches, turf, body, MID.row()[None, :], which, winds, ground, np.zeros(3), FAR)
        play_batch(*given)
        tracemalloc.start()
        returned = play_batch(*given)
        peaks.append(tracemalloc.get_traced_memory()[1] - sum(a.nbytes for a in returned))
        tracemalloc.stop()
    assert peaks[1] < 1.1 * peaks[0]


# -- the plain form ---------------------------------------------------------------------------


def plain_finishes(
    launches: Floats, landings: Floats, turf: Floats, body: Floats, air: Floats, wind: Floats,
    ground: Ground, *, hop_dt: float = 1e-3, roll_dt: float = 2e-4,
) -> Floats:  # fmt: skip
    """Rest points from first touches, shape (n, 3): x, y, and how near it was to rolling on.

    The last is the least of (resistance - pull) / resistance after the ball was slower than 0.3
    m/s: near nothing, a hair decides where it stops.
    """
    out = np.empty((len(launches), 3))
    _plain_many(
        launches, landings, turf, body, air, wind, ground.heights, ground.surfaces, ground.x0,
        ground.y0, ground.step, HOP_SPEED, RESTITUTION, CRATER, GROUND_ROWS, GRAVITY, hop_dt,
        roll_dt, out,
    )  # fmt: skip
    return out


@kernel
def _plain_many(
    launches: Floats, landings: Floats, turf: Floats, body: Floats, air: Floats, wind: Floats,
    heights: Floats, surfaces: Ints, x0: float, y0: float, step: float, hop_speed: float,
    curve: Floats, crater: Floats, grounds: Floats, gravity: float, hop_dt: float, roll_dt: float,
    out: Floats,
) -> None:  # fmt: skip
    r = body[2]
    for k in range(len(launches)):
        x, y, z, vx, vy, vz, spin = landings[k, :7]
        axis = launches[k, 3], launches[k, 4]
        wx = -spin * np.sin(axis[1]) * np.cos(axis[0])
        wy = -spin * np.cos(axis[1]) * np.cos(axis[0])
        wz = -spin * np.sin(axis[0])
        for _ in range(30):
            _, gx, gy = height_and_slope(x, y, heights, x0, y0, step)
            n = np.array([-gx, -gy, 1.0]) / np.sqrt(1.0 + gx * gx + gy * gy)
            g = grounds[surface_code(x, y, surfaces, x0, y0, step)]
            vx, vy, vz, wx, wy, wz = bounce_kernel(
                vx, vy, vz, wx, wy, wz, n[0], n[1], n[2], turf[k, 0] * g[0], turf[k, 1] * g[1],
                turf[k, 2] * g[3], turf[k, 5], turf[k, 6], turf[k, 7] * g[4], r, curve, crater,
            )  # fmt: skip
            if vx * n[0] + vy * n[1] + vz * n[2] < hop_speed:
                break
            w = np.sqrt(wx * wx + wy * wy + wz * wz) + 1e-12
            ax, ay, az = wx / w, wy / w, wz / w
            while True:  # fine steps, the last one shared out linearly
                now = x, y, z, vx, vy, vz, w
                x, y, z, vx, vy, vz, w = runge_kutta_step(
                    x, y, z, vx, vy, vz, w, ax, ay, az, body, air, wind, hop_dt
                )
                gap = z - height_and_slope(x, y, heights, x0, y0, step)[0]
                if gap < 0.0:
                    before = now[2] - height_and_slope(now[0], now[1], heights, x0, y0, step)[0]
                    part = max(before, 0.0) / (max(before, 0.0) - gap)
                    x, y, z, vx, vy, vz, w = runge_kutta_step(
                        now[0], now[1], now[2], now[3], now[4], now[5], now[6], ax, ay, az,
                        body, air, wind, part * hop_dt,
                    )  # fmt: skip
                    break
            wx, wy, wz = ax * w, ay * w, az * w
        sx = vx - r * (wy * n[2] - wz * n[1])
        sy = vy - r * (wz * n[0] - wx * n[2])
        mu, dt, margin = turf[k, 6], roll_dt, 1.0
        for _ in range(int(90.0 / roll_dt)):
            _, gx, gy = height_and_slope(x, y, heights, x0, y0, step)
            fall_x = -gravity * gx / (1.0 + gx * gx + gy * gy)
            fall_y = -gravity * gy / (1.0 + gx * gx + gy * gy)
            slip = np.sqrt(sx * sx + sy * sy)
            if slip > 4.0 * mu * gravity * dt:
                px, py = fall_x - mu * gravity * sx / slip, fall_y - mu * gravity * sy / slip
                sx += dt * (fall_x - 3.5 * mu * gravity * sx / slip)
                sy += dt * (fall_y - 3.5 * mu * gravity * sy / slip)
            else:
                sx, sy = 0.0, 0.0
                surface = surface_code(x, y, surfaces, x0, y0, step)
                resist = turf[k, 3] if surface == 0 else grounds[surface, 2]
                pull = 5.0 / 7.0 * np.sqrt(fall_x * fall_x + fall_y * fall_y)
                speed = np.sqrt(vx * vx + vy * vy)
                if speed < 0.3:
                    margin = min(margin, (resist - pull) / resist)
                if speed < 2.0 * resist * dt and pull <= resist:
                    break
                px = 5.0 / 7.0 * fall_x - resist * vx / (speed + 1e-9)
                py = 5.0 / 7.0 * fall_y - resist * vy / (speed + 1e-9)
            x, y = x + dt * (vx + 0.5 * dt * px), y + dt * (vy + 0.5 * dt * py)
            vx, vy = vx + dt * px, vy + dt * py
        out[k, 0], out[k, 1], out[k, 2] = x, y, margin
