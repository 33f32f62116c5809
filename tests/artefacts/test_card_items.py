"""Words measured in the card's own typeface: broken, cut, never lost without a sign."""

import pytest

from carrybook.artefacts.card_items import BODY, LEADING, SMALL, Text, fitted, text_width, wrapped


def test_width_grows_in_proportion_to_the_size_and_bold_is_wider() -> None:
    assert text_width("carry", 14.0) == pytest.approx(2.0 * text_width("carry", 7.0))
    assert text_width("carry", 7.0, bold=True) > text_width("carry", 7.0)
    assert text_width("", 7.0) == 0.0


def test_lines_break_between_words_and_go_down_the_block() -> None:
    words = "land six yards short of the hole and two yards left of it"
    rows = list(wrapped(Text(3.0, 10.0, words, BODY), 90.0))
    assert " ".join(row.words for row in rows) == words
    assert len(rows) > 2
    for k, row in enumerate(rows):
        assert text_width(row.words, BODY) <= 90.0
        assert row.x == 3.0
        assert row.y == pytest.approx(10.0 + k * LEADING * BODY)


def test_a_word_without_spaces_is_broken_where_it_must() -> None:
    rows = [row.words for row in wrapped(Text(0.0, 0.0, "W" * 60, SMALL), 50.0)]
    assert "".join(rows) == "W" * 60
    assert max(text_width(row, SMALL) for row in rows) <= 50.0


def test_what_fits_is_left_alone_and_what_does_not_ends_in_an_ellipsis() -> None:
    assert fitted("54 low", 100.0) == "54 low"
    cut = fitted("a very long label of a club", 60.0)
    assert cut.endswith("…")
    assert text_width(cut, BODY) <= 60.0
    assert fitted("anything", 0.0) == "…"
