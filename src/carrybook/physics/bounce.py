"""One bounce on turf: restitution, a crater that tilts the contact, friction that grips or slips.

Everything happens along the slip of the contact point, so backspin and sidespin, a slope and a
crossing ball all come from the same impulse. Energy never grows. What the numbers of a turf are
for, and how unsure they are, stands in docs/turf.md.
"""

import numpy as np

from carrybook.base import constants as c
from carrybook.base.numerics import Floats, kernel
from carrybook.physics.turf import Turf

__all__ = ["CRATER", "RESTITUTION", "bounce", "bounce_kernel"]

# penner-2002-run (from memory): restitution against normal speed n, and its limit above 20 m/s.
RESTITUTION = np.array([0.510, -0.0375, 0.000903, 20.0, 0.120])
CRATER = np.array(
    [
        18.6,  # m/s, penner-2002-run (from memory): the crater tilt was tuned at this speed ...
        np.sin(np.radians(88.8)),  # ... and at 44.4 deg, sin 2 theta of which this is
        np.radians(28.0),  # ours: a crater is never steeper
        5.0,  # m/s, ours: normal speed at which friction is half way from gentle to hard
        1.0 / 16.0,  # s/m, ours: the ball wraps itself as stated at about that landing's speed
        1.3,  # rad, ours: and is never buried deeper
    ]
)


def bounce(
    velocity: Floats, spin: Floats, normal: Floats, turf: Turf, *, radius: float = c.BALL_RADIUS
) -> tuple[Floats, Floats]:
    """Bounce one ball.

    Parameters
    ----------
    velocity, spin : ndarray, shape (3,)
        Before the bounce. [m/s], [rad/s]
    normal : ndarray, shape (3,)
        Unit normal of the ground, upward. [1]
    turf : Turf
        How the surface takes it.
    radius : float
        Of the ball. [m]

    Returns
    -------
    velocity, spin : ndarray, shape (3,)
        After the bounce. [m/s], [rad/s]

    Notes
    -----
    The contact normal leans back against the incoming direction by
    tilt (v / 18.6) sin(2 theta) / sin(88.8 deg), with theta measured to the ground; the published
    form is linear in theta and throws a ball that drops straight down sideways, this one does not.

    Friction goes from that of a skid to that of a landing as n^2 / (n^2 + 5^2). Round a crater of
    half angle b it turns the ball by all of its impulse J, but pushes it by c J only, as it points
    another way at each place; c = sin b / b, taken as 1 - b^2 / 6, and b grows with n. The slip it
    works against is s = c u + r w. J is the lesser of friction (1 + e) n and
    (1 + e_t) s / (c^2 + 5/2): with c = 1 and e_t = 0 the 2/7 of a ball that leaves rolling.

    References
    ----------
    penner-2002-run; cross-2002 and biber-2023 for e_t, without which no slip reverses; wrap ours.
    """
    vx, vy, vz = velocity.tolist()
    wx, wy, wz = spin.tolist()
    nx, ny, nz = normal.tolist()
    state = bounce_kernel(
        vx, vy, vz, wx, wy, wz, nx, ny, nz, turf.tilt_rad, turf.restitution, turf.friction,
        turf.tangential, turf.skid_friction, turf.wrap_rad, radius, RESTITUTION, CRATER,
    )  # fmt: skip
    return np.array(state[:3]), np.array(state[3:])


@kernel
def bounce_kernel(
    vx: float,
    vy: float,
    vz: float,
    wx: float,
    wy: float,
    wz: float,
    nx: float,
    ny: float,
    nz: float,
    tilt: float,
    restitution: float,
    friction: float,
    tangential: float,
    skid_friction: float,
    wrap: float,
    radius: float,
    curve: Floats,
    crater: Floats,
) -> tuple[float, float, float, float, float, float]:
    """Velocity and spin after a bounce."""
    into = -(vx * nx + vy * ny + vz * nz)
    tx, ty, tz = vx + into * nx, vy + into * ny, vz + into * nz
    along = np.sqrt(tx * tx + ty * ty + tz * tz)
    if along > 1e-9:
        speed = np.sqrt(into * into + along * along)
        lean = min(tilt * 2.0 * into * along / (speed * crater[0] * crater[1]), crater[2])
        cl, sl = np.cos(lean), np.sin(lean) / along
        nx, ny, nz = cl * nx - sl * tx, cl * ny - sl * ty, cl * nz - sl * tz
    n = -(vx * nx + vy * ny + vz * nz)
    e = curve[0] + curve[1] * n + curve[2] * n * n if n <= curve[3] else curve[4]
    e = min(restitution * e, 1.0)
    ux, uy, uz = vx + n * nx, vy + n * ny, vz + n * nz
    deep = min(wrap * n * crater[4], crater[5])
    push = 1.0 - deep * deep / 6.0
    # contact point at -r n: its velocity is v - r w x n
    sx = push * ux - radius * (wy * nz - wz * ny)
    sy = push * uy - radius * (wz * nx - wx * nz)
    sz = push * uz - radius * (wx * ny - wy * nx)
    slip = np.sqrt(sx * sx + sy * sy + sz * sz) + 1e-30
    hard = n * n / (n * n + crater[3] * crater[3])
    most = (skid_friction + (friction - skid_friction) * hard) * (1.0 + e) * n
    share = min(most, slip * (1.0 + tangential) / (push * push + 2.5)) / slip
    jx, jy, jz = share * sx, share * sy, share * sz
    turn = 2.5 / radius
    return (
        ux - push * jx + e * n * nx,
        uy - push * jy + e * n * ny,
        uz - push * jz + e * n * nz,
        wx + turn * (ny * jz - nz * jy),
        wy + turn * (nz * jx - nx * jz),
        wz + turn * (nx * jy - ny * jx),
    )
