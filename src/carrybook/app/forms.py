"""What people type, checked once and turned into plain frozen values in SI.

Every quantity is typed with its unit. What is wrong is said in one line that names it.
"""

import re
from datetime import time
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Self

from pydantic import BaseModel, BeforeValidator, ConfigDict, ValidationError, model_validator

from carrybook.base import units as u
from carrybook.base.constants import BALL_DIAMETER, BALL_MASS
from carrybook.base.errors import BadInputError
from carrybook.base.words import named
from carrybook.player.bag import Club, Flight, Shape, Shot
from carrybook.world.air import REFERENCE_DAY, Air, air_from_dew_point, station_pressure
from carrybook.world.firmness import firmness_named
from carrybook.world.lie import Lie, Moisture
from carrybook.world.weather import WeatherReport, read_metar
from carrybook.world.wind import Wind, exposure_named

if TYPE_CHECKING:
    from carrybook.physics.ball_model import BallModel
    from carrybook.physics.flight import Launch

__all__ = [
    "AirForm",
    "FlightForm",
    "LieForm",
    "ShotForm",
    "SituationForm",
    "WindForm",
    "pairs",
]

_AIR_EXAMPLE = "9C 85% 1004hPa"
_AIR_PART = re.compile(r"([-+−]?\d+(?:[.,]\d+)?)\s*([^\d\s,;]*)[\s,;]*")
_RANGE = re.compile(
    r"\s*(\d+(?:[.,]\d+)?)\s*([^\d\s.]*)\s*\.\.\s*(\d+(?:[.,]\d+)?)\s*([^\d\s.]*)\s*"
)
_TIME_OF_DAY = re.compile(r"(?:[01]?[0-9]|2[0-3]):[0-5][0-9]")
_AIR_KINDS = {"temp": u.TEMPERATURE, "humidity": u.FRACTION, "pressure": u.PRESSURE}

# Ours: a shot added without partials may be taken down to this share of its stock carry.
_SHORTEST_SHARE = 0.9


def _typed(kind: u.Kind, what: str, unit: str | None = None) -> BeforeValidator:
    """Read a quantity that was typed as text; `unit` is that of a bare number, if it may be one."""
    return BeforeValidator(lambda text: u.parse(text, kind, what, unit=unit))


def _called(kind: type[StrEnum], what: str) -> BeforeValidator:
    """Read a choice from a fixed list."""
    return BeforeValidator(lambda words: named(kind, words, what))


_Lie = Annotated[Lie, _called(Lie, "lie")]
_Moisture = Annotated[Moisture, _called(Moisture, "moisture")]


class _Form(BaseModel):
    """A few typed answers that belong together."""

    model_config = ConfigDict(extra="forbid", frozen=True)

    @classmethod
    def of(cls, **typed: object) -> Self:
        """Check what was typed; None means that it was not, so the form's own default stands.

        Raises
        ------
        BadInputError
            Something cannot be used; the message names the first such thing.
        """
        try:
            return cls.model_validate({k: v for k, v in typed.items() if v is not None})
        except ValidationError as error:
            problem = error.errors()[0]
            cause = problem.get("ctx", {}).get("error")
            if isinstance(cause, BadInputError):
                raise cause from None
            raise  # a form that is filled in wrongly by our own code


def _clock(text: str) -> time:
    """Read a time of day: "09:00"."""
    if _TIME_OF_DAY.fullmatch(text.strip()) is None:
        raise BadInputError(f"time = {text!r} is not a time of day; write it like 09:00")
    return time.fromisoformat(text.strip().zfill(5))


class AirForm(_Form):
    """The air, part by part, in one string, as an airport reports it, or from a forecast.

    The file of a forecast is read by the service. What is not said is the reference day. One part
    said in two ways is refused.
    """

    temp: Annotated[float, _typed(u.TEMPERATURE, "air temperature")] = REFERENCE_DAY.temperature_k
    pressure: Annotated[float, _typed(u.PRESSURE, "station pressure")] = REFERENCE_DAY.pressure_pa
    humidity: Annotated[float, _typed(u.FRACTION, "relative humidity")] = REFERENCE_DAY.humidity
    dew_point: Annotated[float, _typed(u.DEW_POINT, "dew point")] | None = None
    sea_level_pressure: (
        Annotated[float, _typed(u.SEA_LEVEL_PRESSURE, "sea-level pressure")] | None
    ) = None
    elevation: Annotated[float, _typed(u.ELEVATION, "elevation")] | None = None
    metar: Annotated[WeatherReport, BeforeValidator(read_metar)] | None = None
    forecast: Path | None = None
    at: Annotated[time, BeforeValidator(_clock)] | None = None

    @model_validator(mode="before")
    @classmethod
    def _take_string_apart(cls, typed: dict[str, str]) -> dict[str, str]:
        parts = dict(typed)
        words = parts.pop("air", None)
        for name, text in _air_parts(words) if words is not None else ():
            if name in parts:
                raise _air_error(words, f"a second {_AIR_KINDS[name].name}, {text!r},")
            parts[name] = text
        _require_one_way_to_say_it(parts)
        return parts

    def value(self) -> Air:
        """Give the air to the core, where it is not in the file of a forecast.

        Raises
        ------
        BadInputError
            Parts that cannot be together, or a report that lacks one.
        """
        pressure = self.pressure
        if self.elevation is not None:  # with one of the two that are reduced to sea level
            if self.metar is not None:
                return self.metar.air(self.elevation)
            if self.sea_level_pressure is not None:
                pressure = station_pressure(self.sea_level_pressure, self.elevation)
        if self.dew_point is not None:
            return air_from_dew_point(self.temp, self.dew_point, pressure)
        return Air(self.temp, pressure, self.humidity)


# What says the same thing in another way: (what, others that must then be left out).
_PARTS = ("temp", "humidity", "dew_point", "pressure", "sea_level_pressure")
_INSTEAD = (
    ("dew_point", ("humidity",)),
    ("sea_level_pressure", ("pressure",)),
    ("metar", _PARTS),
    ("forecast", ("metar", *_PARTS)),
)


def _require_one_way_to_say_it(parts: dict[str, str]) -> None:
    for what, others in _INSTEAD:
        for other in others if what in parts else ():
            if other in parts:
                raise BadInputError(
                    f"{_words_of(what)} and {_words_of(other)} are two ways to say one thing;"
                    " leave one out"
                )
    if ("forecast" in parts) != ("at" in parts):
        raise BadInputError(
            "forecast needs a time of the day; add it like --at 09:00"
            if "forecast" in parts
            else f"time = {parts['at']} has no forecast to go with it; add it like"
            " --forecast tuesday.csv"
        )
    reduced = next((what for what in ("sea_level_pressure", "metar") if what in parts), None)
    if reduced is not None and "elevation" not in parts:
        raise BadInputError(
            f"{_words_of(reduced)} needs the height of the course above sea level; add it like"
            " --elevation 120m"
        )
    if reduced is None and "elevation" in parts and "forecast" not in parts:
        raise BadInputError(
            f"elevation = {parts['elevation']} has no pressure at sea level to go with it; add it"
            " like --sea-level-pressure 1015hPa"
        )


def _words_of(part: str) -> str:
    """How a message calls a part of the air."""
    words = {"temp": "temperature", "pressure": "station pressure", "metar": "weather report"}
    return words.get(part, part.replace("_", " ").replace("sea level", "sea-level"))


def _air_parts(words: str) -> list[tuple[str, str]]:
    """Names and texts of the parts of such a string as "9C 85% 1004hPa"."""
    parts: list[tuple[str, str]] = []
    text, at = words.strip(" ,;"), 0
    while at < len(text) or not parts:
        match = _AIR_PART.match(text, at)
        if match is None:
            raise _air_error(words, f"{text[at:]!r}")
        number, unit = match.groups()
        kinds = [name for name, kind in _AIR_KINDS.items() if unit.lower() in kind.spellings]
        if not kinds:
            raise _air_error(words, f"{number}{unit}" if unit else f"{number} without a unit")
        parts.append((kinds[0], number + unit))
        at = match.end()
    return parts


def _air_error(words: str | None, what: str) -> BadInputError:
    return BadInputError(
        f"air = {words!r}: {what} is not understood; write temperature, humidity and station"
        f' pressure, each at most once, like "{_AIR_EXAMPLE}"'
    )


class WindForm(_Form):
    """The wind: the mean at 10 m, where it comes from as seen along the line, and its gusts."""

    wind: Annotated[float, _typed(u.WIND_SPEED, "wind")] | None = None
    wind_from: Annotated[float, _typed(u.ANGLE, "wind direction")] = 0.0
    gust: Annotated[float, _typed(u.GUST, "gust")] | None = None
    surroundings: Annotated[float, BeforeValidator(exposure_named)] = exposure_named("open links")

    @model_validator(mode="before")
    @classmethod
    def _all_of_it_needs_a_speed(cls, typed: dict[str, str]) -> dict[str, str]:
        whole = "wind" in typed
        for name, kind, what in (
            ("wind_from", u.ANGLE, "wind direction"),
            ("gust", u.GUST, "gust"),
        ):
            value = u.parse(typed[name], kind, what) if name in typed else None
            if value is not None and not whole:
                raise BadInputError(f"{what} = {typed[name]} has no wind; add it like --wind 12mph")
        if whole and "gust" in typed:
            _require_gust_over_mean(typed["gust"], typed["wind"])
        return typed

    def value(self) -> Wind:
        """Give the wind to the core; calm where none was typed."""
        return Wind(self.wind or 0.0, self.wind_from, self.surroundings, gust_mps=self.gust)


def _require_gust_over_mean(gust: str, mean: str) -> None:
    if u.parse(gust, u.GUST, "gust") < u.parse(mean, u.WIND_SPEED, "wind"):
        raise BadInputError(
            f"gust = {gust} is below the mean wind, {mean}; leave it out where there are none"
        )


class FlightForm(_Form):
    """How a ball leaves the face, how far above or below it lands, and which ball it is."""

    ball_speed: Annotated[float, _typed(u.SPEED, "ball speed")]
    launch: Annotated[float, _typed(u.ANGLE, "launch angle")]
    spin: Annotated[float, _typed(u.SPIN, "spin")]
    spin_axis: Annotated[float, _typed(u.ANGLE, "spin axis")] = 0.0
    start_line: Annotated[float, _typed(u.ANGLE, "start line")] = 0.0
    height_change: Annotated[float, _typed(u.HEIGHT, "height change")] = 0.0
    ball_mass: Annotated[float, _typed(u.BALL_MASS, "ball mass")] = BALL_MASS
    ball_diameter: Annotated[float, _typed(u.BALL_DIAMETER, "ball diameter")] = BALL_DIAMETER
    drag_factor: Annotated[float, _typed(u.DRAG_FACTOR, "drag factor", "times")] = 1.0

    def value(self) -> "Launch":
        """Give the launch to the core."""
        from carrybook.physics.flight import Launch

        return Launch(self.ball_speed, self.launch, self.spin, self.spin_axis, self.start_line)

    def ball(self) -> "BallModel":
        """Give the ball itself to the core."""
        from carrybook.physics.ball_model import BallModel

        return BallModel(self.ball_mass, self.ball_diameter, self.drag_factor)


def _partials(text: str) -> tuple[float, float]:
    """Read a range of carries: "55yd..82yd", or "55..82yd"."""
    match = _RANGE.fullmatch(text)
    if match is None:
        raise BadInputError(f"partials = {text!r} is not a range; write it like 55yd..82yd")
    shortest, its_unit, longest, unit = match.groups()
    return (
        u.parse(shortest + (its_unit or unit), u.LENGTH, "shortest partial"),
        u.parse(longest + unit, u.LENGTH, "longest partial"),
    )


class ShotForm(_Form):
    """A shot that the player owns."""

    club: str
    loft: Annotated[float, _typed(u.ANGLE, "loft")]
    carry: Annotated[float, _typed(u.LENGTH, "stock carry")]
    flight: Annotated[Flight, _called(Flight, "flight")] = Flight.STOCK
    shape: Annotated[Shape, _called(Shape, "shape")] = Shape.STRAIGHT
    partials: Annotated[tuple[float, float] | None, BeforeValidator(_partials)] = None
    cue: str = ""
    trusted: bool = True

    def value(self) -> Shot:
        """Give the shot to the core."""
        shortest, longest = self.partials or (_SHORTEST_SHARE * self.carry, self.carry)
        return Shot(
            club=Club(" ".join(self.club.split()), self.loft),
            flight=self.flight,
            shape=self.shape,
            stock_carry_m=self.carry,
            shortest_m=shortest,
            longest_m=longest,
            cue=self.cue.strip(),
            trusted=self.trusted,
        )


class LieForm(_Form):
    """What the ball sits on, and how wet it is."""

    lie: _Lie = Lie.FAIRWAY
    moisture: _Moisture = Moisture.DRY


class SituationForm(_Form):
    """Where hole and ball are, the lie and the green; the files are read by the service."""

    map: Path
    hole: str
    hole_location: str
    number: Annotated[float, _typed(u.LENGTH, "number")]
    heights: Path | None = None
    off_line: Annotated[float, _typed(u.ANGLE, "angle off the line")] = 0.0
    lie: _Lie = Lie.FAIRWAY
    moisture: _Moisture = Moisture.DRY
    firmness: Annotated[tuple[float, float], BeforeValidator(firmness_named)] = firmness_named(
        "medium"
    )
    green_speed: Annotated[float, _typed(u.GREEN_SPEED, "green speed")] = 3.048


def pairs(typed: list[str], what: str, example: str) -> dict[str, str]:
    """Read repeated answers of the form FIELD=TEXT.

    Raises
    ------
    BadInputError
        One without its sign of equality, or a field that is named twice.
    """
    found: dict[str, str] = {}
    for text in typed:
        field, sign, value = (part.strip() for part in text.partition("="))
        if not (field and sign):
            raise BadInputError(f"{what} = {text!r} is not understood; write it like {example}")
        if field in found:
            raise BadInputError(f"{what} names {field!r} twice; once is enough")
        found[field] = value
    return found
