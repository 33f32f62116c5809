"""A putt as people type it: on a mapped green, or on an even slope."""

from collections.abc import Mapping
from dataclasses import dataclass
from math import cos, sin
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from pydantic import BeforeValidator

from carrybook.app.forms.base import Form, quantity
from carrybook.app.forms.ground import GroundForm
from carrybook.app.forms.slope import rise_from
from carrybook.base import units as u
from carrybook.base.errors import BadInputError, require_range

if TYPE_CHECKING:
    from carrybook.outcomes.putter import Putter

__all__ = ["Mapped", "PuttForm"]

_STEEPEST = 0.15  # ours; nobody cuts a hole on such a slope
_LONGEST_NAME = 24
_PAIR = "12m,3m"
_EITHER = "say either --distance (with --slope), or --map, --hole, --hole-location and --from"


def _pair(text: str) -> tuple[float, float]:
    """Read a place in the axes of the hole."""
    parts = text.replace(";", ",").split(",")
    if len(parts) != 2:
        raise BadInputError(
            f"from = {text[:40]!r} is not two lengths; write it like {_PAIR}"
            " (past the front edge, left of the line of approach)"
        )
    x, y = (u.parse(part.strip(), u.SIDE, "from") for part in parts)
    return x, y


def _name(text: str) -> str:
    """Read the name of somebody who putts."""
    name = " ".join(text.lower().split())
    if not 0 < len(name) <= _LONGEST_NAME:
        raise BadInputError(f"player = {text[:24]!r}: a name has 1 to {_LONGEST_NAME} characters")
    return name


@dataclass(frozen=True, slots=True)
class Mapped:
    """A ball on a mapped green: the green, where the hole is cut, where the ball is."""

    ground: GroundForm
    hole_location: str
    start: tuple[float, float]


class PuttForm(Form):
    """Where the ball lies and the hole is cut, the green's speed, and who putts."""

    map: Path | None = None
    hole: str | None = None
    hole_location: str | None = None
    heights: Path | None = None
    start: Annotated[tuple[float, float] | None, BeforeValidator(_pair)] = None
    distance: Annotated[float | None, quantity(u.LENGTH, "distance")] = None
    slope: Annotated[float, quantity(u.FRACTION, "slope")] = 0.0
    slope_direction: Annotated[float, BeforeValidator(rise_from)] = 0.0
    stimp: Annotated[float, quantity(u.GREEN_SPEED, "stimp")] = 3.048
    player: Annotated[str, BeforeValidator(_name)] = "tour"
    direction: Annotated[float | None, quantity(u.ANGLE, "direction")] = None
    pace: Annotated[float | None, quantity(u.FRACTION, "pace")] = None
    reading: Annotated[float | None, quantity(u.FRACTION, "reading")] = None
    save_as: Annotated[str | None, BeforeValidator(_name)] = None

    def on_plane(self) -> bool:
        """Whether the putt is on an even slope.

        Raises
        ------
        BadInputError
            A slope and a map both, or neither.
        """
        green = (self.map, self.hole, self.hole_location, self.start, self.heights)
        if (self.distance is None) == all(part is None for part in green):
            raise BadInputError(_EITHER)
        return self.distance is not None

    def mapped(self) -> Mapped:
        """Give where the ball lies on a mapped green.

        Raises
        ------
        BadInputError
            Part of it was not typed.
        """
        if not (self.map and self.hole_location and self.start):
            raise BadInputError(_EITHER)
        ground = GroundForm.of(map=self.map, hole=self.hole, heights=self.heights)
        return Mapped(ground, self.hole_location, self.start)

    def plane(self) -> tuple[float, float, float]:
        """Give distance [m] and the rise of the ground along x and y; x from ball to hole.

        Raises
        ------
        OutOfRangeError
            A distance or slope outside its range.
        """
        distance = self.distance or 0.0
        require_range("distance", distance, 0.05, 40.0, "m")
        require_range("slope", 100.0 * self.slope, 0.0, 100.0 * _STEEPEST, "%")
        along, right = cos(self.slope_direction), sin(self.slope_direction)
        return distance, self.slope * along, -self.slope * right

    def putter(self, known: "Mapping[str, Putter]") -> "Putter":
        """Give the named player's errors, but for those that were typed.

        Parameters
        ----------
        known : mapping of str to Putter
            Everybody who has a name.

        Raises
        ------
        BadInputError
            A name that nobody has.
        OutOfRangeError
            An error outside its range.
        """
        from carrybook.outcomes.putter import Putter

        if self.player not in known:
            raise BadInputError(f"player = {self.player!r} is not one of: {', '.join(known)}")
        named = known[self.player]
        return Putter(
            named.direction_rad if self.direction is None else self.direction,
            named.pace if self.pace is None else self.pace,
            named.reading if self.reading is None else self.reading,
        )
