"""What a column of a file of balls can hold, and the words people head it with."""

import re
from collections.abc import Iterable
from dataclasses import dataclass

from carrybook.base import units as u

__all__ = [
    "AIR",
    "FIELDS",
    "MEASURED",
    "MISSING",
    "UNITS",
    "Field",
    "known_fields",
    "plain",
    "split_header",
]

# What people write in a cell where nothing was measured.
MISSING = frozenset({"", "-", "--", "n/a", "na", "nan"})


@dataclass(frozen=True, slots=True)
class Field:
    """Something a column can hold.

    Parameters
    ----------
    name : str
        What a person calls it.
    attribute : str
        Its name in a ball, in its air, or in a shot.
    kind : Kind, optional
        The quantity; none for words.
    headers : tuple of str
        Other names for it; blanks, capitals and signs in a header do not matter.
    sided : bool, default False
        Whether left and right may stand in a cell: "3R", "4 L".
    """

    name: str
    attribute: str
    kind: u.Kind | None
    headers: tuple[str, ...] = ()
    sided: bool = False


# Ordinary words of the trade, ours; a word that is as often used for something else is left out.
_FIELDS = (
    Field(
        "time", "at", None, ("date", "date and time", "date time", "timestamp", "when", "struck")
    ),
    Field("shot", "shot", None, ("shot name", "shot label", "name of shot")),
    Field("club", "club", None, ("club name", "club used")),
    Field("flight", "flight", None, ("flight height", "height of flight")),
    Field("shape", "shape", None, ("shot shape",)),
    Field(
        "intended",
        "intended_m",
        u.LENGTH,
        ("intended carry", "intended distance", "target carry", "target distance"),
    ),
    Field(
        "called",
        "called_m",
        u.LENGTH,
        ("called carry", "called felt", "felt", "felt carry", "feel", "feel number", "call"),
    ),
    Field("carry", "carry_m", u.LENGTH, ("carry distance", "distance carried")),
    Field("total", "total_m", u.LENGTH, ("total distance", "distance total")),
    Field(
        "side",
        "side_m",
        u.SIDE,
        ("side right", "side distance", "carry side", "lateral", "off line", "right"),
        sided=True,
    ),
    Field("ball speed", "ball_speed_mps", u.SPEED, ("speed of ball",)),
    Field(
        "club speed",
        "club_speed_mps",
        u.SPEED,
        ("club head speed", "head speed", "swing speed", "speed of club"),
    ),
    Field(
        "launch",
        "launch_rad",
        u.ANGLE,
        ("launch angle", "vertical launch", "vertical launch angle"),
    ),
    Field(
        "start line",
        "start_line_rad",
        u.ANGLE,
        ("start direction", "start angle", "launch direction", "horizontal launch"),
        sided=True,
    ),
    Field("attack", "attack_rad", u.ANGLE, ("attack angle", "angle of attack")),
    Field("spin", "spin_rad_s", u.SPIN, ("backspin", "spin rate", "total spin")),
    Field(
        "spin axis", "spin_axis_rad", u.ANGLE, ("axis", "axis tilt", "spin axis tilt"), sided=True
    ),
    Field(
        "temperature",
        "temperature_k",
        u.TEMPERATURE,
        ("air temperature", "temp", "air temp", "temperature of air"),
    ),
    Field("pressure", "pressure_pa", u.PRESSURE, ("air pressure", "station pressure")),
    Field("humidity", "humidity", u.FRACTION, ("relative humidity", "air humidity")),
    Field("wind", "wind_speed_mps", u.SPEED, ("wind speed", "speed of wind")),
    Field("wind from", "wind_from_rad", u.ANGLE, ("wind from off the line",)),
    Field("rise", "rise_m", u.HEIGHT, ("height difference", "rise to landing")),
    Field("effort", "effort", None, ("swing", "swing length", "length of swing")),
    Field("lie", "lie", None, ("lie of ball", "ball lie")),
    Field("moisture", "moisture", None, ("wetness", "face moisture")),
    Field("setting", "setting", None),
    Field("ball model", "ball_model", None, ("ball type", "ball used", "model of ball")),
    Field("note", "note", None, ("notes", "comment", "comments", "remark", "remarks")),
)
FIELDS = {field.name: field for field in _FIELDS}

# Attributes of the air a ball flies through, and those measured on the ball: not what was meant.
AIR = frozenset({"temperature_k", "pressure_pa", "humidity"})
_NOT_OF_THE_BALL = AIR | {"intended_m", "called_m", "wind_speed_mps", "wind_from_rad", "rise_m"}
MEASURED = frozenset(f.attribute for f in _FIELDS if f.kind) - _NOT_OF_THE_BALL

# Every spelling of every unit that a column can be in, lower case.
UNITS = frozenset(spelling for f in _FIELDS if f.kind for spelling in f.kind.spellings)


def plain(name: str) -> str:
    """Name of a column or field without blanks, capitals and signs: "Ball_Speed" is "ballspeed"."""
    return re.sub(r"[\W_]+", "", name).lower()


_NAMES = {plain(name): field.name for field in _FIELDS for name in (field.name, *field.headers)}
_IN_BRACKETS = re.compile(r"(.+?)\s*[\[(]\s*([^\])]*?)\s*[\])]")
_BEFORE_UNIT = re.compile(r"[\s_,/]+")


def split_header(header: str) -> tuple[str, str | None]:
    """Name and unit of a header: "Carry [yd]", "carry (m)", "carry_yd", "Carry, m"."""
    bracketed = _IN_BRACKETS.fullmatch(header)
    if bracketed and bracketed[2].lower() in UNITS:
        return bracketed[1], bracketed[2]
    for gap in _BEFORE_UNIT.finditer(header):
        if gap.start() and header[gap.end() :].lower() in UNITS:
            return header[: gap.start()], header[gap.end() :]
    return header, None


def known_fields(cells: Iterable[str]) -> frozenset[str]:
    """Names of the fields that some cells head."""
    spelt = (spelling for cell in cells for spelling in (cell, split_header(cell)[0]))
    return frozenset(_NAMES[name] for name in map(plain, spelt) if name in _NAMES)
