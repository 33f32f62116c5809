"""The one typeface of pictures and cards, and text made safe for it."""

from functools import cache
from pathlib import Path

import matplotlib
from matplotlib.ft2font import FT2Font

from carrybook.artefacts.words import one_line

__all__ = ["BOLD", "REGULAR", "drawable", "font_file"]

REGULAR = "DejaVuSans.ttf"
BOLD = "DejaVuSans-Bold.ttf"
_MISSING = "□"


def font_file(name: str) -> Path:
    """Where a typeface lies that matplotlib brings along."""
    return Path(matplotlib.get_data_path()) / "fonts" / "ttf" / name


def drawable(text: str, longest: int | None = None) -> str:
    """Make one line of `text` that the typeface can draw: a box for each character it lacks.

    Parameters
    ----------
    text : str
        As the person wrote it.
    longest : int, optional
        Cut to this many characters, ending in an ellipsis.
    """
    line = "".join(ch if ord(ch) in _covered() else _MISSING for ch in one_line(text))
    return line if longest is None or len(line) <= longest else line[: longest - 1] + "…"


@cache
def _covered() -> frozenset[int]:
    """Code points that both weights can draw."""
    regular, bold = (FT2Font(font_file(name)).get_charmap() for name in (REGULAR, BOLD))
    return frozenset(regular) & frozenset(bold)
