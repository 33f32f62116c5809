"""The page of a venue in words."""

from collections.abc import Collection, Iterator, Sequence
from datetime import date
from typing import TYPE_CHECKING

from carrybook.artefacts import week_words as ww
from carrybook.artefacts import words as w

if TYPE_CHECKING:
    from carrybook.app.services.venues import VenuePage
    from carrybook.world.venue import Venue, VenueNote

__all__ = ["days_text", "noted_text", "page_text", "undone_text", "venues_text"]


def page_text(page: "VenuePage", units: str) -> str:
    """Say everything the book has of a venue."""
    return "\n".join(_lines(page, w.units_named(units)))


def days_text(page: "VenuePage", days: Collection[date]) -> str:
    """Say what is now known of some days."""
    return "\n".join([w.one_line(page.venue.name), *_day_lines(page, sorted(days))])


def noted_text(page: "VenuePage", note: "VenueNote", units: str) -> str:
    """Say what was noted, and how many notes there are."""
    name, count = w.one_line(page.venue.name), len(page.notes)
    words = ww.note_words(note, w.units_named(units))
    return f"{name}, {count} note{'' if count == 1 else 's'}; now {words}"


def venues_text(venues: "Sequence[Venue]") -> str:
    """List the venues."""
    if not venues:
        return "no venue yet; add one: carrybook venue add NAME --course FILE"
    return "\n".join(f"{w.one_line(v.name)}: {v.course or 'no course yet'}" for v in venues)


def undone_text(note: "VenueNote", units: str) -> str:
    """Say which note was taken back."""
    return f"taken back: {ww.note_words(note, w.units_named(units))}"


def _lines(page: "VenuePage", u: w.Units) -> Iterator[str]:
    v = page.venue
    high = "" if v.elevation_m is None else f", {v.elevation_m:.0f} m above the sea"
    yield f"{w.one_line(v.name)}: {v.course or 'no course yet'}{high}, {v.surroundings}"
    if v.numbers_m:
        yield f"  approached from {', '.join(w.whole(m, u) for m in v.numbers_m)} {u.far}"
    for note in page.notes:
        yield f"  {ww.note_words(note, u)}"
    yield from _day_lines(page, sorted({*page.days, *page.forecasts}))


def _day_lines(page: "VenuePage", days: Sequence[date]) -> Iterator[str]:
    for day in days:
        yield f"  {ww.day_words(day, year=True)}: {'; '.join(_day(page, day))}"


def _day(page: "VenuePage", day: date) -> Iterator[str]:
    known, told = page.days.get(day), page.forecasts.get(day)
    if known is not None and known.tee_off is not None:
        first = "" if known.first_hole == 1 else f" from hole {known.first_hole}"
        yield f"tee {known.tee_off:%H:%M}{first}"
    if known is not None and known.locations:
        yield f"{len(known.locations)} hole locations"
    if told is not None:
        hours = f"{ww.clock_words(told.hours[0])} to {ww.clock_words(told.hours[-1])}"
        read = "" if told.read_on is None else f", read {ww.day_words(told.read_on)}"
        yield f"forecast {hours} from {w.one_line(told.file)}{read}"
