"""How much of a swing is meant, in words, fractions or the hands of a clock; none is imposed.

A player who feels yards needs none of this. For the others a name gives a first guess of the carry,
until they say or measure what it carries.
"""

import re

from carrybook.player.bag import Effort, Shot, Source

__all__ = ["effort_carry", "share_of"]

# Swing lengths as the trade names them (common practice, no source). That a swing carries its share
# of the stock carry is ours; one published chart of three swings a club has 0.32 to 0.60 and 0.66
# to 0.79 of the longest.
_WORDS = {
    "full": 1.0,
    "stock": 1.0,
    "shoulder": 0.75,
    "three quarter": 0.75,
    "three quarters": 0.75,
    "chest": 0.6,
    "half": 0.5,
    "hip": 0.4,
    "waist": 0.4,
    "quarter": 0.25,
    "knee": 0.25,
}
_FRACTION = re.compile(r"(\d)\s*/\s*(\d)")
_PER_CENT = re.compile(r"(\d{1,3})\s*(?:%|percent|per cent)")
_CLOCK = re.compile(r"(\d{1,2})(?:[:.](\d\d))?\s*(?:o'?\s?clock)")


# Hands of the clock that carry nothing and all of it; between them straight (ours).
_STILL, _FULL = 6.0, 12.0


def share_of(words: str) -> float | None:
    """Share of a full swing that some words name; None for words that name none.

    Parameters
    ----------
    words : str
        "three quarter", "3/4", "75%", "9 o'clock"; capitals and hyphens do not matter.

    Returns
    -------
    share : float or None
        0.1 to 1.2 of the stock carry. [1]
    """
    said = " ".join(words.lower().replace("-", " ").replace("’", "'").split())
    share = _WORDS.get(said)
    if found := _FRACTION.fullmatch(said):
        share = int(found[1]) / int(found[2]) if found[2] != "0" else None
    if found := _PER_CENT.fullmatch(said):
        share = int(found[1]) / 100.0
    if found := _CLOCK.fullmatch(said):
        hour = int(found[1]) + int(found[2] or 0) / 60.0
        share = (hour - _STILL) / (_FULL - _STILL)
    return share if share is not None and 0.1 <= share <= 1.2 else None


def effort_carry(shot: Shot, words: str) -> Effort | None:
    """What a swing of a shot is meant to carry: as the player said, else as its name says.

    Parameters
    ----------
    shot : Shot
        The shot.
    words : str
        The name of the swing.

    Returns
    -------
    effort : Effort or None
        None for a name that neither the shot nor the trade knows.
    """
    plain = " ".join(words.lower().split())
    for effort in shot.efforts:
        if effort.name.lower() == plain:
            return effort
    if plain and plain == shot.stock_effort.lower():
        return Effort(words, shot.stock_carry_m, shot.carry_source)
    share = share_of(words)
    return None if share is None else Effort(words, share * shot.stock_carry_m, Source.PRIOR)
