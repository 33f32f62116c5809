"""Rules of thumb that a good player uses today, as calls of a shot: common practice, no source.

The player of a rule knows their own numbers as thousands of balls show them, full and partial: what
a rule loses, it loses by the choice.
"""

from collections.abc import Sequence
from math import atan2, cos

import numpy as np

from benchmarks.twin.truth import Call
from carrybook.base.constants import CELSIUS_ZERO, MILE_PER_HOUR, YARD
from carrybook.decision.advice import Situation
from carrybook.player.summary import ShotSummary
from carrybook.world.ground import Surface

__all__ = ["RULES"]


def at_the_flag(told: Situation, shots: Sequence[ShotSummary]) -> Call:
    """The stock shot nearest the number, felt as the number, at the flag."""
    shot = min(shots, key=lambda s: _stretch(s, told.number_m))
    return Call(shot.shot.label, _felt(shot, told.number_m), -shot.side_bias_rad)


def usual_yards(told: Situation, shots: Sequence[ShotSummary]) -> Call:
    """The same with the usual yards for warmth and wind, at the middle of the safe side.

    One yard for ten degrees Fahrenheit from 70; one per cent a mile an hour into the wind, half
    of it helping; a yard of aim for every two miles an hour across at 100 yd.
    """
    wind = told.wind.speed_mps / MILE_PER_HOUR
    into = wind * cos(told.wind.from_rad)
    across = wind * np.sin(told.wind.from_rad)  # from the right
    warm = ((told.air.temperature_k - CELSIUS_ZERO) * 1.8 + 32.0 - 70.0) / 10.0 * YARD
    target_x, target_y = _safe_middle(told)
    dx, dy = target_x - told.ball_x, target_y - told.ball_y
    number = float(np.hypot(dx, dy))
    plays = number * (1.0 + (0.01 if into > 0.0 else 0.005) * into) - warm
    shot = min(shots, key=lambda s: _stretch(s, plays))
    line = atan2(told.location.y - told.ball_y, told.location.x - told.ball_x)
    hold = 0.5 * across * YARD * number / (100.0 * YARD)
    start = line - atan2(dy, dx) + hold / number
    return Call(shot.shot.label, _felt(shot, plays), float(start) - shot.side_bias_rad)


def full_swings_only(told: Situation, shots: Sequence[ShotSummary]) -> Call:
    """The shot whose full number is nearest, hit full, at the flag."""
    stock = [s for s in shots if s.shot.flight.value == "stock"]
    best = min(stock, key=lambda s: abs(s.stock_m - told.number_m))
    return Call(best.shot.label, best.shot.stock_carry_m, -best.side_bias_rad)


RULES = {
    "stock shot at the flag": at_the_flag,
    "usual yards, safe middle": usual_yards,
    "full swings only": full_swings_only,
}


def _stretch(summary: ShotSummary, number: float) -> tuple[bool, bool, float]:
    """Within its partials first, then stock flight, then nearest its stock carry."""
    shot = summary.shot
    shortest, longest = summary.reference_for(np.array([shot.shortest_m, shot.longest_m]))
    fits = shortest <= number <= longest * 1.02
    return not fits, shot.flight.value != "stock", abs(summary.stock_m - number)


def _felt(summary: ShotSummary, number: float) -> float:
    shot = summary.shot
    felt = float(summary.felt_for(np.array(number)))
    return float(np.clip(felt, shot.shortest_m, shot.longest_m))


def _safe_middle(told: Situation) -> tuple[float, float]:
    """Half way from the flag to the middle of the green, where trouble lies beside the flag."""
    middle = 0.5 * float(told.hole.green[:, 0].max())
    x, y = told.location.x, told.location.y
    ground = told.hole.ground
    beside = [ground.surface_at(x, y + side * 9.0) for side in (-1.0, 1.0)]
    bad = any(s in (Surface.WATER, Surface.BUNKER, Surface.ROUGH) for s in beside)
    return 0.5 * (x + middle), 0.5 * y if bad else y
