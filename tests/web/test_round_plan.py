"""Before the round: zones as the command line plans them, stopped early; the card read back."""

import io
import re
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader
from tests.web.told import said

from carrybook.app.web.jobs import StoppedError
from carrybook.app.web.rooms import round_plan, situation

Visitor = Any  # the class in conftest.py

DEMO = Path(situation.__file__).parents[2] / "demo_data"
HX = {"hx-request": "true"}
WHERE = {"map": "practice", "heights": "practice", "hole": "4", "number": "88"}
WHERE |= {"hole_location": "17 on, centre", "haste": "settled"}


def until(visitor: Visitor, path: str) -> str:
    for _ in range(900):
        page: str = visitor.get(path).text
        if "work going" not in page:
            return page
        time.sleep(0.1)
    raise AssertionError("it never ended")


def table(page: str) -> list[str]:
    """The plan, whatever the form around it."""
    return re.findall(r"<tr><th scope=.row.>.*?</tr>", page)


def test_zones_and_card_as_the_command_line_has_them(
    visitor: Visitor, book: Path, visit: Callable[..., Visitor]
) -> None:
    assert visitor.post("/before/zones", {"holes": "4", "numbers": "80"}).status_code == 303
    page = until(visitor, "/before/zones")
    files = ["--map", str(DEMO / "venue.geojson"), "--heights", str(DEMO / "heights.csv")]
    asked = ["--hole", "4", "--numbers", "80yd", "--workers", "1"]
    told = said("plan", *files, *asked, "--book", str(book))["cells"]
    rows = re.findall(r'<th scope="row">([^<]+)<.*?<b>([^<]+)</b>.*?<td class="n">([\d.]+)<', page)
    assert rows == [(c["zone"], c["shot"], f"{c['strokes']:.2f}") for c in told]
    visitor.post("/shot/answer", WHERE)
    visitor.post("/shot/keep")
    for profile in ("ordinary", "restricted"):
        visitor.post("/before/card", {"profile": profile, "layout": "single", "title": "Saturday"})
        page = until(visitor, "/before/card")
        assert f"{len(told) + 1} plans; measured: it keeps the limits" in page
        sent = visitor.get("/before/card.pdf")
        assert sent.headers["content-type"] == "application/pdf"
        reader = PdfReader(io.BytesIO(sent.content))
        width, height = (float(v) / 72.0 for v in reader.pages[0].mediabox[2:])
        assert (width, height) == pytest.approx((4.25, 7.0), abs=0.01)
        words = "\n".join(p.extract_text() for p in reader.pages)
        assert "Saturday" in words
        assert ("Restricted (G-11)" in words) == (profile == "restricted")
        assert told[0]["zone"] in words
    visitor = visit(book)  # the server was stopped, and started again
    visitor.post("/today", {"lie": "fairway", "moisture": "dry"})  # as it was before it was said
    page = visitor.get("/before").text
    assert len(table(page)) == 9
    assert "From before" not in page
    assert f"{len(told) + 1} plans; measured: it keeps the limits" in page
    assert visitor.get("/before/card.pdf").content == sent.content
    visitor.post("/today", {"temp": "3"})  # another day makes another card
    assert visitor.get("/before/card.pdf").status_code == 400
    assert "From before" in visitor.get("/before").text
    page = visit(book).get("/before/zones").text
    assert "From before" in page
    assert len(table(page)) == 9
    visitor.post("/today", {})
    assert "From before" not in visitor.get("/before").text
    visitor.post("/range", {"shot": "56", "carry": "70", "key": "a"})
    assert "From before" in visitor.get("/before").text  # another ball, another shot


@pytest.mark.parametrize(
    ("typed", "field", "words"),
    [
        ({"holes": "4,,11"}, "zones-holes", "is not understood"),
        ({"numbers": "near"}, "zones-numbers", "number = &#39;near&#39;"),
        ({"numbers": "80, 9000"}, "zones-numbers", "number = 9000 yd is outside"),
    ],
)
def test_what_cannot_be_planned_is_said_beside_its_field(
    visitor: Visitor, typed: dict[str, str], field: str, words: str
) -> None:
    answer = visitor.post("/before/zones", typed, headers=HX)
    assert answer.status_code == 400
    told = re.search(rf'id="problem-{field}">([^<]*)<', answer.text)
    assert told is not None
    assert words in told[1]
    assert next(iter(typed.values())) in visitor.get("/before").text  # kept


def test_a_hole_that_is_not_there_is_a_plain_sentence(visitor: Visitor) -> None:
    visitor.post("/before/zones", {"holes": "99", "numbers": "80"})
    assert "99" in until(visitor, "/before/zones").split("notice")[1]
    visitor.post("/before/zones/stop")


def test_stopped_early_it_gives_what_is_done() -> None:
    told: list[str] = []

    def tell(words: str, _share: float) -> None:
        told.append(words)
        if words == "2 of 9 zones":
            raise StoppedError

    def run(progress: Any) -> Any:  # noqa: ANN401 - as the service does
        done = 0
        try:
            for k in range(9):
                done = k + 1
                progress(f"{done} of 9 zones", 0.1 * done)
        except KeyboardInterrupt:
            progress("stopped", 1.0)
        return done

    assert round_plan._whole_or_part(tell, run) == 2

    def at_once(progress: Any) -> Any:  # noqa: ANN401
        progress("2 of 9 zones", 0.0)

    with pytest.raises(StoppedError):
        round_plan._whole_or_part(tell, at_once)


def test_the_card_is_refused_in_words_and_shut_in_a_round(visitor: Visitor) -> None:
    bad = visitor.post("/before/card", {"profile": "any"})
    assert bad.status_code == 400
    assert "any" in bad.text
    assert visitor.get("/before/card.pdf").status_code == 400
    visitor.post("/before/round", {"playing": "yes"})
    page = visitor.get("/before").text
    assert "zones-part" not in page
    for path in ("/before/zones", "/before/card", "/before/card.pdf"):
        assert "Shut during the round" in visitor.get(path).text


def test_without_a_shot_it_says_where_to_begin(newcomer: Visitor) -> None:
    page = newcomer.get("/before").text
    assert "Begin with one shot you own" in page
    assert "Every ninth" not in page
    assert newcomer.post("/before/zones", {"holes": "4"}).status_code == 303
    assert "there is no book" in until(newcomer, "/before/zones").lower()
