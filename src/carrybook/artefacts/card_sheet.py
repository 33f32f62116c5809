"""The paper of a card: panels drawn at exact size, foot, cut and fold marks.

Black on white, one embedded typeface, 7 pt or more; the same blocks give the same bytes.
"""

from collections.abc import Iterator, Sequence
from io import BytesIO

from reportlab.lib.units import cm, inch
from reportlab.pdfgen.canvas import Canvas

from carrybook.artefacts.card_frames import (
    EDGE,
    SHEETS,
    Foot,
    Frame,
    Page,
    Panel,
    corner,
    foot_lines,
    panels_of,
    room,
    top,
)
from carrybook.artefacts.card_items import (
    BODY,
    HEIGHT,
    LARGE,
    LEADING,
    MARGIN,
    SMALL,
    TEXT_WIDTH,
    WIDTH,
    Block,
    Item,
    Line,
    Shape,
    Text,
    fitted,
    font_name,
    text_width,
)
from carrybook.artefacts.paper import Layout

__all__ = ["BARS", "CUT_MARK", "GREEN_BAR", "GREEN_MARK", "print_blocks"]

BARS = ((5.0 * cm, "5 cm"), (1.0 * inch, "1 in"))
# Tags around what a reader of the file measures: outline of a green, its bar, cut marks.
GREEN_MARK, GREEN_BAR, CUT_MARK = "CarrybookGreen", "CarrybookGreenBar", "CarrybookCut"

_PENCIL = 16.0  # points from one pencil line to the next
_MARK, _OFF = 14.0, 5.0  # length of a cut mark, and how far it stays off the card


def print_blocks(blocks: Sequence[Block], page: Page) -> bytes:
    """Lay blocks on as many sheets as they need; the same blocks, the same bytes.

    Parameters
    ----------
    blocks : sequence of Block
        In reading order. One that is taller than a panel is a mistake of the caller.
    page : Page
        Title, foot and layout.
    """
    buffer = BytesIO()
    size = SHEETS.get(page.layout.value, (WIDTH, HEIGHT))
    canvas = Canvas(buffer, size, invariant=1, initialFontName=font_name(bold=False))
    canvas.setTitle(page.title)
    canvas.setCreator("carrybook")
    canvas.setSubject(f"carrybook card, {page.profile} profile")
    panels = panels_of(blocks, page)
    for number, frame in enumerate(panels, start=1):
        _draw_panel(canvas, frame, panels[frame], page, number)
        following = list(panels)[number : number + 1]
        if not following or following[0].sheet != frame.sheet:
            _draw_marks(canvas, page.layout, size)
            canvas.showPage()
    canvas.save()
    return buffer.getvalue()


def _draw_panel(canvas: Canvas, frame: Frame, panel: Panel, page: Page, number: int) -> None:
    """Draw one panel in its own axes: origin at the top left, y down the panel."""
    canvas.saveState()
    canvas.translate(frame.x, frame.y)
    if frame.turned:
        canvas.translate(WIDTH, frame.height)
        canvas.rotate(180.0)
    canvas.translate(MARGIN, frame.height - EDGE)
    if frame.titled:
        folded = page.layout is Layout.FOLD
        label = f"sheet {frame.sheet // 2 + 1}" if folded else f"page {number}"
        for item in _title(page.title, label):
            _draw(canvas, 0.0, item)
    start, space = top(frame), room(frame, page)
    for y, block in panel.placed:
        for item in block.items:
            _draw(canvas, start + y, item)
    _draw_pencil_lines(canvas, start + panel.used, start + space)
    if frame.foot is not Foot.NONE:
        for item in _foot(foot_lines(frame, page)):
            _draw(canvas, start + space, item)
    canvas.restoreState()


def _title(title: str, label: str) -> Iterator[Item]:
    """Title as large as it fits on one line, and which page this is."""
    width = TEXT_WIDTH - 34.0
    sizes = (LARGE, BODY + 1.0, BODY)
    size = next((s for s in sizes if text_width(title, s, bold=True) <= width), BODY)
    words = fitted(title, width, size, bold=True)
    yield Text(0.0, LARGE, words, size, bold=True)
    yield Text(TEXT_WIDTH, LARGE, label, SMALL, right=True)


def _draw_pencil_lines(canvas: Canvas, start: float, end: float) -> None:
    y = start + _PENCIL
    while y <= end:
        _draw(canvas, 0.0, Line(0.0, y, TEXT_WIDTH, y, 0.35))
        y += _PENCIL


def _foot(lines: Sequence[str]) -> Iterator[Item]:
    """Scale bars, the 100 % mark and the cautions."""
    x, y = 0.0, 14.0
    for length, label in BARS:
        yield Line(x, y, x + length, y, 0.6)
        for end in (x, x + length):
            yield Line(end, y - 3.0, end, y + 3.0, 0.6)
        yield Text(x + length + 3.0, y + 2.5, label, SMALL)
        x += length + 28.0
    for row, words in enumerate(lines):
        yield Text(0.0, y + 2.0 + (row + 1) * LEADING * SMALL, words, SMALL)


def _draw_marks(canvas: Canvas, layout: Layout, size: tuple[float, float]) -> None:
    """Cut marks off the corners of imposed cards; fold marks at the edges of a folded one."""
    canvas.saveState()
    if layout is Layout.FOLD:
        for x in (0.0, WIDTH - 9.0):
            _draw(canvas, 0.0, Line(x, -HEIGHT / 2.0, x + 9.0, -HEIGHT / 2.0, 0.5))
    if layout.value in SHEETS:
        for mark in _cut_marks(*corner(layout)):
            _draw(canvas, 0.0, mark)
        words = "Cut at the marks. Print at 100 %, landscape."
        _draw(canvas, 0.0, Text(corner(layout)[0] + 10.0, 20.0 - size[1], words, SMALL))
    canvas.restoreState()


def _cut_marks(x0: float, y0: float) -> Iterator[Line]:
    ys = (-y0, -y0 - HEIGHT)
    xs = (x0, x0 + WIDTH, x0 + 2.0 * WIDTH)
    for x in xs:
        for y, away in zip(ys, (1.0, -1.0), strict=True):
            yield Line(x, y + away * _OFF, x, y + away * (_OFF + _MARK), 0.3, CUT_MARK)
    for y in ys:
        for x, away in ((xs[0], -1.0), (xs[-1], 1.0)):
            yield Line(x + away * _OFF, y, x + away * (_OFF + _MARK), y, 0.3, CUT_MARK)


def _draw(canvas: Canvas, top: float, item: Item) -> None:
    """Draw one item of a block whose top is `top` below the origin."""
    if isinstance(item, Text):
        canvas.setFont(font_name(bold=item.bold), item.size)
        write = canvas.drawRightString if item.right else canvas.drawString
        write(item.x, -top - item.y, item.words)
        return
    canvas.setLineWidth(item.width)
    if item.tag:
        lengths = " ".join(f"{m:.4f}" for m in item.metres)
        canvas.addLiteral(f"/{item.tag} <</Metres [{lengths}]>> BDC")
    if isinstance(item, Line):
        canvas.line(item.x0, -top - item.y0, item.x1, -top - item.y1)
    else:
        _draw_shape(canvas, top, item)
    if item.tag:
        canvas.addLiteral("EMC")


def _draw_shape(canvas: Canvas, top: float, shape: Shape) -> None:
    canvas.saveState()
    if shape.within:
        canvas.clipPath(_path(canvas, top, shape.within, closed=True), stroke=0, fill=0)
    canvas.setDash(list(shape.dash))
    path = _path(canvas, top, shape.points, closed=shape.closed)
    canvas.drawPath(path, stroke=1, fill=int(shape.filled))
    canvas.restoreState()


def _path(
    canvas: Canvas, top: float, points: Sequence[tuple[float, float]], *, closed: bool
) -> object:
    path = canvas.beginPath()
    path.moveTo(points[0][0], -top - points[0][1])
    for x, y in points[1:]:
        path.lineTo(x, -top - y)
    if closed:
        path.close()
    return path
