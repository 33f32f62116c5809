"""What a turf is to a ball: the numbers of its bounce by firmness, kind and moisture.

The numbers are priors, ours around published ones; docs/turf.md says why, and how unsure each is.
"""

from dataclasses import dataclass

import numpy as np

from carrybook.base.errors import require_range
from carrybook.base.numerics import Floats
from carrybook.world.firmness import TurfKind

__all__ = ["TURF_ROW", "Turf", "TurfKind", "turf_of_firmness", "turf_rows"]

TURF_ROW = (
    "tilt_rad",
    "restitution",
    "friction",
    "green_resistance",
    "cup_shift",
    "tangential",
    "skid_friction",
    "wrap_rad",
)


# Ours, after the classes of hardness in docs/sources.md (turf-classes): value at 90 Clegg
# gravities, change a gravity, least, greatest. Tilt is higher than the 15.4 deg of penner-2002-run,
# whose ball is not wrapped by its crater and so is braked more at the same tilt.
_TILT_DEG = (17.5, -0.15, 6.0, 26.0)
_RESTITUTION = (0.85, 0.0075, 0.4, 1.3)
_WRAP_RAD = (0.75, -0.010, 0.05, 1.1)
# Friction of a landing: at 90 g, logarithmic change a gravity. The free kind keeps backspin above
# 250 to 450 rad/s as haake-1994 saw, the gripping kind never; the unknown is between, unsure.
_FRICTION = {
    TurfKind.UNKNOWN: (0.30, -0.004),
    TurfKind.GRIPPING: (0.55, 0.0),
    TurfKind.FREE: (0.18, -0.006),
}
_TANGENTIAL = 0.10  # ours, 0 to 0.3: slip reverses a little (cross-2002, biber-2023)
_SKID_FRICTION = 0.40  # penner-2002-run (from memory)


@dataclass(frozen=True, slots=True)
class Turf:
    """How a surface takes a ball.

    Parameters
    ----------
    tilt_rad : float
        Crater tilt of a ball landing at 18.6 m/s and 44.4 deg. [rad]
    restitution : float
        Factor on the restitution of a middling turf. [1]
    friction : float
        Sliding friction between ball and turf in a hard landing. [1]
    tangential : float
        Restitution along the slip of a bounce that grips: 0 leaves rolling, 1 reverses it. [1]
    skid_friction : float
        Sliding friction in a skid and in gentle bounces. [1]
    wrap_rad : float
        Half of the angle of the ball that the crater of such a landing takes in. [rad]
    """

    tilt_rad: float
    restitution: float
    friction: float = 0.40  # penner-2002-run (from memory)
    tangential: float = 0.0
    skid_friction: float = _SKID_FRICTION
    wrap_rad: float = 0.0

    def row(self, green_resistance: float, cup_shift: float = 0.0) -> Floats:
        """The turf in the order in which kernels read it, :data:`TURF_ROW`.

        Parameters
        ----------
        green_resistance : float
            Deceleration of a ball that rolls on the level green. [m/s2]
        cup_shift : float
            Relative change of the greatest speed that drops. [1]
        """
        return np.array(
            [
                self.tilt_rad, self.restitution, self.friction, green_resistance, cup_shift,
                self.tangential, self.skid_friction, self.wrap_rad,
            ]
        )  # fmt: skip


def turf_of_firmness(firmness_g: float, kind: TurfKind = TurfKind.UNKNOWN) -> Turf:
    """Turf of a green of some hardness: the middle of what we believe.

    Parameters
    ----------
    firmness_g : float
        Reading of the 0.5 kg hammer, 30 to 200. [Clegg gravities]
    kind : TurfKind
        Whether it grips.

    Raises
    ------
    OutOfRangeError
        The firmness is outside its range.

    Notes
    -----
    Straight lines through our classes, held within bounds. Hardness was seen to explain about half
    of the size of a ball mark (linde-2009), so never use it without its uncertainty.
    """
    require_range("firmness", firmness_g, 30.0, 200.0, "g")
    row = turf_rows(np.array([firmness_g]), kind)[0]
    tilt, restitution, friction, _, _, tangential, skid, wrap = (float(v) for v in row)
    return Turf(tilt, restitution, friction, tangential, skid, wrap)


def turf_rows(firmness_g: Floats, kind: TurfKind = TurfKind.UNKNOWN) -> Floats:
    """Turf of many firmnesses at once; green resistance and cup shift are left at nothing.

    Parameters
    ----------
    firmness_g : ndarray, shape (n,)
        As in :func:`turf_of_firmness`, but held within its range. [Clegg gravities]
    kind : TurfKind
        Whether it grips.

    Returns
    -------
    rows : ndarray, shape (n, 8)
        Columns :data:`TURF_ROW`.
    """
    over = np.clip(firmness_g, 30.0, 200.0) - 90.0
    middle, change = _FRICTION[kind]
    rows = np.zeros((len(over), len(TURF_ROW)))
    rows[:, 0] = np.radians(_line(over, _TILT_DEG))
    rows[:, 1] = _line(over, _RESTITUTION)
    rows[:, 2] = middle * np.exp(change * over)
    rows[:, 5], rows[:, 6] = _TANGENTIAL, _SKID_FRICTION
    rows[:, 7] = _line(over, _WRAP_RAD)
    return rows


def _line(over: Floats, numbers: tuple[float, float, float, float]) -> Floats:
    middle, change, least, greatest = numbers
    return np.clip(middle + change * over, least, greatest)
