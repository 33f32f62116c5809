"""What a column of a file of balls can hold, and the words people head it with."""

import re
from dataclasses import dataclass

from carrybook.base import units as u

__all__ = ["AIR", "FIELDS", "MEASURED", "MISSING", "UNITS", "Field", "plain"]

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
    Field("lie", "lie", None, ("lie of ball", "ball lie")),
    Field("moisture", "moisture", None, ("wetness", "face moisture")),
    Field("setting", "setting", None),
    Field("ball model", "ball_model", None, ("ball type", "ball used", "model of ball")),
    Field("note", "note", None, ("notes", "comment", "comments", "remark", "remarks")),
)
FIELDS = {field.name: field for field in _FIELDS}

# Attributes of the air a ball flies through, and those measured on the ball: not what was meant.
AIR = frozenset({"temperature_k", "pressure_pa", "humidity"})
MEASURED = frozenset(f.attribute for f in _FIELDS if f.kind) - AIR - {"intended_m", "called_m"}

# Every spelling of every unit that a column can be in, lower case.
UNITS = frozenset(spelling for f in _FIELDS if f.kind for spelling in f.kind.spellings)


def plain(name: str) -> str:
    """Name of a column or field without blanks, capitals and signs: "Ball_Speed" is "ballspeed"."""
    return re.sub(r"[\W_]+", "", name).lower()
