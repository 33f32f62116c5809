"""One scoring shot of a round as it was recorded: what was known, what was meant, what came of it.

Whatever was not said is None or empty: nothing is filled in here. Past the hole and right of it are
positive, along and across the line from ball to hole.
"""

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from math import pi

from carrybook.base import constants as c
from carrybook.base.errors import BadInputError, require_range
from carrybook.player.rounds import Round
from carrybook.world.lie import Lie, Moisture

__all__ = ["Facts", "PlayedRound", "Rest", "RoundShot"]

_MOST_STROKES = 12  # ours: of putts, or of strokes after the shot; more is a slip of the thumb
_FROM_HOLE = {
    "aim_right_m": "aim",
    "landing_past_m": "landing",
    "landing_right_m": "side of the landing",
    "finish_past_m": "finish past the hole",
    "finish_right_m": "side of the finish",
}


def _check(
    called: str, value: float | None, low: float, high: float, unit: str, per: float
) -> None:
    """Refuse a number that no shot has."""
    if value is not None:
        require_range(called, value / per, low, high, unit)


class Rest(StrEnum):
    """What a ball came to rest on."""

    HOLED = "holed"
    GREEN = "green"
    FRINGE = "fringe"
    FAIRWAY = "fairway"
    ROUGH = "rough"
    BUNKER = "bunker"
    WATER = "water"
    OUT_OF_BOUNDS = "out of bounds"


@dataclass(frozen=True, slots=True, kw_only=True)
class Facts:
    """What is judged before a shot: as it was believed, or as it turned out.

    Parameters
    ----------
    number_m : float, optional
        Ball to hole over the ground. [m]
    wind_mps, wind_from_rad : float, optional
        Mean wind at 10 m, and where it comes from: 0 into, pi/2 from the right. [m/s], [rad]
    lie, moisture : Lie, Moisture, optional
        What the ball sits on and how wet it is.
    firmness_g : float, optional
        Of the green. [Clegg gravities]

    Raises
    ------
    OutOfRangeError
        A number outside its range.
    """

    number_m: float | None = None
    wind_mps: float | None = None
    wind_from_rad: float | None = None
    lie: Lie | None = None
    moisture: Moisture | None = None
    firmness_g: float | None = None

    def __post_init__(self) -> None:
        _check("number", self.number_m, 5.0, 250.0, "yd", c.YARD)
        _check("wind speed", self.wind_mps, 0.0, 67.0, "mph", c.MILE_PER_HOUR)
        _check("wind direction", self.wind_from_rad, -360.0, 360.0, "deg", pi / 180.0)
        _check("firmness", self.firmness_g, 40.0, 160.0, "g", 1.0)


_NOTHING = Facts()


@dataclass(frozen=True, slots=True, kw_only=True)
class RoundShot:
    """One scoring shot.

    Parameters
    ----------
    hole : int
        Which of the round, 1 to 18.
    known : Facts
        As believed when it was played; the number is always there.
    true : Facts
        What the player learnt afterwards; only what is known to have been so.
    shot : str
        Label of the shot that was played.
    finish : Rest
        What the ball came to rest on.
    finish_m : float
        From there to the hole; 0 where it was holed. [m]
    putts, others, penalties : int
        Putts, further strokes off the green, and penalty strokes, until it was holed.
    at : datetime, optional
        When.
    hole_location : str
        Where the hole was cut: a ninth of the green, or the words of a pin sheet.
    green_deep_m : float, optional
        Depth of the green. [m]
    stimp_m : float, optional
        Green speed. [m]
    temperature_k : float, optional
        Of the air. [K]
    intended_m : float, optional
        Carry the player meant to feel, on the player's own scale. [m]
    aim_right_m : float, optional
        Where the start line was meant to pass the hole. [m]
    called_m : float, optional
        Carry called before it was seen. [m]
    landing_past_m, landing_right_m : float, optional
        Where it landed, from the hole. [m]
    finish_past_m, finish_right_m : float, optional
        Where it finished, from the hole. [m]
    note : str
        In the player's own words.

    Raises
    ------
    BadInputError
        No number, a label that is missing, strokes that cannot be together.
    OutOfRangeError
        A number outside its range.
    """

    hole: int
    known: Facts
    shot: str
    finish: Rest
    finish_m: float
    putts: int
    true: Facts = _NOTHING
    others: int = 0
    penalties: int = 0
    at: datetime | None = None
    hole_location: str = ""
    green_deep_m: float | None = None
    stimp_m: float | None = None
    temperature_k: float | None = None
    intended_m: float | None = None
    aim_right_m: float | None = None
    called_m: float | None = None
    landing_past_m: float | None = None
    landing_right_m: float | None = None
    finish_past_m: float | None = None
    finish_right_m: float | None = None
    note: str = ""

    def __post_init__(self) -> None:
        _check("hole", self.hole, 1, 18, "", 1.0)
        for name in ("putts", "others", "penalties"):
            called = {"others": "strokes after it"}.get(name, name)
            _check(called, getattr(self, name), 0, _MOST_STROKES, "", 1.0)
        _check("depth of the green", self.green_deep_m, 4.0, 110.0, "yd", c.YARD)
        _check("green speed", self.stimp_m, 4.0, 18.0, "ft", c.FOOT)
        _check("intended carry", self.intended_m, 3.0, 330.0, "yd", c.YARD)
        _check("called carry", self.called_m, 3.0, 330.0, "yd", c.YARD)
        for name, called in _FROM_HOLE.items():
            _check(called, getattr(self, name), -150.0, 150.0, "yd", c.YARD)
        _check("finish", self.finish_m, 0.0, 300.0, "yd", c.YARD)
        self._check_together()

    def _check_together(self) -> None:
        where = f"hole {self.hole}"
        if self.known.number_m is None or self.known.lie is None:
            raise BadInputError(f"{where}: a shot needs its number and its lie")
        if not self.shot.strip():
            raise BadInputError(f"{where}: which shot was played is missing")
        holed = self.finish is Rest.HOLED
        if holed and (self.putts or self.others or self.penalties or self.finish_m):
            raise BadInputError(f"{where}: a ball that was holed has no putts and no distance left")
        if not holed and self.putts + self.others == 0:
            raise BadInputError(
                f"{where}: the ball was not holed, so putts, or strokes after it, are missing"
            )

    @property
    def strokes(self) -> int:
        """From the shot to the hole, this one and penalties included."""
        return 1 + self.putts + self.others + self.penalties

    @property
    def number_m(self) -> float:
        """Ball to hole as believed. [m]"""
        return self.known.number_m or 0.0  # there is one: it was checked

    @property
    def lie(self) -> Lie:
        """What it sat on, as believed."""
        return self.known.lie or Lie.FAIRWAY  # there is one: it was checked

    @property
    def met(self) -> Facts:
        """As it turned out where that is known, else as believed."""
        known, true = self.known, self.true
        come = known.wind_from_rad if true.wind_mps is None else true.wind_from_rad
        return Facts(
            number_m=true.number_m or known.number_m,
            wind_mps=known.wind_mps if true.wind_mps is None else true.wind_mps,
            wind_from_rad=known.wind_from_rad if come is None else come,
            lie=true.lie or known.lie,
            moisture=true.moisture or known.moisture,
            firmness_g=known.firmness_g if true.firmness_g is None else true.firmness_g,
        )

    @property
    def landing_m(self) -> tuple[float, float] | None:
        """Where it landed, past the hole and right of it, where both are known. [m]"""
        if self.landing_past_m is None or self.landing_right_m is None:
            return None
        return self.landing_past_m, self.landing_right_m

    @property
    def missed_m(self) -> tuple[float, float] | None:
        """Where it finished, past the hole and right of it; else where it landed. [m]"""
        if self.finish_past_m is None or self.finish_right_m is None:
            return (0.0, 0.0) if self.finish is Rest.HOLED else self.landing_m
        return self.finish_past_m, self.finish_right_m


@dataclass(frozen=True, slots=True)
class PlayedRound:
    """A round in the book, by its number there, with its scoring shots in the order played."""

    number: int
    round: Round
    shots: tuple[RoundShot, ...]
