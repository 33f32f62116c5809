"""A venue, a note on it, a day of it and a week at it, as people type them."""

import re
from datetime import date, time, timedelta
from pathlib import Path
from typing import Annotated

from pydantic import BeforeValidator, model_validator

from carrybook.app.forms.base import Form, quantity
from carrybook.app.forms.landing import seen_named
from carrybook.app.forms.plan import hole_numbers, lengths
from carrybook.app.forms.weather import clock
from carrybook.base import units as u
from carrybook.base.errors import BadInputError
from carrybook.world.firmness import firmness_named
from carrybook.world.venue import Venue, VenueNote
from carrybook.world.wind import exposure_named

__all__ = ["ElevationForm", "NoteForm", "TeeForm", "VenuePageForm", "WeekForm", "day_named"]

_DAY = re.compile(r"\d{4}-\d{2}-\d{2}")
_LONGEST_NAME, _LONGEST_TEXT = 60, 500
_LONGEST_WEEK = timedelta(days=13)  # ours: two weeks
LAY_UPS = ("par 5", "all", "none")


def day_named(text: str) -> date:
    """Read a date: "2026-05-31".

    Raises
    ------
    BadInputError
        No date, or one that no calendar has.
    """
    try:
        if _DAY.fullmatch(text.strip()):
            return date.fromisoformat(text.strip())
    except ValueError:
        pass
    raise BadInputError(f"date = {text!r} is not a date; write it like 2026-05-31")


def _name(text: str) -> str:
    name = " ".join(text.split())
    if not 1 <= len(name) <= _LONGEST_NAME or not name.isprintable():
        raise BadInputError(f"venue = {text[:70]!r}: a name has 1 to {_LONGEST_NAME} letters")
    return name


def _words(text: str) -> str:
    words = " ".join(text.split())
    if len(words) > _LONGEST_TEXT:
        raise BadInputError(f"text of a note has {len(words)} letters; {_LONGEST_TEXT} at most")
    return words


def _seen(typed: list[str]) -> tuple[str, ...]:
    """What balls did: looked at now, kept as words, learnt from when a week is prepared."""
    return tuple(seen_named(words).words for words in typed)


def _surroundings(words: str) -> str:
    exposure_named(words)
    return words.strip().lower()


def _first_hole(text: str) -> int:
    if not text.strip().isdigit() or not 1 <= int(text) <= 18:
        raise BadInputError(f"first hole = {text} is not one of 1 to 18")
    return int(text)


def _lay_ups(text: str) -> str | tuple[str, ...]:
    words = " ".join(text.lower().split())
    return words if words in LAY_UPS else hole_numbers(text)


Name = Annotated[str, BeforeValidator(_name)]
DayWord = Annotated[date, BeforeValidator(day_named)]


class VenuePageForm(Form):
    """A venue; what is not said of one that the book has stays as it was."""

    name: Name
    course: Path | None = None
    heights: Path | None = None
    elevation: Annotated[float, quantity(u.ELEVATION, "elevation")] | None = None
    surroundings: Annotated[str, BeforeValidator(_surroundings)] | None = None
    numbers: Annotated[tuple[float, ...], lengths("number")] | None = None

    def value(self, before: Venue | None) -> Venue:
        """Give the venue, with what was known of it before."""
        old = before or Venue(self.name)
        return Venue(
            old.name,
            self.course.absolute() if self.course else old.course,
            self.heights.absolute() if self.heights else old.heights,
            old.elevation_m if self.elevation is None else self.elevation,
            self.surroundings or old.surroundings,
            old.numbers_m if self.numbers is None else self.numbers,
        )


class ElevationForm(Form):
    """How high a course lies, where a forecast has its pressure at sea level."""

    elevation: Annotated[float, quantity(u.ELEVATION, "elevation")] | None = None


class NoteForm(Form):
    """A note: at least one of firmness, green speed, balls seen, and words."""

    day: DayWord
    hole: str = ""
    firmness: Annotated[tuple[float, float], BeforeValidator(firmness_named)] | None = None
    stimp: Annotated[float, quantity(u.GREEN_SPEED, "green speed")] | None = None
    saw: Annotated[tuple[str, ...], BeforeValidator(_seen)] = ()
    text: Annotated[str, BeforeValidator(_words)] = ""

    @model_validator(mode="after")
    def _says_something(self) -> "NoteForm":
        if self.firmness is None and self.stimp is None and not self.saw and not self.text:
            raise BadInputError(
                "the note says nothing; add --firmness firm, --stimp 10ft, --saw 'released 4"
                " paces' or --text 'what you like to remember'"
            )
        return self

    def value(self) -> VenueNote:
        """Give the note to the book."""
        firm, sd = self.firmness or (None, None)
        hole = " ".join(self.hole.split())
        return VenueNote(self.day, hole, firm, sd, self.stimp, self.saw, self.text)


class TeeForm(Form):
    """When and where a round starts."""

    day: DayWord
    tee_off: Annotated[time, BeforeValidator(clock)]
    first_hole: Annotated[int, BeforeValidator(_first_hole)] = 1


class WeekForm(Form):
    """Days at a venue: from the first to the last."""

    venue: Name
    first: DayWord
    last: DayWord
    hole: Annotated[tuple[str, ...], BeforeValidator(hole_numbers)] = ()
    numbers: Annotated[tuple[float, ...], lengths("number")] | None = None
    lay_ups: Annotated[str | tuple[str, ...], BeforeValidator(_lay_ups)] = LAY_UPS[0]
    plans: bool = True

    @model_validator(mode="after")
    def _in_order(self) -> "WeekForm":
        if not timedelta(0) <= self.last - self.first <= _LONGEST_WEEK:
            raise BadInputError(
                f"from = {self.first} to = {self.last} is no stretch of 1 to"
                f" {_LONGEST_WEEK.days + 1} days; write it like --from 2026-05-28 --to 2026-05-31"
            )
        return self

    def days(self) -> tuple[date, ...]:
        """Give the days, in order."""
        return tuple(
            self.first + timedelta(days=k) for k in range((self.last - self.first).days + 1)
        )
