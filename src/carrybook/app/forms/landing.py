"""A ball that comes down, and what was seen of one, as people type them."""

import re
from math import pi
from typing import TYPE_CHECKING, Annotated

from pydantic import BeforeValidator

from carrybook.app.forms.base import Form, choice_of, quantity
from carrybook.app.forms.slope import rise_from
from carrybook.base import units as u
from carrybook.base.constants import FOOT
from carrybook.base.errors import BadInputError
from carrybook.world.firmness import (
    UNSEEN,
    TurfKind,
    dampened,
    firmness_named,
    water_change_named,
)

if TYPE_CHECKING:
    from carrybook.outcomes.firmness import Seen
    from carrybook.outcomes.landing import Arrival, Patch

__all__ = ["FirmnessForm", "LandForm", "seen_named"]

_LANDED_ON = ("green", "fringe", "fairway", "rough", "bunker", "path")
_BACKWARDS = ("came back", "spun back", "backed up")
_RUN = re.compile(rf"^(released|ran out|ran|checked|{'|'.join(_BACKWARDS)})\s+(.+)$")


def _surface_named(words: str) -> str:
    name = " ".join(words.lower().split())
    if name not in _LANDED_ON:
        raise BadInputError(f"surface = {words!r} is not one of: {', '.join(_LANDED_ON)}")
    return name


class _TurfForm(Form):
    """The turf a ball meets."""

    green_speed: Annotated[float, quantity(u.GREEN_SPEED, "green speed")] = 10.0 * FOOT
    slope: Annotated[float, quantity(u.SLOPE, "slope")] = 0.0
    slope_direction: Annotated[float, BeforeValidator(rise_from)] = 0.0  # where it rises
    kind: Annotated[TurfKind, choice_of(TurfKind, "kind of green")] = TurfKind.UNKNOWN


class LandForm(_TurfForm):
    """How one ball comes down, and on what."""

    speed: Annotated[float, quantity(u.SPEED, "landing speed")]
    descent: Annotated[float, quantity(u.ANGLE, "angle of descent")]
    spin: Annotated[float, quantity(u.SPIN, "spin at landing")]
    spin_axis: Annotated[float, quantity(u.ANGLE, "spin axis")] = 0.0
    firmness: Annotated[tuple[float, float], BeforeValidator(firmness_named)] = firmness_named(
        "medium"
    )
    moisture: Annotated[float, BeforeValidator(water_change_named)] = 0.0
    surface: Annotated[str, BeforeValidator(_surface_named)] = "green"

    def arrival(self) -> "Arrival":
        """Give the ball to the core."""
        from carrybook.outcomes.landing import Arrival

        return Arrival(self.speed, self.descent, self.spin, self.spin_axis)

    def patch(self) -> "Patch":
        """Give the turf to the core, as firm as its water leaves it."""
        from carrybook.outcomes.landing import Patch
        from carrybook.world.ground import Surface

        firmness_g, sd_g = dampened(*self.firmness, self.moisture)
        return Patch(
            firmness_g, sd_g, self.green_speed, self.slope, self.slope_direction + pi,
            Surface[self.surface.upper()],
            self.kind,
        )  # fmt: skip


class FirmnessForm(_TurfForm):
    """What was thought of a green, and how the balls seen to land on it came down."""

    firmness: Annotated[tuple[float, float], BeforeValidator(firmness_named)] = UNSEEN
    speed: Annotated[float | None, quantity(u.SPEED, "landing speed")] = None
    descent: Annotated[float | None, quantity(u.ANGLE, "angle of descent")] = None
    spin: Annotated[float | None, quantity(u.SPIN, "spin at landing")] = None

    def arrival(self) -> "Arrival | None":
        """How they came down; none where nobody says.

        Raises
        ------
        BadInputError
            Some of the three are said, not all.
        """
        from carrybook.outcomes.landing import Arrival

        typed = {"--speed": self.speed, "--descent": self.descent, "--spin": self.spin}
        missing = [name for name, value in typed.items() if value is None]
        if len(missing) == len(typed):
            return None
        if self.speed is None or self.descent is None or self.spin is None:
            raise BadInputError(
                f"how the balls came down lacks {', '.join(missing)}; give all of"
                f" {', '.join(typed)}, or none"
            )
        return Arrival(self.speed, self.descent, self.spin)

    def patch(self) -> "Patch":
        """Give the turf to the core."""
        from carrybook.outcomes.landing import Patch

        return Patch(
            stimp_m=self.green_speed, slope=self.slope, fall_right_rad=self.slope_direction + pi,
            kind=self.kind,
        )  # fmt: skip


def seen_named(words: str, arrival: "Arrival | None" = None) -> "Seen":
    """What was seen of one ball, in a caddie's words.

    Parameters
    ----------
    words : str
        What it did, then, after a comma, its pitch mark if somebody looked: "one hop and stopped",
        "released 4 paces, shallow mark", "came back 2yd".
    arrival : Arrival, optional
        How it came down, where known.

    Raises
    ------
    BadInputError
        Words we do not know; the message lists those we do.
    OutOfRangeError
        A run that no ball makes.
    """
    from carrybook.outcomes.firmness import Seen

    did, _, marked = (part.strip() for part in words.lower().partition(","))
    return Seen(" ".join(words.split()), *_run_named(did, words), _mark_named(marked), arrival)


def _run_named(did: str, words: str) -> tuple[float, float]:
    from carrybook.base.constants import YARD
    from carrybook.outcomes.firmness import SEEN

    if did in SEEN:
        low, high = SEEN[did]
        return low * YARD, high * YARD
    match = _RUN.match(did)
    if match is None:
        raise BadInputError(
            f"saw = {words!r} is not one of: {', '.join(SEEN)}; nor paced, like"
            " 'released 4 paces' or 'came back 2yd'; a mark may follow after a comma"
        )
    run = u.parse(match[2], u.RUN, "run")
    if run < 0.0:
        raise BadInputError(
            f"saw = {words!r}: a run is told without a minus; a ball that came back is told like"
            " 'came back 2yd'"
        )
    run = -run if match[1] in _BACKWARDS else run
    return run, run


def _mark_named(marked: str) -> float | None:
    from carrybook.outcomes.firmness import MARKS

    name = marked.replace("pitch mark", "").replace("mark", "").strip()
    if not marked:
        return None
    if name not in MARKS:
        raise BadInputError(
            f"pitch mark = {marked!r} is not one of: {', '.join(f'{m} mark' for m in MARKS)}"
        )
    return MARKS[name]
