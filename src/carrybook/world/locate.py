"""Where the hole is cut, in the words of a pin sheet, and where the ball lies for a given number.

Depth counts along the approach from the front-most point of the green; sides count from the edges
of the green's outline at that depth, left and right as the player sees them. A bare number is
paces (one yard each).
"""

import re
from math import atan2, cos, degrees, hypot, isfinite, sin

import shapely

from carrybook.base.constants import YARD
from carrybook.base.errors import BadInputError, require_range
from carrybook.base.units import LENGTH, SIDE, in_unit, parse
from carrybook.world.ground import Surface
from carrybook.world.hole import Hole, HoleLocation

__all__ = ["ball_behind", "is_location", "locate", "number_from", "words_at"]

_FROM_EDGE = YARD  # ours: no hole is cut nearer to the edge of a green than one pace
_UNITS = "|".join(sorted(LENGTH.spellings, key=len, reverse=True))
_NUMBER = r"[-+−]?\d+(?:[.,]\d+)?"
_WORDS = re.compile(
    rf"(?P<on>{_NUMBER})\s*(?P<on_unit>{_UNITS})?\s*on\s*,?\s*"
    rf"(?:(?P<in>{_NUMBER})\s*(?P<in_unit>{_UNITS})?\s*(?:in\s)?\s*(?:from|off)?\s*(?:the\s)?\s*"
    r"(?P<side>left|right|l|r)|(?:in\s)?\s*(?:the\s)?\s*(?:centre|center|middle))",
    re.IGNORECASE,
)


def is_location(words: str) -> bool:
    """Whether words are those of a pin sheet, on whichever green."""
    return _WORDS.fullmatch(" ".join(words.split())) is not None


def locate(hole: Hole, words: str) -> HoleLocation:
    """Find a hole location on the green.

    Parameters
    ----------
    hole : Hole
        The hole.
    words : str
        Such as "24 on, 5 from the right", "24 on 5L", "22m on, 4m from the left" or
        "24 on, centre"; paces where no unit is written.

    Returns
    -------
    location : HoleLocation
        In the axes of the hole.

    Raises
    ------
    BadInputError
        Words we do not understand, or a place that is off the green or within a pace of its
        edge; the message says how deep or wide the green is.
    """
    words = " ".join(words.split())[:60]
    match = _WORDS.fullmatch(words)
    if match is None:
        raise BadInputError(
            f"hole location = {words!r} is not understood; write it like"
            " '24 on, 5 from the right' or '24 on, centre'"
        )
    off = f"hole location = {words!r} is off the green or within a pace of its edge"
    green = shapely.Polygon(hole.green)
    unit = match["on_unit"] or "paces"
    on = parse(match["on"], LENGTH, "depth of the hole location", unit=unit)
    front, _, back, _ = green.bounds
    x = front + on
    if not front < x < back:
        raise BadInputError(f"{off}: the green is {_shown(back - front, unit)} deep")
    right, left = _edges(green, x)
    y = (left + right) / 2.0
    if match["side"] is not None:
        unit = match["in_unit"] or "paces"
        inward = parse(match["in"], SIDE, "side of the hole location", unit=unit)
        y = left - inward if match["side"].lower().startswith("l") else right + inward
    spot = shapely.Point(x, y)
    on_green = green.contains(spot) and hole.ground.surface_at(x, y) is Surface.GREEN
    if not on_green or spot.distance(green.exterior) < _FROM_EDGE:
        deep, wide = _shown(back - front, unit), _shown(left - right, unit)
        raise BadInputError(f"{off}: the green is {deep} deep, and {wide} wide at that depth")
    behind = shapely.LineString([(x, y), (back + 1.0, y)]).intersection(green).bounds[2] - x
    return HoleLocation(x, y, on, left - y, y - right, behind)


def ball_behind(
    hole: Hole, location: HoleLocation, number_m: float, *, off_line_rad: float = 0.0
) -> tuple[float, float]:
    """Place the ball at a number from the hole, straight back along the approach.

    Parameters
    ----------
    hole : Hole
        The hole.
    location : HoleLocation
        Where the hole is cut.
    number_m : float
        Distance from ball to hole over the ground, 15 to 200 yd. [m]
    off_line_rad : float, default 0
        Angle at the hole between the approach and the line to the ball, -60 to 60 degrees;
        positive puts the ball right of the approach as the player sees it. [rad]

    Returns
    -------
    x, y : float
        Where the ball lies, in the axes of the hole. [m]

    Raises
    ------
    OutOfRangeError
        A number or angle outside its range.
    """
    require_range(f"number to hole {hole.ref}", number_m / YARD, 15.0, 200.0, "yd")
    require_range("angle off the line of approach", degrees(off_line_rad), -60.0, 60.0, "deg")
    return location.x - number_m * cos(off_line_rad), location.y - number_m * sin(off_line_rad)


def words_at(hole: Hole, x: float, y: float) -> str:
    """Say a place on the green in paces: "24.3 on, 5.1 from the left".

    Parameters
    ----------
    hole : Hole
        The hole.
    x, y : float
        In the axes of the hole. [m]

    Raises
    ------
    BadInputError
        A place beside the green, or no place at all.
    """
    green = shapely.Polygon(hole.green)
    if not (isfinite(x) and isfinite(y) and green.contains(shapely.Point(x, y))):
        raise BadInputError("hole location is off the green; keep it a pace from the edge")
    right, left = _edges(green, x)
    inward, side = min((left - y, "left"), (y - right, "right"))
    on = (x - green.bounds[0]) / YARD
    return f"{on:.1f} on, {inward / YARD:.1f} from the {side}"


def number_from(location: HoleLocation, x: float, y: float) -> tuple[float, float]:
    """Number and angle off the line of a ball: what `ball_behind` turns back into its place.

    Parameters
    ----------
    location : HoleLocation
        Where the hole is cut.
    x, y : float
        Where the ball lies, in the axes of the hole. [m]

    Returns
    -------
    number_m, off_line_rad : float
        Distance, and angle at the hole, positive where the ball lies right of the approach.
        [m], [rad]
    """
    dx, dy = location.x - x, location.y - y
    return hypot(dx, dy), atan2(dy, dx)


def _edges(green: shapely.Polygon, x: float) -> tuple[float, float]:
    """Right-most and left-most y of the green at a depth."""
    _, right, _, left = green.bounds
    across = shapely.LineString([(x, right - 1.0), (x, left + 1.0)]).intersection(green)
    return across.bounds[1], across.bounds[3]


def _shown(metres: float, unit: str) -> str:
    return f"{in_unit(metres, LENGTH, unit):.0f} {unit}"
