"""Venues in the book: pages, notes, days and forecasts; out and in again with the whole book."""

from datetime import date, time
from pathlib import Path

import pytest

from carrybook.base.errors import BadInputError
from carrybook.store.archive import export_book, restore_book
from carrybook.store.book import Book, open_book
from carrybook.store.venues import (
    add_note,
    find_venue,
    load_days,
    load_forecasts,
    load_notes,
    load_venues,
    require_venue,
    save_day,
    save_forecasts,
    save_venue,
    undo_note,
)
from carrybook.world.forecast_days import DayForecast, day_of_text
from carrybook.world.venue import Venue, VenueDay, VenueNote

DAY, NEXT = date(2026, 5, 30), date(2026, 5, 31)
LINKS = Venue("Saltfen Reach", Path("/maps/s.geojson"), Path("/maps/h.csv"), 12.0, "heath", (64.0,))
NOTES = (
    VenueNote(date(2025, 5, 27), text="dry; 'everything' ran out"),
    VenueNote(DAY, "16", 110.0, 10.0, 3.1, ("one hop and stopped", "checked"), "shade"),
    VenueNote(DAY, "", stimp_m=3.2),
)
TEXT = (
    "time,temperature (C),humidity (%),sea-level pressure (hPa),wind (mph),wind from (deg)\n"
    "2026-05-30T09:00,9,85,1004,12,240\n"
)


def forecast(day: date = DAY, warmth: int = 9) -> DayForecast:
    text = TEXT.replace("2026-05-30", day.isoformat()).replace(",9,", f",{warmth},")
    return day_of_text(text, day, "week.csv", 120.0, date(2026, 5, 28))


@pytest.fixture
def paged(book: Book) -> Book:
    """Fill the page of one venue."""
    with book.session() as session:
        save_venue(session, LINKS)
        for note in NOTES[::-1]:
            add_note(session, "Saltfen Reach", note)
        save_day(session, "Saltfen Reach", VenueDay(DAY, time(9, 30), 10, (("4", "8 on, 3L"),)))
        save_forecasts(session, "Saltfen Reach", [forecast(), forecast(NEXT)])
    return book


def everything(book: Book) -> tuple[object, ...]:
    with book.session() as session:
        name = "Saltfen Reach"
        return (
            load_venues(session),
            load_notes(session, name),
            load_days(session, name),
            load_forecasts(session, name),
        )


def test_what_was_written_comes_back(paged: Book) -> None:
    venues, notes, days, forecasts = everything(paged)
    assert venues == (LINKS,)
    assert notes == (NOTES[0], NOTES[2], NOTES[1])  # by day, then as they were written
    assert days == {DAY: VenueDay(DAY, time(9, 30), 10, (("4", "8 on, 3L"),))}
    assert forecasts == {DAY: forecast(), NEXT: forecast(NEXT)}


def test_a_name_is_the_same_in_capitals_and_saying_more_keeps_the_notes(paged: Book) -> None:
    with paged.session() as session:
        found = require_venue(session, "SALTFEN reach")
        assert found == LINKS
        save_venue(session, Venue("saltfen reach", None, None, None, "open links", ()))
        (now,) = load_venues(session)
        assert (now.name, now.course, now.numbers_m) == ("Saltfen Reach", None, ())
        assert len(load_notes(session, "Saltfen Reach")) == 3


def test_a_newer_forecast_and_day_stand_in_for_the_older(paged: Book) -> None:
    with paged.session() as session:
        save_forecasts(session, "Saltfen Reach", [forecast(DAY, 14)])
        save_day(session, "Saltfen Reach", VenueDay(DAY, None))
        assert load_forecasts(session, "Saltfen Reach") == {
            DAY: forecast(DAY, 14),
            NEXT: forecast(NEXT),
        }
        assert load_days(session, "Saltfen Reach") == {DAY: VenueDay(DAY)}


def test_the_last_note_is_taken_back_one_by_one(paged: Book) -> None:
    with paged.session() as session:
        taken = [undo_note(session, "Saltfen Reach") for _ in NOTES]
        assert taken == list(NOTES)  # they were written the other way round
        with pytest.raises(BadInputError, match="Saltfen Reach has no note to take back"):
            undo_note(session, "Saltfen Reach")


def test_venues_do_not_mix(paged: Book) -> None:
    with paged.session() as session:
        save_venue(session, Venue("Ash Heath"))
        add_note(session, "ash heath", VenueNote(DAY, text="other"))
        assert [venue.name for venue in load_venues(session)] == ["Ash Heath", "Saltfen Reach"]
        assert [note.text for note in load_notes(session, "Ash Heath")] == ["other"]
        assert load_days(session, "Ash Heath") == {}
        assert len(load_notes(session, "Saltfen Reach")) == 3


def test_a_venue_that_is_not_there(paged: Book) -> None:
    with paged.session() as session:
        assert find_venue(session, "Nowhere") is None
        said = r"the book has no venue 'Nowhere'; it has: Saltfen Reach; add it like: carrybook ven"
        with pytest.raises(BadInputError, match=said):
            load_notes(session, "Nowhere")


def test_they_are_exported_restored_and_gone_with_the_book(paged: Book, tmp_path: Path) -> None:
    before = everything(paged)
    for how in ("parquet", "csv", "jsonl"):
        export_book(paged, tmp_path / how, (how,))
        copy = tmp_path / f"{how}.sqlite"
        restore_book(copy, tmp_path / how)
        with open_book(copy) as again:
            assert everything(again) == before
