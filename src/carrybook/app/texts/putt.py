"""A putt in words."""

from collections.abc import Iterator
from math import degrees
from typing import TYPE_CHECKING

from carrybook.artefacts import words as w
from carrybook.base import constants as c

if TYPE_CHECKING:
    from carrybook.outcomes.putt_answer import PuttAnswer

__all__ = ["PUTT_RULES", "aim_words", "putt_pairs", "putt_text"]

_CUP = 2.0 * c.HOLE_RADIUS
PUTT_RULES = (
    "Before the round, or for practice: during a round Rule 4.3a does not let a device read the"
    " green for you."
)


def putt_text(a: "PuttAnswer", units: str) -> str:
    """Say what to aim at, how hard, and what comes of it."""
    lines = (f"{label:<9} {text}" for label, text in putt_pairs(a, w.units_named(units)))
    return "\n".join((*lines, PUTT_RULES))


def putt_pairs(a: "PuttAnswer", u: w.Units) -> Iterator[tuple[str, str]]:
    """Say it line by line: label and text."""
    p = a.chart.putter
    yield "putt", f"{_length(a.distance_m, u)}, {_up(a.rise_m, u)}; stimp {_speed(a)}"
    yield (
        "aim",
        f"{aim_words(a.aim_right_m, u)}; {_aim_band(a, u)} as the green is 7 % slower or faster",
    )
    yield (
        "pace",
        f"{_pace(a.past_m, u)}; plays as a roll of {_length(a.reach_m, u)} on the level",
    )
    yield (
        "holed",
        f"{_chance(a.make)} ({_chance(a.make_low)} to {_chance(a.make_high)} with errors a tenth"
        " larger or smaller)",
    )
    yield "putts", f"{a.putts:.2f} on average; three or more {_chance(a.three)}"
    yield (
        "misses",
        f"half within {_length(a.leave_50_m, u)}, nine in ten within {_length(a.leave_90_m, u)};"
        f" {_share(a.short)} short, {_share(a.low)} below the hole",
    )
    yield (
        "errors",
        f"{degrees(p.direction_rad):.2f} deg of line, {100.0 * p.pace:.1f} % of pace,"
        f" {100.0 * p.reading:.0f} % of reading (one standard deviation)",
    )


def aim_words(right_m: float, u: w.Units) -> str:
    """Say where to aim, as players do: inside an edge, or so many cups or feet outside it."""
    side = "right" if right_m > 0.0 else "left"
    off = abs(right_m)
    outside = off - c.HOLE_RADIUS
    if off < 0.25 * c.HOLE_RADIUS:
        return "the middle of the hole"
    if outside < -0.15 * c.HOLE_RADIUS:
        return f"inside {side}"
    if outside < 0.35 * c.HOLE_RADIUS:
        return f"{side} edge"
    if outside < 4.5 * _CUP:
        cups = max(round(2.0 * outside / _CUP) / 2.0, 0.5)
        return f"{cups:g} {'cup' if cups <= 1.0 else 'cups'} outside {side}"
    return f"{_length(outside, u)} outside {side}"


def _aim_band(a: "PuttAnswer", u: w.Units) -> str:
    low, high = aim_words(a.aim_low_m, u), aim_words(a.aim_high_m, u)
    return "the same" if low == high else f"{low} to {high}"


def _length(metres: float, u: w.Units) -> str:
    if u is w.METRES:
        return f"{metres:.1f} m" if metres >= 1.0 else f"{100.0 * metres:.0f} cm"
    feet = metres / c.FOOT
    return f"{feet:.0f} ft" if feet >= 3.0 else f"{12.0 * feet:.0f} in"


def _up(rise_m: float, u: w.Units) -> str:
    size = abs(rise_m) / u.rise_m
    if size < 0.5:
        return "level"
    return f"{'uphill' if rise_m > 0.0 else 'downhill'} {size:.0f} {u.rise}"


def _pace(past_m: float, u: w.Units) -> str:
    if abs(past_m) < 0.05:
        return "to die at the hole"
    way = "past the hole" if past_m > 0.0 else "short of it"
    return f"to finish {_length(abs(past_m), u)} {way}"


def _speed(a: "PuttAnswer") -> str:
    return f"{a.chart.stimp_m / c.FOOT:.1f} ft ({a.chart.stimp_m:.2f} m)"


def _chance(share: float) -> str:
    if share < 0.005:
        return "under 1 %"
    return f"{100.0 * share:.0f} %" if share < 0.995 else "over 99 %"


def _share(share: float) -> str:
    return f"{10.0 * share:.0f} in ten"
