"""The green from above as SVG: the ground, which stays, and over it what one answer adds.

One unit of the drawing is one metre. Up the page is along the approach, to the right is right of
it; the origin is the front edge of the green.
"""

from dataclasses import dataclass
from itertools import pairwise
from math import atan2, cos, sin, tan

import numpy as np
from matplotlib.path import Path

from carrybook.app.web.views.contours import Net
from carrybook.app.web.views.paths import closed, dots, line
from carrybook.artefacts.regions import CONTOURS, FEWEST_OUTLINED, contour_levels, densest
from carrybook.artefacts.view import front_height
from carrybook.artefacts.words import Units
from carrybook.base.numerics import Floats
from carrybook.decision.advice import Advice, Option
from carrybook.world.hole import Hole

__all__ = ["GroundPicture", "Patch", "PatternPicture", "ground_picture", "pattern_picture"]

_MARGIN = 9.0  # m around the green
_APPROACH = 150.0  # m shown before the green in the strip
_SHOWN_DOTS = 300
_TINTS = 8
_HALF, _MOST = 0.5, 0.9
_ALONG = (0.25, 0.25, 0.75, 0.75)  # where along its line a height stands, so that few meet
_FLAT = 0.02  # m of rise over a green without contours


@dataclass(frozen=True, slots=True)
class Patch:
    """An area: its kind, its path, and a text where it has one."""

    kind: str
    path: str
    text: str = ""
    x: float = 0.0
    y: float = 0.0


@dataclass(frozen=True, slots=True)
class GroundPicture:
    """The ground of one hole.

    Parameters
    ----------
    left, top, width, height : float
        The frame of the green. [m]
    patches, strip : tuple of Patch
        Everything on the map, on the green's frame and along the approach (turned: to the right).
    strip_box : str
        Frame of the approach.
    bands, contours : tuple of Patch
        Tints by height, and lines with their heights.
    edge : str
        Outline of the green.
    note : str
        What the heights are in, or that there are none.
    """

    left: float
    top: float
    width: float
    height: float
    patches: tuple[Patch, ...]
    strip: tuple[Patch, ...]
    strip_box: str
    bands: tuple[Patch, ...]
    contours: tuple[Patch, ...]
    edge: str
    note: str

    @property
    def box(self) -> str:
        """The frame as SVG wants it."""
        return f"{self.left:.1f} {self.top:.1f} {self.width:.1f} {self.height:.1f}"

    def holds(self, x: float, y: float) -> bool:
        """Whether a place of the drawing is in the frame."""
        return 0.0 <= x - self.left <= self.width and 0.0 <= y - self.top <= self.height


@dataclass(frozen=True, slots=True)
class PatternPicture:
    """What one answer adds: paths, and places (x, y) in the drawing."""

    dots: str
    half: str
    most: str
    rival: str
    track: str
    aim: str
    landing: tuple[float, float]
    hole: tuple[float, float]
    ball: tuple[float, float]
    from_ball: str


def screen(points: Floats) -> Floats:
    """Turn axes of the hole into those of the drawing."""
    return np.column_stack([-points[:, 1], -points[:, 0]])


def ground_picture(hole: Hole, units: Units) -> GroundPicture:
    """Draw the ground of a hole once.

    Parameters
    ----------
    hole : Hole
        The hole.
    units : Units
        In which heights are told.
    """
    edge = screen(hole.green)
    (left, top), (right, bottom) = edge.min(axis=0) - _MARGIN, edge.max(axis=0) + _MARGIN
    areas = [(kind, area) for kind, area in hole.areas if kind != "fringe"]
    bands, contours, note = _heights(hole, units)
    front, back = hole.green[:, 0].min() - _APPROACH, hole.green[:, 0].max() + _MARGIN
    side = float(np.abs(hole.green[:, 1]).max()) + 2.0 * _MARGIN
    return GroundPicture(
        left=float(left),
        top=float(top),
        width=float(right - left),
        height=float(bottom - top),
        patches=tuple(Patch(kind.replace(" ", "-"), closed([screen(a)])) for kind, a in areas),
        strip=tuple(
            Patch(kind.replace(" ", "-"), closed([a * (1.0, -1.0)]))
            for kind, a in [*areas, ("green", hole.green)]
        ),
        strip_box=f"{front:.1f} {-side:.1f} {back - front:.1f} {2.0 * side:.1f}",
        bands=bands,
        contours=contours,
        edge=closed([edge]),
        note=note,
    )


def _heights(hole: Hole, units: Units) -> tuple[tuple[Patch, ...], tuple[Patch, ...], str]:
    """Tints and contours of the green."""
    unit, unit_m, intervals = CONTOURS[units.far]
    if not hole.heights_known:
        return (), (), "no heights for this hole: the green counts as level"
    x, y, z = _net_near(hole)
    rise = (z - front_height(hole.ground)) / unit_m
    nodes = np.column_stack([np.repeat(x, y.size), np.tile(y, x.size)])
    on = Path(hole.green).contains_points(nodes).reshape(z.shape)
    if not on.any() or np.ptp(rise[on]) * unit_m < _FLAT:
        return (), (), "the green is level as far as the heights tell"
    levels = contour_levels(rise[on], intervals)
    ends = [-1e9, *levels[1:-1], 1e9]
    net = Net(-y, -x, rise)
    bands = tuple(
        Patch(f"tint{min(k, _TINTS - 1)}", net.area(low, high))
        for k, (low, high) in enumerate(pairwise(ends))
    )
    net = Net(-y, -x, np.ma.masked_where(~on, rise))
    contours = tuple(
        _labelled(lines, f"{level:+g}", _ALONG[k % len(_ALONG)])
        for k, level in enumerate(levels)
        if (lines := net.lines(level))
    )
    return bands, contours, f"heights in {unit} above the front edge"


def _net_near(hole: Hole) -> tuple[Floats, Floats, Floats]:
    """The part of the net around the green."""
    g = hole.ground
    low, high = hole.green.min(axis=0) - 2.0, hole.green.max(axis=0) + 2.0
    x = g.x0 + g.step * np.arange(g.heights.shape[0])
    y = g.y0 + g.step * np.arange(g.heights.shape[1])
    i, j = (x > low[0]) & (x < high[0]), (y > low[1]) & (y < high[1])
    return x[i], y[j], g.heights[np.ix_(i, j)]


def _labelled(lines: list[Floats], text: str, along: float) -> Patch:
    """Lines of one height, with the height at some place along the longest."""
    longest = max(lines, key=len)
    x, y = longest[int(along * len(longest))]
    long_enough = len(longest) > 8
    path = "".join(line(each) for each in lines)
    return Patch("contour", path, text if long_enough else "", float(x), float(y))


def pattern_picture(advice: Advice, picture: GroundPicture) -> PatternPicture:
    """Draw the first option, and a close rival, over the ground."""
    s, best = advice.situation, advice.options[0]
    rival = next((o for o in advice.options[1:] if o.close_call), None)
    finishes = screen(best.finishes)
    hole, ball = (-s.location.y, -s.location.x), (-s.ball_y, -s.ball_x)
    return PatternPicture(
        dots=dots(finishes[:_SHOWN_DOTS]),
        half=_region(best, _HALF, picture),
        most=_region(best, _MOST, picture),
        rival="" if rival is None else _region(rival, _HALF, picture),
        track=line(screen(best.flight[:, :2])),
        aim=line(np.array([ball, _aimed(advice)])),
        landing=(-best.landing_y, -best.landing_x),
        hole=hole,
        ball=ball,
        from_ball=line(np.array([ball, hole])),
    )


def _aimed(advice: Advice) -> tuple[float, float]:
    """Where the start line passes the hole."""
    s, right = advice.situation, advice.options[0].start_right_rad
    toward = atan2(s.location.y - s.ball_y, s.location.x - s.ball_x)
    aside = s.number_m * tan(right)
    x, y = s.location.x + aside * sin(toward), s.location.y - aside * cos(toward)
    return -y, -x


def _region(o: Option, share: float, picture: GroundPicture) -> str:
    """Outline of where that share of the balls finishes most densely."""
    if len(o.finishes) < FEWEST_OUTLINED:
        return ""
    at = screen(o.finishes)
    x = np.linspace(picture.left, picture.left + picture.width, 90)
    y = np.linspace(picture.top, picture.top + picture.height, 90)
    density, levels = densest(at[:, 0], at[:, 1], (share,), x, y)
    return Net(x, y, density).path(levels[0])
