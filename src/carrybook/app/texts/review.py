"""A review on the terminal."""

from carrybook.app.texts.base import counted, table
from carrybook.artefacts import words as w
from carrybook.artefacts.review_text import (
    PART_WORDS,
    against_words,
    cost_words,
    interval_words,
    pattern_words,
    practice_command,
    worth_telling,
)
from carrybook.decision.review.review import PartSum, Review

__all__ = ["review_head", "review_text"]


def review_text(found: Review, units: str) -> str:
    """Say what rounds were made of."""
    head = f"{review_head(found)}: strokes gained a round, lost where negative"
    parts = (_part(p, found.gained) for p in found.lines)
    rows = [("", "a round", "95 %", "told apart in"), *parts]
    blocks = [f"{head}\n{table(rows)}", _worth(found), _patterns(found, units), _costs(found)]
    blocks.append("\n".join(f"note: {note}" for note in found.notes))
    return "\n\n".join(block for block in blocks if block)


def review_head(found: Review) -> str:
    """Say which rounds, and against whom."""
    rounds, shots = len(found.season.rounds), len(found.season)
    return (
        f"{counted(rounds, 'round')}, {counted(shots, 'scoring shot')}, against"
        f" {against_words(found)}"
    )


def _part(part: PartSum, whole: PartSum) -> tuple[str, str, str, str]:
    name = PART_WORDS[part.name] if part is whole else f"  {PART_WORDS[part.name]}"
    told = "" if part.shots == whole.shots else counted(part.shots, "shot")
    return name, f"{part.per_round:+.2f}", interval_words(part), told


def _worth(found: Review) -> str:
    facts = worth_telling(found)
    if not facts:
        return ""
    lines = [
        f"  the {p.name}: {p.per_round:.2f} strokes a round{_between(p)}, from"
        f" {counted(p.shots, 'shot')} where it was other than believed"
        for p in facts
    ]
    return "\n".join(["what would have been worth knowing:", *lines])


def _between(part: PartSum) -> str:
    return "" if part.low is None else f" ({part.low:.2f} to {part.high:.2f})"


def _patterns(found: Review, units: str) -> str:
    if not found.patterns.told:
        return "patterns: too few rounds to tell any from luck; six are the least"
    looks = len(found.patterns.looks)
    standing = found.patterns.standing
    if not standing:
        return f"patterns: none of {looks} looks stands out from luck"
    u = w.units_named(units)
    lines = [f"  {pattern_words(p, u)}" for p in standing]
    return "\n".join([f"patterns, more than {looks} looks turn up by luck:", *lines])


def _costs(found: Review) -> str:
    if not found.costs:
        return "nothing cost strokes"
    lines = [
        f"  {k}. {cost_words(cost)}\n     {practice_command(cost)}"
        for k, cost in enumerate(found.costs, 1)
    ]
    return "\n".join(["what cost most:", *lines])
