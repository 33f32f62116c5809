"""The sheet for those who leave the phone in the car: warm-up, targets, room to write; A4.

Rows are 8 mm high so that a pencil finds room; called and carried stand apart, so that the call is
written before the look.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from io import BytesIO

from reportlab.lib.pagesizes import A4
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas

from carrybook.artefacts import words as w
from carrybook.artefacts.card_items import Text, fitted, font_name, wrapped
from carrybook.artefacts.fonts import drawable
from carrybook.artefacts.practice_words import CAUTIONS, cues, load_words, step_words, warm_up_words
from carrybook.decision.practise.kinds import Kind
from carrybook.decision.practise.load import Load
from carrybook.decision.practise.parts import Plan, Step

__all__ = ["practice_sheet"]

_WIDTH, _HEIGHT = A4
_MARGIN = 14.0 * mm
_ROW = 8.0 * mm
_BODY, _SMALL, _TITLE = 9.5, 8.0, 15.0
_LEADING = 1.32
# Columns: head, left edge in mm from the margin; what is empty is written by hand.
_COLUMNS = (
    ("", 0.0),
    ("target", 9.0),
    ("shot", 28.0),
    ("feel", 55.0),
    ("lie", 71.0),
    ("called", 98.0),
    ("carried", 121.0),
    ("side", 145.0),
    ("", 182.0),
)


@dataclass(slots=True)
class _Pen:
    """Where the next thing goes, and on which page."""

    canvas: Canvas
    title: str
    page: int = 1
    y: float = _HEIGHT - _MARGIN

    def room(self, height: float) -> bool:
        """Make room; whether a new page was begun for it."""
        if self.y - height >= _MARGIN + 6.0 * mm:
            return False
        self.foot()
        self.canvas.showPage()
        self.page += 1
        self.y = _HEIGHT - _MARGIN
        return True

    def foot(self) -> None:
        """Say which page it is."""
        self.canvas.setFont(font_name(bold=False), _SMALL)
        self.canvas.drawString(_MARGIN, 9.0 * mm, self.title)
        self.canvas.drawRightString(_WIDTH - _MARGIN, 9.0 * mm, f"page {self.page}")

    def say(self, words: str, size: float = _BODY, *, bold: bool = False) -> None:
        """Write words in as many lines as they need."""
        text = Text(0.0, 0.0, drawable(words), size, bold)
        for line in wrapped(text, _WIDTH - 2.0 * _MARGIN):
            self.room(_LEADING * size)
            self.y -= _LEADING * size
            self.canvas.setFont(font_name(bold=bold), size)
            self.canvas.drawString(_MARGIN, self.y, line.words)


def practice_sheet(plan: Plan, load: Load, *, units: str = "yards") -> bytes:
    """Print a plan; the same plan gives the same bytes.

    Parameters
    ----------
    plan, load : Plan, Load
        The session, and the weeks before it.
    units : str
        "yards" or "metres".

    Raises
    ------
    BadInputError
        Units of another name.
    """
    u = w.units_named(units)
    what = "Standing test" if plan.standing else f"Practise: {plan.aim.value}"
    title = f"{what}, {plan.count} balls, {plan.takes_min:.0f} min"
    buffer = BytesIO()
    canvas = Canvas(buffer, A4, invariant=1, initialFontName=font_name(bold=False))
    canvas.setTitle(title)
    canvas.setCreator("carrybook")
    pen = _Pen(canvas, title)
    pen.say(title, _TITLE, bold=True)
    pen.say(f"Lengths in {u.far}. Call the carry before you look; wait some seconds; then write.")
    for words in (*load_words(load), *CAUTIONS):
        pen.say(words, _SMALL)
    number = 0
    for step in plan.steps:
        number = _step(pen, step, number, u)
    pen.y -= 3.0 * mm
    for shot, cue in cues(plan):
        pen.say(f"{shot}: {cue}", _SMALL)
    pen.foot()
    canvas.showPage()
    canvas.save()
    return buffer.getvalue()


def _step(pen: _Pen, step: Step, number: int, u: w.Units) -> int:
    """Write a part of the session; give the number of its last ball."""
    pen.y -= 2.5 * mm
    pen.room((14.0 * mm) + 2.0 * _ROW)
    pen.say(f"{step.kind.value.capitalize()}, {step.minutes:.0f} min", bold=True)
    if step.kind is Kind.WARM_UP:
        pen.say(f"{warm_up_words(step.warm_up, u)}.")
    if step.kind is Kind.REST:
        pen.say(f"{step_words(step, u)}.")
    if not step.balls:
        return number
    _heads(pen)
    for ball in step.balls:
        number += 1
        if pen.room(_ROW):
            _heads(pen)
        cells = (
            str(number),
            w.whole(ball.target_m, u),
            drawable(ball.play.shot),
            w.whole(ball.play.feel_m, u),
            str(ball.lie),
        )
        _row(pen, cells)
    return number


def _heads(pen: _Pen) -> None:
    pen.y -= 6.0 * mm
    pen.canvas.setFont(font_name(bold=False), _SMALL)
    for head, x in _COLUMNS:
        pen.canvas.drawString(_MARGIN + x * mm + 2.0, pen.y + 1.5 * mm, head)
    pen.canvas.setLineWidth(0.8)
    pen.canvas.line(_MARGIN, pen.y, _MARGIN + _COLUMNS[-1][1] * mm, pen.y)


def _row(pen: _Pen, cells: tuple[str, ...]) -> None:
    top, pen.y = pen.y, pen.y - _ROW
    canvas = pen.canvas
    for k, (cell, (left, right)) in enumerate(zip(cells, _edges(), strict=False)):
        bold = k == 1
        canvas.setFont(font_name(bold=bold), _BODY + (2.0 if bold else 0.0))
        words = fitted(cell, (right - left) * mm - 4.0, _BODY + (2.0 if bold else 0.0), bold=bold)
        canvas.drawString(_MARGIN + left * mm + 2.0, pen.y + 2.6 * mm, words)
    canvas.setLineWidth(0.35)
    for _, x in _COLUMNS:
        canvas.line(_MARGIN + x * mm, top, _MARGIN + x * mm, pen.y)
    canvas.line(_MARGIN, pen.y, _MARGIN + _COLUMNS[-1][1] * mm, pen.y)


def _edges() -> Iterator[tuple[float, float]]:
    yield from zip((x for _, x in _COLUMNS), (x for _, x in _COLUMNS[1:]), strict=False)
