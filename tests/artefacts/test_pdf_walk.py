"""What a page paints, followed through its transformations; checked on hand-written operators."""

from io import BytesIO

import pytest
from pypdf import PdfWriter
from pypdf.generic import DecodedStreamObject, NameObject

from carrybook.artefacts.pdf_facts import count_pages, read_pages
from carrybook.artefacts.pdf_values import PageFacts, Segment
from carrybook.base.errors import BadInputError


def file_of(operators: str, *, pages: int = 1, unit: float | None = None) -> bytes:
    writer = PdfWriter()
    for _ in range(pages):
        page = writer.add_blank_page(width=200, height=100)
        stream = DecodedStreamObject()
        stream.set_data(operators.encode("ascii"))
        page[NameObject("/Contents")] = writer._add_object(stream)
        if unit is not None:
            from pypdf.generic import FloatObject

            page[NameObject("/UserUnit")] = FloatObject(unit)
    buffer = BytesIO()
    writer.write(buffer)
    return buffer.getvalue()


def facts(operators: str, **options: float) -> PageFacts:
    (page,) = read_pages(file_of(operators, **options), "x.pdf")[0]
    return page


def test_a_line_is_where_its_matrices_put_it() -> None:
    (line,) = facts("q 2 0 0 2 10 20 cm q 0 1 -1 0 0 0 cm 0 0 m 5 0 l S Q Q").segments
    assert (line.x0, line.y0, line.x1, line.y1) == pytest.approx((10.0, 20.0, 10.0, 30.0))
    assert line.length == pytest.approx(10.0)


def test_what_is_saved_comes_back() -> None:
    first, second = facts("q 3 0 0 3 0 0 cm 0 0 m 1 0 l S Q 0 0 m 1 0 l S").segments
    assert (first.length, second.length) == pytest.approx((3.0, 1.0))
    assert facts("Q Q 0 0 m 4 0 l S").segments[0].length == pytest.approx(4.0)  # one too many


def test_only_what_is_painted_counts() -> None:
    assert facts("0 0 m 50 50 l n").segments == []
    assert facts("0 0 m 50 50 l").segments == []
    assert len(facts("0 0 10 20 re S").segments) == 4
    assert len(facts("0 0 m 10 0 l 0 10 l h S").segments) == 3
    assert len(facts("0 0 m 10 0 l 0 10 l f").segments) == 3  # filling closes
    assert len(facts("0 0 m 10 0 l 0 10 l S").segments) == 2


def test_curves_are_counted_and_cut_short() -> None:
    page = facts("0 0 m 1 2 3 4 5 0 c S 0 0 m 1 2 5 0 v S")
    assert page.curves == 2
    assert [s.length for s in page.segments] == pytest.approx([5.0, 5.0])


def test_level_and_upright_lines() -> None:
    assert Segment(0.0, 1.0, 9.0, 1.0).level_or_upright
    assert Segment(3.0, 1.0, 3.0, 8.0).level_or_upright
    assert not Segment(0.0, 0.0, 1.0, 1.0).level_or_upright


def test_letters_take_the_scale_of_text_and_page() -> None:
    page = facts("q 0.5 0 0 0.5 0 0 cm BT /F 10 Tf 3 0 0 3 0 0 Tm (x) Tj ET Q BT /F 8 Tf (y) Tj ET")
    assert page.sizes == pytest.approx([15.0, 8.0])
    assert facts("BT /F 5 Tf ( ) Tj ET").sizes == []  # a space prints nothing


@pytest.mark.parametrize(
    ("operator", "coloured"),
    [("1 0 0 rg", 1), ("0.4 0.4 0.4 RG", 0), ("0 0 0 1 k", 0), ("0.2 0 0 0 K", 1), ("0.5 g", 0),
     ("0.3 sc", 0), ("/P scn", 1)],
)  # fmt: skip
def test_colours(operator: str, coloured: int) -> None:
    assert facts(operator).coloured == coloured


def test_tags_give_the_box_and_what_they_state() -> None:
    page = facts(
        "/Green <</Metres [20 30]>> BDC q 2 0 0 2 5 5 cm 0 0 m 10 0 l 10 15 l s Q EMC"
        " /Span BMC 0 0 m 99 0 l S EMC EMC"
    )
    (tag,) = page.tagged  # a tag that states no lengths is not ours
    assert (tag.name, tag.metres) == ("Green", (20.0, 30.0))
    assert (tag.width, tag.height) == pytest.approx((20.0, 30.0))
    assert len(tag.segments) == 3


def test_user_units_make_everything_larger() -> None:
    page = facts("0 0 m 10 0 l S BT /F 4 Tf (x) Tj ET", unit=2.0)
    assert (page.width, page.height) == (400.0, 200.0)
    assert page.segments[0].length == pytest.approx(20.0)
    assert page.sizes == pytest.approx([8.0])


def test_pictures_in_the_line_of_operators() -> None:
    page = facts("q 30 0 0 40 5 5 cm BI /W 1 /H 1 /CS /G /BPC 8 ID a EI Q")
    assert page.pictures == [pytest.approx((30.0, 40.0))]


def test_a_book_is_no_card() -> None:
    with pytest.raises(BadInputError, match=r"'x\.pdf' has 61 pages; 1 to 60 are looked at"):
        read_pages(file_of("", pages=61), "x.pdf")
    assert count_pages(file_of("", pages=3)) == 3


def test_a_locked_file_is_refused() -> None:
    writer = PdfWriter()
    writer.add_blank_page(width=10, height=10)
    writer.encrypt("word", algorithm="RC4-128")
    buffer = BytesIO()
    writer.write(buffer)
    with pytest.raises(BadInputError, match="locked with a password"):
        read_pages(buffer.getvalue(), "x.pdf")
