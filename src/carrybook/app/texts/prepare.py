"""A week at a venue in words: day by day, what it is like, what to play, what changed."""

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from carrybook.app.texts.base import table
from carrybook.app.texts.plan import cells_table, lay_up_line, left_out_line
from carrybook.artefacts import week_words as ww
from carrybook.artefacts import words as w
from carrybook.artefacts.cautions import LIGHTNING, NOT_MEDICAL

if TYPE_CHECKING:
    from carrybook.app.services.prepare import PreparedWeek
    from carrybook.decision.half_days import HalfDay
    from carrybook.decision.prepare import PreparedDay

__all__ = ["week_text"]

_RULES = "Prepared before the round: check local rules (G-5, G-11) before you carry any of it."
_NUMBERS_NOTE = (
    "Range: from the coldest to the warmest hour played, the forecast {doubt} C off. Into, helping:"
    " the wind of that hour."
)


def week_text(week: "PreparedWeek", cards: Sequence[Path], units: str) -> str:
    """Say what is prepared."""
    return "\n".join(_lines(week, cards, w.units_named(units)))


def _lines(week: "PreparedWeek", cards: Sequence[Path], u: w.Units) -> Iterator[str]:
    first, last = (ww.day_words(week.days[k].day, year=True) for k in (0, -1))
    numbers = ", ".join(w.whole(m, u) for m in week.numbers_m)
    holes = ", ".join(w.one_line(hole.ref) for hole in week.holes)
    yield f"{w.one_line(week.page.venue.name)}: {first} to {last}"
    yield f"holes {holes}; from {numbers} {u.far}"
    if week.page.notes:
        yield "\nNOTES"
        yield from (f"  {ww.note_words(note, u)}" for note in week.page.notes)
    for day in week.days:
        yield from _day(week, day, u)
    yield ""
    yield from (f"note: {remark}" for remark in week.remarks)
    if week.pieces:
        yield f"plans: {week.done} of {week.pieces} zones, {week.kept} of them kept from before"
    yield from (f"card: {path}" for path in cards)
    yield from (LIGHTNING, NOT_MEDICAL, _RULES)


def _day(week: "PreparedWeek", day: "PreparedDay", u: w.Units) -> Iterator[str]:
    tee = "" if day.tee_off is None else f", tee {day.tee_off:%H:%M}"
    yield f"\n{ww.day_words(day.day).upper()}{tee}"
    if not day.halves:
        yield "  no forecast yet"
        return
    for half in day.halves:
        air, wind = ww.half_words(half, u)
        yield f"  {half.half:<9}  {air}"
        yield f"  {'':<9}  {wind}"
    yield from (f"  {line}" for line in ww.green_lines(day, u))
    yield from (f"  {line}" for line in ww.weather_lines(day))
    cut = [f"{w.one_line(h.hole)}: {w.one_line(h.location)}" for h in day.holes if h.location]
    if cut:
        yield f"  Holes: {'; '.join(cut)}"
    yield ""
    yield _numbers(day.halves, u)
    yield _NUMBERS_NOTE.format(doubt=f"{day.doubt_k:.1f}")
    moved = week.changes.get(day.day)
    if moved is not None:
        yield f"\nsince {ww.day_words(moved.since)}"
        yield from (f"  {line}" for line in ww.change_lines(moved, u))
    yield from _plans(day, u)


def _numbers(halves: "Sequence[HalfDay]", u: w.Units) -> str:
    """One row for each shot, the half-days beside each other."""
    head = [f"carry {u.far}"]
    rows: dict[str, list[str]] = {row.number.summary.shot.label: [] for row in halves[0].numbers}
    for half in halves:
        head += [half.half.value, "one ball", "range", "into", "helping"]
        for row in half.numbers:
            rows[row.number.summary.shot.label] += [
                w.whole(row.number.today_m, u),
                f"+- {max(1, round(row.number.spread_m / u.far_m))}",
                f"{w.whole(row.low_m, u)}..{w.whole(row.high_m, u)}",
                w.whole(row.into_m, u),
                w.whole(row.helping_m, u),
            ]
    return table([tuple(head), *((w.one_line(label), *cells) for label, cells in rows.items())])


def _plans(day: "PreparedDay", u: w.Units) -> Iterator[str]:
    for hole in day.holes:
        cells = [cell for cell in day.cells if cell.hole == hole.hole]
        if cells:
            yield f"\nhole {w.one_line(hole.hole)}, at {ww.clock_words(hole.hour)}"
            yield cells_table(cells, u)
    cut = {hole.hole for hole in day.holes if hole.location}
    for each in day.lay_ups:
        yield lay_up_line(each, u, "where it is cut" if each.hole in cut else "the middle")
    yield from (f"left out: {left_out_line(one, u)}" for one in day.left_out)
