"""What a card is made of: words, lines and shapes in blocks, measured in the card's own typeface.

A block is a plain value with its origin at the top left and y counting down, in points; nothing is
drawn here.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache

from reportlab.lib.units import inch
from reportlab.pdfbase.pdfmetrics import registerFont, stringWidth
from reportlab.pdfbase.ttfonts import TTFont

from carrybook.artefacts.fonts import BOLD, REGULAR, font_file

__all__ = [
    "BODY",
    "HEIGHT",
    "LARGE",
    "LEADING",
    "MARGIN",
    "SMALL",
    "TEXT_WIDTH",
    "WIDTH",
    "Block",
    "Item",
    "Line",
    "Shape",
    "Text",
    "fitted",
    "font_name",
    "text_width",
    "wrapped",
]

WIDTH, HEIGHT = 4.25 * inch, 7.0 * inch  # Clarification 4.3a/1, rules-of-golf-2023
MARGIN = 18.0  # points, as everything below
TEXT_WIDTH = WIDTH - 2.0 * MARGIN
LARGE, BODY, SMALL = 10.5, 8.5, 7.2
LEADING = 1.32
_GAP = 4.0  # between blocks


@dataclass(frozen=True, slots=True)
class Text:
    """Words: x from the left, y of the base line from the top; `right` ends them at x."""

    x: float
    y: float
    words: str
    size: float = BODY
    bold: bool = False
    right: bool = False


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line between two points; `tag` marks it for whoever measures the file."""

    x0: float
    y0: float
    x1: float
    y1: float
    width: float = 0.5
    tag: str = ""
    metres: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Shape:
    """A path through points: closed or open, filled or not, within a closed path if given."""

    points: tuple[tuple[float, float], ...]
    width: float = 0.5
    closed: bool = False
    filled: bool = False
    dash: tuple[float, ...] = ()
    within: tuple[tuple[float, float], ...] = ()
    tag: str = ""
    metres: tuple[float, ...] = ()


Item = Text | Line | Shape


@dataclass(frozen=True, slots=True)
class Block:
    """What stays together: a height and what is drawn in it; `head` stands above, once a panel."""

    height: float
    items: tuple[Item, ...] = ()
    head: "Block | None" = None
    gap: float = _GAP


def text_width(words: str, size: float, *, bold: bool = False) -> float:
    """Width of words in points."""
    return float(stringWidth(words, font_name(bold=bold), size))


def wrapped(text: Text, width: float) -> Iterator[Text]:
    """Break words between spaces, and inside a word where no space comes in time; `y` counts up."""
    rest, y = text.words, text.y
    while text_width(rest, text.size, bold=text.bold) > width:
        fits = len(rest)
        while text_width(rest[:fits], text.size, bold=text.bold) > width:
            fits -= 1
        space = rest.rfind(" ", 1, fits + 1)
        end = space if space > 0 else fits
        yield replace(text, words=rest[:end], y=y)
        rest, y = rest[end:].lstrip(), y + LEADING * text.size
    yield replace(text, words=rest, y=y)


def fitted(words: str, width: float, size: float = BODY, *, bold: bool = False) -> str:
    """Cut words with an ellipsis where they would run into their neighbour."""
    if text_width(words, size, bold=bold) <= width:
        return words
    while words and text_width(words + "…", size, bold=bold) > width:
        words = words[:-1]
    return words + "…"


@cache
def font_name(*, bold: bool) -> str:
    """Name under which the typeface is known to the PDF library, from now on."""
    name = "carrybook-bold" if bold else "carrybook"
    registerFont(TTFont(name, str(font_file(BOLD if bold else REGULAR))))
    return name
