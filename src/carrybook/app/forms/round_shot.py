"""A scoring shot as people type it: every answer is text, a bare length is in the person's unit."""

import re
from datetime import datetime
from math import hypot, radians
from typing import Annotated

from pydantic import BeforeValidator, Field, ValidationInfo

from carrybook.app.forms.base import Form, LieWord, MoistureWord, choice_of, quantity
from carrybook.base import units as u
from carrybook.base.errors import BadInputError
from carrybook.player.round_shots import Facts, Rest, RoundShot
from carrybook.world.firmness import firmness_named
from carrybook.world.lie import Lie

__all__ = ["WIND_WORDS", "RoundShotForm", "place_words", "wind_named"]

# Where the wind comes from, in words, clockwise from into. [deg]
WIND_WORDS = {
    "into": 0.0,
    "into from the right": 45.0,
    "from the right": 90.0,
    "helping from the right": 135.0,
    "helping": 180.0,
    "helping from the left": 225.0,
    "from the left": 270.0,
    "into from the left": 315.0,
}
_BARE = {"yards": "yd", "metres": "m"}
_SIGNED = re.compile(
    r"(?P<number>[-+−]?\d+(?:[.,]\d+)?)\s*(?P<unit>[a-z]*?)\s*"
    r"(?P<way>short|past|long|left|right|l|r)?",
    re.IGNORECASE,
)
_WAYS = {"short": -1.0, "past": 1.0, "long": 1.0, "left": -1.0, "l": -1.0, "right": 1.0, "r": 1.0}
_ALONG, _ACROSS = ("short", "past", "long"), ("left", "right", "l", "r")
_WHOLE = re.compile(r"\d{1,3}")


def wind_named(words: str) -> float:
    """Where the wind comes from, in words or degrees, clockwise from into. [rad]

    Raises
    ------
    BadInputError
        Words we do not know.
    """
    said = " ".join(words.lower().replace("-", " ").replace("across ", "").split())
    said = re.sub(r"\bfrom (left|right)\b", r"from the \1", said)
    if said in WIND_WORDS:
        return radians(WIND_WORDS[said])
    if any(ch.isdigit() for ch in said):
        return u.parse(words, u.ANGLE, "wind direction")
    raise BadInputError(
        f"wind direction = {words!r} is not one of: {', '.join(WIND_WORDS)};"
        " nor an angle like 90deg"
    )


def place_words(words: str) -> str:
    """Check where the hole is cut: a ninth of the green, or words of a pin sheet.

    Raises
    ------
    BadInputError
        Neither.
    """
    from carrybook.decision.prepared import Zone
    from carrybook.world.locate import is_location

    said = " ".join(words.lower().replace("-", " ").replace("center", "centre").split())
    if said in set(Zone) or said in {"front", "middle", "back"}:
        return said
    if is_location(words):
        return " ".join(words.split())
    raise BadInputError(
        f"hole location = {words!r} is not understood; write 'back left', or '24 on, 5 from the"
        " right'"
    )


def _unit(info: ValidationInfo) -> str:
    return _BARE[str(info.data.get("units", "yards"))]


def _length(kind: u.Kind, what: str) -> BeforeValidator:
    return BeforeValidator(lambda text, info: u.parse(text, kind, what, unit=_unit(info)))


def _signed(what: str, ways: tuple[str, ...]) -> BeforeValidator:
    """Read "3 short", "2yd right", "-3": past the hole and right of it are positive."""

    def read(text: str, info: ValidationInfo) -> float:
        found = _SIGNED.fullmatch(text.strip())
        way = (found["way"] or "").lower() if found else ""
        if found is None or (way and way not in ways):
            like = "3yd short" if ways is _ALONG else "2yd right"
            raise BadInputError(f"{what} = {text!r} is not understood; write it like {like}")
        length = u.parse(found["number"], u.SIDE, what, unit=found["unit"] or _unit(info))
        return _WAYS.get(way, 1.0) * length

    return BeforeValidator(read)


def _whole(what: str) -> BeforeValidator:
    def read(text: str) -> int:
        if not _WHOLE.fullmatch(text.strip()):
            raise BadInputError(f"{what} = {text!r} is not a whole number like 2")
        return int(text)

    return BeforeValidator(read)


def _time(text: str) -> datetime:
    try:
        return datetime.fromisoformat(text.strip())
    except ValueError:
        raise BadInputError(f"time = {text!r} is not a time like 2026-05-30T14:05+02:00") from None


def _firm(text: str) -> float:
    return firmness_named(text)[0]


def _along(what: str) -> BeforeValidator:
    return _signed(what, _ALONG)


def _aside(what: str) -> BeforeValidator:
    return _signed(what, _ACROSS)


_Wind = Annotated[float, quantity(u.WIND_SPEED, "wind")]
_From = Annotated[float, BeforeValidator(wind_named)]
_Firm = Annotated[float, BeforeValidator(_firm)]
_Number = Annotated[float, _length(u.LENGTH, "number")]


class RoundShotForm(Form):
    """Everything that may be said of a scoring shot; hole, number, shot and finish must be."""

    units: str = "yards"  # of a bare length
    hole: Annotated[int, _whole("hole")]
    number: _Number
    lie: LieWord = Lie.FAIRWAY
    moisture: MoistureWord | None = None
    wind: _Wind | None = None
    wind_from: _From | None = None
    hole_location: Annotated[str, BeforeValidator(place_words)] = ""
    green_depth: Annotated[float, _length(u.LENGTH, "depth of the green")] | None = None
    firmness: _Firm | None = None
    green_speed: Annotated[float, quantity(u.GREEN_SPEED, "green speed")] | None = None
    temperature: Annotated[float, quantity(u.TEMPERATURE, "temperature")] | None = None
    shot: str
    intended: Annotated[float, _length(u.LENGTH, "intended carry")] | None = None
    aim: Annotated[float, _aside("aim")] | None = None
    called: Annotated[float, _length(u.LENGTH, "called carry")] | None = None
    landing_past: Annotated[float, _along("landing")] | None = None
    landing_right: Annotated[float, _aside("side of the landing")] | None = None
    finish_on: Annotated[Rest, choice_of(Rest, "finish")]
    finish: Annotated[float, _length(u.LENGTH, "finish")] | None = None
    finish_past: Annotated[float, _along("finish past the hole")] | None = None
    finish_right: Annotated[float, _aside("side of the finish")] | None = None
    putts: Annotated[int, _whole("putts")] = 0
    others: Annotated[int, _whole("strokes after it")] = 0
    penalties: Annotated[int, _whole("penalties")] = 0
    true_number: Annotated[float, _length(u.LENGTH, "true number")] | None = None
    true_wind: _Wind | None = None
    true_wind_from: _From | None = None
    true_lie: LieWord | None = None
    true_moisture: MoistureWord | None = None
    true_firmness: _Firm | None = None
    at: Annotated[datetime, BeforeValidator(_time)] | None = None
    note: Annotated[str, Field(max_length=400)] = ""

    def value(self) -> RoundShot:
        """Give the shot to the core.

        Raises
        ------
        BadInputError
            What cannot be together, or a number outside its range.
        """
        return RoundShot(
            hole=self.hole,
            known=Facts(
                number_m=self.number, lie=self.lie, moisture=self.moisture,
                wind_mps=self.wind, wind_from_rad=self._from(), firmness_g=self.firmness,
            ),
            true=Facts(
                number_m=self.true_number, lie=self.true_lie, moisture=self.true_moisture,
                wind_mps=self.true_wind, wind_from_rad=self.true_wind_from,
                firmness_g=self.true_firmness,
            ),
            hole_location=self.hole_location, green_deep_m=self.green_depth,
            stimp_m=self.green_speed, temperature_k=self.temperature, at=self.at,
            shot=" ".join(self.shot.split()), intended_m=self.intended, aim_right_m=self.aim,
            called_m=self.called, landing_past_m=self.landing_past,
            landing_right_m=self.landing_right, finish=self.finish_on, finish_m=self._left(),
            finish_past_m=self.finish_past, finish_right_m=self.finish_right, putts=self.putts,
            others=self.others, penalties=self.penalties, note=" ".join(self.note.split()),
        )  # fmt: skip

    def _from(self) -> float | None:
        """Direction of the wind; a calm has one, so that it counts as said."""
        if self.wind is not None and self.wind > 0.0 and self.wind_from is None:
            raise BadInputError("wind: where does it come from? say into, helping, or 90deg")
        return 0.0 if self.wind == 0.0 else self.wind_from

    def _left(self) -> float:
        """Distance left to the hole: as said, else from where it finished."""
        if self.finish_on is Rest.HOLED:
            return self.finish or 0.0
        if self.finish is not None:
            return self.finish
        if self.finish_past is None or self.finish_right is None:
            raise BadInputError("finish: how far from the hole? say it like 'finish 12ft green'")
        return hypot(self.finish_past, self.finish_right)
