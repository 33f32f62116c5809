"""The bag: clubs, and the shots the player owns: a club, a flight and a shape."""

from dataclasses import dataclass
from enum import StrEnum
from math import degrees

from carrybook.base.constants import FOOT, YARD
from carrybook.base.errors import BadInputError, require_range

__all__ = ["MOST_CLUBS", "Club", "Effort", "Flight", "Shape", "Shot", "Source"]

MOST_CLUBS = 14  # Rule 4.1b, rules-of-golf-2023
_MOST_EFFORTS = 12  # ours: more names for swings than anybody keeps apart


class Source(StrEnum):
    """Where a number comes from."""

    PRIOR = "prior"  # worked out by the program, until the player says or measures it
    SAID = "said"
    MEASURED = "measured"


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
    loft_source : Source
        Where the loft comes from: stamped and said, or measured.
    bounce_rad : float, optional
        Bounce, -5 to 25 deg. [rad]
    length_m : float, optional
        Length, 25 to 50 in. [m]
    head_mass_kg : float, optional
        Mass of the head, 0.15 to 0.40. [kg]

    Raises
    ------
    BadInputError
        An empty label or one longer than 24 characters.
    OutOfRangeError
        A loft, bounce, length or mass that no club has.
    """

    label: str
    loft_rad: float
    loft_source: Source = Source.SAID
    bounce_rad: float | None = None
    length_m: float | None = None
    head_mass_kg: float | None = None

    def __post_init__(self) -> None:
        if not 0 < len(self.label.strip()) <= 24:
            raise BadInputError(f"club = {self.label!r}: a club needs a name of 1 to 24 characters")
        require_range(f"loft of club {self.label}", degrees(self.loft_rad), 7.0, 70.0, "deg")
        if self.bounce_rad is not None:
            bounce = degrees(self.bounce_rad)
            require_range(f"bounce of club {self.label}", bounce, -5.0, 25.0, "deg")
        if self.length_m is not None:
            require_range(
                f"length of club {self.label}", 12.0 * self.length_m / FOOT, 25.0, 50.0, "in"
            )
        if self.head_mass_kg is not None:
            grams = 1000.0 * self.head_mass_kg
            require_range(f"head mass of club {self.label}", grams, 150.0, 400.0, "g")


@dataclass(frozen=True, slots=True)
class Effort:
    """A swing that the player thinks of by a name instead of by felt yards.

    Parameters
    ----------
    name : str
        As the player says it: "three quarter", "9 o'clock", "75%".
    carry_m : float
        The carry that it is meant to feel like, 3 to 250. [m]
    source : Source
        Whether the player said or measured that carry, or it follows from the name.

    Raises
    ------
    BadInputError
        An empty name, one longer than 30 characters, or one that is a bare number.
    OutOfRangeError
        A carry that is not believable.
    """

    name: str
    carry_m: float
    source: Source = Source.SAID

    def __post_init__(self) -> None:
        if not 0 < len(self.name.strip()) <= 30 or self.name.strip().isdigit():
            raise BadInputError(
                f"effort = {self.name!r}: a swing needs a name of 1 to 30 characters, not a number"
            )
        require_range(f"carry of {self.name}", self.carry_m / YARD, 3.0, 275.0, "yd")


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
    stock_effort : str
        What the player calls the stock swing; empty for one who feels yards.
    efforts : tuple of Effort
        Named swings, for a player who thinks so; none for one who feels yards.
    carry_source, partials_source : Source
        Where the stock carry and the range of partials come from.

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
    stock_effort: str = ""
    efforts: tuple[Effort, ...] = ()
    carry_source: Source = Source.SAID
    partials_source: Source = Source.SAID

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
        if len(self.stock_effort) > 30:
            raise BadInputError(f"stock effort of {self.label} has more than 30 characters")
        names = [effort.name.lower() for effort in self.efforts]
        if len(set(names)) < len(names) or len(names) > _MOST_EFFORTS:
            raise BadInputError(
                f"efforts of {self.label}: at most {_MOST_EFFORTS}, each with a name of its own"
            )

    @property
    def label(self) -> str:
        """The shot's name: "54", "54 low", "60 high cut"."""
        words = [self.club.label]
        words += [self.flight.value] if self.flight is not Flight.STOCK else []
        words += [self.shape.value] if self.shape is not Shape.STRAIGHT else []
        return " ".join(words)
