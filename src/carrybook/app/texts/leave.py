"""What to leave, in words."""

from collections.abc import Iterator
from math import isfinite
from typing import TYPE_CHECKING

from carrybook.app.texts.base import table
from carrybook.artefacts import words as w

if TYPE_CHECKING:
    from carrybook.decision.leave import Against, Distance, LeaveTable

__all__ = [
    "LEAVE_RULES",
    "against_words",
    "flat_words",
    "leave_rows",
    "leave_text",
    "scatter_words",
]

LEAVE_RULES = "For before the round: Rule 4.3a does not let a device say this during one."


def leave_text(t: "LeaveTable", units: str) -> str:
    """Say what each distance costs, where it does not matter, and what to think of a favourite."""
    return "\n".join(_lines(t, w.units_named(units)))


def against_words(a: "Against", u: w.Units) -> str:
    """Say what a closer distance is worth against a favourite."""
    closer, liked = (w.distance(m, u) for m in (a.left_m, a.other_m))
    size = f"{abs(a.saves):.2f} {w.standard_error(a.unsure)} strokes"
    verb = "saves" if a.saves > 0.0 else "costs"
    return f"{closer} instead of {liked} {verb} {size}{_verdict(a)}"


def _verdict(a: "Against") -> str:
    """What a difference is worth where it does not clearly matter."""
    from carrybook.decision.select import WORTH_SAYING

    if a.matters:
        return ""
    if abs(a.saves) <= WORTH_SAYING:
        return ": does not matter here"
    return ": perhaps, but it cannot be told from one that does not matter"


def _lines(t: "LeaveTable", u: w.Units) -> Iterator[str]:
    s = t.situation
    yield f"{s.hole.venue}, hole {s.hole.ref}, {w.location_words(s.location)}: what to leave"
    yield (
        f"{w.air_words(s.air)}; {w.wind_words(s.wind, u)}; lie {t.asked.lie or 'as the map has it'}"
    )
    yield scatter_words(t, u)
    yield ""
    head = (f"left {u.far}", "", "strokes", "over the best", "play", "feel", "lay-ups end in")
    yield table([head, *leave_rows(t, u)])
    yield ""
    yield flat_words(t, u)
    yield from (against_words(a, u) for a in _once(t.closer, t.closest))
    yield from (f"doubt: {doubt}" for doubt in t.doubts)
    yield LEAVE_RULES


def leave_rows(t: "LeaveTable", u: w.Units) -> list[tuple[str, ...]]:
    """Give each distance: left, whether it is flat, strokes, over best, shot, feel, troubles."""
    return [_row(d, u) for d in t.distances]


def scatter_words(t: "LeaveTable", u: w.Units) -> str:
    """Say how far the lay-up strays."""
    s = t.asked.scatter
    return (
        f"lay-up strays {w.distance(s.depth_m, u)} in depth and"
        f" {w.distance(s.side_m, u)} in side (one standard deviation), {s.source}"
    )


def _row(d: "Distance", u: w.Units) -> tuple[str, ...]:
    left, ends = w.whole(d.left_m, u), ", ".join(_ends(d))
    if not isfinite(d.strokes):
        return left, "", "", "", "none of your shots", "", ends
    behind = "" if d.behind == 0.0 else w.difference(d.behind, d.behind_unsure)
    feel = w.distance(d.feel_m, u) if d.feel_m else ""
    return left, "=" if d.flat else "", f"{d.strokes:.2f}", behind, d.shot or "sand", feel, ends


def _ends(d: "Distance") -> Iterator[str]:
    for kind, share in d.troubles.items():
        yield f"{kind} {w.per_cent(share)}"


def flat_words(t: "LeaveTable", u: w.Units) -> str:
    """Say between which distances it does not matter."""
    from carrybook.decision.select import WORTH_SAYING

    low, high = t.flat_m
    if low == high:
        return f"best {w.distance(low, u)}; no other is within {WORTH_SAYING} strokes of it (=)"
    return (
        f"it does not matter between {w.whole(low, u)} and {w.distance(high, u)} (=): within"
        f" {WORTH_SAYING} strokes of the best, {w.distance(t.distances[t.best].left_m, u)}"
    )


def _once(*found: "Against | None") -> "Iterator[Against]":
    """Both, or one where they are the same."""
    yield from dict.fromkeys(a for a in found if a is not None)
