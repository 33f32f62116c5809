"""Parts of an answer: trouble, facts and what they would change, reasons, the usual putt."""

from dataclasses import dataclass
from enum import StrEnum

__all__ = ["Cause", "Fact", "Flip", "Leave", "Trouble", "Worth"]


class Trouble(StrEnum):
    """Kinds of trouble a ball can finish in."""

    WATER = "water"
    BUNKER = "bunker"
    OUT_OF_BOUNDS = "out of bounds"
    ROUGH = "rough"
    SHORT = "short of the green"
    LONG = "over the green"


class Fact(StrEnum):
    """What is judged before a shot."""

    FIRMNESS = "firmness"
    WIND = "wind"
    DIRECTION = "wind direction"
    GREEN_SPEED = "green speed"
    LIE = "lie"


@dataclass(frozen=True, slots=True)
class Flip:
    """A fact that would change the shot.

    Parameters
    ----------
    fact : Fact
        Which.
    deviation : float
        From what is believed, in standard deviations of the belief, where the shots are level. [1]
    value : float
        The fact there: Clegg gravities, wind speed [m/s], where it comes from, clockwise from into
        [rad], stimp [m], factor of the lie on spin [1].
    instead : str
        Label of the shot that is better beyond that.
    """

    fact: Fact
    deviation: float
    value: float
    instead: str


@dataclass(frozen=True, slots=True)
class Worth:
    """What knowing a fact exactly would save on average.

    Parameters
    ----------
    fact : Fact
        Which.
    strokes : float
        Expected saving, of the cost that was minimised. [1]
    error : float
        Standard error of that. [1]
    """

    fact: Fact
    strokes: float
    error: float


@dataclass(frozen=True, slots=True)
class Cause:
    """One fact and the distance it adds to the number (positive plays longer). [m]"""

    name: str
    metres: float
    note: str = ""


@dataclass(frozen=True, slots=True)
class Leave:
    """The putt that is usually left, over the balls that finish on the green.

    Parameters
    ----------
    length_m : float
        Median length. [m]
    rise_m : float
        Median height of the hole above the ball: positive is uphill. [m]
    above, below, left, right : float
        Share of those balls that lie above or below the hole, left or right of it. [1]
    """

    length_m: float
    rise_m: float
    above: float
    below: float
    left: float
    right: float
