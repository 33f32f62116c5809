"""Venues: their pages in the book. All of it records, so a round that is on does not stop it."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from carrybook.app.forms.venue import NoteForm, TeeForm, VenuePageForm
from carrybook.app.services.book import open_book
from carrybook.base.errors import BadInputError
from carrybook.world.forecast_days import DayForecast
from carrybook.world.venue import Venue, VenueDay, VenueNote

if TYPE_CHECKING:
    from carrybook.store.book import Session
    from carrybook.world.hole import Hole

__all__ = [
    "VenuePage",
    "keep_forecast",
    "keep_sheet",
    "keep_tee",
    "look_at_venue",
    "note_venue",
    "save_venue",
    "undo_note",
    "venues_of",
]


@dataclass(frozen=True, slots=True)
class VenuePage:
    """Everything the book has of one venue.

    Parameters
    ----------
    venue : Venue
        The venue.
    notes : tuple of VenueNote
        By day.
    days : dict of date to VenueDay
        Tee times and hole locations.
    forecasts : dict of date to DayForecast
        Forecasts as read.
    """

    venue: Venue
    notes: tuple[VenueNote, ...]
    days: dict[date, VenueDay]
    forecasts: dict[date, DayForecast]


def save_venue(book: Path | None, asked: VenuePageForm) -> VenuePage:
    """Write down a venue, or what is now said of one that is there; its notes stay.

    Raises
    ------
    BadInputError
        A course that cannot be read.
    """
    from carrybook.store import venues as store
    from carrybook.world.venue_course import course_refs, read_course

    with open_book(book, create=True) as opened, opened.session() as session:
        venue = asked.value(store.find_venue(session, asked.name))
        if asked.course is not None or asked.heights is not None:
            read_course(venue, course_refs(venue)[:1])  # one with its heights tells enough
        store.save_venue(session, venue)
        return _page(session, venue)


def look_at_venue(book: Path | None, name: str) -> VenuePage:
    """Give everything of one venue.

    Raises
    ------
    BadInputError
        There is no such venue.
    NoSolutionError
        There is no book yet.
    """
    with _venue(book, name, reading=True) as (session, venue):
        return _page(session, venue)


def venues_of(book: Path | None) -> tuple[Venue, ...]:
    """Give all venues.

    Raises
    ------
    NoSolutionError
        There is no book yet.
    """
    from carrybook.store.venues import load_venues

    with open_book(book, reading=True) as opened, opened.session() as session:
        return load_venues(session)


def note_venue(book: Path | None, name: str, asked: NoteForm) -> VenuePage:
    """Write down a note.

    Raises
    ------
    BadInputError
        There is no such venue, or it is known to have no such hole.
    """
    from carrybook.store.venues import add_note

    note = asked.value()
    with _venue(book, name) as (session, venue):
        if note.hole:
            _require_holes(venue, (note.hole,))
        add_note(session, venue.name, note)
        return _page(session, venue)


def undo_note(book: Path | None, name: str) -> VenueNote:
    """Take back the note that was written last.

    Raises
    ------
    BadInputError
        There is no such venue, or no note on it.
    """
    from carrybook.store.venues import undo_note as undo

    with _venue(book, name) as (session, venue):
        return undo(session, venue.name)


def keep_tee(book: Path | None, name: str, asked: TeeForm) -> VenuePage:
    """Write down a tee time. Errors as :func:`look_at_venue`."""
    from carrybook.store.venues import load_days, save_day

    with _venue(book, name) as (session, venue):
        day = load_days(session, venue.name).get(asked.day, VenueDay(asked.day))
        told = replace(day, tee_off=asked.tee_off, first_hole=asked.first_hole)
        save_day(session, venue.name, told)
        return _page(session, venue)


def keep_sheet(book: Path | None, name: str, day: date, path: Path) -> VenuePage:
    """Read the hole-location sheet of a day.

    Raises
    ------
    BadInputError
        A sheet that cannot be read, a hole that is not there, or a place that is off its green.
    """
    from carrybook.store.venues import load_days, save_day
    from carrybook.world.hole_sheet import read_sheet

    sheet = read_sheet(path)
    with _venue(book, name) as (session, venue):
        holes = _require_holes(venue, tuple(ref for ref, _ in sheet))
        for ref, words in sheet if holes else ():
            _require_on_green(holes[ref], words, f"{path.name}, hole {ref}")
        known = load_days(session, venue.name).get(day, VenueDay(day))
        locations = tuple({**dict(known.locations), **dict(sheet)}.items())
        save_day(session, venue.name, replace(known, locations=locations))
        return _page(session, venue)


def keep_forecast(
    book: Path | None,
    name: str,
    path: Path,
    *,
    today: date,
    day: date | None = None,
    elevation_m: float | None = None,
) -> VenuePage:
    """Read a forecast of one or more days.

    Raises
    ------
    BadInputError
        A file that cannot be read; then nothing is stored.
    """
    from carrybook.store.venues import save_forecasts
    from carrybook.world.forecast_days import read_days

    with _venue(book, name) as (session, venue):
        high = venue.elevation_m if elevation_m is None else elevation_m
        days = read_days(path, day=day, elevation_m=high, read_on=today)
        save_forecasts(session, venue.name, days)
        return _page(session, venue)


@contextmanager
def _venue(
    book: Path | None, name: str, *, reading: bool = False
) -> "Iterator[tuple[Session, Venue]]":
    """Open the book at the page of a venue."""
    from carrybook.store.venues import require_venue

    with open_book(book, reading=reading) as opened, opened.session() as session:
        yield session, require_venue(session, " ".join(name.split()))


def _page(session: "Session", venue: Venue) -> VenuePage:
    from carrybook.store import venues as store

    return VenuePage(
        venue,
        store.load_notes(session, venue.name),
        store.load_days(session, venue.name),
        store.load_forecasts(session, venue.name),
    )


def _require_holes(venue: Venue, refs: tuple[str, ...]) -> "dict[str, Hole]":
    """Holes of a course that was named; nothing is refused where none was."""
    from carrybook.world.venue_course import read_course

    if venue.course is None or not venue.course.exists():
        return {}
    return {hole.ref: hole for hole in read_course(venue, refs, level=True)}


def _require_on_green(hole: "Hole", words: str, where: str) -> None:
    from carrybook.world.locate import locate

    try:
        locate(hole, words)
    except BadInputError as error:
        raise type(error)(f"{where}: {error}") from None
