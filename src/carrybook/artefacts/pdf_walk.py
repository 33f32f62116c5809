"""Follows what a page of a PDF paints, operator by operator, with its transformations.

So a length or a letter is measured as it prints, whoever made the file. The operators are those of
ISO 32000; what only a viewer uses is passed over.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from pypdf import PdfReader
from pypdf.generic import ContentStream

from carrybook.artefacts.pdf_values import PageFacts, Segment, Tagged
from carrybook.base.numerics import Floats

__all__ = ["Walk"]

_DEEPEST = 8  # forms within forms; deeper is no card
_IDENTITY = np.eye(3)
_SHOWS_TEXT = (b"Tj", b"TJ", b"'", b'"')
_PAINTS = (b"S", b"s", b"f", b"F", b"f*", b"B", b"B*", b"b", b"b*")
_COLOURS = (b"rg", b"RG", b"k", b"K", b"sc", b"SC", b"scn", b"SCN")


@dataclass(slots=True)
class _State:
    """What `q` keeps and `Q` gives back."""

    ctm: Floats
    size: float = 0.0


class Walk:
    """Follows the operators of a page and writes down what they paint."""

    def __init__(self, facts: PageFacts, reader: PdfReader) -> None:
        self.facts, self.reader = facts, reader
        self.state, self.saved = _State(_IDENTITY), list[_State]()
        self.text, self.line = _IDENTITY, _IDENTITY
        self.path, self.start = list[Segment](), np.zeros(2)
        self.here, self.bends = np.zeros(2), 0
        self.tags: list[tuple[str, tuple[float, ...], list[Segment]] | None] = []

    def run(self, content: Any, resources: Any, ctm: Floats, depth: int) -> None:  # noqa: ANN401
        """Follow one stream of operators, a page's or that of a form on it."""
        resources = resources.get_object() if hasattr(resources, "get_object") else resources
        self.facts.loose_fonts += _loose_fonts(resources)
        self.state = _State(ctm)
        outside, self.saved = self.saved, []
        for operands, operator in ContentStream(content, self.reader).operations:
            if operator == b"Do":
                self._draw_object(str(operands[0]), resources, depth)
            else:
                self._follow(operator, operands)
        self.saved = outside

    def _draw_object(self, name: str, resources: Any, depth: int) -> None:  # noqa: ANN401
        thing = resources.get("/XObject", {}).get_object()[name].get_object()
        if thing.get("/Subtype") != "/Form" or depth >= _DEEPEST:
            self._add_picture()
            return
        before = self.state
        inner = _matrix(thing.get("/Matrix", (1, 0, 0, 1, 0, 0))) @ before.ctm
        self.run(thing, thing.get("/Resources", resources), inner, depth + 1)
        self.state = before

    def _add_picture(self) -> None:
        a = self.state.ctm
        self.facts.pictures.append((float(np.hypot(*a[0, :2])), float(np.hypot(*a[1, :2]))))

    def _follow(self, operator: bytes, o: Sequence[Any]) -> None:
        if operator in _SHOWS_TEXT:
            self._show(o)
        elif operator in _PATH:
            _PATH[operator](self, [float(v) for v in o])
        elif operator in _PAINTS:
            self._paint(closes=operator in (b"s", b"b", b"b*", b"f", b"F", b"f*"))
        elif operator == b"n":  # a clip, or nothing
            self.path, self.bends = [], 0
        elif operator in _COLOURS:
            values = [float(v) for v in o if not isinstance(v, str)]
            self.facts.coloured += not _is_grey(operator, values)
        elif operator in (b"sh", b"INLINE IMAGE"):
            self._add_picture()
        elif operator in _OTHER:
            _OTHER[operator](self, o)

    def _show(self, o: Sequence[Any]) -> None:
        if any(str(part).strip() for part in (o[-1] if isinstance(o[-1], list) else o[-1:])):
            whole = self.text @ self.state.ctm
            self.facts.sizes.append(abs(self.state.size) * float(np.hypot(*whole[1, :2])))

    def _paint(self, *, closes: bool) -> None:
        if closes:
            self._close([])
        self.facts.segments += self.path
        self.facts.curves += self.bends
        for tag in self.tags:
            if tag is not None:
                tag[2].extend(self.path)
        self.path, self.bends = [], 0

    def _at(self, x: float, y: float) -> Floats:
        return np.asarray((np.array([x, y, 1.0]) @ self.state.ctm)[:2])

    def _move(self, o: Sequence[float]) -> None:
        self.here = self.start = self._at(o[0], o[1])

    def _line(self, o: Sequence[float]) -> None:
        end = self._at(o[0], o[1])
        self.path.append(Segment(*self.here.tolist(), *end.tolist()))
        self.here = end

    def _curve(self, o: Sequence[float]) -> None:
        self.bends += 1
        self._line(o[-2:])

    def _close(self, _: Sequence[float]) -> None:
        if self.path and np.hypot(*(self.start - self.here)) > 1e-6:
            self.path.append(Segment(*self.here.tolist(), *self.start.tolist()))
        self.here = self.start

    def _box(self, o: Sequence[float]) -> None:
        x, y, w, h = o
        self._move((x, y))
        for corner in ((x + w, y), (x + w, y + h), (x, y + h)):
            self._line(corner)
        self._close(())

    def _save(self, _: Sequence[Any]) -> None:
        self.saved.append(_State(self.state.ctm, self.state.size))

    def _restore(self, _: Sequence[Any]) -> None:
        if self.saved:
            self.state = self.saved.pop()

    def _turn(self, o: Sequence[Any]) -> None:
        self.state.ctm = _matrix(o) @ self.state.ctm

    def _font(self, o: Sequence[Any]) -> None:
        self.state.size = float(o[1])

    def _begin_text(self, _: Sequence[Any]) -> None:
        self.text = self.line = _IDENTITY

    def _text_matrix(self, o: Sequence[Any]) -> None:
        self.text = self.line = _matrix(o)

    def _begin_tag(self, o: Sequence[Any]) -> None:
        stated = o[1] if len(o) > 1 and isinstance(o[1], dict) else {}
        metres = tuple(float(m) for m in stated.get("/Metres", ()))
        named = "/Metres" in stated
        self.tags.append((str(o[0]).lstrip("/"), metres, []) if named else None)

    def _end_tag(self, _: Sequence[Any]) -> None:
        tag = self.tags.pop() if self.tags else None
        if tag is not None and tag[2]:
            points = np.array([p for s in tag[2] for p in ((s.x0, s.y0), (s.x1, s.y1))])
            width, height = np.ptp(points, axis=0)
            self.facts.tagged.append(
                Tagged(tag[0], tag[1], float(width), float(height), tuple(tag[2]))
            )


_PATH = {
    b"m": Walk._move, b"l": Walk._line, b"c": Walk._curve, b"v": Walk._curve,
    b"y": Walk._curve, b"h": Walk._close, b"re": Walk._box,
}  # fmt: skip
_OTHER = {
    b"q": Walk._save, b"Q": Walk._restore, b"cm": Walk._turn, b"Tf": Walk._font,
    b"BT": Walk._begin_text, b"Tm": Walk._text_matrix, b"BDC": Walk._begin_tag,
    b"BMC": Walk._begin_tag, b"EMC": Walk._end_tag,
}  # fmt: skip


def _matrix(o: Sequence[Any]) -> Floats:
    a, b, c, d, e, f = (float(v) for v in o)
    return np.array([[a, b, 0.0], [c, d, 0.0], [e, f, 1.0]])


def _is_grey(operator: bytes, values: list[float]) -> bool:
    """Whether a colour is on the way from black to white; a pattern is not."""
    if not values:
        return False
    if operator in (b"k", b"K") or len(values) == 4:
        return not any(values[:3])
    return max(values) - min(values) < 1e-3


def _loose_fonts(resources: Any) -> Iterator[str]:  # noqa: ANN401 - pypdf's own object
    fonts = resources.get("/Font", {})
    fonts = fonts.get_object() if hasattr(fonts, "get_object") else fonts
    for name, reference in fonts.items():
        font = reference.get_object()
        inner = font["/DescendantFonts"][0].get_object() if "/DescendantFonts" in font else font
        descriptor = inner.get("/FontDescriptor", {})
        descriptor = descriptor.get_object() if hasattr(descriptor, "get_object") else descriptor
        embedded = any(key.startswith("/FontFile") for key in descriptor)
        if not embedded and font.get("/Subtype") != "/Type3":
            yield str(font.get("/BaseFont", name)).lstrip("/")
