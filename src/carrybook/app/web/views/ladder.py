"""The ladder of carries as SVG: centre, scatter and partials of every shot on one scale."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from carrybook.artefacts.words import Units, one_line
from carrybook.player.numbers import TodayNumber

__all__ = ["LadderPicture", "Rung", "ladder_picture"]

_WIDTH, _NAMES, _ROW, _TOP = 360.0, 76.0, 30.0, 14.0  # of the drawing, in its own units
_MOST_NAME = 12


@dataclass(frozen=True, slots=True)
class Rung:
    """One shot: places along the scale, and down the page."""

    name: str
    y: float
    partial: tuple[float, float]
    ball: tuple[float, float]
    centre: tuple[float, float]
    at: float
    today: str
    known: bool


@dataclass(frozen=True, slots=True)
class LadderPicture:
    """The whole ladder; `told` says it in words."""

    width: float
    height: float
    rungs: tuple[Rung, ...]
    ticks: tuple[tuple[float, str], ...]
    unit: str
    told: str


def ladder_picture(numbers: Sequence[TodayNumber], units: Units) -> LadderPicture:
    """Draw today's carries, the longest on top."""
    ends = [end for n in numbers for pair in _lengths(n, units) for end in pair]
    low, high = np.floor(min(ends) / 10.0) * 10.0, np.ceil(max(ends) / 10.0) * 10.0
    scale = (_WIDTH - _NAMES - 12.0) / max(high - low, 1.0)

    def at(value: float) -> float:
        return float(_NAMES + (value - low) * scale)

    rungs = []
    for k, n in enumerate(numbers):
        partial, ball, centre = ((at(a), at(b)) for a, b in _lengths(n, units))
        today = n.today_m / units.far_m
        label = one_line(n.summary.shot.label)
        rungs.append(
            Rung(
                name=label if len(label) <= _MOST_NAME else label[: _MOST_NAME - 1] + "…",
                y=_TOP + _ROW * (k + 0.6),
                partial=partial,
                ball=ball,
                centre=centre,
                at=at(today),
                today=f"{today:.0f}",
                known=n.summary.balls > 0,
            )
        )
    step = 10.0 if high - low <= 60.0 else 20.0 if high - low <= 130.0 else 50.0
    ticks = tuple(
        (at(v), f"{v:.0f}") for v in np.arange(np.ceil(low / step) * step, high + 1, step)
    )
    told = ", ".join(f"{r.name} {r.today}" for r in rungs)
    height = _TOP + _ROW * len(rungs) + 30.0
    return LadderPicture(_WIDTH, height, tuple(rungs), ticks, units.far, told)


def _lengths(n: TodayNumber, units: Units) -> tuple[tuple[float, float], ...]:
    """Partials, one ball in two of three, and the centre with its error."""
    share = n.today_m / n.summary.shot.stock_carry_m
    shot, today = n.summary.shot, n.today_m
    return tuple(
        (a / units.far_m, b / units.far_m)
        for a, b in (
            (shot.shortest_m * share, shot.longest_m * share),
            (today - n.spread_m, today + n.spread_m),
            (today - n.centre_se_m, today + n.centre_se_m),
        )
    )
