"""The green a remembered shot was played to: a described one, level, as little as was recorded.

Nobody maps a season by hand. Where the green is not known, this is a medium one; where the hole was
cut is a ninth of it, or the words of a pin sheet, and the middle where nobody said.
"""

import re
from dataclasses import dataclass
from functools import cache

import numpy as np

from carrybook.base.constants import YARD
from carrybook.base.numerics import Floats, Ints
from carrybook.base.units import LENGTH, parse
from carrybook.decision.review.baselines import Baseline
from carrybook.outcomes.after_landing import RUN_ON, GreenNets
from carrybook.outcomes.putting_map import surface_of
from carrybook.player.round_shots import RoundShot
from carrybook.world.described_hole import described_hole
from carrybook.world.ground import Surface
from carrybook.world.hole import Hole

__all__ = ["GREEN_WORDS", "Cut", "cut_of", "nets_of", "surfaces_at"]

GREEN_WORDS = "30 deep, 24 wide; fairway in front, 24 wide"  # ours: a green of usual size, level
_DEEP, _WIDE = 30.0 * YARD, 24.0 * YARD
# Ours: middles of the thirds of a green in which a hole is cut, a few paces in from the edge.
_THIRDS = {"front": 0.24, "middle": 0.5, "back": 0.76}
_SIDES = {"left": 0.27, "centre": 0.0, "right": -0.27}
_EDGE = 4.0 * YARD  # randa-hole-positions: no hole nearer to the edge
_POWER = 2.4  # of the outline, as carrybook.world.described_hole rounds it
_STEP = 0.5  # m, of a net
_SHORT, _LONG, _ASIDE = 60.0, 40.0, 40.0  # m, of a net beyond the green; ours
_AS = {
    Surface.GREEN: Surface.GREEN, Surface.FRINGE: Surface.FAIRWAY, Surface.FAIRWAY: Surface.FAIRWAY,
    Surface.ROUGH: Surface.ROUGH, Surface.BUNKER: Surface.BUNKER, Surface.PATH: Surface.FAIRWAY,
}  # fmt: skip
_SHEET = re.compile(
    r"(?P<on>[\d.,]+)\s*(?P<unit>[a-z]*?)\s*on\s*,?\s*(?:(?P<in>[\d.,]+)\s*(?P<in_unit>[a-z]*?)\s*"
    r"(?:in\s)?\s*(?:from|off)?\s*(?:the\s)?\s*(?P<side>left|right|l|r)|.*)",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class Cut:
    """Where the hole was cut, on the described green.

    Parameters
    ----------
    x, y : float
        In the axes of the hole. [m]
    third, side : str
        "front", "middle" or "back"; "left", "centre" or "right"; empty where nobody said.
    """

    x: float
    y: float
    third: str
    side: str


def cut_of(shot: RoundShot) -> Cut:
    """Say where the hole was cut for a recorded shot.

    Parameters
    ----------
    shot : RoundShot
        The shot. Words of a pin sheet are scaled to the described green where the depth of the real
        one was recorded, and held four paces from its edge.
    """
    words = shot.hole_location.split()
    third = next((word for word in words if word in _THIRDS), "")
    if not third and (sheet := _SHEET.fullmatch(shot.hole_location)):
        return _on_sheet(sheet, shot.green_deep_m or _DEEP)
    side = next((word for word in words if word in _SIDES), "")
    x = _THIRDS[third or "middle"] * _DEEP
    return Cut(x, _SIDES[side or "centre"] * _WIDE, third, side)


def _on_sheet(sheet: re.Match[str], deep: float) -> Cut:
    on = parse(sheet["on"], LENGTH, "depth", unit=sheet["unit"] or "paces")
    share = min(max(on / deep, 0.0), 1.0)
    third = "front" if share < 1.0 / 3.0 else "back" if share > 2.0 / 3.0 else "middle"
    x = min(max(share * _DEEP, _EDGE), _DEEP - _EDGE)
    half = _half_width(x) - _EDGE
    if sheet["side"] is None:
        return Cut(x, 0.0, third, "centre")
    inward = parse(sheet["in"], LENGTH, "side", unit=sheet["in_unit"] or "paces")
    left = sheet["side"].lower().startswith("l")
    y = min(max(_half_width(x) - inward, -half), half) * (1.0 if left else -1.0)
    side = "centre" if abs(y) < _WIDE / 6.0 else "left" if y > 0.0 else "right"
    return Cut(x, y, third, side)


def _half_width(x: float) -> float:
    """Half width of a rounded green at some depth."""
    share = max(0.1, 1.0 - abs(2.0 * x / _DEEP - 1.0) ** _POWER)
    return float(0.5 * _WIDE * share ** (1.0 / _POWER))


@cache
def _green() -> Hole:
    return described_hole(GREEN_WORDS)


@cache
def _surfaces() -> tuple[Floats, Floats, Ints]:
    """Nodes of the net in x and y, and the surface at each."""
    x = np.arange(-_SHORT, _DEEP + _LONG + _STEP, _STEP)
    y = np.arange(-_ASIDE, _ASIDE + _STEP, _STEP)
    return x, y, surfaces_at(*np.meshgrid(x, y, indexing="ij"))


def surfaces_at(x: Floats, y: Floats) -> Ints:
    """Surface of the described green at some places, shape (...).

    Parameters
    ----------
    x, y : ndarray, shape (...)
        In the axes of the hole. [m]
    """
    return surface_of(_green().ground, x, y)


def nets_of(cuts: list[Cut], baseline: Baseline) -> tuple[GreenNets, Ints]:
    """Nets of strokes for all places where holes were cut.

    Parameters
    ----------
    cuts : list of Cut, length n
        Where the holes were cut.
    baseline : Baseline
        Who plays on from there.

    Returns
    -------
    nets : GreenNets
        One for each place that differs.
    which : ndarray of int64, shape (n,)
        Which of them each hole has.
    """
    x, y, surfaces = _surfaces()
    places = sorted({(cut.x, cut.y) for cut in cuts})
    strokes = np.array([_strokes(place, baseline) for place in places])
    runs_as = np.full(surfaces.shape, -1, dtype=np.int64)
    for surface, as_one in _AS.items():
        runs_as[surfaces == surface] = RUN_ON.index(as_one)
    nets = GreenNets(
        float(x[0]), float(y[0]), _STEP, strokes, np.tile(runs_as, (len(places), 1, 1))
    )
    number = {place: k for k, place in enumerate(places)}
    return nets, np.array([number[cut.x, cut.y] for cut in cuts], dtype=np.int64)


def _strokes(place: tuple[float, float], baseline: Baseline) -> Floats:
    x, y, surfaces = _surfaces()
    distance = np.hypot(x[:, None] - place[0], y[None, :] - place[1])
    strokes = np.empty(surfaces.shape)
    for surface in np.unique(surfaces):
        on = surfaces == surface
        strokes[on] = baseline.on_surface(Surface(int(surface)), distance[on])
    return strokes
