"""Dots on two axes as SVG: where a shot's balls went, and what was felt against what it was."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from carrybook.app.web.views.paths import dots, line
from carrybook.artefacts.words import Units
from carrybook.player.balls import Ball

__all__ = ["ScatterPicture", "feel_picture", "spread_picture"]

_W, _H, _LEFT, _BOTTOM, _EDGE = 340.0, 230.0, 52.0, 36.0, 10.0
_LEAST = 6.0  # yards or metres on either axis


@dataclass(frozen=True, slots=True)
class ScatterPicture:
    """Dots, a line to compare with, and marks on both axes; `told` says it in words."""

    width: float
    height: float
    left: float
    floor: float
    dots: str
    guide: str
    across: tuple[tuple[float, str], ...]
    up: tuple[tuple[float, str], ...]
    label_across: str
    label_up: str
    told: str


def spread_picture(balls: Sequence[Ball], units: Units) -> ScatterPicture | None:
    """Carry against side of every ball that has both; none where too few have."""
    found = [(b.side_m, b.carry_m) for b in balls if b.side_m is not None and b.carry_m is not None]
    points = np.array(found).reshape(-1, 2) / units.far_m
    return _picture(
        points,
        f"left and right of the line [{units.far}]",
        f"carry [{units.far}]",
        f"{len(points)} balls by carry and side",
        upright=True,
    )


def feel_picture(balls: Sequence[Ball], units: Units) -> ScatterPicture | None:
    """What was called against what was measured; on the line the feel was right."""
    found = [
        (b.called_m, b.carry_m) for b in balls if b.called_m is not None and b.carry_m is not None
    ]
    points = np.array(found).reshape(-1, 2) / units.far_m
    return _picture(
        points,
        f"called [{units.far}]",
        f"carried [{units.far}]",
        f"{len(points)} balls, called against carried; on the line the call was right",
        upright=False,
    )


def _picture(
    points: np.ndarray, across: str, up: str, told: str, *, upright: bool
) -> ScatterPicture | None:
    """Lay dots out; upright: a line at no side, else one where both are the same."""
    if len(points) < 2:
        return None
    low, high = points.min(axis=0), points.max(axis=0)
    if upright:
        low[0], high[0] = -max(abs(low[0]), abs(high[0])), max(abs(low[0]), abs(high[0]))
    else:
        low[:], high[:] = low.min(), high.max()
    room = np.maximum(_LEAST - (high - low), 0.12 * (high - low)) / 2.0
    low, high = low - room, high + room
    scale = np.array([_W - _LEFT - _EDGE, _H - _BOTTOM - _EDGE]) / (high - low)

    def place(at: np.ndarray) -> np.ndarray:
        return np.column_stack(
            [
                _LEFT + (at[:, 0] - low[0]) * scale[0],
                _H - _BOTTOM - (at[:, 1] - low[1]) * scale[1],
            ]
        )

    ends = np.array([(0.0, low[1]), (0.0, high[1])]) if upright else np.array([low, high])
    return ScatterPicture(
        width=_W,
        height=_H,
        left=_LEFT,
        floor=_H - _BOTTOM,
        dots=dots(place(points)),
        guide=line(place(ends)),
        across=tuple(
            (float(place(np.array([[v, low[1]]]))[0, 0]), f"{abs(v) if upright else v:.0f}")
            for v in _marks(low[0], high[0])
        ),
        up=tuple(
            (float(place(np.array([[low[0], v]]))[0, 1]), f"{v:.0f}")
            for v in _marks(low[1], high[1])
        ),
        label_across=across,
        label_up=up,
        told=told,
    )


def _marks(low: float, high: float) -> list[float]:
    step = next((s for s in (1.0, 2.0, 5.0, 10.0, 20.0, 50.0) if (high - low) / s <= 6.0), 100.0)
    return [float(v) for v in np.arange(np.ceil(low / step) * step, high, step)]
