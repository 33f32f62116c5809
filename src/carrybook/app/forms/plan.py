"""What to leave, and plans for a hole or a round, as people ask for them."""

from math import floor
from pathlib import Path
from typing import Annotated

from pydantic import BeforeValidator

from carrybook.app.forms.base import Form, LieWord, MoistureWord, choice_of, quantity
from carrybook.base import units as u
from carrybook.base.constants import YARD
from carrybook.base.errors import BadInputError, require_range
from carrybook.world.firmness import TurfKind, firmness_named
from carrybook.world.lie import Moisture

__all__ = ["LIKELY_M", "DayForm", "LeaveForm", "VenueForm", "hole_numbers", "lengths"]

LIKELY_M = (70.0 * YARD, 90.0 * YARD, 110.0 * YARD)  # ours: where nobody says from where

_MOST = 100  # ours: distances in one table


def lengths(what: str) -> BeforeValidator:
    """Read lengths parted by commas: "70yd,90yd"."""

    def read(text: str) -> tuple[float, ...]:
        return tuple(sorted({u.parse(part, u.LENGTH, what) for part in text.split(",")}))

    return BeforeValidator(read)


def hole_numbers(text: str) -> tuple[str, ...]:
    """Read numbers of holes parted by commas; nothing means all of them."""
    if text.strip().lower() == "all":
        return ()
    refs = tuple(dict.fromkeys(part.strip() for part in text.split(",")))
    if not all(refs):
        raise BadInputError(f"hole = {text!r} is not understood; write it like 4,11,16 or all")
    return refs


class DayForm(Form):
    """The map, the lie wherever it is not the map's, and the greens of the day."""

    map: Path
    heights: Path | None = None
    lie: LieWord | None = None
    moisture: MoistureWord = Moisture.DRY
    firmness: Annotated[tuple[float, float], BeforeValidator(firmness_named)] = firmness_named(
        "medium"
    )
    green_speed: Annotated[float, quantity(u.GREEN_SPEED, "green speed")] = 3.048
    kind: Annotated[TurfKind, choice_of(TurfKind, "kind of green")] = TurfKind.UNKNOWN
    ball_model: str | None = None
    left_handed: bool = False


class LeaveForm(DayForm):
    """One hole, the distances to leave on it, and how the lay-up scatters."""

    hole: str
    hole_location: str
    nearest: Annotated[float, quantity(u.LENGTH, "from")] = 30.0 * YARD
    furthest: Annotated[float, quantity(u.LENGTH, "to")] = 130.0 * YARD
    step: Annotated[float, quantity(u.LENGTH, "step")] = 5.0 * YARD
    off_line: Annotated[float, quantity(u.ANGLE, "angle off the line")] = 0.0
    scatter: Annotated[float, quantity(u.LENGTH, "scatter of the lay-up")] | None = None
    side_scatter: Annotated[float, quantity(u.LENGTH, "side scatter of the lay-up")] | None = None
    favourite: Annotated[float, quantity(u.LENGTH, "favourite")] | None = None
    competition: bool = False

    def distances(self) -> tuple[float, ...]:
        """Give the distances, rising. [m]

        Raises
        ------
        BadInputError
            An end before its start, or too many of them.
        """
        require_range("step", self.step / YARD, 1.0, 50.0, "yd")
        rows = floor((self.furthest - self.nearest) / self.step + 1e-9)
        if not 0 <= rows < _MOST:
            raise BadInputError(
                f"from = {self.nearest / YARD:.0f} yd to = {self.furthest / YARD:.0f} yd in steps"
                f" of {self.step / YARD:.0f} yd are {max(rows + 1, 0)} distances;"
                f" give 1 to {_MOST}, like --from 30yd --to 130yd --step 5yd"
            )
        return tuple(self.nearest + k * self.step for k in range(rows + 1))


class VenueForm(DayForm):
    """Holes and likely distances."""

    hole: Annotated[tuple[str, ...], BeforeValidator(hole_numbers)] = ()
    numbers: Annotated[tuple[float, ...], lengths("number")] = LIKELY_M
