"""Plans of a venue as a table."""

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from carrybook.app.texts.base import table
from carrybook.artefacts import words as w
from carrybook.artefacts.cautions import LIGHTNING, caution_lines
from carrybook.world.exposure import exposure_of

if TYPE_CHECKING:
    from carrybook.app.services.plan import VenuePlan
    from carrybook.decision.plan import LeftOut, PlanCell
    from carrybook.decision.prepared import LayUp

__all__ = ["RULES", "cells_table", "lay_up_line", "left_out_line", "plan_text"]

RULES = "For before the round: print it (--card), and check local rules (G-5, G-11)."


def plan_text(p: "VenuePlan", units: str) -> str:
    """Say what to play, zone by zone of every green."""
    return "\n".join(_lines(p, w.units_named(units)))


def _lines(p: "VenuePlan", u: w.Units) -> Iterator[str]:
    yield f"{p.venue}: {w.air_words(p.air)}"
    for hole in p.holes:
        cells = [c for c in p.cells if c.hole == hole]
        if cells:
            yield f"\nhole {hole}"
            yield cells_table(cells, u)
    yield ""
    yield from (lay_up_line(t, u) for t in p.lay_ups)
    yield from (f"left out: {left_out_line(one, u)}" for one in p.left_out)
    yield from caution_lines(exposure_of([(p.air, 0.0)]))
    yield LIGHTNING
    yield RULES


def cells_table(cells: "Sequence[PlanCell]", u: w.Units) -> str:
    """Tabulate what to play on one hole."""
    head = (
        "zone", "hole location", u.far, "lie", "play", "feel", "land", "start", "strokes",
        "keep out of", "or as well",
    )  # fmt: skip
    return table([head, *(_row(c, u) for c in cells)])


def left_out_line(one: "LeftOut", u: w.Units) -> str:
    """Say what is not planned, and why."""
    return f"hole {one.hole}, {one.zone}, {w.distance(one.number_m, u)}: {one.why}"


def _row(c: "PlanCell", u: w.Units) -> tuple[str, ...]:
    side = w.sideways(c.landing_right_m, u)
    land = w.short_or_past(c.landing_to_hole_m, u, brief=True)
    miss = "" if c.miss is None else f"{c.miss} {w.per_cent(c.miss_share)}"
    return (
        c.zone.value, w.location_words(c.location), w.whole(c.number_m, u), c.lie.value, c.shot,
        w.distance(c.feel_m, u), land if side == w.ON_LINE else f"{land}, {side}",
        w.start_words(c.aim_right_m, u), f"{c.strokes:.2f}", miss, c.other,
    )  # fmt: skip


def lay_up_line(t: "LayUp", u: w.Units, to: str = "the middle") -> str:
    """Say what each distance costs that could be left on a hole."""
    pairs = zip(t.left_m, t.strokes, strict=True)
    costs = ", ".join(f"{w.whole(left, u)}: {strokes:.2f}" for left, strokes in pairs)
    low, high = w.whole(t.flat_low_m, u), w.distance(t.flat_high_m, u)
    alone = t.flat_low_m == t.flat_high_m
    flat = f"best from {high}" if alone else f"no difference from {low} to {high}"
    note = f"; {t.note}" if t.note else ""
    return f"hole {t.hole}, to {to}, left {u.far} and strokes: {costs}; {flat}{note}"
