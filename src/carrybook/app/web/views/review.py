"""A review ready for the page: bars as shares of a width, everything else in words."""

from dataclasses import dataclass

from carrybook.app.texts.review import review_head
from carrybook.artefacts.review_text import (
    PART_HINTS,
    PART_WORDS,
    cost_words,
    interval_words,
    pattern_words,
    practice_command,
    worth_telling,
)
from carrybook.artefacts.words import Units
from carrybook.decision.review.review import PartSum, Review

__all__ = ["Bar", "ReviewView", "review_of"]

_WIDE = 300.0  # of the bars, in units of the drawing
_ROW = 30.0


@dataclass(frozen=True, slots=True)
class Bar:
    """One part: its words, what they mean, its bar and its interval in units of the drawing."""

    name: str
    hint: str
    value: str
    interval: str
    x: float
    y: float
    width: float
    low: float | None
    high: float | None


@dataclass(frozen=True, slots=True)
class ReviewView:
    """The review: whose strokes, bars, what was worth knowing, what repeats, what to practise."""

    head: str
    bars: tuple[Bar, ...]
    zero: float
    wide: float
    high: float
    knowing: tuple[str, ...]
    patterns: tuple[str, ...]
    looks: str
    costs: tuple[tuple[str, str, str], ...]
    notes: tuple[str, ...]


def review_of(found: Review, units: Units) -> ReviewView:
    """Put a review into the terms of the page."""
    parts = found.lines
    ends = [v for p in parts for v in (p.per_round, p.low, p.high) if v is not None]
    left, right = min(0.0, *ends), max(0.0, *ends)
    per = _WIDE / max(right - left, 0.1)
    return ReviewView(
        head=review_head(found),
        bars=tuple(_bar(p, k, left, per) for k, p in enumerate(parts)),
        zero=round(-left * per, 1),
        wide=_WIDE,
        high=_ROW * len(parts),
        knowing=tuple(
            f"the {p.name}: {p.per_round:.2f} strokes a round" for p in worth_telling(found)
        ),
        patterns=tuple(pattern_words(p, units) for p in found.patterns.standing),
        looks=_looks(found),
        costs=tuple((cost_words(c), practice_command(c), c.focus) for c in found.costs),
        notes=found.notes,
    )


def _bar(part: PartSum, row: int, left: float, per: float) -> Bar:
    def place(value: float) -> float:
        return round((value - left) * per, 1)

    start, end = sorted((place(0.0), place(part.per_round)))
    return Bar(
        name=PART_WORDS[part.name],
        hint=PART_HINTS[part.name],
        value=f"{part.per_round:+.2f}",
        interval=interval_words(part),
        x=start,
        y=row * _ROW,
        width=max(round(end - start, 1), 0.8),
        low=None if part.low is None else place(part.low),
        high=None if part.high is None else place(part.high),
    )


def _looks(found: Review) -> str:
    if not found.patterns.told:
        return "Too few rounds to tell any pattern from luck; six are the least."
    count = len(found.patterns.looks)
    if not found.patterns.standing:
        return f"{count} things were looked at; none stands out from luck."
    return f"{count} things were looked at; these stand out from luck:"
