"""A review in words."""

from carrybook.artefacts import words as w
from carrybook.decision.review.patterns import ALL_SHOTS, Measure, Pattern
from carrybook.decision.review.review import OWN_BOOK, Cost, PartSum, Review
from carrybook.decision.review.split import FACTS

__all__ = [
    "PART_HINTS",
    "PART_WORDS",
    "against_words",
    "cost_words",
    "interval_words",
    "pattern_words",
    "practice_command",
    "worth_telling",
]

PART_WORDS = {
    "gained": "all of it",
    "level": "level",
    "choice": "choice",
    **{fact: f"{fact} not as believed" for fact in FACTS},
    "distance": "strike: distance",
    "side": "strike: side",
    "execution": "strike, not separable",
    "bounce": "luck of the bounce",
    "after": "putts and what came after",
}
PART_HINTS = {
    "gained": "everything below, added up",
    "level": "what your best shot each time is worth, beside theirs",
    "choice": "another club or target than your best one",
    **{fact: f"the {fact} was other than you took it to be" for fact in FACTS},
    "distance": "it flew longer or shorter than meant",
    "side": "it flew left or right of where you aimed",
    "execution": "target or landing was not noted: choice and strike in one",
    "bounce": "it ran on or kicked otherwise than usual",
    "after": "once the ball lay still: putts, chips, penalties",
}
_CAUSES = {
    "level": "your best choices against theirs",
    "choice": "choosing less than your best shot",
    "distance": "distance",
    "side": "direction",
    "execution": "choice and strike, which were not recorded apart",
    **{fact: f"the {fact} was not as believed" for fact in FACTS},
}
_NOTHING = 0.005  # strokes a round: what is said as 0.00
_STROKES = (Measure.CHOICE, Measure.INPUT, Measure.STRIKE)
_FROM = {
    Measure.CHOICE: "in the choice", Measure.INPUT: "by what was believed",
    Measure.STRIKE: "in the strike",
}  # fmt: skip


def against_words(found: Review) -> str:
    """Say whose strokes the shots are counted against."""
    known = {OWN_BOOK: "your own book", "tour": "a tour player's average"}
    return known.get(found.against, f"{w.one_line(found.against)}'s average")


def pattern_words(pattern: Pattern, u: w.Units) -> str:
    """Say what repeats, how much, and how sure that is."""
    where, value = pattern.where, pattern.difference
    low, high = sorted((abs(pattern.low), abs(pattern.high)))
    if pattern.measure in _STROKES:
        way = "lose" if value < 0.0 else "gain"
        return (
            f"{where}: you {way} {abs(value):.2f} strokes a shot {_FROM[pattern.measure]} against"
            f" your other shots ({low:.2f} to {high:.2f}; {_seen(pattern)})"
        )
    if pattern.measure in (Measure.DEPTH, Measure.SIDE):
        size, a, b = (w.tenths_below_ten(m / u.far_m) for m in (abs(value), low, high))
        return (
            f"{where}: it lands {size} {u.far} {_way(pattern)} than {_other(pattern)}"
            f" ({a} to {b}; {_seen(pattern)})"
        )
    often = "more" if value > 0.0 else "less"
    return (
        f"{pattern.measure} of where it should land: {100.0 * abs(value):.0f} in 100 {often} than"
        f" your scatter explains ({100.0 * low:.0f} to {100.0 * high:.0f}; {_seen(pattern)})"
    )


def _way(pattern: Pattern) -> str:
    if pattern.measure is Measure.DEPTH:
        return "longer" if pattern.difference > 0.0 else "shorter"
    return "further right" if pattern.difference > 0.0 else "further left"


def _other(pattern: Pattern) -> str:
    return "your book says" if pattern.where == ALL_SHOTS else "the others, against your book"


def _seen(pattern: Pattern) -> str:
    return f"{pattern.shots} shots in {pattern.rounds} rounds"


def cost_words(cost: Cost) -> str:
    """Say what cost strokes, and where most."""
    sure = "" if cost.clear else "; not told from luck"
    between = "" if cost.low is None else f", {cost.low:.1f} to {cost.high:.1f}"
    low, high = cost.band_yd
    return (
        f"{_CAUSES[cost.cause]}: {cost.strokes:.1f} strokes a round{between}{sure};"
        f" most from {low} to {high} yd"
    )


def practice_command(cost: Cost) -> str:
    """Give the command that plans practice for it."""
    return f"carrybook practise plan --focus {cost.focus}"


def worth_telling(found: Review) -> tuple[PartSum, ...]:
    """Facts worth knowing that are not nothing once they are rounded."""
    return tuple(fact for fact in found.worth_knowing if fact.per_round > _NOTHING)


def interval_words(part: PartSum) -> str:
    """Say an interval; nothing where there are too few rounds for one."""
    return "" if part.low is None else f"{part.low:+.2f} to {part.high:+.2f}"
