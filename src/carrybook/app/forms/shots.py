"""A shot as people type it."""

import re
from collections.abc import Mapping
from dataclasses import replace
from typing import Annotated, Any

from pydantic import BeforeValidator, Field

from carrybook.app.forms.base import Form, choice_of, quantity
from carrybook.base import units as u
from carrybook.base.errors import BadInputError
from carrybook.player.bag import Club, Effort, Flight, Shape, Shot, Source
from carrybook.player.effort import share_of

__all__ = ["ShotChanges", "ShotForm", "named_efforts"]

_RANGE = re.compile(
    r"\s*(\d+(?:[.,]\d+)?)\s*([^\d\s.]*)\s*\.\.\s*(\d+(?:[.,]\d+)?)\s*([^\d\s.]*)\s*"
)
# Ours: a shot added without partials may be taken down to this share of its stock carry.
_SHORTEST_SHARE = 0.9
_MEASURABLE = frozenset({"loft", "carry", "partials"})


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


def _efforts(typed: object) -> dict[str, float | None]:
    """Read named swings: "three quarter=62yd", or a name that says its share by itself."""
    found: dict[str, float | None] = {}
    for text in typed if isinstance(typed, list) else ():
        name, sign, carry = (part.strip() for part in text.partition("="))
        found[name] = u.parse(carry, u.LENGTH, f"carry of {name}") if sign else None
    return found


def _measured(typed: object) -> frozenset[str]:
    """Read which numbers were measured, not just said."""
    words = frozenset(typed) if isinstance(typed, list) else frozenset()
    if not words <= _MEASURABLE:
        first = sorted(words - _MEASURABLE)[0]
        raise BadInputError(f"measured = {first!r} is not one of: {', '.join(sorted(_MEASURABLE))}")
    return words


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
    bounce: Annotated[float | None, quantity(u.ANGLE, "bounce")] = None
    length: Annotated[float | None, quantity(u.HEIGHT, "length")] = None
    head_mass: Annotated[float | None, quantity(u.MASS, "head mass")] = None
    stock_effort: str = ""
    efforts: Annotated[dict[str, float | None], BeforeValidator(_efforts)] = Field(
        default_factory=dict
    )
    measured: Annotated[frozenset[str], BeforeValidator(_measured)] = frozenset()

    def value(self) -> Shot:
        """Give the shot to the core; what was not said is marked as a prior."""
        shortest, longest = self.partials or (_SHORTEST_SHARE * self.carry, self.carry)
        shot = Shot(
            club=Club(
                " ".join(self.club.split()),
                self.loft,
                self._source("loft"),
                self.bounce,
                self.length,
                self.head_mass,
            ),
            flight=self.flight,
            shape=self.shape,
            stock_carry_m=self.carry,
            shortest_m=shortest,
            longest_m=longest,
            cue=self.cue.strip(),
            trusted=self.trusted,
            stock_effort=self.stock_effort.strip(),
            carry_source=self._source("carry"),
            partials_source=self._source("partials") if self.partials else Source.PRIOR,
        )
        return replace(shot, efforts=named_efforts(shot, self.efforts))

    def _source(self, what: str) -> Source:
        return Source.MEASURED if what in self.measured else Source.SAID


class ShotChanges(Form):
    """What is to be different about a shot that is in the book; nothing else is touched."""

    loft: Annotated[float | None, quantity(u.ANGLE, "loft")] = None
    carry: Annotated[float | None, quantity(u.LENGTH, "stock carry")] = None
    partials: Annotated[tuple[float, float] | None, BeforeValidator(_partials)] = None
    cue: str | None = None
    trusted: bool | None = None
    bounce: Annotated[float | None, quantity(u.ANGLE, "bounce")] = None
    length: Annotated[float | None, quantity(u.HEIGHT, "length")] = None
    head_mass: Annotated[float | None, quantity(u.MASS, "head mass")] = None
    stock_effort: str | None = None
    efforts: Annotated[dict[str, float | None], BeforeValidator(_efforts)] = Field(
        default_factory=dict
    )
    measured: Annotated[frozenset[str], BeforeValidator(_measured)] = frozenset()

    def club(self, club: Club) -> Club:
        """Give the club as it is to be."""
        changed: dict[str, Any] = {
            "bounce_rad": self.bounce,
            "length_m": self.length,
            "head_mass_kg": self.head_mass,
            "loft_rad": self.loft,
            "loft_source": self._source("loft", self.loft),
        }
        return replace(club, **{name: v for name, v in changed.items() if v is not None})

    def shot(self, shot: Shot) -> Shot:
        """Give the shot as it is to be; a prior range of partials follows a new stock carry."""
        shortest, longest = self.partials or (None, None)
        scale = 1.0 if self.carry is None else self.carry / shot.stock_carry_m
        if self.partials is None and shot.partials_source is Source.PRIOR:
            shortest, longest = scale * shot.shortest_m, scale * shot.longest_m
        elif self.partials is None and self.carry is not None:
            shortest = min(shot.shortest_m, self.carry)
            longest = max(shot.longest_m, self.carry)
        changed: dict[str, Any] = {
            "stock_carry_m": self.carry,
            "shortest_m": shortest,
            "longest_m": longest,
            "cue": None if self.cue is None else self.cue.strip(),
            "trusted": self.trusted,
            "stock_effort": self.stock_effort,
            "carry_source": self._source("carry", self.carry),
            "partials_source": self._source("partials", self.partials),
        }
        new = replace(shot, **{name: v for name, v in changed.items() if v is not None})
        return replace(new, efforts=named_efforts(new, self.efforts))

    def _source(self, what: str, said: object) -> Source | None:
        if what in self.measured:
            return Source.MEASURED
        return None if said is None else Source.SAID


def named_efforts(shot: Shot, said: Mapping[str, float | None]) -> tuple[Effort, ...]:
    """Lay named swings over those a shot has; one whose carry is not said gets that of its name.

    Raises
    ------
    BadInputError
        A name that says no share of a full swing, without a carry.
    """
    known = {e.name.lower(): e for e in shot.efforts}
    for name, carry in said.items():
        share = share_of(name)
        if carry is None and share is None:
            raise BadInputError(
                f"effort = {name!r} does not say how much of a full swing it is; write it like"
                f' "{name}=55yd"'
            )
        known[name.lower()] = (
            Effort(name, (share or 0.0) * shot.stock_carry_m, Source.PRIOR)
            if carry is None
            else Effort(name, carry)
        )
    return tuple(sorted(known.values(), key=lambda effort: effort.carry_m))
