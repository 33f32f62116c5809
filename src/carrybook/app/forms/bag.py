"""What is asked about a bag of clubs, as people type it."""

import re
from math import radians
from pathlib import Path
from typing import Annotated

from pydantic import BeforeValidator

from carrybook.app.forms.base import Form, LieWord, MoistureWord, quantity
from carrybook.base import units as u
from carrybook.base.errors import BadInputError, require_range
from carrybook.world.firmness import firmness_named
from carrybook.world.lie import Lie, Moisture

__all__ = ["BagForm", "FitForm", "TryOutForm", "WhatIfForm"]

_NUMBER = r"(\d+(?:[.,]\d+)?)"
_LOFTS = re.compile(rf"{_NUMBER}\s*(?:deg)?\s*(?:-|\.\.|to)\s*{_NUMBER}\s*(?:deg)?", re.IGNORECASE)
_RANGE = re.compile(rf"{_NUMBER}\s*([a-z]*)\s*(?:-|\.\.|to)\s*{_NUMBER}\s*([a-z]+)", re.IGNORECASE)
_CHANGE = re.compile(rf"([+-]?){_NUMBER}\s*%")


def _lofts(text: str) -> tuple[float, float]:
    """Read a range of lofts: "46-64" or "46deg..64deg"."""
    match = _LOFTS.fullmatch(text.strip())
    if match is None:
        raise BadInputError(f"lofts = {text!r} is not understood; write it like 46-64")
    low, high = (float(end.replace(",", ".")) for end in match.groups())
    require_range("lofts", [low, high], 40.0, 70.0, "deg")
    if low > high:
        raise BadInputError(f"lofts = {text!r}: the smaller first, like 46-64")
    return radians(low), radians(high)


def _carries(text: str) -> tuple[float, float]:
    """Read a range of distances: "60-90yd", "60yd..90yd", "55 to 82 m"."""
    match = _RANGE.fullmatch(text.strip())
    if match is None:
        raise BadInputError(f"for = {text!r} is not understood; write it like 60-90yd")
    low, first, high, unit = match.groups()
    ends = (f"{low}{first or unit}", f"{high}{unit}")
    nearest, furthest = (u.parse(end, u.LENGTH, "for") for end in ends)
    return nearest, furthest


def _spin(text: str) -> float:
    """Read a change of spin as the factor that it is: "+10%", "-5%"."""
    match = _CHANGE.fullmatch(text.strip().replace("−", "-"))
    if match is None:
        raise BadInputError(f"spin = {text!r} is not understood; write it like +10% or -10%")
    change = float(match[2].replace(",", ".")) * (-1.0 if match[1] == "-" else 1.0)
    require_range("spin", change, -30.0, 30.0, "%")
    return 1.0 + change / 100.0


def _holes(text: str) -> tuple[str, ...]:
    """Read numbers of holes parted by commas; nothing means all of them."""
    return tuple(dict.fromkeys(part.strip() for part in text.split(",") if part.strip()))


class BagForm(Form):
    """What is faced, on which greens, with which ball."""

    demand: Path | None = None
    nearest: Annotated[float, quantity(u.LENGTH, "from")] | None = None
    furthest: Annotated[float, quantity(u.LENGTH, "to")] | None = None
    lie: LieWord = Lie.FAIRWAY
    moisture: MoistureWord = Moisture.DRY
    firmness: Annotated[tuple[float, float], BeforeValidator(firmness_named)] = firmness_named(
        "medium"
    )
    green_speed: Annotated[float, quantity(u.GREEN_SPEED, "green speed")] = 3.048
    ball_model: str | None = None
    left_handed: bool = False
    map: Path | None = None
    heights: Path | None = None
    hole: Annotated[tuple[str, ...], BeforeValidator(_holes)] = ()
    lofts: Annotated[tuple[float, float], BeforeValidator(_lofts)] = _lofts("46-64")


class FitForm(BagForm):
    """How many wedges, and which stay."""

    wedges: int | None = None
    keep: tuple[str, ...] = ()

    def sizes(self) -> tuple[int, ...]:
        """How many wedges the bags have that are compared.

        Raises
        ------
        OutOfRangeError
            A number outside 1 to 5.
        """
        if self.wedges is None:
            return 3, 4
        require_range("wedges", self.wedges, 1, 5, "")
        return (self.wedges,)


class WhatIfForm(BagForm):
    """A club at another loft, a ball with other spin, or the usual changes."""

    club: str | None = None
    loft: Annotated[float, quantity(u.ANGLE, "loft")] | None = None
    spin: Annotated[float, BeforeValidator(_spin)] | None = None

    def asked(self) -> tuple[str, float | None, float | None]:
        """Give club, loft and spin; a club and a loft belong together.

        Raises
        ------
        BadInputError
            One of them without the other.
        """
        if (self.club is None) != (self.loft is None):
            raise BadInputError("--club and --loft belong together: --club 56 --loft 54deg")
        return self.club or "", self.loft, self.spin


class TryOutForm(BagForm):
    """A shot that is tried, and what for."""

    label: str
    carries: Annotated[tuple[float, float], BeforeValidator(_carries)]
