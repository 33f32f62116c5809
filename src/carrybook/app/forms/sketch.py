"""A green as it is sketched: facts and an outline in words, and heights of spots, a line each."""

import re
from dataclasses import dataclass

from carrybook.base import units as u
from carrybook.base.errors import BadInputError

__all__ = ["Sketch", "sketch_of"]

_EXAMPLE = "height 12 on, 3 right: 18in"
_MOST = 200  # ours: heights of one sketch
_NUMBER = r"[-+−]?\d+(?:[.,]\d+)?"
_SPOT = re.compile(
    rf"(?P<on>{_NUMBER})(?: on)?,? +(?P<aside>{_NUMBER})(?: (?P<side>left|right))?"
    r"[ :,]+(?P<high>.+)",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class Sketch:
    """What was sketched.

    Parameters
    ----------
    words : str
        Everything but the heights.
    heights : tuple of (float, float, float)
        Paces from where the outline counts, to the right of the approach, and height. [m, m, m]
    """

    words: str
    heights: tuple[tuple[float, float, float], ...]

    def readings(self, front_m: float) -> bytes:
        """The heights as a file of readings, from the front edge of the green."""
        rows = (f"{on - front_m:.3f},{right:.3f},{high:.4f}" for on, right, high in self.heights)
        return "\n".join(("on_m,right_m,height_m", *rows)).encode()


def sketch_of(text: str) -> Sketch:
    """Take heights and words apart.

    Parameters
    ----------
    text : str
        Lines like "height 12 on, 3 right: 18in" among those of a description of a green.

    Raises
    ------
    BadInputError
        A height that is not understood, or too many.
    """
    words, heights = [], []
    for number, line in enumerate(text.splitlines(), start=1):
        fact = " ".join(line.split())
        if fact.lower().startswith("height "):
            heights.append(_spot(fact, f"line {number}"))
            words.append("")  # so that messages about the rest name the line as it is here
        else:
            words.append(line)
    if len(heights) > _MOST:
        raise BadInputError(f"the sketch has {len(heights)} heights; at most {_MOST}")
    return Sketch("\n".join(words), tuple(heights))


def _spot(fact: str, where: str) -> tuple[float, float, float]:
    found = _SPOT.fullmatch(fact[len("height ") :].strip())
    if found is None:
        raise BadInputError(f"{where}: {fact[:60]!r} is not understood; write it like '{_EXAMPLE}'")
    try:
        on, aside = (u.parse(found[k], u.SIDE, "place", unit="paces") for k in ("on", "aside"))
        high = u.parse(found["high"], u.HEIGHT, "height")
    except BadInputError as error:
        raise BadInputError(f"{where}: {error}") from None
    left = (found["side"] or "").lower() == "left"
    return on, -aside if left else aside, high
