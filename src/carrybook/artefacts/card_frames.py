"""Which panel of which sheet every block of a card goes to, for each way it may lie on paper."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from enum import StrEnum
from itertools import islice, takewhile

from reportlab.lib.units import cm, inch

from carrybook.artefacts.card_items import HEIGHT, LARGE, LEADING, MARGIN, SMALL, WIDTH, Block
from carrybook.artefacts.paper import Layout

__all__ = [
    "EDGE", "SHEETS", "TITLE", "Foot", "Frame", "Page", "Panel", "corner", "foot_lines",
    "frames_of", "panels_of", "room", "top",
]  # fmt: skip


SHEETS = {"a4": (29.7 * cm, 21.0 * cm), "letter": (11.0 * inch, 8.5 * inch)}  # ISO 216; ANSI A
TITLE = 1.7 * LARGE  # height of the title of a panel [points]
EDGE = 0.85 * MARGIN  # kept free above and below


class Foot(StrEnum):
    """How much stands in the foot of a panel."""

    NONE = "none"
    SHORT = "short"
    WHOLE = "whole"


@dataclass(frozen=True, slots=True)
class Page:
    """What stands on every panel and in the foot."""

    title: str
    cautions: tuple[str, ...]
    profile: str
    layout: Layout


@dataclass(frozen=True, slots=True)
class Frame:
    """One panel: which sheet, where its lower left corner is, what stands above and below.

    A whole foot has every caution, a short one only the first; without bars there is none.
    """

    sheet: int
    x: float
    y: float
    height: float
    turned: bool = False
    titled: bool = True
    foot: Foot = Foot.WHOLE


@dataclass(slots=True)
class Panel:
    """A frame being filled from the top: what lies where, and how far down it is used."""

    room: float
    used: float = 0.0
    head: Block | None = None
    placed: list[tuple[float, Block]] = field(default_factory=list)

    def holds(self, height: float) -> bool:
        """Whether so much still fits."""
        return self.used + height <= self.room

    def take(self, block: Block) -> bool:
        """Put a block, below its head if that does not stand here yet; say whether it fits."""
        head = block.head if block.head is not self.head else None
        above = head.height + head.gap if head else 0.0
        if self.placed and not self.holds(above + block.height):
            return False
        if head:
            self.placed.append((self.used, head))
        self.placed.append((self.used + above, block))
        self.used += above + block.height + block.gap
        self.head = block.head
        return True


def panels_of(blocks: Sequence[Block], page: Page) -> dict[Frame, Panel]:
    """Give every block its panel; sheets are always whole, in the order they are printed.

    A table goes to the next panel where it does not fit into this one but would there.
    """
    frames = frames_of(page.layout)
    panels: dict[Frame, Panel] = {}

    def turn() -> Panel:
        frame = next(frames)
        panels[frame] = Panel(room(frame, page))
        return panels[frame]

    largest = max(room(frame, page) for frame in islice(frames_of(page.layout), 4))
    panel = turn()
    for k, block in enumerate(blocks):
        starts = block.head is not None and block.head is not panel.head
        whole = _table_height(blocks, k) if starts else block.height
        while panel.placed and not panel.holds(whole) and whole <= largest:
            panel = turn()
            if not panel.holds(whole):
                panel.placed.append((0.0, Block(0.0)))  # left free, for a pencil
        if not panel.take(block):
            panel = turn()
            panel.take(block)
    while len(panels) % _PER_SHEET[page.layout]:
        turn()
    return _as_printed(panels) if page.layout is Layout.FOLD else panels


def _table_height(blocks: Sequence[Block], start: int) -> float:
    """Height of a table with its head, from one of its rows on."""
    head = blocks[start].head
    rows = takewhile(lambda block: block.head is head, blocks[start:])
    return (head.height + head.gap if head else 0.0) + sum(b.height + b.gap for b in rows)


def _as_printed(panels: dict[Frame, Panel]) -> dict[Frame, Panel]:
    """Turn the order of reading into that of sheets: the outer side of each leaf first."""
    return dict(sorted(panels.items(), key=lambda item: item[0].sheet))


_PER_SHEET = {Layout.SINGLE: 1, Layout.FOLD: 4, Layout.A4: 2, Layout.LETTER: 2}


def frames_of(layout: Layout) -> Iterator[Frame]:
    """Panels without end, in the order they are read."""
    sheet, half = 0, HEIGHT / 2.0
    while True:
        if layout is Layout.SINGLE:
            yield Frame(sheet, 0.0, 0.0, HEIGHT)
        elif layout is Layout.FOLD:  # front, inside above, inside below, back
            yield Frame(2 * sheet, 0.0, 0.0, half, foot=Foot.NONE)
            yield Frame(2 * sheet + 1, 0.0, half, half, titled=False, foot=Foot.NONE)
            yield Frame(2 * sheet + 1, 0.0, 0.0, half, titled=False, foot=Foot.SHORT)
            yield Frame(2 * sheet, 0.0, half, half, turned=True, titled=False)
        else:
            x, y = corner(layout)
            yield Frame(sheet, x, y, HEIGHT)
            yield Frame(sheet, x + WIDTH, y, HEIGHT)
        sheet += 1


def corner(layout: Layout) -> tuple[float, float]:
    """Lower left corner of the two cards in the middle of a sheet."""
    width, height = SHEETS[layout.value]
    return (width - 2.0 * WIDTH) / 2.0, (height - HEIGHT) / 2.0


def top(frame: Frame) -> float:
    """Height of what stands above the blocks."""
    return TITLE if frame.titled else 0.0


def room(frame: Frame, page: Page) -> float:
    """Height left for blocks between title and foot."""
    return frame.height - 2.0 * EDGE - top(frame) - _foot_height(frame, page)


def _foot_height(frame: Frame, page: Page) -> float:
    if frame.foot is Foot.NONE:
        return 0.0
    return 16.0 + len(foot_lines(frame, page)) * LEADING * SMALL


def foot_lines(frame: Frame, page: Page) -> tuple[str, ...]:
    """Lines below the scale bars."""
    cautions = page.cautions if frame.foot is Foot.WHOLE else page.cautions[:1]
    return ("Print at 100 %: the bars measure as they say.", *cautions)
