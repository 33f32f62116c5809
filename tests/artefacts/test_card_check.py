"""Cards measured: ours hold, and each limit fails alone where a file breaks it."""

from collections.abc import Callable
from io import BytesIO

import pytest
from PIL import Image
from reportlab.lib.units import cm, inch, mm
from reportlab.lib.utils import ImageReader
from reportlab.pdfbase.pdfmetrics import registerFont
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from carrybook.artefacts.card import CardContent, pocket_card
from carrybook.artefacts.card_check import CardCheck, check_card
from carrybook.artefacts.fonts import REGULAR, font_file
from carrybook.artefacts.paper import Layout, Profile
from carrybook.base.errors import BadInputError

GREEN, BAR, CUT = "CarrybookGreen", "CarrybookGreenBar", "CarrybookCut"


def drawn(
    *draw: Callable[[Canvas], object],
    size: tuple[float, float] = (4.25 * inch, 7.0 * inch),
    subject: str = "",
    **named: float | str | None,
) -> bytes:
    """Draw a card by hand: good in everything that `named` does not change, and `draw` on it."""
    registerFont(TTFont("by-hand", str(font_file(REGULAR))))
    buffer = BytesIO()
    canvas = Canvas(buffer, size, initialFontName="by-hand", invariant=1)
    canvas.setSubject(subject)
    canvas.setFont(str(named.get("font", "by-hand")), float(named.get("letters") or 7.0))
    x = 20.0
    canvas.line(x, 40.0, x + float(named.get("five_cm", 5.0 * cm) or 0.0), 40.0)
    canvas.drawString(x, 60.0, str(named.get("label", "5 cm")))
    canvas.drawString(x, 70.0, str(named.get("mark", "print at 100 %")))
    canvas.drawString(x, 80.0, str(named.get("made", "Prepared before the round, local rules")))
    canvas.drawString(x, 90.0, str(named.get("lightning", "Lightning: go in")))
    for each in draw:
        each(canvas)
    canvas.showPage()
    canvas.save()
    return buffer.getvalue()


def green(points_per_m: float, *, deep: float = 28.0, bar_points: float | None = None) -> Callable:
    """An outline 28 by 20 m, and its bar of 5 m, in a scale."""

    def draw(canvas: Canvas) -> None:
        canvas.addLiteral(f"/{GREEN} <</Metres [{deep} 20.0]>> BDC")
        path = canvas.beginPath()
        w, h = 20.0 * points_per_m, 28.0 * points_per_m
        path.moveTo(30.0, 120.0 + h / 2.0)
        for x, y in ((w / 2.0, h), (w, h / 2.0), (w / 2.0, 0.0)):
            path.lineTo(30.0 + x, 120.0 + y)
        path.close()
        canvas.drawPath(path)
        canvas.addLiteral("EMC")
        canvas.addLiteral(f"/{BAR} <</Metres [5.0]>> BDC")
        length = 5.0 * points_per_m if bar_points is None else bar_points
        canvas.line(30.0, 110.0, 30.0 + length, 110.0)
        canvas.addLiteral("EMC")

    return draw


def scale(denominator: float) -> float:
    return 1000.0 * float(mm) / denominator


def broken(check: CardCheck) -> list[str]:
    return [finding.what for finding in check.findings if not finding.holds]


@pytest.mark.parametrize("profile", list(Profile))
@pytest.mark.parametrize("layout", list(Layout))
def test_our_own_cards_hold_in_every_layout(
    content: CardContent, profile: Profile, layout: Layout
) -> None:
    check = check_card(pocket_card(content, profile=profile, layout=layout), "card.pdf")
    assert check.profile is profile  # as the file says of itself
    assert broken(check) == []
    assert check.holds


def test_an_ordinary_card_with_a_green_is_not_a_restricted_one(content: CardContent) -> None:
    pdf = pocket_card(content, profile=Profile.ORDINARY)
    check = check_card(pdf, "card.pdf", Profile.RESTRICTED)
    assert broken(check) == ["pictures and maps", "words of slope or putting"]
    greens = next(f for f in check_card(pdf, "card.pdf").findings if f.what == "greens")
    assert greens.found.startswith("largest 1:5")


def test_a_good_card_by_another_hand_holds() -> None:
    assert broken(check_card(drawn(), "a.pdf")) == []
    assert broken(check_card(drawn(), "a.pdf", Profile.RESTRICTED)) == []
    assert broken(check_card(drawn(size=(7.0 * inch, 4.25 * inch)), "turned.pdf")) == []


@pytest.mark.parametrize(
    ("changed", "what"),
    [
        ({"letters": 6.9}, "smallest letters"),
        ({"font": "Helvetica"}, "typefaces"),
        ({"five_cm": 5.02 * cm}, "scale bars"),
        ({"five_cm": 4.98 * cm}, "scale bars"),
        ({"label": "50 mm"}, "scale bars"),
        ({"mark": "print it"}, "100 % mark"),
        ({"made": "local rules"}, "made before"),
        ({"made": "Prepared before the round"}, "local rules"),
        ({"lightning": ""}, "lightning line"),
        ({"size": (4.26 * inch, 7.0 * inch)}, "size of a card"),
        ({"size": (4.25 * inch, 7.01 * inch)}, "size of a card"),
        ({"size": (21.0 * cm, 29.7 * cm)}, "size of a card"),
    ],
)
def test_each_limit_fails_alone(changed: dict, what: str) -> None:
    assert broken(check_card(drawn(**changed), "a.pdf")) == [what]


def test_half_a_tenth_of_a_millimetre_is_let_pass() -> None:
    assert broken(check_card(drawn(five_cm=50.05 * mm), "a.pdf")) == []


def test_colour_is_seen_and_grey_is_not_colour() -> None:
    red = drawn(lambda c: c.setFillColorRGB(0.8, 0.1, 0.1), lambda c: c.rect(9, 9, 9, 9, fill=1))
    grey = drawn(lambda c: c.setFillColorRGB(0.5, 0.5, 0.5), lambda c: c.rect(9, 9, 9, 9, fill=1))
    assert broken(check_card(red, "a.pdf")) == ["ink"]
    assert broken(check_card(grey, "a.pdf")) == []


def test_letters_are_measured_as_they_print() -> None:
    def shrunk(canvas: Canvas) -> None:
        canvas.saveState()
        canvas.rotate(30.0)
        canvas.scale(0.5, 0.5)
        canvas.setFont("by-hand", 12.0)  # 6 pt in truth
        canvas.drawString(300.0, 300.0, "small")
        canvas.restoreState()

    check = check_card(drawn(shrunk), "a.pdf")
    assert broken(check) == ["smallest letters"]
    assert "6.0 pt" in next(f.found for f in check.findings if f.what == "smallest letters")


@pytest.mark.parametrize(
    ("denominator", "ok"), [(480.0, True), (500.0, True), (479.0, False), (300.0, False)]
)
def test_a_green_is_measured_from_its_own_content(denominator: float, ok: bool) -> None:
    check = check_card(drawn(green(scale(denominator))), "a.pdf")
    assert broken(check) == ([] if ok else ["greens"])
    said = next(f.found for f in check.findings if f.what == "greens")
    assert said == f"largest 1:{denominator:.0f} of 1"


def test_a_green_that_lies_about_its_depth_is_measured_by_its_width() -> None:
    check = check_card(drawn(green(scale(300.0), deep=60.0)), "a.pdf")
    assert "greens" in broken(check)


def test_a_green_without_its_bar_or_with_a_wrong_one() -> None:
    check = check_card(drawn(green(scale(500.0), bar_points=40.0)), "a.pdf")
    assert broken(check) == ["bars of the greens"]


def test_a_green_without_measures() -> None:
    def bare(canvas: Canvas) -> None:
        canvas.addLiteral(f"/{GREEN} <</Metres []>> BDC")
        canvas.line(30.0, 120.0, 90.0, 180.0)
        canvas.addLiteral("EMC")

    check = check_card(drawn(bare), "a.pdf")
    assert broken(check) == ["greens", "bars of the greens"]
    assert "without its measures" in next(f.found for f in check.findings if f.what == "greens")


@pytest.mark.parametrize("form", [False, True])
def test_a_picture_of_unknown_scale_does_not_hold_in_any_profile(form: bool) -> None:
    buffer = BytesIO()
    Image.new("L", (20, 30), 128).save(buffer, "PNG")
    picture = ImageReader(buffer)

    def paste(canvas: Canvas) -> None:
        if form:
            canvas.beginForm("inner")
        canvas.drawImage(picture, 40.0, 120.0, 60.0, 90.0)
        if form:
            canvas.endForm()
            canvas.doForm("inner")

    assert broken(check_card(drawn(paste), "a.pdf")) == ["other pictures"]
    assert broken(check_card(drawn(paste), "a.pdf", Profile.RESTRICTED)) == ["pictures and maps"]


def test_curves_and_slanting_lines_are_drawings() -> None:
    for draw in (lambda c: c.circle(90, 150, 30), lambda c: c.line(30, 120, 90, 180)):
        assert broken(check_card(drawn(draw), "a.pdf")) == ["other pictures"]
        check = check_card(drawn(draw), "a.pdf", Profile.RESTRICTED)
        assert broken(check) == ["pictures and maps"]
    straight = drawn(lambda c: c.rect(30, 120, 90, 60))
    assert broken(check_card(straight, "a.pdf", Profile.RESTRICTED)) == []


@pytest.mark.parametrize(
    "word", ["2 % slope", "breaks left", "on the upper tier", "below the hole"]
)
def test_words_of_slope_are_named(word: str) -> None:
    check = check_card(drawn(lightning=f"Lightning; {word}"), "a.pdf", Profile.RESTRICTED)
    assert broken(check) == ["words of slope or putting"]
    assert broken(check_card(drawn(lightning=f"Lightning; {word}"), "a.pdf")) == []


def test_words_of_carries_are_not_words_of_slope() -> None:
    said = "Lightning; 10 ft higher, feel 80, short of the hole, unbroken"
    assert broken(check_card(drawn(lightning=said), "a.pdf", Profile.RESTRICTED)) == []


def test_cards_cut_too_large_are_seen() -> None:
    def cut(canvas: Canvas) -> None:
        canvas.addLiteral(f"/{CUT} <</Metres []>> BDC")
        for x in (100.0, 100.0 + 4.3 * inch):
            canvas.line(x, 10.0, x, 20.0)
        for y in (40.0, 40.0 + 7.0 * inch):
            canvas.line(60.0, y, 70.0, y)
        canvas.addLiteral("EMC")

    check = check_card(drawn(cut, size=(29.7 * cm, 21.0 * cm)), "a.pdf")
    assert broken(check) == ["size of a card"]
    assert check.findings[0].found == "109.2 x 177.8 mm, 1 in the file, page 1"


def test_what_is_no_pdf_is_refused_in_one_line() -> None:
    for content in (b"", b"hello", drawn()[:300]):
        with pytest.raises(BadInputError, match=r"card = 'x\.pdf' is not a PDF that can be read"):
            check_card(content, "x.pdf")
