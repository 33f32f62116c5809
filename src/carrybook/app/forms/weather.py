"""The air and the wind, as people type them."""

import re
from datetime import time
from pathlib import Path
from typing import Annotated

from pydantic import BeforeValidator, model_validator

from carrybook.app.forms.base import Form, quantity
from carrybook.base import units as u
from carrybook.base.errors import BadInputError
from carrybook.world.air import REFERENCE_DAY, Air, air_from_dew_point, station_pressure
from carrybook.world.weather import WeatherReport, read_metar
from carrybook.world.wind import Wind, exposure_named

__all__ = ["AirForm", "WindForm", "clock"]

_AIR_EXAMPLE = "9C 85% 1004hPa"
_AIR_PART = re.compile(r"([-+−]?\d+(?:[.,]\d+)?)\s*([^\d\s,;]*)[\s,;]*")
_TIME_OF_DAY = re.compile(r"(?:[01]?[0-9]|2[0-3]):[0-5][0-9]")
_AIR_KINDS = {"temp": u.TEMPERATURE, "humidity": u.FRACTION, "pressure": u.PRESSURE}


def clock(text: str) -> time:
    """Read a time of day: "09:00"."""
    if _TIME_OF_DAY.fullmatch(text.strip()) is None:
        raise BadInputError(f"time = {text!r} is not a time of day; write it like 09:00")
    return time.fromisoformat(text.strip().zfill(5))


class AirForm(Form):
    """The air, part by part, in one string, as an airport reports it, or from a forecast.

    The file of a forecast is read by the service. What is not said is the reference day. One part
    said in two ways is refused.
    """

    temp: Annotated[float, quantity(u.TEMPERATURE, "air temperature")] = REFERENCE_DAY.temperature_k
    pressure: Annotated[float, quantity(u.PRESSURE, "station pressure")] = REFERENCE_DAY.pressure_pa
    humidity: Annotated[float, quantity(u.FRACTION, "relative humidity")] = REFERENCE_DAY.humidity
    dew_point: Annotated[float, quantity(u.DEW_POINT, "dew point")] | None = None
    sea_level_pressure: (
        Annotated[float, quantity(u.SEA_LEVEL_PRESSURE, "sea-level pressure")] | None
    ) = None
    elevation: Annotated[float, quantity(u.ELEVATION, "elevation")] | None = None
    metar: Annotated[WeatherReport, BeforeValidator(read_metar)] | None = None
    forecast: Path | None = None
    at: Annotated[time, BeforeValidator(clock)] | None = None

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


class WindForm(Form):
    """The wind: the mean at 10 m, where it comes from as seen along the line, and its gusts."""

    wind: Annotated[float, quantity(u.WIND_SPEED, "wind")] | None = None
    wind_from: Annotated[float, quantity(u.ANGLE, "wind direction")] = 0.0
    gust: Annotated[float, quantity(u.GUST, "gust")] | None = None
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
