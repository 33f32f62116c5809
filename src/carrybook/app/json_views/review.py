"""A review as JSON."""

import math

from carrybook.app.json_views.base import Json
from carrybook.artefacts.review_text import practice_command
from carrybook.decision.review.patterns import Pattern
from carrybook.decision.review.review import Cost, PartSum, Review
from carrybook.decision.review.split import PARTS

__all__ = ["review_view"]


def review_view(found: Review) -> Json:
    """Give what `review` answers; strokes gained are positive."""
    return {
        "against": found.against,
        "rounds": len(found.season.rounds),
        "shots": len(found.season),
        "gained": _part_sum(found.gained),
        "parts": [_part_sum(part) for part in found.parts],
        "worth_knowing": [_part_sum(fact) for fact in found.worth_knowing],
        "looks": len(found.patterns.looks),
        "enough_rounds_for_patterns": found.patterns.told,
        "patterns": [_review_pattern(pattern) for pattern in found.patterns.standing],
        "costs": [_review_cost(cost) for cost in found.costs],
        "notes": list(found.notes),
        "by_shot": [_split_shot(found, k) for k in range(len(found.season))],
    }


def _part_sum(part: PartSum) -> Json:
    return {
        "part": part.name,
        "strokes_per_round": part.per_round,
        "low": part.low,
        "high": part.high,
        "told_apart_in_shots": part.shots,
    }


def _review_pattern(pattern: Pattern) -> Json:
    return {
        "where": pattern.where,
        "measure": pattern.measure,
        "difference": pattern.difference,
        "low": pattern.low,
        "high": pattern.high,
        "before_shrinking": pattern.raw,
        "chance": pattern.chance,
        "shots": pattern.shots,
        "rounds": pattern.rounds,
    }


def _review_cost(cost: Cost) -> Json:
    return {
        "cause": cost.cause,
        "strokes_per_round": cost.strokes,
        "low": cost.low,
        "high": cost.high,
        "clear": cost.clear,
        "focus": cost.focus,
        "practise": practice_command(cost),
    }


def _split_shot(found: Review, k: int) -> Json:
    """One shot; a part that is not separable is null, and is within another."""
    shot, split = found.season.shots[k], found.split
    return {
        "round": found.season.rounds[int(found.season.round_of[k])].number,
        "hole": shot.hole,
        "shot": shot.shot,
        "baseline": float(split.baseline[k]),
        "strokes": int(split.strokes[k]),
        "split": {
            name: None if math.isnan(value) else float(value)
            for name, value in zip(PARTS, split.parts[k], strict=True)
        },
    }
