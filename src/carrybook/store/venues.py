"""Venues in the book: their pages, notes, days and forecasts."""

from collections.abc import Iterable, Mapping
from datetime import date, time
from pathlib import Path

import sqlalchemy as sa

from carrybook.base.errors import BadInputError
from carrybook.store import tables as t
from carrybook.store.book import Session, read_rows
from carrybook.world.forecast_days import DayForecast, day_of_text
from carrybook.world.venue import Venue, VenueDay, VenueNote

__all__ = [
    "add_note",
    "find_venue",
    "load_days",
    "load_forecasts",
    "load_notes",
    "load_venues",
    "require_venue",
    "save_day",
    "save_forecasts",
    "save_venue",
    "undo_note",
]


def load_venues(session: Session) -> tuple[Venue, ...]:
    """Give all venues, in the order of the alphabet.

    Raises
    ------
    BadInputError
        The book is damaged.
    """
    query = sa.select(t.venue).order_by(t.venue.c.name)
    return tuple(read_rows(session, query, _venue, "venue"))


def find_venue(session: Session, name: str) -> Venue | None:
    """Give the venue of that name, in capitals or not; none where there is none."""
    query = sa.select(t.venue).where(t.venue.c.name == name)
    return next(iter(read_rows(session, query, _venue, "venue")), None)


def require_venue(session: Session, name: str) -> Venue:
    """Give the venue of that name.

    Raises
    ------
    BadInputError
        There is none; the message says which there are.
    """
    found = find_venue(session, name)
    if found is None:
        known = ", ".join(venue.name for venue in load_venues(session))
        there = f"; it has: {known}" if known else ""
        raise BadInputError(
            f"the book has no venue {name!r}{there}; add it like: carrybook venue add"
            f" '{name}' --course FILE"
        )
    return found


def save_venue(session: Session, venue: Venue) -> None:
    """Write down a venue, or what is now said of one that is there; its notes stay."""
    row = {
        "course": None if venue.course is None else str(venue.course),
        "heights": None if venue.heights is None else str(venue.heights),
        "elevation_m": venue.elevation_m,
        "surroundings": venue.surroundings,
        "numbers": list(venue.numbers_m),
    }
    same = t.venue.c.name == venue.name
    if not session.execute(sa.update(t.venue).where(same).values(row)).rowcount:
        session.execute(sa.insert(t.venue).values(name=venue.name, **row))


def add_note(session: Session, name: str, note: VenueNote) -> None:
    """Write down a note on a venue."""
    session.execute(
        sa.insert(t.venue_note).values(
            venue_id=_id(session, name),
            day=note.day.isoformat(),
            hole=note.hole,
            firmness_g=note.firmness_g,
            firmness_sd_g=note.firmness_sd_g,
            stimp_m=note.stimp_m,
            saw=list(note.saw),
            text=note.text,
        )
    )


def load_notes(session: Session, name: str) -> tuple[VenueNote, ...]:
    """Give the notes on a venue, by day and in the order they were written.

    Raises
    ------
    BadInputError
        There is no such venue, or the book is damaged.
    """
    c = t.venue_note.c
    query = sa.select(t.venue_note).where(c.venue_id == _id(session, name)).order_by(c.day, c.id)
    return tuple(read_rows(session, query, _note, "venue_note"))


def undo_note(session: Session, name: str) -> VenueNote:
    """Take back the note that was written last.

    Raises
    ------
    BadInputError
        There is none.
    """
    c = t.venue_note.c
    query = sa.select(t.venue_note).where(c.venue_id == _id(session, name))
    row = session.execute(query.order_by(c.id.desc()).limit(1)).first()
    if row is None:
        raise BadInputError(f"{name} has no note to take back")
    session.execute(sa.delete(t.venue_note).where(c.id == row.id))
    return _note(row)


def save_day(session: Session, name: str, day: VenueDay) -> None:
    """Write down a day of a venue in place of what was written of it."""
    row = {
        "tee_off": None if day.tee_off is None else day.tee_off.isoformat("minutes"),
        "first_hole": day.first_hole,
        "locations": [list(pair) for pair in day.locations],
    }
    _replace(session, t.venue_day, _id(session, name), day.day, row)


def load_days(session: Session, name: str) -> dict[date, VenueDay]:
    """Give what is known of the days of a venue, in their order.

    Raises
    ------
    BadInputError
        There is no such venue, or the book is damaged.
    """
    c = t.venue_day.c
    query = sa.select(t.venue_day).where(c.venue_id == _id(session, name)).order_by(c.day)
    return {day.day: day for day in read_rows(session, query, _day, "venue_day")}


def save_forecasts(session: Session, name: str, days: Iterable[DayForecast]) -> None:
    """Keep forecasts of a venue, each in place of the one before for that day."""
    venue = _id(session, name)
    for day in days:
        row = {
            "file": day.file,
            "content": day.text,
            "elevation_m": day.elevation_m,
            "read_on": None if day.read_on is None else day.read_on.isoformat(),
        }
        _replace(session, t.venue_forecast, venue, day.day, row)


def load_forecasts(session: Session, name: str) -> dict[date, DayForecast]:
    """Give the forecasts of a venue, in the order of the days.

    Raises
    ------
    BadInputError
        There is no such venue, or the book is damaged.
    """
    c = t.venue_forecast.c
    query = sa.select(t.venue_forecast).where(c.venue_id == _id(session, name)).order_by(c.day)
    return {day.day: day for day in read_rows(session, query, _forecast, "venue_forecast")}


def _id(session: Session, name: str) -> int:
    query = sa.select(t.venue.c.id).where(t.venue.c.name == require_venue(session, name).name)
    return int(session.execute(query).scalar_one())


def _replace(
    session: Session, table: sa.Table, venue: int, day: date, row: Mapping[str, object]
) -> None:
    same = (table.c.venue_id == venue) & (table.c.day == day.isoformat())
    session.execute(sa.delete(table).where(same))
    session.execute(sa.insert(table).values(venue_id=venue, day=day.isoformat(), **row))


def _venue(row: sa.Row[tuple[object, ...]]) -> Venue:
    return Venue(
        row.name,
        None if row.course is None else Path(row.course),
        None if row.heights is None else Path(row.heights),
        row.elevation_m,
        row.surroundings,
        tuple(row.numbers),
    )


def _note(row: sa.Row[tuple[object, ...]]) -> VenueNote:
    return VenueNote(
        date.fromisoformat(row.day), row.hole, row.firmness_g, row.firmness_sd_g, row.stimp_m,
        tuple(row.saw), row.text,
    )  # fmt: skip


def _day(row: sa.Row[tuple[object, ...]]) -> VenueDay:
    return VenueDay(
        date.fromisoformat(row.day),
        None if row.tee_off is None else time.fromisoformat(row.tee_off),
        row.first_hole,
        tuple((ref, words) for ref, words in row.locations),
    )


def _forecast(row: sa.Row[tuple[object, ...]]) -> DayForecast:
    read_on = None if row.read_on is None else date.fromisoformat(row.read_on)
    day = date.fromisoformat(row.day)
    return day_of_text(row.content, day, row.file, row.elevation_m, read_on)
