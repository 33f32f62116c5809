"""What people type, with its unit, into SI and back, by factors that are exact where units are.

A bare number where a unit is needed is refused with a line that shows how to write it.
"""

import math
import re
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from carrybook.base import constants as c
from carrybook.base.errors import BadInputError, OutOfRangeError

if TYPE_CHECKING:
    from carrybook.base.numerics import Floats

__all__ = [
    "ANGLE",
    "BALL_DIAMETER",
    "BALL_MASS",
    "CLEGG",
    "CLEGG_SD",
    "DEW_POINT",
    "DRAG_FACTOR",
    "ELEVATION",
    "FRACTION",
    "GREEN_SPEED",
    "GUST",
    "HEIGHT",
    "LENGTH",
    "MASS",
    "PRESSURE",
    "RAIN",
    "RUN",
    "SEA_LEVEL_PRESSURE",
    "SIDE",
    "SLOPE",
    "SPEED",
    "SPIN",
    "TEMPERATURE",
    "WATER_CHANGE",
    "WIND_SPEED",
    "Kind",
    "in_unit",
    "many_to_si",
    "parse",
]

_NUMBER_THEN_UNIT = re.compile(
    r"\s*([-+−]?(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:[eE][-+]?\d+)?)\s*(.*?)\s*$"
)


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of quantity: its SI unit, how people write its units, and what is believable."""

    name: str
    si: str  # name of the unit that the core uses
    spellings: dict[str, str]  # as typed, lower case -> name of the unit
    low: float  # least believable value [si]
    high: float  # greatest believable value [si]
    shown_in: str  # the spelling that a message uses
    example: str


# Of every unit: what one of it is in SI, and what to add to a number of it first. Exact by
# definition (NIST SP 811, 2008) but for the column of mercury, which has the digits printed there.
_TO_SI = {
    "meter": (1.0, 0.0),
    "centimeter": (0.01, 0.0),
    "millimeter": (0.001, 0.0),
    "inch": (0.0254, 0.0),
    "foot": (c.FOOT, 0.0),
    "yard": (c.YARD, 0.0),
    "meter / second": (1.0, 0.0),
    "mile / hour": (c.MILE_PER_HOUR, 0.0),
    "kilometer / hour": (1.0 / 3.6, 0.0),
    "knot": (c.KNOT, 0.0),
    "kelvin": (1.0, 0.0),
    "degree_Celsius": (1.0, c.CELSIUS_ZERO),
    "degree_Fahrenheit": (1.0 / 1.8, 1.8 * c.CELSIUS_ZERO - 32.0),
    "pascal": (1.0, 0.0),
    "hectopascal": (100.0, 0.0),
    "millibar": (100.0, 0.0),
    "kilopascal": (1000.0, 0.0),
    "inch_Hg": (c.INCH_OF_MERCURY, 0.0),
    "millimeter_Hg": (c.INCH_OF_MERCURY / 25.4, 0.0),
    "radian": (1.0, 0.0),
    "degree": (math.pi / 180.0, 0.0),
    "radian / second": (1.0, 0.0),
    "revolution / minute": (c.RPM, 0.0),
    "revolution / second": (2.0 * math.pi, 0.0),
    "dimensionless": (1.0, 0.0),
    "percent": (0.01, 0.0),
    "kilogram": (1.0, 0.0),
    "gram": (0.001, 0.0),
    "ounce": (0.028349523125, 0.0),
}

_METRES = {"m": "meter", "metre": "meter", "metres": "meter", "meter": "meter", "meters": "meter"}
_FEET = {"ft": "foot", "feet": "foot", "foot": "foot", "'": "foot"}
_YARDS = {"yd": "yard", "yds": "yard", "yard": "yard", "yards": "yard", "y": "yard"}
_PACES = {"pace": "yard", "paces": "yard"}  # common practice, no source: a pace is a yard

_LENGTHS = _METRES | _FEET | _YARDS | _PACES

LENGTH = Kind("length", "meter", _LENGTHS, 0.0, 1000.0, "yd", "77yd")
SIDE = Kind("sideways distance", "meter", _LENGTHS, -200.0, 200.0, "yd", "3yd")
HEIGHT = Kind(
    "height",
    "meter",
    _METRES | _FEET | _YARDS | {"cm": "centimeter", "in": "inch"},
    -100.0,
    100.0,
    "ft",
    "-6ft",
)
ELEVATION = Kind("height above sea level", "meter", _METRES | _FEET, -500.0, 4500.0, "m", "120m")
GREEN_SPEED = Kind("green speed", "meter", _FEET | _METRES, 1.2, 5.5, "ft", "10ft")
_SPEEDS = {
    "mps": "meter / second",
    "m/s": "meter / second",
    "ms": "meter / second",
    "mph": "mile / hour",
    "kmh": "kilometer / hour",
    "km/h": "kilometer / hour",
    "kph": "kilometer / hour",
    "kt": "knot",
    "kts": "knot",
    "kn": "knot",
    "knots": "knot",
}
SPEED = Kind("speed", "meter / second", _SPEEDS, 0.0, 100.0, "mph", "5mph")
WIND_SPEED = Kind("wind speed", "meter / second", _SPEEDS, 0.0, 30.0, "mph", "5mph")
GUST = replace(WIND_SPEED, name="gust speed", high=45.0, example="18mph")
TEMPERATURE = Kind(
    "temperature",
    "kelvin",
    {
        "c": "degree_Celsius",
        "°c": "degree_Celsius",
        "degc": "degree_Celsius",
        "f": "degree_Fahrenheit",
        "°f": "degree_Fahrenheit",
        "degf": "degree_Fahrenheit",
        "k": "kelvin",
    },
    248.15,
    323.15,
    "C",
    "12C",
)
DEW_POINT = replace(TEMPERATURE, low=173.15, example="8C")
PRESSURE = Kind(
    "pressure",
    "pascal",
    {
        "hpa": "hectopascal",
        "mb": "millibar",
        "mbar": "millibar",
        "kpa": "kilopascal",
        "pa": "pascal",
        "inhg": "inch_Hg",
        "mmhg": "millimeter_Hg",
    },
    60e3,
    110e3,
    "hPa",
    "1004hPa",
)
SEA_LEVEL_PRESSURE = replace(PRESSURE, low=85e3, high=109e3, example="1015hPa")
ANGLE = Kind(
    "angle",
    "radian",
    {"deg": "degree", "°": "degree", "degrees": "degree", "degree": "degree", "rad": "radian"},
    -2.0 * math.pi,
    2.0 * math.pi,
    "deg",
    "30deg",
)
SPIN = Kind(
    "spin",
    "radian / second",
    {"rpm": "revolution / minute", "rad/s": "radian / second", "rps": "revolution / second"},
    -2000.0,
    2000.0,
    "rpm",
    "9000rpm",
)
FRACTION = Kind(
    "fraction", "dimensionless", {"%": "percent", "pct": "percent"}, 0.0, 1.0, "%", "85%"
)
MASS = Kind(
    "mass", "kilogram", {"g": "gram", "kg": "kilogram", "oz": "ounce"}, 0.0, 1.0, "g", "300g"
)
BALL_MASS = replace(MASS, name="ball mass", low=0.040, high=0.050, example="45.5g")
BALL_DIAMETER = Kind(
    "ball diameter",
    "meter",
    {"mm": "millimeter", "cm": "centimeter", "in": "inch"},
    0.040,
    0.045,
    "mm",
    "42.8mm",
)
DRAG_FACTOR = Kind(
    "drag factor",
    "dimensionless",
    {"times": "dimensionless", "x": "dimensionless", "%": "percent"},
    0.5,
    2.0,
    "times",
    "1.05",
)
# Clegg gravities: peak deceleration of a 0.5 kg hammer in units of g; kept as a plain number.
CLEGG = Kind("firmness", "dimensionless", {"g": "dimensionless"}, 40.0, 160.0, "g", "95g")
CLEGG_SD = replace(CLEGG, low=1.0, high=40.0, example="6g")
# Water in the turf, more or less of its volume than before.
WATER_CHANGE = replace(FRACTION, name="change of water", low=-0.3, high=0.3, example="+6%")
# How much a green falls; and seen on the ground: how far balls run.
SLOPE = replace(FRACTION, name="slope", low=-0.2, high=0.2, example="2%")
# Depth of water that falls in an hour; more than 0.3 m was never measured (memory: 305 mm).
RAIN = Kind("rain", "meter", {"mm": "millimeter", "in": "inch"}, 0.0, 0.305, "mm", "2mm")
RUN = Kind("run", "meter", _LENGTHS, -20.0, 60.0, "yd", "4yd")


def parse(text: str, kind: Kind, what: str, *, unit: str | None = None) -> float:
    """Turn what was typed into SI.

    Parameters
    ----------
    text : str
        A number with its unit: ``12C``, ``77 yd``, ``29.65inHg``; a comma may be the point.
    kind : Kind
        What kind of quantity it is.
    what : str
        What the quantity is called in a message.
    unit : str, optional
        The unit that a bare number has, when a column header already said so.

    Returns
    -------
    value : float
        In the kind's SI unit.

    Raises
    ------
    BadInputError
        Not a number, no unit, or a unit of another kind.
    OutOfRangeError
        Not believable for this kind of quantity.
    """
    match = _NUMBER_THEN_UNIT.match(text)
    if match is None:
        raise BadInputError(
            f"{what} = {text!r} is not a number with a unit; write it like {kind.example}"
        )
    number, typed = match.groups()
    spelling = typed or unit
    if not spelling:
        raise BadInputError(f"{what} = {text.strip()} has no unit; write it like {kind.example}")
    name = kind.spellings.get(spelling.lower())
    if name is None:
        known = ", ".join(kind.spellings)
        raise BadInputError(
            f"{what} = {text.strip()!r}: {spelling!r} is not a unit of {kind.name};"
            f" write it like {kind.example} (units: {known})"
        )
    magnitude = float(number.replace("−", "-").replace(",", "."))
    factor, before = _TO_SI[name]
    value = (magnitude + before) * factor
    _require_believable(value, magnitude, spelling, kind, what)
    return value


def in_unit(value: float, kind: Kind, spelling: str) -> float:
    """Turn an SI value of some kind into the unit written as `spelling`.

    Parameters
    ----------
    value : float
        In the kind's SI unit.
    kind : Kind
        What kind of quantity it is.
    spelling : str
        One of the kind's spellings.
    """
    factor, before = _TO_SI[kind.spellings[spelling.lower()]]
    return value / factor - before


def many_to_si(values: "Floats", kind: Kind, spelling: str) -> "Floats":
    """Turn many numbers written in one unit into SI, as :func:`parse` does with one.

    Parameters
    ----------
    values : ndarray, shape (n,)
        Numbers in that unit; any that are not believable stay so.
    kind : Kind
        What kind of quantity they are.
    spelling : str
        One of the kind's spellings.
    """
    factor, before = _TO_SI[kind.spellings[spelling.lower()]]
    return (values + before) * factor


def _require_believable(value: float, shown: float, spelling: str, kind: Kind, what: str) -> None:
    if kind.low <= value <= kind.high:
        return
    unit = spelling if spelling.lower() in kind.spellings else kind.shown_in
    low, high = (in_unit(limit, kind, unit) for limit in (kind.low, kind.high))
    raise OutOfRangeError(f"{what} = {shown:g} {unit} is outside {low:.4g} to {high:.4g} {unit}")
