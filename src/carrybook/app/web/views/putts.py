"""The putting map as SVG: expected putts as tints and lines, where to aim, and one putt.

One unit of the drawing is one metre; axes as in the drawing of the green.
"""

from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from carrybook.app.texts.putt import aim_words, putt_pairs
from carrybook.app.web.views.contours import Net
from carrybook.app.web.views.paths import line
from carrybook.app.web.views.plan import Patch, screen
from carrybook.artefacts import words as w
from carrybook.artefacts.view import height_at
from carrybook.base.numerics import Flags, Floats
from carrybook.outcomes.putt_answer import PuttAnswer
from carrybook.outcomes.putting_map import PuttingMap
from carrybook.world.ground import Surface

__all__ = ["PuttPicture", "PuttsView", "putt_picture", "putts_view"]

_LEVELS = (1.1, 1.25, 1.5, 1.75, 2.0, 2.25, 2.5, 3.0)
_ARROWS = 8  # about so many across the shorter side
_NEAR = 2.0  # m around the hole without arrows
_CLEAR = 2.5  # m that a number keeps from the hole and from the edge
_ALONG = (0.5, 0.3, 0.7, 0.1, 0.9, 0.2, 0.4, 0.6, 0.8)  # where along a line a number may stand
_FIRST = (2.0, 1.5, 3.0, 2.5)  # numbers that find a place before the others
_WIDE, _TALL = 1.2, 2.4  # m: of one character with room around it, and of a line of them
_HEAD = 0.3  # of an arrow's length
_Label = tuple[float, float, float]  # middle of a number, and how wide it is


@dataclass(frozen=True, slots=True)
class PuttPicture:
    """What lies over the outline of a green.

    Parameters
    ----------
    bands, lines : tuple of Patch
        Tints by expected putts, and lines with what they stand for.
    uphill, downhill : str
        Arrows along the best start line.
    path, aim : str
        The putt that is looked at, and its start line; empty where there is none.
    hole, ball : tuple of float
        Where they are; the ball at the hole where there is no putt.
    """

    bands: tuple[Patch, ...]
    lines: tuple[Patch, ...]
    uphill: str
    downhill: str
    path: str
    aim: str
    hole: tuple[float, float]
    ball: tuple[float, float]


@dataclass(frozen=True, slots=True)
class PuttsView:
    """The map and one putt, in words and drawn."""

    picture: PuttPicture
    headline: str
    pairs: tuple[tuple[str, str], ...]


def putts_view(chart: PuttingMap, answer: PuttAnswer | None, units: w.Units) -> PuttsView:
    """Put a map and a putt on it into words and a drawing."""
    if answer is None:
        return PuttsView(putt_picture(chart, None), "", ())
    said = (
        f"{w.short_distance(answer.distance_m, units)} {w.slope_words(answer.rise_m, units)}:"
        f" aim {aim_words(answer.aim_right_m, units)}, holed {w.per_cent(answer.make)},"
        f" {answer.putts:.2f} putts"
    )
    return PuttsView(putt_picture(chart, answer), said, tuple(putt_pairs(answer, units)))


def putt_picture(chart: PuttingMap, answer: PuttAnswer | None) -> PuttPicture:
    """Draw the map of one hole location, and a putt on it."""
    x, y = (
        start + chart.step * np.arange(n, dtype=np.float64)
        for start, n in zip((chart.x0, chart.y0), chart.solved.shape, strict=True)
    )
    net = Net(-y, -x, np.ma.masked_invalid(chart.putts))
    ends = [-1.0, *_LEVELS[:-1], 99.0]
    bands = tuple(
        Patch(f"tint{k}", net.area(low, high)) for k, (low, high) in enumerate(pairwise(ends))
    )
    up, down = _arrows(chart, x, y)
    hole = _seen(*chart.hole)
    return PuttPicture(
        bands=bands,
        lines=_lines(net, chart, None if answer is None else _seen(answer.x, answer.y)),
        uphill=up,
        downhill=down,
        path="" if answer is None else line(screen(_to_hole(answer))),
        aim="" if answer is None else _start_line(answer),
        hole=hole,
        ball=hole if answer is None else _seen(answer.x, answer.y),
    )


def _seen(x: float, y: float) -> tuple[float, float]:
    return -y, -x


def _lines(net: Net, chart: PuttingMap, ball: tuple[float, float] | None) -> tuple[Patch, ...]:
    """Where so many putts are expected; a number stands only where it is clear of the others."""
    found = {level: lines for level in _LEVELS if (lines := net.lines(level))}
    taken: list[_Label] = [] if ball is None else [(*ball, _WIDE)]
    drawn = {}
    for level in sorted(found, key=lambda each: each not in _FIRST):
        text = f"{level:g}"
        label = _label(found[level], len(text) * _WIDE, chart, taken)
        taken += [] if label is None else [label]
        x, y = (0.0, 0.0) if label is None else label[:2]
        path = "".join(line(each) for each in found[level])
        drawn[level] = Patch("contour", path, "" if label is None else text, x, y)
    return tuple(drawn[level] for level in found)


def _label(
    lines: list[Floats], wide: float, chart: PuttingMap, taken: list[_Label]
) -> _Label | None:
    """Find a free place on one of the lines, the longest first."""
    for each in sorted(lines, key=len, reverse=True):
        for along in _ALONG:
            x, y = (float(v) for v in each[int(along * len(each))])
            if _has_room(chart, x, y) and not any(_meet((x, y, wide), other) for other in taken):
                return x, y, wide
    return None


def _meet(a: _Label, b: _Label) -> bool:
    return abs(a[0] - b[0]) < 0.5 * (a[2] + b[2]) and abs(a[1] - b[1]) < _TALL


def _has_room(chart: PuttingMap, x: float, y: float) -> bool:
    """Whether a number at a place of the drawing is clear of hole, flag and edge."""
    hole = _seen(*chart.hole)
    flag = (hole[0] + 1.0, hole[1] - 3.0)
    if any(np.hypot(x - u, y - v) < _CLEAR for u, v in (hole, flag)):
        return False
    around = [(x + dx, y + dy) for dx, dy in ((_CLEAR, 0), (-_CLEAR, 0), (0, _CLEAR), (0, -_CLEAR))]
    return all(chart.ground.surface_at(-v, -u) is Surface.GREEN for u, v in around)


def _arrows(chart: PuttingMap, x: Floats, y: Floats) -> tuple[str, str]:
    """Arrows along the start lines, uphill putts and downhill ones."""
    every = max(1, round(min(chart.solved.shape) / _ARROWS))
    chosen = np.zeros_like(chart.solved)
    chosen[every // 2 :: every, every // 2 :: every] = True
    at_x, at_y = np.meshgrid(x, y, indexing="ij")
    chosen &= chart.solved & (np.hypot(at_x - chart.hole[0], at_y - chart.hole[1]) > _NEAR)
    at_hole = height_at(chart.ground, np.array([chart.hole[0]]), np.array([chart.hole[1]]))[0]
    down = height_at(chart.ground, at_x, at_y) > at_hole
    size = 0.6 * every * chart.step

    def drawn(which: Flags) -> str:
        rows = zip(at_x[which], at_y[which], chart.line_rad[which], strict=True)
        return "".join(_arrow(float(a), float(b), float(line_rad), size) for a, b, line_rad in rows)

    return drawn(chosen & ~down), drawn(chosen & down)


def _arrow(x: float, y: float, line_rad: float, size: float) -> str:
    tip = (x + size * np.cos(line_rad), y + size * np.sin(line_rad))
    back = [line_rad + turn for turn in (2.6, -2.6)]
    head = [(tip[0] + _HEAD * size * np.cos(a), tip[1] + _HEAD * size * np.sin(a)) for a in back]
    return line(screen(np.array([(x, y), tip]))) + line(screen(np.array([head[0], tip, head[1]])))


def _start_line(a: PuttAnswer) -> str:
    """From the ball to abreast of the hole along the start line."""
    reach = a.distance_m / max(float(np.cos(a.start_right_rad)), 0.2)
    target = (a.x + reach * np.cos(a.line_rad), a.y + reach * np.sin(a.line_rad))
    return line(screen(np.array([(a.x, a.y), target])))


def _to_hole(a: PuttAnswer) -> Floats:
    """The path as far as its point nearest to the hole."""
    away = np.hypot(a.path[:, 0] - a.chart.hole[0], a.path[:, 1] - a.chart.hole[1])
    return a.path[: int(np.argmin(away)) + 1]
