"""Today's numbers in words: what moved them, overlaps and gaps, a shot for a distance."""

from collections.abc import Iterator, Sequence
from math import degrees
from typing import TYPE_CHECKING

from carrybook.app.texts.base import table
from carrybook.app.texts.learn import basis_text
from carrybook.artefacts import words as w
from carrybook.artefacts.numbers_text import numbers_text, rests_on
from carrybook.base.constants import CELSIUS_ZERO

if TYPE_CHECKING:
    from carrybook.player.day import Day
    from carrybook.player.numbers import ForDistance, TodayNumber
    from carrybook.store.learnt import StoredLearnt

__all__ = ["for_text", "today_text"]

_PARTS = (("air_m", "air"), ("ball_m", "ball"), ("wind_m", "wind"), ("body_m", "body"))
_LEAST_M = 0.5  # ours: a gap or an overlap narrower than this is not told


def today_text(
    numbers: "Sequence[TodayNumber]", day: "Day", state: "StoredLearnt | None", units: str
) -> str:
    """Tabulate today's numbers, what moved them, and where shots overlap or none reaches."""
    u = w.units_named(units)
    main = numbers_text(numbers, day.air, units=units, lie=day.lie, moisture=day.moisture)
    blocks = [main, _moved(numbers, u), "\n".join(_reach_lines(numbers, u))]
    return "\n\n".join(
        [*(b for b in blocks if b), "\n".join([_day_line(day, u), basis_text(state)])]
    )


def for_text(
    found: "Sequence[ForDistance]",
    carry_m: float,
    day: "Day",
    state: "StoredLearnt | None",
    units: str,
) -> str:
    """Say which shot carries a distance and what to feel, the best first."""
    u = w.units_named(units)
    head = ("shot", f"feel {u.far}", "known", "one ball", "aim", "rests on", "cue")
    rows = [
        (
            w.one_line(f.summary.shot.label) + ("" if f.summary.shot.trusted else " (untrusted)"),
            w.whole(f.feel_m, u),
            f"+- {w.tenths_below_ten(f.feel_se_m / u.far_m)}",
            f"+- {w.tenths_below_ten(f.spread_m / u.far_m)}",
            _aim(f.aim_right_rad, carry_m, u),
            rests_on(f.summary.balls),
            w.one_line(f.summary.shot.cue),
        )
        for f in found
    ]
    lines = [
        f"To carry {w.distance(carry_m, u)}: {w.air_words(day.air)}; {day.lie}, {day.moisture}",
        "",
        table([head, *rows]),
        "",
        "Best first by what a single ball misses by. Known: the feel number, +- one standard error."
        " One ball: two in three stray no further.",
        _day_line(day, u),
        basis_text(state),
    ]
    return "\n".join(lines)


def _aim(right_rad: float, carry_m: float, u: w.Units) -> str:
    """Where to start it against a wind; nothing where that is straight at it."""
    if abs(degrees(right_rad)) < 0.3:
        return ""
    return w.sideways(carry_m * right_rad, u)


def _moved(numbers: "Sequence[TodayNumber]", u: w.Units) -> str:
    """Each part in tenths; columns in which nothing moved are left out."""
    names = (*_PARTS, ("lie_m", "lie"))
    rows = [
        (
            w.one_line(n.summary.shot.label),
            *(_tenths(getattr(n.split, part), u) for part, _ in names),
            f"{(n.today_m - n.reference_m) / u.far_m:+.1f}",
        )
        for n in numbers
    ]
    if not any(any(row[1:-1]) for row in rows):
        return ""
    return table([(f"moved {u.far}", *(name for _, name in names), "together"), *rows])


def _tenths(metres: float, u: w.Units) -> str:
    return f"{metres / u.far_m:+.1f}" if abs(metres) > 0.05 * u.far_m else ""


def _reach_lines(numbers: "Sequence[TodayNumber]", u: w.Units) -> Iterator[str]:
    from carrybook.player.numbers import reaches

    for r in reaches(numbers):
        if r.high_m - r.low_m < _LEAST_M or len(r.shots) == 1:
            continue
        stretch = f"{w.whole(r.low_m, u)} to {w.whole(r.high_m, u)} {u.far}"
        if r.shots:
            yield f"overlap   {stretch}: {', '.join(w.one_line(s) for s in r.shots)}"
        else:
            yield f"no shot   {stretch}"


def _day_line(day: "Day", u: w.Units) -> str:
    ball = (
        f"ball at {day.ball_temperature_k - CELSIUS_ZERO:.0f} C (what cold does to it is assumed)"
    )
    playing = "; playing for a score" if day.competition else ""
    return f"Wind: {w.wind_words(day.wind, u)}; {ball}{playing}."
