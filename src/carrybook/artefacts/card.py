"""The pocket card: today's numbers and the plans made before the round, as a PDF at exact size.

Black on white, text only. It shows no green and no slope, so that it stays within Rule 4.3a and
within Model Local Rule G-11, which leaves carries and swing thoughts alone (rules-of-golf-2023).
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cache
from io import BytesIO

from reportlab.lib.units import cm, inch
from reportlab.pdfbase.pdfmetrics import registerFont, stringWidth
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from carrybook.artefacts import words as w
from carrybook.artefacts.fonts import BOLD, REGULAR, drawable, font_file
from carrybook.decision.advice import Advice
from carrybook.player.numbers import TodayNumber
from carrybook.world.air import Air

__all__ = ["pocket_card"]

_WIDTH, _HEIGHT = 4.25 * inch, 7.0 * inch  # Clarification 4.3a/1, rules-of-golf-2023
_MARGIN = 18.0  # points, as everything below
_FOOT = 88.0  # kept free for scale bar and cautions
_LARGE, _BODY, _SMALL = 10.0, 8.0, 7.0
_LEADING = 1.32
_PENCIL = 15.0  # from one pencil line to the next
_RIGHT_EDGES = (112.0, 150.0, 186.0, 216.0, _WIDTH - _MARGIN)  # of the columns after the shot
_CAUTIONS = (
    "Prepared before the round - check local rules (G-5, G-11).",
    "Lightning: leave at the first thunder, wait 30 minutes after the last.",
    "Numbers are estimates from your own balls. The player decides.",
)


def pocket_card(
    numbers: Sequence[TodayNumber],
    air: Air,
    *,
    title: str,
    advices: Sequence[Advice] = (),
    units: str = "yards",
) -> bytes:
    """Print today's carries and the plans of a round on pages of 4.25 by 7 in.

    Parameters
    ----------
    numbers : sequence of TodayNumber
        One for each shot, in the order to print.
    air : Air
        The air they were computed for.
    title : str
        Player, venue or day; stands on top of every page.
    advices : sequence of Advice
        Plans for the round; the best option of each is printed.
    units : str
        "yards" or "metres".

    Returns
    -------
    pdf : bytes
        As many pages as it takes at a size that can be read; the same input, the same bytes.

    Raises
    ------
    BadInputError
        Units of another name.
    """
    u = w.units_named(units)
    buffer = BytesIO()
    canvas = Canvas(buffer, (_WIDTH, _HEIGHT), invariant=1, initialFontName=_font(bold=False))
    canvas.setTitle(drawable(title))
    canvas.setCreator("carrybook")
    sheet = _Sheet(canvas, drawable(title))
    sheet.open_page()
    sheet.write([_Line(f"Carries in {u.far}: {w.air_words(air)}, level and calm", _SMALL)])
    _write_numbers(sheet, numbers, u)
    for advice in advices:
        sheet.write(list(_plan(advice, u)), pencil_lines=1)
    sheet.fill()
    sheet.close_page()
    canvas.save()
    return buffer.getvalue()


@dataclass(frozen=True, slots=True)
class _Line:
    text: str
    size: float = _BODY
    bold: bool = False


@dataclass(slots=True)
class _Sheet:
    """Pages written from the top down; a block that does not fit starts a new one."""

    canvas: Canvas
    title: str
    y: float = 0.0
    page: int = 0

    def open_page(self) -> None:
        """Start at the top, below the title."""
        self.page += 1
        self.y = _HEIGHT - _MARGIN
        title = _fitted(_Line(self.title, _LARGE, bold=True), _WIDTH - 2.0 * _MARGIN - 40.0)
        number = _Line(f"page {self.page}", _SMALL)
        self._text(_MARGIN, self.y - _LARGE, title)
        self._text(_WIDTH - _MARGIN, self.y - _LARGE, number, to_the_left=True)
        self.y -= 1.6 * _LARGE

    def close_page(self) -> None:
        """Draw scale bar and cautions, and go on."""
        self._scale_bar(_MARGIN, 74.0, 5.0 * cm, "5 cm")
        self._scale_bar(_MARGIN, 60.0, 2.0 * inch, "2 in")
        self._text(_MARGIN + 178.0, 67.0, _Line("print at 100 %", _SMALL))
        for row, caution in enumerate(_CAUTIONS):
            self._text(_MARGIN, 44.0 - row * _LEADING * _SMALL, _Line(caution, _SMALL))
        self.canvas.showPage()

    def need(self, height: float) -> bool:
        """Turn the page unless `height` is left on this one; say whether it was turned."""
        if self.y - height >= _FOOT:
            return False
        self.close_page()
        self.open_page()
        return True

    def write(self, lines: Sequence[_Line], *, pencil_lines: int = 0) -> None:
        """Write a block that stays together, with room for a pencil below."""
        rows = [row for line in lines for row in _wrapped(line, _WIDTH - 2.0 * _MARGIN)]
        height = sum(_LEADING * row.size for row in rows) + pencil_lines * _PENCIL
        self.need(height)
        for row in rows:
            self.y -= _LEADING * row.size
            self._text(_MARGIN, self.y, row)
        for _ in range(pencil_lines):
            self.pencil_line()
        self.y -= 4.0

    def write_row(self, cells: Sequence[str], *, bold: int = -1, size: float = _BODY) -> None:
        """Write one row of the table of numbers; `bold` is the column that stands out."""
        self.y -= _LEADING * size
        first = _fitted(_Line(cells[0], size), _RIGHT_EDGES[0] - _MARGIN - 26.0)
        self._text(_MARGIN, self.y, first)
        for k, (cell, edge) in enumerate(zip(cells[1:], _RIGHT_EDGES, strict=True), start=1):
            self._text(edge, self.y, _Line(cell, size, bold=k == bold), to_the_left=True)

    def pencil_line(self) -> None:
        """Rule a line to write on."""
        self.y -= _PENCIL
        self.canvas.setLineWidth(0.4)
        self.canvas.line(_MARGIN, self.y, _WIDTH - _MARGIN, self.y)

    def fill(self) -> None:
        """Rule what is left of the page."""
        while self.y - _PENCIL >= _FOOT:
            self.pencil_line()

    def _text(self, x: float, y: float, line: _Line, *, to_the_left: bool = False) -> None:
        self.canvas.setFont(_font(bold=line.bold), line.size)
        draw = self.canvas.drawRightString if to_the_left else self.canvas.drawString
        draw(x, y, line.text)

    def _scale_bar(self, x: float, y: float, length: float, label: str) -> None:
        self.canvas.setLineWidth(0.6)
        self.canvas.line(x, y, x + length, y)
        for end in (x, x + length):
            self.canvas.line(end, y - 3.0, end, y + 3.0)
        self._text(x + length + 6.0, y - 2.5, _Line(label, _SMALL))


def _write_numbers(sheet: _Sheet, numbers: Sequence[TodayNumber], u: w.Units) -> None:
    head = ("shot", "reference", "today", "one ball", "feel", "partials, felt")
    sheet.write_row(head, size=_SMALL)
    for n in numbers:
        if sheet.need(_LEADING * _BODY):
            sheet.write_row(head, size=_SMALL)
        sheet.write_row(_number_cells(n, u), bold=2)
    notes = ["one ball: two balls in three stray no further"]
    if any(n.summary.balls == 0 for n in numbers):
        notes.append("* your word, no balls yet")
    sheet.write([_Line(note, _SMALL) for note in notes])


def _number_cells(n: TodayNumber, u: w.Units) -> tuple[str, ...]:
    shot = n.summary.shot
    reference, feel = w.whole(n.reference_m, u), w.whole(shot.stock_carry_m, u)
    return (
        drawable(shot.label) + ("" if n.summary.balls else " *"),
        reference,
        w.whole(n.today_m, u),
        f"± {max(1, round(n.spread_m / u.far_m))}",
        feel if feel != reference else "",
        f"{w.whole(shot.shortest_m, u)} to {w.whole(shot.longest_m, u)}",
    )


def _plan(advice: Advice, u: w.Units) -> Iterator[_Line]:
    s, o = advice.situation, advice.options[0]
    at, shot = s.location, o.summary.shot
    ref = drawable(s.hole.ref, 8)
    yield _Line(f"Hole {ref}: {w.distance(s.number_m, u)}, {w.location_words(at)}", bold=True)
    where = f"{w.short_or_past(o.landing_to_hole_m, u)}, {w.sideways(o.landing_right_m, u)}"
    made_for = f"made for {s.lie}, {s.moisture}; wind {w.wind_words(s.wind, u)}"
    yield _Line(made_for, _SMALL)
    yield _Line(f"{drawable(shot.label)}: land {where}")
    yield _Line(
        f"plays {w.distance(o.playing_m, u)}, feel {w.distance(o.feel_m, u)};"
        f" start {w.start_words(o.aim_right_m, u)}"
    )
    if o.miss is not None:
        yield _Line(f"the miss to avoid: {o.miss}, {w.per_cent(o.troubles[o.miss])}")
    if shot.cue:
        yield _Line(f'"{drawable(shot.cue)}"', _SMALL)


@cache
def _font(*, bold: bool) -> str:
    """Name under which the typeface is known to the PDF library, from now on."""
    name = "carrybook-bold" if bold else "carrybook"
    registerFont(TTFont(name, str(font_file(BOLD if bold else REGULAR))))
    return name


def _wrapped(line: _Line, width: float) -> Iterator[_Line]:
    """Break a line between words, and inside a word where no space comes in time."""
    font, rest = _font(bold=line.bold), line.text
    while stringWidth(rest, font, line.size) > width:
        fits = len(rest)
        while stringWidth(rest[:fits], font, line.size) > width:
            fits -= 1
        space = rest.rfind(" ", 1, fits + 1)
        end = space if space > 0 else fits
        yield replace(line, text=rest[:end])
        rest = rest[end:].lstrip()
    yield replace(line, text=rest)


def _fitted(line: _Line, width: float) -> _Line:
    """Cut a line with an ellipsis where it would run into its neighbour."""
    font, text = _font(bold=line.bold), line.text
    if stringWidth(text, font, line.size) <= width:
        return line
    while text and stringWidth(text + "…", font, line.size) > width:
        text = text[:-1]
    return replace(line, text=text + "…")
