"""Numbers as golfers say them: lengths in the person's units, paces, wind, air, firmness, run.

SI and radians go in, short plain-text phrases come out, never with more digits than are known.
"""

from dataclasses import dataclass
from math import pi, tan
from typing import TYPE_CHECKING

from carrybook.base import constants as c
from carrybook.base.errors import BadInputError
from carrybook.world.air import Air
from carrybook.world.wind import Wind

if TYPE_CHECKING:
    from carrybook.world.hole import HoleLocation

__all__ = [
    "CALM",
    "CALM_MPS",
    "METRES",
    "ON_LINE",
    "SPOT_AHEAD_M",
    "YARDS",
    "Units",
    "air_words",
    "bend_words",
    "difference",
    "distance",
    "fall_words",
    "firmness_words",
    "location_words",
    "one_line",
    "paces",
    "per_cent",
    "run_words",
    "short_distance",
    "short_or_past",
    "sideways",
    "slope_words",
    "speed",
    "spot_words",
    "standard_error",
    "starred",
    "start_words",
    "temperature",
    "tenths_below_ten",
    "units_named",
    "whole",
    "wind_words",
]


@dataclass(frozen=True, slots=True)
class Units:
    """How one person says lengths and wind.

    Parameters
    ----------
    far, near, rise, wind : str
        Units of carries, of putts and heights of flight, of rises of a green, of wind speed.
    far_m, near_m, rise_m, wind_mps : float
        The same units in SI. [m], [m], [m], [m/s]
    near_digits : int
        Decimals of a near distance below ten: none in feet, one in metres.
    """

    far: str
    far_m: float
    near: str
    near_m: float
    near_digits: int
    rise: str
    rise_m: float
    wind: str
    wind_mps: float


YARDS = Units("yd", c.YARD, "ft", c.FOOT, 0, "in", c.FOOT / 12.0, "mph", c.MILE_PER_HOUR)
METRES = Units("m", 1.0, "m", 1.0, 1, "cm", 0.01, "m/s", 1.0)
_NAMED = {"yards": YARDS, "metres": METRES}

ON_LINE = "on the line"
SPOT_AHEAD_M = 3.0 * c.YARD  # ours: a spot near enough to stand behind, far enough to aim over
CALM = "calm"
_COMPASS = (  # eighths of a turn from straight into, through from the right
    "into",
    "quartering into from the right",
    "across from the right",
    "quartering helping from the right",
    "helping",
    "quartering helping from the left",
    "across from the left",
    "quartering into from the left",
)
CALM_MPS = 0.25  # ours: below this a wind is not felt
_FIRMNESS = (
    (80.0, "soft"),
    (100.0, "medium"),
    (120.0, "firm"),
)  # [g] below which; ours: working classes
# Ours: median run after the first touch, in yards, below which a ball is said to do this.
_RUNS = ((-1.0, "come back"), (1.0, "hop and stop"), (3.0, "check"), (8.0, "release"))

_FALLS = (
    "away from you",
    "away to the right",
    "to the right",
    "towards you, right",
    "towards you",
    "towards you, left",
    "to the left",
    "away to the left",
)


def units_named(name: str) -> Units:
    """Give the units that go by a name.

    Parameters
    ----------
    name : str
        "yards" or "metres".

    Raises
    ------
    BadInputError
        Any other word.
    """
    try:
        return _NAMED[name]
    except KeyError:
        raise BadInputError(f"units = {name!r} is not one of: {', '.join(_NAMED)}") from None


def one_line(text: str) -> str:
    """Take out control characters and line breaks, so that a label cannot steer a terminal."""
    return " ".join("".join(ch if ch.isprintable() else " " for ch in text).split())


def starred(label: str) -> str:
    """Name of a club, with a star for a loft that is not owned: "54*"."""
    return one_line(label).replace(" deg", "*")


def whole(metres: float, units: Units) -> str:
    """Carry without its unit: "106"."""
    return f"{round(metres / units.far_m)}"


def tenths_below_ten(value: float) -> str:
    """Whole number, or one decimal below ten: "106", "5.6"."""
    return f"{value:.{1 if abs(value) < 9.95 else 0}f}"


def distance(metres: float, units: Units) -> str:
    """Length of a shot or of part of it: "106 yd", one decimal below ten: "5.6 yd"."""
    return f"{tenths_below_ten(metres / units.far_m)} {units.far}"


def short_distance(metres: float, units: Units) -> str:
    """Length of a putt, of a miss, height of a flight: "14 ft" or "4.3 m"."""
    value = metres / units.near_m
    return f"{value:.{units.near_digits if value < 9.95 else 0}f} {units.near}"


def paces(metres: float) -> str:
    """Paces of a yard each, as on a pin sheet: "24"."""
    return f"{round(metres / c.YARD)}"


def sideways(right_m: float, units: Units) -> str:
    """How far to one side of the line to the hole: "2 yd right", "on the line"."""
    if round(abs(right_m) / units.far_m) == 0:
        return ON_LINE
    return f"{whole(abs(right_m), units)} {units.far} {'right' if right_m > 0.0 else 'left'}"


def start_words(aim_right_m: float, units: Units) -> str:
    """Where the start line passes the hole: "2 yd right of the hole", "at the hole"."""
    where = sideways(aim_right_m, units)
    return "at the hole" if where == ON_LINE else f"{where} of the hole"


def spot_words(start_right_rad: float, units: Units) -> str:
    """Spot that a start line passes over: "5 in left of the line to the hole, 3 paces in front"."""
    aside = SPOT_AHEAD_M * tan(start_right_rad)
    far, name = abs(aside) / units.rise_m, units.rise
    ahead = f"{paces(SPOT_AHEAD_M)} paces in front"
    if round(far) == 0:
        return f"on the line to the hole, {ahead}"
    side = "right" if aside > 0.0 else "left"
    return f"{far:.0f} {name} {side} of the line to the hole, {ahead}"


def bend_words(right_m: float, se_m: float, units: Units) -> str:
    """How far a flight bends from its start line: "4 +- 1 yd to the left", "hardly, 0 +- 1 yd"."""
    far, error = abs(right_m) / units.far_m, max(1, round(se_m / units.far_m))
    if round(far) == 0:
        return f"hardly, 0 +- {error} {units.far}"
    return f"{far:.0f} +- {error} {units.far} to the {'right' if right_m > 0.0 else 'left'}"


def location_words(at: "HoleLocation") -> str:
    """Where the hole is cut, as on a pin sheet in paces: "24 on, 5 from the right"."""
    metres, side = min((at.from_left_m, "left"), (at.from_right_m, "right"))
    return f"{paces(at.on_m)} on, {paces(metres)} from the {side}"


def short_or_past(short_m: float, units: Units, *, brief: bool = False) -> str:
    """Where a landing spot lies in depth: "6 yd short of the hole", "6 short", "pin high"."""
    if round(abs(short_m) / units.far_m) == 0:
        return "pin high"
    side = "short" if short_m > 0.0 else "past"
    if brief:
        return f"{whole(abs(short_m), units)} {side}"
    of = f"{side} of" if short_m > 0.0 else side
    return f"{whole(abs(short_m), units)} {units.far} {of} the hole"


def slope_words(rise_m: float, units: Units) -> str:
    """How a putt climbs: "up 4 in", "down 10 cm", "level"."""
    if round(abs(rise_m) / units.rise_m) == 0:
        return "level"
    return f"{'up' if rise_m > 0.0 else 'down'} {abs(rise_m) / units.rise_m:.0f} {units.rise}"


def fall_words(slope: float, fall_right_rad: float) -> str:
    """How a plane falls, seen by the player: "falls 2.0 % to the right", "level".

    Parameters
    ----------
    slope : float
        How much; negative rises. [1]
    fall_right_rad : float
        Which way: 0 away from the player, then clockwise, to the right. [rad]
    """
    if round(1000.0 * abs(slope)) == 0:
        return "level"
    eighth = round(fall_right_rad / (pi / 4.0)) + (0 if slope > 0.0 else 4)
    return f"falls {100.0 * abs(slope):.1f} % {_FALLS[eighth % 8]}"


def per_cent(share: float) -> str:
    """Share in whole per cent: "12 %", "under 1 %", "over 99 %"."""
    if 0.0 < share < 0.01:
        return "under 1 %"
    if 0.99 < share < 1.0:
        return "over 99 %"
    return f"{100.0 * share:.0f} %"


def standard_error(se: float, digits: int = 2) -> str:
    """Give a standard error of strokes: "+- 0.01", "+- under 0.01"."""
    least = 10.0**-digits
    return f"+- {se:.{digits}f}" if se >= 0.5 * least else f"+- under {least:.{digits}f}"


def difference(behind: float, se: float) -> str:
    """Paired difference of strokes with its error: "+0.03 +- 0.01", "+0.004 +- 0.002"."""
    digits = 3 if se < 0.005 else 2
    return f"{round(behind, digits) + 0.0:+.{digits}f} {standard_error(se, digits)}"


def speed(mps: float, units: Units) -> str:
    """Wind speed: "8 mph"."""
    return f"{mps / units.wind_mps:.0f} {units.wind}"


def wind_words(wind: Wind, units: Units) -> str:
    """Call the wind from behind the ball: "calm", "8 mph into, gusts to 15 mph"."""
    gusts = "" if wind.gust_mps is None else f", gusts to {speed(wind.gust_mps, units)}"
    if wind.speed_mps < CALM_MPS:
        return CALM + gusts
    eighth = round(wind.from_rad / (pi / 4.0)) % 8
    return f"{speed(wind.speed_mps, units)} {_COMPASS[eighth]}{gusts}"


def air_words(air: Air) -> str:
    """Air in one phrase: "12 C (54 F), 1004 hPa, 70 % humidity"."""
    return (
        f"{temperature(air.temperature_k)}, {air.pressure_pa / 100.0:.0f} hPa,"
        f" {air.humidity * 100.0:.0f} % humidity"
    )


def temperature(kelvin: float) -> str:
    """A temperature in both scales: "12 C (54 F)"."""
    celsius = kelvin - c.CELSIUS_ZERO
    return f"{round(celsius)} C ({round(celsius * 1.8 + 32.0)} F)"


def firmness_words(firmness_g: float) -> str:
    """Firmness of a green in one word: soft, medium, firm, very firm."""
    return next((word for limit, word in _FIRMNESS if firmness_g < limit), "very firm")


def run_words(low_m: float, middle_m: float, high_m: float, units: Units) -> str:
    """Say what the ball should do after it has landed, in words and numbers.

    Parameters
    ----------
    low_m, middle_m, high_m : float
        Run after the first touch: 10 %, median, 90 %; negative comes back. [m]
    units : Units
        For the numbers.

    Returns
    -------
    words : str
        Such as "check: 2 yd on (eight in ten between 1 yd back and 5 yd on)".
    """
    does = next((word for limit, word in _RUNS if middle_m / c.YARD < limit), "run out")
    ends = (_run(low_m, units), _run(high_m, units))
    range_ = ends[0] if ends[0] == ends[1] else f"between {ends[0]} and {ends[1]}"
    return f"{does}: {_run(middle_m, units)} (eight in ten {range_})"


def _run(metres: float, units: Units) -> str:
    yards = round(metres / units.far_m)
    return f"{abs(yards)} {units.far} {'on' if yards > 0 else 'back'}" if yards else "no run"
