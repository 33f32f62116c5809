"""A shot as people type it."""

import re
from typing import Annotated

from pydantic import BeforeValidator

from carrybook.app.forms.base import Form, choice_of, quantity
from carrybook.base import units as u
from carrybook.base.errors import BadInputError
from carrybook.player.bag import Club, Flight, Shape, Shot

__all__ = ["ShotForm"]

_RANGE = re.compile(
    r"\s*(\d+(?:[.,]\d+)?)\s*([^\d\s.]*)\s*\.\.\s*(\d+(?:[.,]\d+)?)\s*([^\d\s.]*)\s*"
)
# Ours: a shot added without partials may be taken down to this share of its stock carry.
_SHORTEST_SHARE = 0.9


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


class ShotForm(Form):
    """A shot that the player owns."""

    club: str
    loft: Annotated[float, quantity(u.ANGLE, "loft")]
    carry: Annotated[float, quantity(u.LENGTH, "stock carry")]
    flight: Annotated[Flight, choice_of(Flight, "flight")] = Flight.STOCK
    shape: Annotated[Shape, choice_of(Shape, "shape")] = Shape.STRAIGHT
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
