"""The bag: clubs, and the shots the player owns: a club, a flight and a shape."""

from dataclasses import dataclass
from enum import StrEnum
from math import degrees

from carrybook.base.constants import YARD
from carrybook.base.errors import BadInputError, require_range

__all__ = ["MOST_CLUBS", "Club", "Flight", "Shape", "Shot"]

MOST_CLUBS = 14  # Rule 4.1b, rules-of-golf-2023


class Flight(StrEnum):
    """How high the shot is meant to fly."""

    LOW = "low"
    STOCK = "stock"
    HIGH = "high"


class Shape(StrEnum):
    """How it is meant to curve."""

    DRAW = "draw"
    STRAIGHT = "straight"
    CUT = "cut"


@dataclass(frozen=True, slots=True)
class Club:
    """A club in the bag.

    Parameters
    ----------
    label : str
        What the player calls it: "54", "PW", "sand iron".
    loft_rad : float
        Loft, 0.12 to 1.22 (7 to 70 deg). [rad]

    Raises
    ------
    BadInputError
        An empty label or one longer than 24 characters.
    OutOfRangeError
        A loft that no club has.
    """

    label: str
    loft_rad: float

    def __post_init__(self) -> None:
        if not 0 < len(self.label.strip()) <= 24:
            raise BadInputError(f"club = {self.label!r}: a club needs a name of 1 to 24 characters")
        require_range(f"loft of club {self.label}", degrees(self.loft_rad), 7.0, 70.0, "deg")


@dataclass(frozen=True, slots=True)
class Shot:
    """A shot the player owns.

    Parameters
    ----------
    club : Club
        What it is played with.
    flight : Flight
        Low, stock or high.
    shape : Shape
        Draw, straight or cut.
    stock_carry_m : float
        The carry the player says it has on an ordinary day, 5 to 250. [m]
    shortest_m, longest_m : float
        Partial carries it may be used for, in the player's felt distance; stock within. [m]
    cue : str
        The player's own words for it; shown back, never changed.
    trusted : bool
        Whether it is trusted in competition.

    Raises
    ------
    BadInputError
        A partial range that does not hold the stock carry, or a cue over 200 characters.
    OutOfRangeError
        A carry that is not believable.
    """

    club: Club
    flight: Flight
    shape: Shape
    stock_carry_m: float
    shortest_m: float
    longest_m: float
    cue: str = ""
    trusted: bool = True

    def __post_init__(self) -> None:
        require_range(f"stock carry of {self.label}", self.stock_carry_m / YARD, 5.0, 275.0, "yd")
        require_range(f"shortest partial of {self.label}", self.shortest_m / YARD, 5.0, 275.0, "yd")
        if not self.shortest_m <= self.stock_carry_m <= self.longest_m * (1.0 + 1e-9):
            raise BadInputError(
                f"partials of {self.label} = {self.shortest_m / YARD:.0f} to"
                f" {self.longest_m / YARD:.0f} yd do not hold its stock carry"
                f" {self.stock_carry_m / YARD:.0f} yd"
            )
        if len(self.cue) > 200:
            raise BadInputError(f"cue of {self.label} has {len(self.cue)} characters; at most 200")

    @property
    def label(self) -> str:
        """The shot's name: "54", "54 low", "60 high cut"."""
        words = [self.club.label]
        words += [self.flight.value] if self.flight is not Flight.STOCK else []
        words += [self.shape.value] if self.shape is not Shape.STRAIGHT else []
        return " ".join(words)
