"""One ball as it comes down on a plane of some turf: where it goes, and how unsure that is."""

from dataclasses import dataclass
from math import cos, sin

import numpy as np

from carrybook.base import constants as c
from carrybook.base.errors import require_range
from carrybook.base.numerics import Floats
from carrybook.outcomes.turf import drawn_turf
from carrybook.physics.aerodynamics import MID
from carrybook.physics.flight import body_row, wind_row
from carrybook.physics.landing_path import Hop, hops
from carrybook.physics.roll import rolling_resistance
from carrybook.physics.shot import HOP_SPEED, play_batch, turf_on
from carrybook.physics.turf import TurfKind, turf_of_firmness
from carrybook.world.air import REFERENCE_DAY
from carrybook.world.ground import Ground, Surface, flat_ground
from carrybook.world.wind import CALM

__all__ = ["STIMP_SD", "Arrival", "Landed", "Patch", "drop_many", "land"]

STIMP_SD = 0.05  # ours: relative, how far a stated green speed is off for one ball
_DRAWS = 4096
_ABOVE = 1e-3  # m: a ball is let go just above the ground
_NO_HOLE = (900.0, 900.0)


@dataclass(frozen=True, slots=True)
class Arrival:
    """How a ball comes down.

    Parameters
    ----------
    speed_mps : float
        Speed over the ground, 1 to 60. [m/s]
    descent_rad : float
        Angle below the horizon, 1 to 90 deg. [rad]
    spin_rad_s : float
        Backspin, 0 to 16 000 rpm. [rad/s]
    axis_rad : float
        Tilt of the spin axis, right positive, -80 to 80 deg. [rad]

    Raises
    ------
    OutOfRangeError
        A quantity is outside its range.
    """

    speed_mps: float
    descent_rad: float
    spin_rad_s: float
    axis_rad: float = 0.0

    def __post_init__(self) -> None:
        require_range("landing speed", self.speed_mps, 1.0, 60.0, "m/s")
        require_range("angle of descent", float(np.degrees(self.descent_rad)), 1.0, 90.0, "deg")
        require_range("spin at landing", self.spin_rad_s / c.RPM, 0.0, 16_000.0, "rpm")
        require_range("spin axis", float(np.degrees(self.axis_rad)), -80.0, 80.0, "deg")

    def row(self) -> Floats:
        """A launch that goes down, as :meth:`carrybook.physics.flight.Launch.row`."""
        return np.array([self.speed_mps, -self.descent_rad, self.spin_rad_s, self.axis_rad, 0.0])


@dataclass(frozen=True, slots=True)
class Patch:
    """The plane it comes down on.

    Parameters
    ----------
    firmness_g, firmness_sd_g : float
        Firmness of the green, and its standard deviation. [Clegg gravities]
    stimp_m : float
        Green speed. [m]
    slope : float
        How much it falls. [1]
    fall_right_rad : float
        Which way it falls: 0 away from the player, then clockwise, to the right. [rad]
    surface : Surface
        What it is.
    kind : TurfKind
        Whether the green grips.
    """

    firmness_g: float = 90.0
    firmness_sd_g: float = 10.0
    stimp_m: float = 10.0 * c.FOOT
    slope: float = 0.0
    fall_right_rad: float = 0.0
    surface: Surface = Surface.GREEN
    kind: TurfKind = TurfKind.UNKNOWN

    def ground(self) -> Ground:
        """The plane, with the origin where the ball lands."""
        return flat_ground(
            self.surface,
            slope_x=-self.slope * cos(self.fall_right_rad),
            slope_y=self.slope * sin(self.fall_right_rad),
            extent_m=150.0,
            step=5.0,
        )


@dataclass(frozen=True, slots=True)
class Landed:
    """What becomes of it.

    Parameters
    ----------
    arrival, patch
        What was asked.
    first_bounce_m : float
        Along the line, from the first touch to the second; negative comes back. [m]
    run_m, side_m : float
        From the first touch to rest along the line, and right of it, in the middle of what we
        believe of the turf. [m]
    bounces : int
        Touches until it rolls.
    time_s : float
        From the first touch to rest. [s]
    hops : tuple of Hop
        The flights between them.
    runs, sides : ndarray, shape (n,)
        Run and side of balls under all that is unsure. [m]
    """

    arrival: Arrival
    patch: Patch
    first_bounce_m: float
    run_m: float
    side_m: float
    bounces: int
    time_s: float
    hops: tuple[Hop, ...]
    runs: Floats
    sides: Floats

    @property
    def run_quantiles_m(self) -> tuple[float, float, float]:
        """10, 50 and 90 % of the run. [m]"""
        low, middle, high = (float(v) for v in np.quantile(self.runs, (0.1, 0.5, 0.9)))
        return low, middle, high

    @property
    def side_quantiles_m(self) -> tuple[float, float, float]:
        """10, 50 and 90 % of the side, right positive. [m]"""
        low, middle, high = (float(v) for v in np.quantile(self.sides, (0.1, 0.5, 0.9)))
        return low, middle, high


def land(arrival: Arrival, patch: Patch, rng: np.random.Generator) -> Landed:
    """Let one ball come down.

    Parameters
    ----------
    arrival : Arrival
        How it comes down.
    patch : Patch
        Where.
    rng : numpy.random.Generator
        Where chance comes from.

    Raises
    ------
    OutOfRangeError
        A firmness or a green speed that no green has.

    Notes
    -----
    The scatter is that of the turf: firmness, crater, restitution, friction, green speed; the ball
    comes down as stated. Calm air of the reference day.
    """
    turf = turf_of_firmness(patch.firmness_g, patch.kind)
    middle = turf.row(rolling_resistance(patch.stimp_m))[None, :]
    one = arrival.row()[None, :]
    ends = drop_many(one, middle, patch)
    z = rng.standard_normal((5, _DRAWS))
    firmness = patch.firmness_g + patch.firmness_sd_g * z[0]
    rows = drawn_turf(firmness, z[1], z[2], z[3], patch.kind)
    rows[:, 3] = middle[0, 3] * np.exp(STIMP_SD * z[4])
    many = drop_many(np.tile(one, (_DRAWS, 1)), rows, patch)
    way = _way(arrival, patch)
    return Landed(
        arrival, patch,
        float(way[0].points[-1, 0]) if way else 0.0,
        float(ends[0, 0]), float(0.0 - ends[0, 1]), int(ends[0, 3]), float(ends[0, 8]),
        way, many[:, 0], -many[:, 1],
    )  # fmt: skip


def drop_many(arrivals: Floats, turf: Floats, patch: Patch) -> Floats:
    """Let balls come down at the origin, each on a turf of its own.

    Parameters
    ----------
    arrivals : ndarray, shape (n, 5)
        Rows of :meth:`Arrival.row`.
    turf : ndarray, shape (n, 8)
        Columns :data:`carrybook.physics.turf.TURF_ROW`.
    patch : Patch
        The plane; its firmness and green speed are not used.

    Returns
    -------
    ends : ndarray, shape (n, 9)
        Columns :data:`carrybook.physics.shot.END_ROW`, from the first touch.
    """
    n = len(arrivals)
    ends, landings = play_batch(
        arrivals, turf, body_row(REFERENCE_DAY), MID.row()[None, :], np.zeros(n, dtype=np.int64),
        np.tile(wind_row(CALM), (n, 1)), patch.ground(), np.array([0.0, 0.0, _ABOVE]), _NO_HOLE,
    )  # fmt: skip
    ends[:, :2] -= ends[:, 4:6]
    ends[:, 8] -= landings[:, 7]
    return ends


def _way(arrival: Arrival, patch: Patch) -> tuple[Hop, ...]:
    """Hops of the middle ball."""
    down, tilt = arrival.descent_rad, arrival.axis_rad
    velocity = arrival.speed_mps * np.array([cos(down), 0.0, -sin(down)])
    spin = arrival.spin_rad_s * np.array([0.0, -cos(tilt), -sin(tilt)])
    turf = turf_on(turf_of_firmness(patch.firmness_g, patch.kind), patch.surface)
    return hops(
        velocity, spin, turf, patch.ground(), body_row(REFERENCE_DAY), MID.row(),
        wind_row(CALM), hop_speed=HOP_SPEED,
    )  # fmt: skip
