"""A plan of holes, zone by zone of their greens, as rows of a table."""

from dataclasses import dataclass

from carrybook.app.services.plan import VenuePlan
from carrybook.artefacts import words as w
from carrybook.decision.plan import PlanCell

__all__ = ["HolePlan", "PlanView", "plan_shown"]


@dataclass(frozen=True, slots=True)
class HolePlan:
    """One hole: a row a zone and distance, and what to leave."""

    hole: str
    rows: tuple[tuple[str, ...], ...]
    lay_up: str


@dataclass(frozen=True, slots=True)
class PlanView:
    """The plan: where, in which air, hole by hole, what is not planned, and how much is done."""

    venue: str
    air: str
    holes: tuple[HolePlan, ...]
    left_out: tuple[str, ...]
    partly: str


def plan_shown(plan: VenuePlan, units: w.Units) -> PlanView:
    """Put a plan into rows and words."""
    lay_ups = {t.hole: t for t in plan.lay_ups}
    holes = []
    for hole in plan.holes:
        rows = tuple(_row(c, units) for c in plan.cells if c.hole == hole)
        leave = ""
        if hole in lay_ups:
            low, high = lay_ups[hole].flat_low_m, lay_ups[hole].flat_high_m
            if low == high:
                leave = f"leave {w.distance(high, units)}"
            else:
                flat = f"{w.whole(low, units)} to {w.distance(high, units)}"
                leave = f"leave {flat}: it does not matter between"
        if rows or leave:
            holes.append(HolePlan(hole, rows, leave))
    left_out = tuple(
        f"hole {one.hole}, {one.zone}, {w.distance(one.number_m, units)}: {one.why}"
        for one in plan.left_out
    )
    partly = "" if plan.done == plan.pieces else f"{plan.done} of {plan.pieces} zones"
    return PlanView(w.one_line(plan.venue), w.air_words(plan.air), tuple(holes), left_out, partly)


def _row(c: PlanCell, u: w.Units) -> tuple[str, ...]:
    side = w.sideways(c.landing_right_m, u)
    land = w.short_or_past(c.landing_to_hole_m, u, brief=True)
    return (
        c.zone.value,
        w.whole(c.number_m, u),
        w.one_line(c.shot),
        w.whole(c.feel_m, u),
        land if side == w.ON_LINE else f"{land}, {side}",
        w.start_words(c.aim_right_m, u),
        f"{c.strokes:.2f}",
        "" if c.miss is None else f"{c.miss} {w.per_cent(c.miss_share)}",
        w.one_line(c.other),
        w.location_words(c.location),
    )
