"""The printed card: what it says, in both profiles and every layout; black on white."""

import re
from collections.abc import Sequence
from dataclasses import replace
from io import BytesIO

import pytest
from pypdf import PageObject, PdfReader

from carrybook.artefacts.card import CardContent, Carries, GreenToday, pocket_card
from carrybook.artefacts.card_check import check_card
from carrybook.artefacts.paper import Layout, Profile
from carrybook.base.constants import YARD
from carrybook.base.errors import BadInputError
from carrybook.decision.advice import Advice
from carrybook.player.bag import Club
from carrybook.player.numbers import TodayNumber
from carrybook.world.air import Air
from carrybook.world.exposure import Exposure
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
    content = CardContent(title, advice.situation.air, tuple(numbers), advices=tuple(plans))
    return pocket_card(content, units=units)


def pages(pdf: bytes) -> list[PageObject]:
    return list(PdfReader(BytesIO(pdf)).pages)


def text_of(pdf: bytes) -> str:
    return " ".join(" ".join(page.extract_text().split()) for page in pages(pdf))


def test_every_page_has_the_exact_size(numbers: tuple[TodayNumber, ...], advice: Advice) -> None:
    for page in pages(card(numbers * 5, advice, plans=[advice] * 9)):
        box = page.mediabox
        assert float(box.width) == pytest.approx(4.25 * 72.0, abs=0.01)
        assert float(box.height) == pytest.approx(7.0 * 72.0, abs=0.01)


@pytest.mark.parametrize(
    ("layout", "size_mm"),
    [
        (Layout.SINGLE, (107.95, 177.8)),
        (Layout.FOLD, (107.95, 177.8)),
        (Layout.A4, (297.0, 210.0)),
        (Layout.LETTER, (279.4, 215.9)),
    ],
)
@pytest.mark.parametrize("profile", list(Profile))
def test_every_layout_has_its_paper_embedded_fonts_and_no_colour(
    content: CardContent, profile: Profile, layout: Layout, size_mm: tuple[float, float]
) -> None:
    for page in pages(pocket_card(content, profile=profile, layout=layout)):
        box = page.mediabox
        found = [float(side) / 72.0 * 25.4 for side in (box.width, box.height)]
        assert found == pytest.approx(size_mm, abs=0.01)
        fonts = [font.get_object() for font in page["/Resources"]["/Font"].values()]
        assert fonts
        assert all("/FontFile2" in font["/FontDescriptor"].get_object() for font in fonts)
        assert not page["/Resources"].get("/XObject")
        drawn = re.sub(r"\(.*?\)", "", page.get_contents().get_data().decode("latin-1"))
        assert not re.search(r"\b(rg|RG|k|K|sc|scn|SC|SCN|sh|Do|BI)\b", drawn)


def test_numbers_plan_and_cautions_in_yards(
    numbers: tuple[TodayNumber, ...], advice: Advice
) -> None:
    text = text_of(card(numbers, advice))
    for words in (
        "A. Player, Heron Bank, Thursday",
        "Prepared before the round - check local rules (G-5, G-11).",
        "Restricted (G-11): numbers and words, no map of any kind.",
        "Carries in yd: 12 C (54 F), 1004 hPa, 70 % humidity, level and calm",
        "shot today one ball feel ref. partials, felt",
        "54 113 ± 4 118 116 71 to 124",
        "* your word, no balls yet",
        "Hole 7: 112 yd, 24 on, 5 from the right",
        "made for fairway, dew; wind 8 mph quartering into from the right",
        "54: land 6 yd short of the hole, 2 yd left",
        "plays 112 yd, feel 113 yd start 1 yd right of the hole",
        "or 60, feel 113 yd: as good",
        "the miss to avoid: bunker, 8 %",
        '"hands ahead, chest through"',
        "leave at the first thunder, wait 30 minutes after the last",
        "Estimates from your own balls: the player decides.",
        "Print at 100 %",
    ):
        assert words in text


def test_partials_strips_zones_and_lay_ups(content: CardContent) -> None:
    text = text_of(pocket_card(content))
    for words in (
        "What to feel for a carry today of (yd) 80",
        "54 78 ±3 60 79 ±3 54 low 80 ±3",
        "Wind at 10 m: adds to the carry (yd)",
        "into 5 mph into 10 mph across 10 mph",
        "54 −6 −8..−4 −6 −8..−4 10 9..13",
        "Warmth, and height it lands at: adds to the carry (yd) 10 C (18 F) colder 10 ft higher",
        "Wet and rough, more run: adds to the carry (yd) wet deep rough",
        "a cold body and a cold ball take more",
        "Hole 7: by hole location (yd)",
        "back left 96 54~ 94 3 short, 2 left; water",
        "front right 78 60 77 pin high",
        "~ another shot does as well",
        "Hole 12: laying up to (yd) left 60 80 strokes 2.78 2.80 ± 0.01 0.02",
        "No difference worth having between 55 and 85 yd. water at 40 yd",
    ):
        assert words in text


def test_metres(content: CardContent) -> None:
    text = text_of(pocket_card(content, units="metres"))
    assert "54 104 ± 4 108 106 65 to 113" in text
    assert "Hole 7: 102 m, 24 on, 5 from the right" in text
    assert "into 2 m/s into 4 m/s across 4 m/s" in text
    assert "10 C (18 F) colder 3 m higher" in text
    assert not re.search(r"\byd\b(?! \()", text.replace("water at 40 yd", ""))


def test_only_an_ordinary_card_shows_the_green(content: CardContent) -> None:
    ordinary = text_of(pocket_card(content, profile=Profile.ORDINARY))
    restricted = text_of(pocket_card(content, profile=Profile.RESTRICTED))
    assert re.search(r"5 yd, scale 1:5\d\d\b", ordinary)
    assert "Ordinary play (4.3a), greens within 1:480. Not where G-11 holds." in ordinary
    assert "scale" not in restricted
    assert "lines every" not in restricted


def test_a_folded_card_has_no_picture_in_either_profile(content: CardContent) -> None:
    folded = pocket_card(content, profile=Profile.ORDINARY, layout=Layout.FOLD)
    assert "scale" not in text_of(folded)
    assert "Hole 7: 112 yd" in text_of(folded)


def test_nothing_about_slope(content: CardContent) -> None:
    text = text_of(pocket_card(content)).lower().replace("laying up", "")
    assert not re.search(
        r"\b(up|down|uphill|downhill|slope|break|above|below the|level \d)\b", text
    )


def test_feel_is_left_out_where_it_is_the_reference(
    numbers: tuple[TodayNumber, ...], advice: Advice
) -> None:
    first = replace(numbers[0], reference_m=numbers[0].summary.shot.stock_carry_m)
    assert "54 113 ± 4 118 71 to 124" in text_of(card([first], advice, plans=()))


def test_a_plan_without_trouble_cue_or_rival(
    numbers: tuple[TodayNumber, ...], advice: Advice
) -> None:
    best = advice.options[0]
    shot = replace(best.summary.shot, cue="")
    plain = replace(best, troubles={}, miss=None, summary=replace(best.summary, shot=shot))
    calm = replace(advice, options=(plain,), situation=replace(advice.situation, wind=CALM))
    text = text_of(card(numbers, calm))
    assert "wind calm" in text
    assert "miss to avoid" not in text
    assert "as good" not in text


def test_more_plans_make_more_pages_and_every_page_is_whole(
    numbers: tuple[TodayNumber, ...], advice: Advice
) -> None:
    found = pages(card(numbers * 14, advice, plans=[advice] * 9))
    assert len(found) > 2
    for number, page in enumerate(found, start=1):
        text = page.extract_text()
        assert f"page {number}" in text
        assert "check local rules" in text
        assert "Print at 100 %" in text
    text = " ".join(page.extract_text() for page in found)
    assert text.count("Hole 7:") == 9
    assert text.count("partials, felt") == 2  # the table's head again on its second page


def test_same_input_same_bytes(content: CardContent) -> None:
    for profile in Profile:
        assert pocket_card(content, profile=profile) == pocket_card(content, profile=profile)


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


def test_only_numbers(numbers: tuple[TodayNumber, ...], advice: Advice) -> None:
    assert len(pages(card(numbers, advice, plans=()))) == 1


def test_a_long_lay_up_table_goes_on_below(content: CardContent) -> None:
    (table,) = content.lay_ups
    left = tuple((40.0 + 5.0 * k) * YARD for k in range(13))
    long = replace(table, left_m=left, strokes=(2.8,) * 13, strokes_se=(0.01,) * 13)
    text = text_of(pocket_card(replace(content, lay_ups=(long,))))
    assert "left 40 45 50 55 60 65 70 75 80 85 strokes" in text
    assert "left 90 95 100 strokes" in text


def test_unknown_units_are_refused(numbers: tuple[TodayNumber, ...], advice: Advice) -> None:
    with pytest.raises(BadInputError, match="units = 'feet'"):
        card(numbers, advice, units="feet")


def day_card(numbers: Sequence[TodayNumber], profile: Profile, **more: object) -> str:
    content = CardContent(
        "Heron Bank", Air(285.15, 100_400.0, 0.7), tuple(numbers), when="morning, 09:00",
        said=("Tee 08:10",), own_words=("Hole 4 is cut 27 on", "slopes hard to the water"),
        **more,  # type: ignore[arg-type]
    )  # fmt: skip
    return text_of(pocket_card(content, profile=profile))


def test_a_second_half_of_the_day_and_what_is_said_of_it(
    numbers: tuple[TodayNumber, ...],
) -> None:
    later = Carries("afternoon, 14:00", Air(290.15, 100_000.0, 0.5), numbers[:1])
    for profile in Profile:
        text = day_card(numbers, profile, later=(later,))
        first, second = (
            text.index(f"Carries in yd, {when}: {warm}")
            for when, warm in (("morning, 09:00", "12 C"), ("afternoon, 14:00", "17 C"))
        )
        assert first < second < text.index("Tee 08:10")


def test_own_words_stand_on_an_ordinary_card_alone(numbers: tuple[TodayNumber, ...]) -> None:
    ordinary, restricted = (day_card(numbers, profile) for profile in Profile)
    for words in ("Hole 4 is cut 27 on", "slopes hard to the water"):
        assert words in ordinary
        assert words not in restricted


def test_heat_and_cold_stand_on_every_card(numbers: tuple[TodayNumber, ...]) -> None:
    assert "Heat:" not in day_card(numbers, Profile.RESTRICTED)
    hot = Exposure(313.15, None, 300.0)
    text = day_card(numbers, Profile.RESTRICTED, exposure=hot)
    assert "Heat: feels 40 C (104 F) in the shade, danger; full sun adds up to" in text
    content = CardContent("Heron Bank", Air(275.15, 100_400.0, 0.7), numbers)
    assert "Cold: feels 2 C (36 F), cold." in text_of(pocket_card(content))


def test_greens_of_the_day_are_drawn_on_an_ordinary_card_that_lies_flat(
    numbers: tuple[TodayNumber, ...], advice: Advice
) -> None:
    s = advice.situation
    green = GreenToday(s.hole, s.location, ("Hole 7: 24 on, 5 from the right", "in the shade"))
    content = CardContent("Heron Bank", s.air, numbers, greens=(green,))
    drawn = pocket_card(content, profile=Profile.ORDINARY)
    assert "Hole 7: 24 on, 5 from the right" in text_of(drawn)
    assert "5 yd, scale 1:" in text_of(drawn)
    assert check_card(drawn, "card.pdf", Profile.ORDINARY).holds
    for profile, layout in ((Profile.RESTRICTED, Layout.SINGLE), (Profile.ORDINARY, Layout.FOLD)):
        bare = text_of(pocket_card(content, profile=profile, layout=layout))
        assert "in the shade" not in bare
        assert "scale 1:" not in bare
