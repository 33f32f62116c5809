"""The printed card: exact size, embedded typeface, black on white, no picture."""

import re
from collections.abc import Sequence
from dataclasses import replace
from io import BytesIO

import pytest
from pypdf import PageObject, PdfReader

from carrybook.artefacts.card import pocket_card
from carrybook.base.errors import BadInputError
from carrybook.decision.advice import Advice
from carrybook.player.bag import Club
from carrybook.player.numbers import TodayNumber
from carrybook.world.wind import CALM


def card(
    numbers: Sequence[TodayNumber],
    advice: Advice,
    *,
    plans: Sequence[Advice] | None = None,
    title: str = "A. Player, Heron Bank, Thursday",
    units: str = "yards",
) -> bytes:
    plans = (advice,) if plans is None else plans
    return pocket_card(numbers, advice.situation.air, title=title, advices=plans, units=units)


def pages(pdf: bytes) -> list[PageObject]:
    return list(PdfReader(BytesIO(pdf)).pages)


def text_of(pdf: bytes) -> str:
    return " ".join(" ".join(page.extract_text().split()) for page in pages(pdf))


def test_every_page_has_the_exact_size(numbers: tuple[TodayNumber, ...], advice: Advice) -> None:
    for page in pages(card(numbers * 5, advice, plans=[advice] * 9)):
        box = page.mediabox
        assert float(box.width) == pytest.approx(4.25 * 72.0, abs=0.01)
        assert float(box.height) == pytest.approx(7.0 * 72.0, abs=0.01)


def test_fonts_are_embedded_and_at_least_seven_points(
    numbers: tuple[TodayNumber, ...], advice: Advice
) -> None:
    for page in pages(card(numbers, advice)):
        fonts = [font.get_object() for font in page["/Resources"]["/Font"].values()]
        assert fonts
        assert all("/FontFile2" in font["/FontDescriptor"].get_object() for font in fonts)
        content = page.get_contents().get_data().decode("latin-1")
        sizes = [float(size) for size in re.findall(r"/\S+ ([\d.]+) Tf", content)]
        assert min(sizes) >= 7.0
        assert not re.search(r"[\d.]+ 0 0 [\d.]+ \S+ \S+ cm", content.replace("1 0 0 1 0 0 cm", ""))


def test_black_and_white_without_any_picture(
    numbers: tuple[TodayNumber, ...], advice: Advice
) -> None:
    for page in pages(card(numbers, advice)):
        assert not page["/Resources"].get("/XObject")
        content = page.get_contents().get_data().decode("latin-1")
        assert not re.search(
            r"\b(rg|RG|k|K|sc|scn|SC|SCN|sh|Do|BI)\b", re.sub(r"\(.*?\)", "", content)
        )


def test_scale_bars_have_the_length_they_say(
    numbers: tuple[TodayNumber, ...], advice: Advice
) -> None:
    content = pages(card(numbers, advice))[0].get_contents().get_data().decode("latin-1")
    strokes = re.findall(r"([\d.]+) ([\d.]+) m ([\d.]+) ([\d.]+) l", content)
    lengths = [float(x1) - float(x0) for x0, y0, x1, y1 in strokes if y0 == y1]
    assert any(length == pytest.approx(5.0 / 2.54 * 72.0, abs=0.01) for length in lengths)
    assert any(length == pytest.approx(144.0, abs=0.01) for length in lengths)
    text = text_of(card(numbers, advice))
    assert all(words in text for words in ("5 cm", "2 in", "print at 100 %"))


def test_numbers_plan_and_cautions_in_yards(
    numbers: tuple[TodayNumber, ...], advice: Advice
) -> None:
    text = text_of(card(numbers, advice))
    for words in (
        "A. Player, Heron Bank, Thursday",
        "Prepared before the round - check local rules (G-5, G-11).",
        "Carries in yd: 12 C (54 F), 1004 hPa, 70 % humidity, level and calm",
        "54 116 113 ± 4 118 71 to 124",
        "* your word, no balls yet",
        "Hole 7: 112 yd, 24 on, 5 from the right",
        "made for fairway, dew; wind 8 mph quartering into from the right",
        "54: land 6 yd short of the hole, 2 yd left",
        "plays 112 yd, feel 113 yd; start 1 yd right of the hole",
        "the miss to avoid: bunker, 8 %",
        '"hands ahead, chest through"',
        "leave at the first thunder, wait 30 minutes after the last",
        "Numbers are estimates from your own balls. The player decides.",
    ):
        assert words in text


def test_metres(numbers: tuple[TodayNumber, ...], advice: Advice) -> None:
    text = text_of(card(numbers, advice, units="metres"))
    assert "54 106 104 ± 4 108 65 to 113" in text
    assert "Hole 7: 102 m, 24 on, 5 from the right" in text
    assert " yd" not in text


def test_nothing_about_slope(numbers: tuple[TodayNumber, ...], advice: Advice) -> None:
    text = text_of(card(numbers, advice)).lower()
    assert not re.search(r"\b(up|down|uphill|downhill|slope|break|above|below|level \d)\b", text)


def test_feel_is_left_out_where_it_is_the_reference(
    numbers: tuple[TodayNumber, ...], advice: Advice
) -> None:
    first = replace(numbers[0], reference_m=numbers[0].summary.shot.stock_carry_m)
    assert "54 118 113 ± 4 71 to 124" in text_of(card([first], advice, plans=()))


def test_a_plan_without_trouble_or_cue(numbers: tuple[TodayNumber, ...], advice: Advice) -> None:
    best = advice.options[0]
    shot = replace(best.summary.shot, cue="")
    plain = replace(best, troubles={}, miss=None, summary=replace(best.summary, shot=shot))
    calm = replace(advice, options=(plain,), situation=replace(advice.situation, wind=CALM))
    text = text_of(card(numbers, calm))
    assert "wind calm" in text
    assert "miss to avoid" not in text


def test_more_plans_make_more_pages_and_every_page_is_whole(
    numbers: tuple[TodayNumber, ...], advice: Advice
) -> None:
    found = pages(card(numbers * 14, advice, plans=[advice] * 9))
    assert len(found) > 2
    for number, page in enumerate(found, start=1):
        text = page.extract_text()
        assert f"page {number}" in text
        assert "check local rules" in text
        assert "print at 100 %" in text
    text = " ".join(page.extract_text() for page in found)
    assert text.count("Hole 7:") == 9
    assert text.count("partials, felt") == 2


def test_same_input_same_bytes(numbers: tuple[TodayNumber, ...], advice: Advice) -> None:
    assert card(numbers, advice) == card(numbers, advice)


def test_odd_characters_long_words_and_long_labels(
    numbers: tuple[TodayNumber, ...], nasty: Advice
) -> None:
    shot = replace(numbers[0].summary.shot, club=Club("W" * 24, 0.9))
    wide = replace(numbers[0], summary=replace(numbers[0].summary, shot=shot))
    pdf = card([wide, *numbers], nasty, title="漢 <b>&amp; $x$ \x00" + "W" * 90)
    text = text_of(pdf)
    assert "<script>alert('x')</script> $\\frac{1}{2}$" in text
    assert "$x_1$ <b>&amp;: land" in text
    assert "W…" in text


def test_no_plans_at_all(numbers: tuple[TodayNumber, ...], advice: Advice) -> None:
    assert len(pages(card(numbers, advice, plans=()))) == 1


def test_unknown_units_are_refused(numbers: tuple[TodayNumber, ...], advice: Advice) -> None:
    with pytest.raises(BadInputError, match="units = 'feet'"):
        card(numbers, advice, units="feet")
