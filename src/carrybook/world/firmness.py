"""How firm a green is: a word, or the reading of a hammer, with how unsure it is; and its water."""

import re
from enum import StrEnum

from carrybook.base.errors import BadInputError, require_range
from carrybook.base.units import CLEGG, CLEGG_SD, WATER_CHANGE, parse

__all__ = [
    "DAMPNESS",
    "FIRMNESS",
    "UNSEEN",
    "TurfKind",
    "dampened",
    "firmness_named",
    "water_change_named",
]

# Clegg gravities of a 0.5 kg hammer, peak deceleration in g: middles of our working classes, whose
# limits are 80, 100 and 120 g. Readings of a 2.25 kg hammer are another scale.
FIRMNESS: dict[str, float] = {"soft": 70.0, "medium": 90.0, "firm": 110.0, "very firm": 130.0}

# Ours: one standard deviation of a green called by a word, and of one that was measured. [g]
_SD_OF_WORD = 10.0
_SD_OF_READING = 5.0
# Ours, about the guideline of 75 to 125 g (turf-classes): a green of which nobody said anything.
UNSEEN = (95.0, 20.0)

# Ours: water of the turf, in parts of its volume, more than on the day its firmness was judged.
DAMPNESS: dict[str, float] = {
    "dried out": -0.09,
    "drier": -0.04,
    "as judged": 0.0,
    "damper": 0.05,
    "wet": 0.10,
    "soaked": 0.16,
}
# turf-classes: one site went from 70 g at 41 % water to 98 g at 23 %: -1.6 g a per cent. Ours: sd.
_FIRMNESS_PER_WATER = (-160.0, 80.0)  # g per part of the volume

_AND_SD = re.compile(r"^(.*?)\s*(?:\+-|\+/-|±)\s*(.*)$")


class TurfKind(StrEnum):
    """The two kinds of green of haake-1994; between them while nobody knows which it is."""

    UNKNOWN = "unknown"
    GRIPPING = "gripping"  # slow to drain, much annual meadow grass: balls leave with topspin
    FREE = "freely drained"  # under 60 % annual meadow grass: much backspin is kept


def firmness_named(words: str) -> tuple[float, float]:
    """Firmness for a word or a reading.

    Parameters
    ----------
    words : str
        One of :data:`FIRMNESS`, or a reading of a 0.5 kg hammer such as "105g"; with how unsure it
        is, "108g+-6g".

    Returns
    -------
    firmness_g, sd_g : float
        Firmness and its standard deviation. [Clegg gravities, 0.5 kg hammer]

    Raises
    ------
    BadInputError
        Words we do not know, or a number without its unit; the message shows how to write it.
    OutOfRangeError
        A reading that no green gives, or one too unsure to mean anything.
    """
    parted = _AND_SD.match(words)
    if parted is not None:
        sd = parse(parted[2], CLEGG_SD, "uncertainty of the firmness")
        return firmness_named(parted[1])[0], sd
    name = " ".join(words.lower().replace("-", " ").split())
    if name in FIRMNESS:
        return FIRMNESS[name], _SD_OF_WORD
    if any(ch.isdigit() for ch in name):
        return parse(words, CLEGG, "firmness"), _SD_OF_READING
    known = ", ".join(FIRMNESS)
    raise BadInputError(
        f"firmness = {words!r} is not one of: {known};"
        f" nor a reading of a 0.5 kg hammer like {CLEGG.example}"
    )


def water_change_named(words: str) -> float:
    """Water of the turf for a word, or a change such as "+6%".

    Parameters
    ----------
    words : str
        One of :data:`DAMPNESS`, or per cent of the volume more than when firmness was judged.

    Returns
    -------
    change : float
        More water than then, in parts of the volume. [1]

    Raises
    ------
    BadInputError
        Words we do not know.
    OutOfRangeError
        A change that no turf makes.
    """
    name = " ".join(words.lower().replace("_", " ").split())
    if name in DAMPNESS:
        return DAMPNESS[name]
    if any(ch.isdigit() for ch in name):
        return parse(words, WATER_CHANGE, "moisture")
    raise BadInputError(
        f"moisture = {words!r} is not one of: {', '.join(DAMPNESS)}; nor a change of the water in"
        f" the turf like {WATER_CHANGE.example}"
    )


def dampened(firmness_g: float, sd_g: float, water_change: float) -> tuple[float, float]:
    """Firmness after the turf took up or lost water, and how unsure it then is.

    Parameters
    ----------
    firmness_g, sd_g : float
        As it was judged. [Clegg gravities]
    water_change : float
        More water since, in parts of the volume, -0.3 to 0.3. [1]

    Returns
    -------
    firmness_g, sd_g : float
        Held within 40 to 160 g. [Clegg gravities]

    Raises
    ------
    OutOfRangeError
        A change that no turf makes.

    Notes
    -----
    1.6 g less for each per cent of the volume, from one site wet and dried (turf-classes); over
    many courses water explained 19 to 63 % of hardness (linde-2009), so half of it is the error.
    """
    require_range("moisture", 100.0 * water_change, -30.0, 30.0, "%")
    middle, sd = _FIRMNESS_PER_WATER
    moved = min(max(firmness_g + middle * water_change, CLEGG.low), CLEGG.high)
    return moved, float((sd_g**2 + (sd * water_change) ** 2) ** 0.5)
