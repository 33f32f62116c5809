"""The small words of a description of a green: distances, rises, slopes, sides."""

import re

from carrybook.base.errors import BadInputError
from carrybook.base.units import HEIGHT, LENGTH, parse

__all__ = ["SIDE_WORDS", "STEEPEST_PCT", "length_of", "pattern", "rise_of", "slope_of", "towards"]

STEEPEST_PCT = 25.0  # ours; faces of tiers reach 20 % (golfcourseindustry-2016)

_NUMBER = r"[0-9]{1,6}(?:\.[0-9]{1,6})?"
_FAR = "|".join(sorted(LENGTH.spellings, key=len, reverse=True))
_RISES = "|".join(sorted(HEIGHT.spellings, key=len, reverse=True))
_ENDS = "(?:short|front|back|long|behind|over|beyond)"
SIDE_WORDS = rf"(?:{_ENDS}(?:[- ](?:left|right))?|(?:left|right)(?:[- ]{_ENDS})?)"
# What stands in the shapes of facts: a length, a rise, a slope in per cent, a side.
_PIECES = {
    "": rf"(?P<{{}}>{_NUMBER}(?: ?(?:{_FAR})(?![a-z]))?)",
    "^": rf"(?P<{{}}>{_NUMBER} ?(?:{_RISES})(?![a-z]))",
    "%": rf"(?P<{{}}>{_NUMBER}) ?(?:%|(?:pct|percent|per cent)\b)",
    "/": rf"(?P<{{}}>{SIDE_WORDS})\b",
}


def pattern(shape: str) -> re.Pattern[str]:
    """Fill in a shape: a blank stands for blanks, commas, colons or nothing; "_" for one blank."""
    shape = shape.replace(" ", "[ ,:]*").replace("_", " ")

    def piece(match: re.Match[str]) -> str:
        return _PIECES[match[2]].replace("{}", match[1])

    return re.compile(re.sub(r"(?<!\?P)<([a-z]+)([\^%/]?)>", piece, shape), re.IGNORECASE)


def length_of(typed: str | None, low: float = 0.0, high: float = 100.0) -> float:
    """A distance in metres; a bare number is paces; nothing is nothing."""
    if typed is None:
        return 0.0
    value = parse(typed, LENGTH, "distance", unit="paces")
    if not low <= value <= high:
        raise BadInputError(f"distance = {typed} is outside {low:g} to {high:g} m")
    return value


def rise_of(typed: str) -> float:
    """A rise in metres; it carries its unit."""
    value = parse(typed, HEIGHT, "rise")
    if not 0.02 <= value <= 6.0:
        raise BadInputError(f"rise = {typed} is outside 2 cm to 6 m")
    return value


def slope_of(per_cent: str) -> float:
    """A slope as rise over run."""
    if float(per_cent) > STEEPEST_PCT:
        raise BadInputError(f"slope = {per_cent} % is outside 0 to {STEEPEST_PCT:g} %")
    return float(per_cent) / 100.0


def towards(words: str) -> tuple[float, float]:
    """Unit vector of a side: x on, y left."""
    text = words.lower()
    x = -1.0 if re.search("short|front", text) else float(bool(re.search(_ENDS, text)))
    y = float("left" in text) - float("right" in text)
    size = (x * x + y * y) ** 0.5
    return x / size, y / size
