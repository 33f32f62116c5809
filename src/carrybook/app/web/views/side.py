"""The shot from the side as SVG: the whole flight to scale, and the landing with heights enlarged.

Lengths count from the ball along the line to the hole, in the person's units.
"""

from dataclasses import dataclass

import numpy as np

from carrybook.app.web.views.paths import closed, line
from carrybook.artefacts.view import View, front_height
from carrybook.artefacts.words import Units
from carrybook.base.numerics import Floats
from carrybook.decision.advice import Advice

__all__ = ["Pane", "SidePicture", "Tick", "side_picture"]

_FLAG_M = 2.1  # ours: about the height of a flagstick
_ENLARGED = 3.0  # heights of the landing over its lengths
_BEFORE_M, _BEYOND_M = 9.0, 5.0


@dataclass(frozen=True, slots=True)
class Tick:
    """A mark on the axis: where, and its text."""

    x: float
    text: str


@dataclass(frozen=True, slots=True)
class Pane:
    """One drawing: frame, paths, marks and the places of landing, finish and hole."""

    box: str
    left: float
    floor: float
    width: float
    ground: str
    flight: str
    run: str
    flag: str
    landing: tuple[float, float]
    finish: tuple[float, float]
    ticks: tuple[Tick, ...]
    size: float  # of the text


@dataclass(frozen=True, slots=True)
class SidePicture:
    """Flight and landing, and the unit of their axes."""

    flight: Pane
    landing: Pane
    unit: str


def side_picture(advice: Advice, units: Units) -> SidePicture:
    """Draw the first option from the side."""
    view, o = View(advice.situation, units), advice.options[0]
    along = view.seen(o.flight[:, 0], o.flight[:, 1])[1]
    ball_m = float(o.flight[0, 2])
    runs = [float(along[-1] + r / units.far_m) for r in (o.run_low_m, o.run_m, o.run_high_m)]
    end = 1.04 * max(view.number, runs[2])
    flown = np.column_stack([along, (o.flight[:, 2] - ball_m) / units.far_m])
    whole = _pane(view, flown, runs, (0.0, end), ball_m, 1.0)
    base_m = front_height(advice.situation.hole.ground)
    fall = np.column_stack([along, (o.flight[:, 2] - base_m) / units.far_m])
    window = (
        min(runs[0], view.number) - _BEFORE_M / units.far_m,
        max(runs[2], view.number) + _BEYOND_M / units.far_m,
    )
    return SidePicture(whole, _pane(view, fall, runs, window, base_m, _ENLARGED), units.far)


def _pane(
    view: View,
    path: Floats,
    runs: list[float],
    window: tuple[float, float],
    base_m: float,
    larger: float,
) -> Pane:
    far_m, (left, right) = view.units.far_m, window
    reach = np.linspace(left, right, 120)
    ground = -larger * (view.profile(reach) - base_m) / far_m
    flag = larger * _FLAG_M / far_m
    foot = float(np.interp(view.number, reach, ground))
    top = min(float(-larger * path[:, 1].max()) if larger == 1.0 else -np.inf, foot - flag)
    if larger != 1.0:
        top = min(float(ground.min()), foot) - 1.3 * flag
    width = right - left
    size, floor = 0.042 * width, float(ground.max()) + 0.03 * width
    spots = np.interp([path[-1, 0], runs[1]], reach, ground)
    fall = np.column_stack([path[:, 0], -larger * path[:, 1]])
    bar = np.linspace(runs[0], runs[2], 30)
    earth = np.vstack([np.column_stack([reach, ground]), [(right, floor), (left, floor)]])
    box_top = top - 0.8 * size
    return Pane(
        box=f"{left:.2f} {box_top:.2f} {width:.2f} {floor + 1.5 * size - box_top:.2f}",
        left=left,
        floor=floor,
        width=width,
        ground=closed([earth]),
        flight=line(fall),
        run=line(np.column_stack([bar, np.interp(bar, reach, ground)])),
        flag=line(np.array([(view.number, foot), (view.number, foot - flag)])),
        landing=(float(path[-1, 0]), float(spots[0])),
        finish=(runs[1], float(spots[1])),
        ticks=_ticks(left, right, floor + 1.15 * size),
        size=size,
    )


def _ticks(left: float, right: float, _: float) -> tuple[Tick, ...]:
    """Round numbers, about five of them."""
    steps = (1.0, 2.0, 5.0, 10.0, 20.0, 50.0)
    step = next((s for s in steps if (right - left) / s <= 6.0), 50.0)
    first = np.ceil(left / step) * step
    return tuple(
        Tick(float(x), f"{x:.0f}")
        for x in np.arange(first, right, step)
        if left + 0.03 * (right - left) < x < right - 0.03 * (right - left)
    )
