"""A ball that comes down, and a firmness that was learnt, in words."""

from math import degrees
from typing import TYPE_CHECKING

from carrybook.artefacts import words as w
from carrybook.base import constants as c
from carrybook.world.ground import Surface

if TYPE_CHECKING:
    from carrybook.outcomes.firmness import FirmnessUpdate
    from carrybook.outcomes.landing import Landed, Patch

__all__ = ["firmness_text", "landed_text"]


def landed_text(landed: "Landed", units: str) -> str:
    """Say how a ball bounces and runs, and how sure that is."""
    u = w.units_named(units)
    arrival, patch = landed.arrival, landed.patch
    left, _, right = landed.side_quantiles_m
    touches = "once" if landed.bounces == 1 else f"{landed.bounces} times"
    return "\n".join(
        (
            f"lands    {w.speed(arrival.speed_mps, u)}, {degrees(arrival.descent_rad):.0f} degrees"
            f" down, {arrival.spin_rad_s / c.RPM:.0f} rpm",
            f"on       {_turf_words(patch)}",
            f"first    {_hop_words(landed.first_bounce_m, u)}, touches {touches} in all,"
            f" at rest after {landed.time_s:.1f} s",
            f"then     {w.run_words(*landed.run_quantiles_m, u)}",
            f"side     {w.sideways(landed.side_m, u)}"
            + ("" if _same(left, right, u) else f" (eight in ten {_between(left, right, u)})"),
            "unsure   of the turf only: how firm, how deep a mark, how slick, how fast",
        )
    )


def _turf_words(patch: "Patch") -> str:
    firm = _firm(patch.firmness_g, patch.firmness_sd_g)
    level = w.fall_words(patch.slope, patch.fall_right_rad)
    if patch.surface is not Surface.GREEN:
        return f"{patch.surface.name.lower()} beside a green that is {firm}, {level}"
    return f"green, {firm}, speed {patch.stimp_m / c.FOOT:.1f} ft ({patch.stimp_m:.2f} m), {level}"


def _hop_words(along_m: float, u: w.Units) -> str:
    if abs(along_m) < 0.05:
        return "hops on the patch"
    way = "on" if along_m > 0.0 else "back"
    return f"hops {w.tenths_below_ten(abs(along_m) / u.far_m)} {u.far} {way}"


def _same(left: float, right: float, u: w.Units) -> bool:
    return w.sideways(left, u) == w.sideways(right, u)


def _between(left: float, right: float, u: w.Units) -> str:
    return f"between {w.sideways(left, u)} and {w.sideways(right, u)}"


def firmness_text(learnt: "FirmnessUpdate") -> str:
    """Say what balls seen to land make of a firmness, and how to use it."""
    before, after = learnt.before_g, learnt.after_g
    low, middle, high = learnt.friction
    return "\n".join(
        (
            f"before   {_firm(*before)}",
            *(f"saw      {w.one_line(ball.words)}" for ball in learnt.seen),
            f"now      {_firm(*after)}",
            f"bite     friction of a landing {middle:.2f} ({low:.2f} to {high:.2f});"
            " under 0.2 backspin comes through the first bounce, over 0.4 it does not",
            f'use      --firmness "{after[0]:.0f}g+-{max(after[1], 1.0):.0f}g"',
            "note     firmness as balls find it; a hammer may read otherwise",
            *(
                f"warning: nothing we believe of greens makes a ball do this: {w.one_line(odd)}"
                for odd in learnt.odd
            ),
        )
    )


def _firm(mean_g: float, sd_g: float) -> str:
    return f"{w.firmness_words(mean_g)} ({mean_g:.0f} +- {sd_g:.0f} g)"
