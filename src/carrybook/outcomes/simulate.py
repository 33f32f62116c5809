"""Many balls of many candidates on the real ground, each candidate under the same chance.

What scatters: the swing (the player's own spread, and how unsure its centre is), launch and spin,
the curve of a draw or cut, what the lie does, the wind of one shot, the set of lift and drag by the
weights that the log gives them, lift where it may reverse, the green.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import sqrt

import numpy as np

from carrybook.base.numerics import Flags, Floats, Ints
from carrybook.outcomes.draws import Draws
from carrybook.outcomes.putting_map import KEPT_WITHIN
from carrybook.outcomes.swing import SETS, SETS_ROW, Swing
from carrybook.outcomes.turf import drawn_turf
from carrybook.physics.band import GUARDED_BAND, REVERSE_RE, REVERSE_SPIN
from carrybook.physics.flight import body_row, wind_row
from carrybook.physics.roll import rolling_resistance
from carrybook.physics.shot import play_batch
from carrybook.physics.strike import LieEffect, off_this_lie
from carrybook.physics.wind import gust_sd, one_shot_share
from carrybook.player.robust import HALF_WIDTH_68
from carrybook.world.air import Air
from carrybook.world.firmness import TurfKind
from carrybook.world.ground import Ground
from carrybook.world.wind import Wind

__all__ = [
    "BEARING_SD", "MEAN_SD", "STIMP_SD", "Struck", "World", "between", "simulate", "strike",
    "turf_rows",
]  # fmt: skip

# Scatter of one ball where the player's own is not known yet: launch angle [rad], spin; ours.
_LAUNCH_SD = np.radians(1.5)
_SPIN_SD = 0.08
# One shot's wind. How long a wedge shot flies is ours, between 3 and 5 s, where the share of the
# gusts that lasts a whole flight hardly changes; how far a judged mean is off, and direction, too.
_FLIGHT_S = 4.0
MEAN_SD = 0.15
_VEER_SD = np.radians(8.0)
BEARING_SD = np.radians(10.0)
STIMP_SD = 0.05
_CUP_SD = 0.05
_TENTH = 1.2816  # a stated low and high of the lie are read as its 10 % and 90 % points


@dataclass(frozen=True, slots=True)
class World:
    """Everything around the swing.

    Parameters
    ----------
    ground : Ground
        Height and surface.
    start : ndarray, shape (3,)
        Where the ball lies. [m]
    hole : tuple of float
        Where the hole is cut. [m]
    line_right_rad : float
        The line from ball to hole, right of the x axis. [rad]
    air : Air
        Along the flight.
    wind : Wind
        Relative to that line.
    wind_level_m : float
        Height from which the wind profile is measured. [m]
    lie : LieEffect
        What lie and moisture do to the strike.
    firmness_g, firmness_sd_g : float
        The green, and how unsure that is. [Clegg gravities]
    stimp_m : float
        Green speed. [m]
    kind : TurfKind
        Whether the green grips.
    putts_within_m : float
        Distance from the hole within which putts are mapped where they start. [m]
    """

    ground: Ground
    start: Floats
    hole: tuple[float, float]
    line_right_rad: float
    air: Air
    wind: Wind
    wind_level_m: float
    lie: LieEffect
    firmness_g: float
    firmness_sd_g: float
    stimp_m: float
    kind: TurfKind = TurfKind.UNKNOWN
    putts_within_m: float = KEPT_WITHIN


@dataclass(frozen=True, slots=True)
class Struck:
    """Balls of k swings under n draws as they leave the club, and what they fly through.

    Parameters
    ----------
    launches : ndarray, shape (k, n, 5)
        Rows of :meth:`carrybook.physics.flight.Launch.row`.
    aero : ndarray, shape (m, 8)
        Rows of lift and drag.
    which : ndarray of int64, shape (k, n)
        Which of them each ball flies with.
    winds : ndarray, shape (n, 5)
        Of each draw, rows of :func:`carrybook.physics.flight.wind_row`.
    """

    launches: Floats
    aero: Floats
    which: Ints
    winds: Floats

    def part(self, rows: Ints | slice, draws: slice) -> "Struck":
        """Some of the swings under some of the draws."""
        launches, which = self.launches[rows, draws], self.which[rows, draws]
        return Struck(launches, self.aero, which, self.winds[draws])


def simulate(
    world: World, swings: Sequence[Swing], draws: Draws, *, landings: Floats | None = None
) -> tuple[Floats, Floats]:
    """Play every swing under every draw.

    Parameters
    ----------
    world : World
        Everything around the swing.
    swings : sequence of Swing, length k
        The candidates.
    draws : Draws, length n
        The shared chance.
    landings : ndarray, shape (k, n, 10), optional
        Of the same swings under the same draws in a world that differs only in what lies on the
        ground: they are not flown again.

    Returns
    -------
    ends : ndarray, shape (k, n, 9)
        Columns :data:`carrybook.physics.shot.END_ROW`.
    landings : ndarray, shape (k, n, 10)
        Columns :data:`carrybook.physics.flight.LANDING_ROW`.
    """
    struck = strike(world, swings, draws)
    k, n = struck.which.shape
    ends, landings = play_batch(
        struck.launches.reshape(k * n, -1),
        np.tile(turf_rows(world, draws), (k, 1)),
        body_row(world.air),
        struck.aero,
        struck.which.ravel(),
        np.tile(struck.winds, (k, 1)),
        world.ground,
        world.start,
        world.hole,
        landings=None if landings is None else landings.reshape(k * n, -1),
    )
    return ends.reshape(k, n, -1), landings.reshape(k, n, -1)


def strike(world: World, swings: Sequence[Swing], draws: Draws) -> Struck:
    """Strike every swing under every draw.

    Parameters
    ----------
    world, swings, draws : World, sequence of Swing, Draws
        As for :func:`simulate`.
    """
    aero, which = _sets(swings, draws)
    return Struck(_launches(world, swings, draws, which % SETS), aero, which, _winds(world, draws))


def _sets(swings: Sequence[Swing], draws: Draws) -> tuple[Floats, Ints]:
    """Rows of lift and drag, nine for each ball played, and which each flies with, shape (k, n).

    Where no speed gives the carry under some set, the likeliest one stands in for it.
    """
    balls = list(dict.fromkeys(s.summary.ball for s in swings))
    drawn_from = {ball: ball.drawn() for ball in balls}
    rows = np.array([a.row() for sets, _ in drawn_from.values() for a in sets])
    steps = np.cumsum([drawn_from[s.summary.ball][1] for s in swings], axis=1)[:, :-1]
    drawn = (draws.band >= steps[:, :, None]).sum(axis=1)
    likeliest = np.array([3 * s.summary.ball.likeliest + 1 for s in swings])[:, None]
    known = np.isfinite(np.array([s.sets[0] for s in swings]))
    drawn = np.where(np.take_along_axis(known, drawn, axis=1), drawn, likeliest)
    offset = np.array([SETS * balls.index(s.summary.ball) for s in swings])
    return rows, drawn + offset[:, None]


def _launches(world: World, swings: Sequence[Swing], draws: Draws, which: Ints) -> Floats:
    """Launch rows, shape (k, n, 5), given which set each ball flies with, shape (k, n).

    Scatter in launch and spin changes how a ball lands, not its drawn carry: the speed takes up
    what they do to the carry.
    """
    column = {
        name: np.array([getattr(s.summary, name) for s in swings])[:, None]
        for name in ("launch_rad", "spin_per_speed", "side_rad", "correlation", "bias_se")
    }
    right = np.array([s.start_right_rad for s in swings])[:, None]
    launch, ratio = column["launch_rad"], column["spin_per_speed"]
    sets = np.array([s.sets for s in swings])  # (k, 4, 9): columns of SETS_ROW, by set
    by_set = [np.take_along_axis(sets[:, row], which, axis=1) for row in range(len(SETS_ROW))]
    speeds, per_speed, per_launch, per_spin = by_set
    rho = column["correlation"]
    side = rho * draws.carry + np.sqrt(1.0 - rho**2) * draws.side
    spread = np.array([s.spread for s in swings])[:, None]
    error = spread / HALF_WIDTH_68 * draws.carry + column["bias_se"] * draws.centre
    launch_error, spin_error = _LAUNCH_SD * draws.launch, _SPIN_SD * draws.spin
    growth = (error - per_launch * launch_error - per_spin * spin_error) / per_speed
    speed = speeds * np.exp(np.clip(growth, -1.0, 0.5))
    lie_spin = between(world.lie.spin, draws.lie_spin)
    angles, ratios = _off_lie(launch[:, 0], ratio[:, 0], lie_spin)
    speed = speed * between(world.lie.speed, draws.lie_speed)
    spun = ratios * np.exp(spin_error)
    start = right + column["side_rad"] / HALF_WIDTH_68 * side
    launched = np.clip(angles + launch_error, np.radians(3.0), np.radians(80.0))
    guard = _reversing(world, speed, launched, spun) * GUARDED_BAND / _TENTH * draws.lift
    speed = speed * np.exp(guard / per_speed)
    curves = [s.summary.curve for s in swings]
    tilt = np.array([c.axis_rad for c in curves])[:, None]
    tilt = tilt + np.array([c.axis_se_rad for c in curves])[:, None] * draws.curve
    return np.stack([speed, launched, speed * spun, np.clip(tilt, -1.3, 1.3), start], axis=-1)


def _reversing(world: World, speed: Floats, launch: Floats, spun: Floats) -> Flags:
    """Which balls are so slow at the top, with so little spin, that lift may reverse."""
    top = speed * np.cos(launch)  # at most; drag takes more
    slow = top * body_row(world.air)[1] < REVERSE_RE
    found: Flags = slow & (speed * spun < REVERSE_SPIN)
    return found


def between(stated: tuple[float, float, float], z: Floats) -> Floats:
    """A factor whose 10, 50 and 90 % points are the stated low, middle and high.

    Parameters
    ----------
    stated : tuple of float
        Low, middle, high. [1]
    z : ndarray, shape (...)
        Standard normal. [1]
    """
    low, middle, high = stated
    up = np.log(high / middle) / _TENTH * np.maximum(z, 0.0)
    down = np.log(low / middle) / _TENTH * np.maximum(-z, 0.0)
    return np.asarray(middle * np.exp(up + down))


def _off_lie(launch: Floats, ratio: Floats, factor: Floats) -> tuple[Floats, Floats]:
    """Launch angle and spin over speed of each shot off each draw of the lie, shape (k, n)."""
    if np.all(factor == 1.0):
        return np.broadcast_to(launch[:, None], (len(launch), len(factor))), ratio[:, None]
    return off_this_lie(launch[:, None], ratio[:, None], factor[None, :])


def _winds(world: World, draws: Draws) -> Floats:
    """Wind of each shot, shape (n, 5): mean misjudged, then gusting and veering."""
    wind = world.wind
    gusting = sqrt(one_shot_share(_FLIGHT_S)) * gust_sd(wind) * draws.gust
    speed = np.maximum((1.0 + MEAN_SD * draws.wind) * (wind.speed_mps + gusting), 0.0)
    turn = BEARING_SD * draws.bearing + _VEER_SD * draws.veer
    base = wind_row(
        replace(wind, speed_mps=1.0, gust_mps=None), world.line_right_rad, world.wind_level_m
    )
    rows = np.tile(base, (len(draws), 1))
    cos, sin = speed * np.cos(turn), speed * np.sin(turn)
    rows[:, 0] = cos * base[0] - sin * base[1]
    rows[:, 1] = sin * base[0] + cos * base[1]
    return rows


def turf_rows(world: World, draws: Draws) -> Floats:
    """The green as each ball meets it.

    Parameters
    ----------
    world : World
        Everything around the swing.
    draws : Draws, length n
        The shared chance.

    Returns
    -------
    turf : ndarray, shape (n, 8)
        Columns :data:`carrybook.physics.turf.TURF_ROW`.
    """
    firmness = np.clip(world.firmness_g + world.firmness_sd_g * draws.firmness, 35.0, 180.0)
    rows = drawn_turf(firmness, draws.tilt, draws.restitution, draws.friction, world.kind)
    rows[:, 3] = rolling_resistance(world.stimp_m) * np.exp(STIMP_SD * draws.stimp)
    rows[:, 4] = _CUP_SD * draws.cup
    return rows
