"""The green on an ordinary card: outline, contours, trouble, hole and landing spot, to scale.

Never larger than 3/8 in for 5 yd, which is 1:480 (Clarification 4.3a/1, rules-of-golf-2023). The
player looks up the page, along the line of approach.
"""

from collections.abc import Iterator, Sequence

import numpy as np
import shapely
from contourpy import contour_generator
from reportlab.lib.units import inch

from carrybook.artefacts import words as w
from carrybook.artefacts.card_items import SMALL, Item, Line, Shape, Text, text_width
from carrybook.artefacts.card_sheet import GREEN_BAR, GREEN_MARK
from carrybook.artefacts.view import front_height, height_at
from carrybook.base.constants import FOOT, YARD
from carrybook.base.numerics import Floats
from carrybook.decision.advice import Advice
from carrybook.world.hole import Hole, HoleLocation

__all__ = ["LARGEST_SCALE", "green_at", "green_picture"]

LARGEST_SCALE = 1.0 / 480.0
_SCALE = 1.0 / 500.0  # ours: a print that comes out 4 % too large is still within the limit
_POINTS_PER_M = inch / 0.0254  # at 1:1
_WIDEST, _TALLEST = 154.0, 225.0  # points
_TROUBLE = {"bunker": "B", "water": "W", "out of bounds": "O"}
_LEAST_SEEN = 40.0  # square points: less of it is not worth a line
_BEYOND_M = 4.0 * YARD  # trouble is shown so far from the green
_STEP_M = 0.5  # between heights that are contoured
_INTERVALS = {"yd": ((0.5 * FOOT, "6 in"), (FOOT, "1 ft"), (2.0 * FOOT, "2 ft")),
              "m": ((0.15, "15 cm"), (0.3, "30 cm"), (0.6, "60 cm"))}  # fmt: skip
_MOST_CONTOURS = 9
_FALL_STEP_M, _LEAST_FALL = 5.0 * YARD, 0.012  # ours: arrows every five paces, where it shows


class _Plan:
    """Turns points of the hole's axes [m] into points of a block: along is up, left is left."""

    def __init__(self, green: Floats) -> None:
        self.low = green.min(axis=0) - _BEYOND_M
        self.high = green.max(axis=0) + _BEYOND_M
        tall, wide = self.high - self.low
        limit = min(_WIDEST / wide, _TALLEST / tall)
        self.points_per_m = min(_SCALE * _POINTS_PER_M, limit)

    @property
    def size(self) -> tuple[float, float]:
        """Width and height in points."""
        tall, wide = (self.high - self.low) * self.points_per_m
        return float(wide), float(tall)

    def path(self, outline: Floats) -> tuple[tuple[float, float], ...]:
        """Points of a path, (n, 2) in metres."""
        x = (self.high[1] - outline[:, 1]) * self.points_per_m
        y = (self.high[0] - outline[:, 0]) * self.points_per_m
        return tuple(zip(x.tolist(), y.tolist(), strict=True))


def green_picture(advice: Advice, u: w.Units) -> tuple[tuple[float, float], tuple[Item, ...]]:
    """Draw the green of one plan.

    Parameters
    ----------
    advice : Advice
        The plan.
    u : Units
        Of its bar and contours.

    Returns
    -------
    size, items : (float, float), tuple of Item
        Width and height in points, and what is drawn from the top left down.
    """
    o, s = advice.options[0], advice.situation
    return green_at(s.hole, s.location, u, landing=(o.landing_x, o.landing_y))


def green_at(
    hole: Hole, location: HoleLocation, u: w.Units, landing: tuple[float, float] | None = None
) -> tuple[tuple[float, float], tuple[Item, ...]]:
    """Draw a green with the hole, and where the ball should land if that is known.

    Parameters
    ----------
    hole, location : Hole, HoleLocation
        The green, and where the hole is cut.
    u : Units
        Of its bar and contours.
    landing : tuple of float, optional
        Landing spot in the axes of the hole. [m]

    Returns
    -------
    size, items : (float, float), tuple of Item
        As of :func:`green_picture`.
    """
    plan = _Plan(hole.green)
    width, height = plan.size
    outline = plan.path(hole.green)
    frame = ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))
    extent = tuple(float(m) for m in np.ptp(hole.green, axis=0))
    items: list[Item] = [item for area in hole.areas for item in _trouble(*area, plan, frame)]
    letters = {i.words for i in items if isinstance(i, Text)}
    said = [f"{letter} {kind}" for kind, letter in _TROUBLE.items() if letter in letters]
    if hole.heights_known:
        contours, apart = _contours(hole, plan, u)
        said.append(apart)
        items += contours
        items += _falls(hole, plan)
    items.append(Shape(outline, 1.1, closed=True, tag=GREEN_MARK, metres=extent))
    items += _spots(location, landing, plan)
    items += _bar(plan, height, u, said)
    return (width, height + 12.0 + 9.5 * len(said)), tuple(items)


def _trouble(
    kind: str, area: Floats, plan: _Plan, frame: tuple[tuple[float, float], ...]
) -> Iterator[Item]:
    """Dotted outline of a bunker or of water, as far as it lies in the picture, with its name."""
    path = plan.path(area)
    seen = shapely.Polygon(path).buffer(0.0).intersection(shapely.Polygon(frame))
    if kind not in _TROUBLE or seen.area < _LEAST_SEEN:
        return
    yield Shape(path, 0.7, closed=True, dash=(1.2, 1.4), within=frame)
    spot = seen.representative_point()
    letter = _TROUBLE[kind]
    yield Text(spot.x - text_width(letter, SMALL) / 2.0, spot.y + 0.35 * SMALL, letter, SMALL)


def _contours(hole: Hole, plan: _Plan, u: w.Units) -> tuple[list[Item], str]:
    """Level lines within the green, few enough to read, and what they are apart."""
    ground = hole.ground
    x = np.arange(plan.low[0], plan.high[0] + _STEP_M, _STEP_M)
    y = np.arange(plan.low[1], plan.high[1] + _STEP_M, _STEP_M)
    nodes = np.meshgrid(x, y, indexing="ij")
    rise = height_at(ground, nodes[0], nodes[1]) - front_height(ground)
    span = float(np.ptp(rise))
    fine = [i for i in _INTERVALS[u.far] if span / i[0] <= _MOST_CONTOURS]
    interval, name = fine[0] if fine else _INTERVALS[u.far][-1]
    outline = plan.path(hole.green)
    lines = contour_generator(y, x, rise)
    levels = interval * np.arange(np.floor(rise.min() / interval), rise.max() / interval + 1.0)
    items: list[Item] = [
        Shape(plan.path(np.asarray(line)[:, ::-1]), 0.35, within=outline)
        for level in levels
        for line in lines.lines(level)
    ]
    return items, f"lines every {name} of height"


def _falls(hole: Hole, plan: _Plan) -> Iterator[Item]:
    """Small arrows down the slope, every five paces, longer where it is steeper."""
    low, high = hole.green.min(axis=0), hole.green.max(axis=0)
    for x in np.arange(low[0] + 0.5 * _FALL_STEP_M, high[0], _FALL_STEP_M):
        for y in np.arange(low[1] + 0.5 * _FALL_STEP_M, high[1], _FALL_STEP_M):
            if _inside(hole.green, float(x), float(y)):
                yield from _arrow(hole, plan, float(x), float(y))


def _arrow(hole: Hole, plan: _Plan, x: float, y: float) -> Iterator[Item]:
    ground, d = hole.ground, 1.0
    ends = np.array([x + d, x - d, x, x]), np.array([y, y, y + d, y - d])
    z = height_at(ground, *ends)
    fall = np.array([z[1] - z[0], z[3] - z[2]]) / (2.0 * d)
    steep = float(np.hypot(*fall))
    if steep < _LEAST_FALL:
        return
    length_m = min(1.2 + 40.0 * steep, 4.0)
    along = fall / steep * length_m / 2.0
    middle = np.array([x, y])
    (x0, y0), (x1, y1) = plan.path(np.stack([middle - along, middle + along]))
    yield Line(x0, y0, x1, y1, 0.6)
    ux, uy = (x1 - x0), (y1 - y0)
    size = float(np.hypot(ux, uy))
    ux, uy = 3.4 * ux / size, 3.4 * uy / size
    head = ((x1, y1), (x1 - ux - 0.42 * uy, y1 - uy + 0.42 * ux),
            (x1 - ux + 0.42 * uy, y1 - uy - 0.42 * ux))  # fmt: skip
    yield Shape(head, 0.3, closed=True, filled=True)


def _inside(outline: Floats, x: float, y: float) -> bool:
    """Whether a point lies within an outline: odd crossings of a ray."""
    a, b = outline, np.roll(outline, -1, axis=0)
    across = (a[:, 1] > y) != (b[:, 1] > y)
    with np.errstate(divide="ignore", invalid="ignore"):
        at = a[:, 0] + (y - a[:, 1]) / (b[:, 1] - a[:, 1]) * (b[:, 0] - a[:, 0])
    return bool((across & (x < at)).sum() % 2)


def _spots(
    location: HoleLocation, landing: tuple[float, float] | None, plan: _Plan
) -> Iterator[Item]:
    """A flag where the hole is cut, a diamond where the ball should land."""
    ((hx, hy),) = plan.path(np.array([(location.x, location.y)]))
    yield _ring(hx, hy, 2.2)
    yield Line(hx, hy, hx, hy - 12.0, 0.8)
    flag = ((hx, hy - 12.0), (hx + 6.5, hy - 9.8), (hx, hy - 7.6))
    yield Shape(flag, 0.4, closed=True, filled=True)
    if landing is None:
        return
    ((lx, ly),) = plan.path(np.array([landing]))
    r = 3.2
    diamond = ((lx, ly - r), (lx + r, ly), (lx, ly + r), (lx - r, ly))
    yield Shape(diamond, 0.8, closed=True, filled=True)


def _ring(x: float, y: float, r: float) -> Shape:
    turn = np.linspace(0.0, 2.0 * np.pi, 16, endpoint=False)
    points = zip((x + r * np.cos(turn)).tolist(), (y + r * np.sin(turn)).tolist(), strict=True)
    return Shape(tuple(points), 0.9, closed=True)


def _bar(plan: _Plan, height: float, u: w.Units, said: Sequence[str]) -> Iterator[Item]:
    """A bar of five yards or metres in the scale of the picture, the scale, what else to know."""
    metres = 5.0 * u.far_m
    length, y = metres * plan.points_per_m, height + 6.0
    yield Line(0.0, y, length, y, 0.6, GREEN_BAR, (metres,))
    yield Line(0.0, y - 3.0, 0.0, y + 3.0, 0.6)
    yield Line(length, y - 3.0, length, y + 3.0, 0.6)
    scale = _POINTS_PER_M / plan.points_per_m
    yield Text(length + 4.0, y + 2.5, f"5 {u.far}, scale 1:{scale:.0f}", SMALL)
    for row, line in enumerate(said, start=1):
        yield Text(0.0, y + 2.5 + 9.5 * row, line, SMALL)
