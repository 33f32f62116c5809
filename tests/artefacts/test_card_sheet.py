"""The card as it prints: rasterised at 600 dots an inch and measured to a tenth of a millimetre."""

from dataclasses import replace

import numpy as np
import pypdfium2
import pytest

from carrybook.artefacts import words as w
from carrybook.artefacts.card import CardContent, pocket_card
from carrybook.artefacts.card_frames import Page, corner
from carrybook.artefacts.card_green import green_picture
from carrybook.artefacts.card_items import Block
from carrybook.artefacts.card_sheet import print_blocks
from carrybook.artefacts.paper import Layout
from carrybook.base.numerics import Flags
from carrybook.decision.advice import Advice

DOTS = 600.0 / 25.4  # a millimetre
TENTH = 0.1 * DOTS


def printed(pdf: bytes, page: int = 0) -> Flags:
    """Ink of a page at 600 dots an inch."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        grey = document[page].render(scale=600.0 / 72.0, grayscale=True).to_numpy()
    finally:
        document.close()
    return np.asarray(grey.reshape(grey.shape[:2]) < 128)


def runs(line: Flags) -> list[tuple[int, int]]:
    """Where ink starts and ends along a row or column of dots."""
    edges = np.flatnonzero(np.diff(np.concatenate([[0], line.astype(int), [0]])))
    return [(int(a), int(b)) for a, b in zip(edges[::2], edges[1::2], strict=True)]


def bars(ink: Flags, least_mm: float = 10.0) -> set[int]:
    """Lengths of level lines that are not shorter than that, in dots."""
    return {b - a for row in ink for a, b in runs(row) if b - a > least_mm * DOTS}


@pytest.fixture
def plain(content: CardContent) -> CardContent:
    """Keep the carries alone."""
    return CardContent(content.title, content.air, content.numbers)


@pytest.mark.parametrize("layout", list(Layout))
def test_bars_and_paper_are_right_to_a_tenth_of_a_millimetre(
    plain: CardContent, layout: Layout
) -> None:
    ink = printed(pocket_card(plain, layout=layout))
    paper = {"a4": (297.0, 210.0), "letter": (279.4, 215.9)}.get(layout.value, (107.95, 177.8))
    assert ink.shape[1] / DOTS == pytest.approx(paper[0], abs=0.1)
    assert ink.shape[0] / DOTS == pytest.approx(paper[1], abs=0.1)
    lengths = bars(ink)
    for wanted in (50.0, 25.4):
        # the ticks at both ends add half a line's width each, 0.2 mm together
        assert any(abs(length / DOTS - wanted - 0.21) < 0.1 for length in lengths)


@pytest.mark.parametrize("layout", [Layout.A4, Layout.LETTER])
def test_cut_marks_cut_out_cards_of_the_exact_size(plain: CardContent, layout: Layout) -> None:
    ink = printed(pocket_card(plain, layout=layout))
    x0, y0 = (72.0**-1 * v * 600.0 for v in corner(layout))
    above = ink[int(y0 - 12.0 / 72.0 * 600.0)]  # a row of dots through the upper marks
    marks = [(a + b) / 2.0 / DOTS for a, b in runs(above)]
    assert np.diff(marks) == pytest.approx([107.95, 107.95], abs=0.1)
    aside = ink[:, int(x0 - 12.0 / 72.0 * 600.0)]
    marks = [(a + b) / 2.0 / DOTS for a, b in runs(aside)]
    assert np.diff(marks) == pytest.approx([177.8], abs=0.1)


@pytest.mark.parametrize("times", [0.7, 1.3])
def test_a_green_prints_in_the_scale_it_says(advice: Advice, times: float) -> None:
    s = advice.situation
    hole = replace(s.hole, green=s.hole.green * times, areas=(), heights_known=False)
    plan = replace(advice, situation=replace(s, hole=hole))
    (width, height), items = green_picture(plan, w.YARDS)
    ink = printed(print_blocks([Block(height, items)], Page("", (), "ordinary", Layout.SINGLE)))
    left = ink[int(34.0 / 72.0 * 600.0) :, : int((18.0 + width) / 72.0 * 600.0)]
    (top, bottom), *_ = (r for r in runs(left.any(axis=1)) if r[1] - r[0] > 10.0 * DOTS)
    tall = (bottom - top) / DOTS - 1.1 / 72.0 * 25.4  # less the width of the line
    lengths = [b / DOTS for b in bars(left[bottom : bottom + 400], 5.0)]
    five = max(b for b in lengths if b < 12.0) - 0.6 / 72.0 * 25.4  # less half of either tick
    scale = 28.0 * times * 1000.0 / tall
    assert scale >= 480.0
    assert five == pytest.approx(4572.0 / scale, abs=0.1)
    said = next(i.words for i in items if hasattr(i, "words") and "scale" in i.words)
    assert float(said.split(":")[1]) == pytest.approx(scale, rel=0.1 / tall)


def test_a_folded_back_is_upside_down_and_marks_show_the_fold(plain: CardContent) -> None:
    ink = printed(pocket_card(plain, layout=Layout.FOLD))
    height = ink.shape[0]
    ((start, end),) = runs(ink[:, 10])  # dots at the left edge: the fold mark alone
    assert (start + end) / 2.0 == pytest.approx(height / 2.0, abs=TENTH)
    inside = printed(pocket_card(plain, layout=Layout.FOLD), 1)
    back, below = ink[: height // 2][::-1, ::-1], inside[height // 2 :]
    rows = [
        next(
            k for k, row in enumerate(part) if any(49.9 < m / DOTS < 50.4 for m in bars(row[None]))
        )
        for part in (back, below)
    ]
    assert 0 < rows[0] < rows[1]  # upright once it is turned over; a whole foot stands higher


def test_nothing_is_printed_over_the_edge_of_the_text(content: CardContent) -> None:
    pdf = pocket_card(content)
    document = pypdfium2.PdfDocument(pdf)
    count = len(document)
    document.close()
    for page in range(count):
        ink = printed(pdf, page)
        margin = int(17.0 / 72.0 * 600.0)
        assert not ink[:, :margin].any()
        assert not ink[:, -margin:].any()
        assert not ink[: margin // 2].any()
        assert not ink[-margin // 2 :].any()
