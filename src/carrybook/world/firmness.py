"""How firm a green is: a word, or the reading of a hammer, with how unsure it is."""

from carrybook.base.errors import BadInputError
from carrybook.base.units import CLEGG, parse

__all__ = ["FIRMNESS", "firmness_named"]

# Clegg gravities of a 0.5 kg hammer, peak deceleration in g: middles of our working classes, whose
# limits are 80, 100 and 120 g. Readings of a 2.25 kg hammer are another scale.
FIRMNESS: dict[str, float] = {"soft": 70.0, "medium": 90.0, "firm": 110.0, "very firm": 130.0}

# Ours: one standard deviation of a green called by a word, and of one that was measured. [g]
_SD_OF_WORD = 10.0
_SD_OF_READING = 5.0


def firmness_named(words: str) -> tuple[float, float]:
    """Firmness for a word or a reading.

    Parameters
    ----------
    words : str
        One of :data:`FIRMNESS`, or a reading of a 0.5 kg hammer such as "105g".

    Returns
    -------
    firmness_g, sd_g : float
        Firmness and its standard deviation. [Clegg gravities, 0.5 kg hammer]

    Raises
    ------
    BadInputError
        Words we do not know, or a number without its unit; the message shows how to write it.
    OutOfRangeError
        A reading that no green gives.
    """
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
