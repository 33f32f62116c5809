"""What each fact of a description means: words that were found in, a description out."""

import re
from dataclasses import replace
from math import radians

from carrybook.base.errors import BadInputError
from carrybook.base.units import SIDE, parse
from carrybook.world.description import Described, FalseFront, Mound, RunOff, Tier, Trouble
from carrybook.world.description_words import STEEPEST_PCT, length_of, rise_of, slope_of, towards

__all__ = [
    "around",
    "fairway",
    "false_front",
    "fringe",
    "front",
    "hole",
    "mound",
    "name",
    "number",
    "outline",
    "par",
    "plays",
    "run_off",
    "size",
    "tier",
    "tilt",
    "trouble",
]

Found = dict[str, str]
_POINTS = ["north", "northeast", "east", "southeast", "south", "southwest", "west", "northwest"]
_COMPASS = {point: 45.0 * n for n, point in enumerate(_POINTS)}


def size(d: Described, f: Found) -> Described:
    """Depth and width."""
    deep, wide = (length_of(f[name], 3.0, 200.0) for name in ("deep", "wide"))
    return replace(d, deep_m=deep, wide_m=wide)


def outline(d: Described, f: Found) -> Described:
    """Corners, as pairs of paces on and right."""
    words = f["points"].replace(",", " ").split()
    if len(words) % 2 or len(words) < 6:
        raise BadInputError("an outline needs pairs, three or more: paces on, paces right of you")
    numbers = [parse(word, SIDE, "outline", unit="paces") for word in words]
    pairs = zip(numbers[::2], numbers[1::2], strict=True)
    return replace(d, outline=tuple((on, -right) for on, right in pairs))


def tilt(d: Described, f: Found) -> Described:
    """An overall tilt; two of them add up."""
    if "pct" not in f:
        return d
    x, y = towards(f["to"])
    back_x, back_y = towards(f.get("from", f["to"]))
    if "from" in f and x * back_x + y * back_y > -0.99:
        raise BadInputError(f"{f['from']} to {f['to']} does not run across the green")
    fall = slope_of(f["pct"])
    return replace(d, slope=(d.slope[0] - fall * x, d.slope[1] - fall * y))


def tier(d: Described, f: Found) -> Described:
    """A step across or along the green."""
    sign = -1.0 if re.match("drop|fall|down", f["way"].lower()) else 1.0
    rise, over = rise_of(f["rise"]), length_of(f["over"], 0.5, 30.0)
    if rise > over:
        raise BadInputError(f"a face that rises {f['rise']} over {f['over']} is too steep to putt")
    share = {"half": 0.5, "third": 1.0 / 3.0}.get(f.get("much", "").lower(), 1.0)
    side, part = (f.get(name, "").lower() for name in ("side", "part"))
    tier = Tier(length_of(f["at"]), sign * rise, over, side, part, share)
    return replace(d, tiers=(*d.tiers, tier))


def false_front(d: Described, f: Found) -> Described:
    """A front that feeds the ball off."""
    deep = length_of(f["deep"], 0.5, 30.0)
    fall = slope_of(f["pct"]) if "pct" in f else rise_of(f["drop"]) / deep
    if fall > STEEPEST_PCT / 100.0:
        raise BadInputError(f"a false front of {100.0 * fall:.0f} % is above {STEEPEST_PCT:g} %")
    return replace(d, false_front=FalseFront(deep, fall))


def run_off(d: Described, f: Found) -> Described:
    """Ground that falls away from an edge."""
    over = length_of(f["over"], 0.5, 30.0)
    drop = rise_of(f["drop"]) if "drop" in f else slope_of(f["pct"]) * over
    if drop > over:
        raise BadInputError(f"a run-off that falls {f['drop']} over {f['over']} is a wall")
    run_off = RunOff(towards(f["side"]), drop, over, f.get("grass", "fairway").lower())
    return replace(d, run_offs=(*d.run_offs, run_off))


def mound(d: Described, f: Found) -> Described:
    """A mound or a hollow."""
    high, across = rise_of(f["high"]), length_of(f["across"], 1.0, 40.0)
    if high > 0.25 * across:
        raise BadInputError(f"{f['high']} over {f['across']} across is too steep to putt")
    sign = -1.0 if f["kind"].lower() == "hollow" else 1.0
    return replace(d, mounds=(*d.mounds, Mound(f["place"], sign * high, across)))


def trouble(d: Described, f: Found) -> Described:
    """A bunker, water, out of bounds or a path."""
    kind, side = f["kind"].lower(), towards(f["side"])
    if "band" in f and side[0] < 0.0 and "away" not in f:
        raise BadInputError("say how far it reaches back to you, like 'all across, 20 wide'")
    trouble = Trouble(
        {"out bounds": "out of bounds", "ob": "out of bounds", "cart path": "path"}.get(kind, kind),
        side,
        length_of(f.get("off")),
        length_of(f.get("along"), 0.5),
        length_of(f.get("away"), 0.5),
        length_of(f["on"]) if "on" in f else None,
        "band" in f,
    )
    return replace(d, troubles=(*d.troubles, trouble))


def fairway(d: Described, f: Found) -> Described:
    """A fairway in front."""
    return replace(d, fairway_m=length_of(f["wide"], 3.0, 100.0))


def fringe(d: Described, f: Found) -> Described:
    """Width of the fringe."""
    return replace(d, fringe_m=length_of(f["wide"], 0.5, 5.0))


def front(d: Described, f: Found) -> Described:
    """The front edge number."""
    return replace(d, front_number_m=length_of(f["number"], 5.0, 185.0))


def plays(d: Described, f: Found) -> Described:
    """The direction the hole plays to."""
    point = re.sub("[- ]", "", f.get("point", "")).lower()
    bearing = _COMPASS[point] if point else float(f["deg"])
    if bearing > 360.0:
        raise BadInputError(f"bearing = {bearing:g} deg is outside 0 to 360 deg")
    return replace(d, bearing_rad=radians(bearing % 360.0))


def par(d: Described, f: Found) -> Described:
    """Par."""
    return replace(d, par=int(f["par"]))


def around(d: Described, f: Found) -> Described:
    """What lies around."""
    return replace(d, around=f["grass"].lower())


def hole(d: Described, f: Found) -> Described:
    """Where the hole is cut."""
    return replace(d, location_words=f["text"])


def number(d: Described, f: Found) -> Described:
    """Number of the hole."""
    return replace(d, ref=f["text"])


def name(d: Described, f: Found) -> Described:
    """Name of the course."""
    return replace(d, venue=f["text"])
