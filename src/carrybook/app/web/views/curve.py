"""The learning curve as SVG: how well each stock carry is known, by balls logged of it."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt

import numpy as np

from carrybook.app.web.views.axes import Axes, Scale, axes_of
from carrybook.app.web.views.paths import line
from carrybook.artefacts.words import Units, one_line
from carrybook.player.learn.check import CurvePoint

__all__ = ["CurveLine", "CurvePicture", "curve_picture"]

_LEFT, _TOP, _FLOOR = 44.0, 8.0, 220.0  # of the drawing, in its own units
_NAMES, _APART = 62.0, 12.0
_BALLS = (0, 1, 5, 10, 20, 50, 100, 200, 500, 1000, 5000)


@dataclass(frozen=True, slots=True)
class CurveLine:
    """One shot: its line, its points, and its name at the end."""

    name: str
    path: str
    points: tuple[tuple[float, float], ...]
    name_y: float
    dash: int


@dataclass(frozen=True, slots=True)
class CurvePicture:
    """All shots; `told` says where they end."""

    axes: Axes
    marks: tuple[tuple[float, str], ...]
    lines: tuple[CurveLine, ...]
    names_x: float
    told: str


def curve_picture(points: Sequence[CurvePoint], units: Units) -> CurvePicture | None:
    """Draw the width of the 90 % interval of each stock carry; balls on a scale of squares."""
    if not points:
        return None
    most = max(max(p.of_shot for p in points), 1)
    widest = max(p.width_m for p in points) / units.far_m
    axes = axes_of(
        (0.0, sqrt(most)),
        (0.0, 1.05 * widest),
        ("balls logged of the shot", f"width of the 90 % interval [{units.far}]"),
        frame=(_LEFT, _TOP, _FLOOR),
    )
    x = Scale(0.0, sqrt(most), _LEFT, axes.right - _NAMES)
    labels = list(dict.fromkeys(p.label for p in points))
    drawn = {
        label: [
            (x.at(sqrt(p.of_shot)), axes.y.at(p.width_m / units.far_m))
            for p in points
            if p.label == label
        ]
        for label in labels
    }
    heights = _apart({label: at[-1][1] for label, at in drawn.items()})
    lines = tuple(
        CurveLine(one_line(label)[:9], line(np.array(at)), tuple(at), heights[label], k % 4)
        for k, (label, at) in enumerate(drawn.items())
    )
    last = {p.label: p.width_m / units.far_m for p in points}
    told = ", ".join(f"{one_line(label)} {width:.1f} {units.far}" for label, width in last.items())
    marks = tuple((x.at(sqrt(n)), str(n)) for n in _BALLS if n <= most)
    return CurvePicture(axes, marks, lines, axes.right - _NAMES + 8.0, told)


def _apart(wanted: dict[str, float]) -> dict[str, float]:
    """Heights of the names, near the ends of their lines but not over one another."""
    found: dict[str, float] = {}
    above = -_APART
    for label, y in sorted(wanted.items(), key=lambda each: each[1]):
        above = max(y, above + _APART)
        found[label] = above
    over = max(0.0, above - (_FLOOR + 4.0))
    return {label: y - over for label, y in found.items()}
