"""Pocket cards of a week: one for each day in both profiles, into a folder."""

import re
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from carrybook.app.files import make_folder, write_file
from carrybook.app.services.card import tables_for
from carrybook.app.services.prepare import PreparedWeek
from carrybook.artefacts.paper import Layout, Profile
from carrybook.world.wind import exposure_named

if TYPE_CHECKING:
    from carrybook.artefacts.card import CardContent, Carries, GreenToday
    from carrybook.decision.half_days import HalfDay
    from carrybook.decision.plan import PlanCell
    from carrybook.decision.prepare import PreparedDay

__all__ = ["print_week"]

_MOST_ON_A_GREEN = 2
_MOST_NOTES = 12  # ours: the newest; a card is no notebook


def print_week(
    folder: Path, week: PreparedWeek, units: str, layout: Layout = Layout.SINGLE
) -> tuple[Path, ...]:
    """Print the cards of a week.

    Parameters
    ----------
    folder : Path
        Made where it is not there yet.
    week : PreparedWeek
        What was prepared; days without a forecast have no card.
    units : str
        "yards" or "metres".
    layout : Layout
        Paper.

    Returns
    -------
    cards : tuple of Path
        The files, by day and profile.

    Raises
    ------
    BadInputError
        The folder or a file cannot be written.
    """
    from carrybook.artefacts.card import pocket_card

    make_folder(folder)
    written = []
    for day in week.days:
        if not day.halves:
            continue
        content = _content(week, day, units)
        for profile in Profile:
            path = folder / f"{_slug(week.page.venue.name)}-{day.day}-{profile}.pdf"
            write_file(path, pocket_card(content, profile=profile, layout=layout, units=units))
            written.append(path)
    return tuple(written)


def _content(week: PreparedWeek, day: "PreparedDay", units: str) -> "CardContent":
    from carrybook.artefacts import week_words as ww
    from carrybook.artefacts.card import CardContent
    from carrybook.artefacts.words import units_named
    from carrybook.decision.plan import zone_plan_of

    u = units_named(units)
    first, *others = (_carries(half) for half in day.halves)
    roughness = exposure_named(week.page.venue.surroundings)
    partials, strips = tables_for([n.summary for n in first.numbers], first.air, units, roughness)
    return CardContent(
        title=f"{week.page.venue.name}, {ww.day_words(day.day)}",
        air=first.air,
        numbers=first.numbers,
        partials=partials,
        strips=strips,
        zones=tuple(zone_plan_of(cell) for cell in _on_card(day)),
        lay_ups=day.lay_ups,
        when=first.when,
        later=tuple(others),
        said=tuple(ww.card_lines(day, week.changes.get(day.day), u)),
        own_words=tuple(_own_words(week, day, units)),
        greens=tuple(_greens(week, day, units)),
        exposure=day.exposure,
    )


def _carries(half: "HalfDay") -> "Carries":
    from carrybook.artefacts.card import Carries
    from carrybook.artefacts.week_words import clock_words

    numbers = tuple(row.number for row in half.numbers)
    return Carries(f"{half.half}, {clock_words(half.middle)}", half.middle.air, numbers)


def _on_card(day: "PreparedDay") -> "Iterator[PlanCell]":
    """All distances where the hole is known; else those nearest to the middle one, by ninth."""
    known = {hole.hole for hole in day.holes if hole.location}
    numbers = sorted({cell.number_m for cell in day.cells})
    middle = numbers[len(numbers) // 2] if numbers else 0.0
    yield from (c for c in day.cells if c.hole in known or c.number_m == middle)


def _greens(week: PreparedWeek, day: "PreparedDay", units: str) -> "Iterator[GreenToday]":
    """Greens whose hole is known, with the newest notes on them."""
    from carrybook.artefacts.card import GreenToday
    from carrybook.artefacts.week_words import note_words
    from carrybook.artefacts.words import units_named
    from carrybook.world.locate import locate

    for hole, told in zip(week.holes, day.holes, strict=True):
        if told.location:
            notes = [n for n in reversed(week.page.notes) if n.hole == told.hole]
            own = (note_words(n, units_named(units)) for n in notes[:_MOST_ON_A_GREEN])
            words = (f"Hole {told.hole}: {told.location}", *own)
            yield GreenToday(hole, locate(hole, told.location), words)


def _own_words(week: PreparedWeek, day: "PreparedDay", units: str) -> Iterator[str]:
    """Hole locations of the day, and the notes in the player's words, the newest first."""
    from carrybook.artefacts.week_words import note_words
    from carrybook.artefacts.words import units_named

    for hole in day.holes:
        if hole.location:
            yield f"Hole {hole.hole} is cut {hole.location}"
    told = [note for note in reversed(week.page.notes) if note.text and note.day <= day.day]
    yield from (note_words(note, units_named(units)) for note in told[:_MOST_NOTES])


def _slug(name: str) -> str:
    """A name as a file may have it."""
    return re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-") or "venue"
