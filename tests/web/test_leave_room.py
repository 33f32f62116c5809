"""Leave: the curve of the command line, worked out beside the page, stopped, kept, refused."""

import re
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from tests.web.told import said

from carrybook.app.web.rooms import situation
from carrybook.app.web.views.axes import Scale, axes_of
from carrybook.base.constants import YARD

Visitor = Any  # the class in conftest.py

DEMO = Path(situation.__file__).parents[2] / "demo_data"
HX = {"hx-request": "true"}
ASKED = {"hole": "4", "hole_location": "17 on, centre", "nearest": "60", "furthest": "100"}
ASKED |= {"step": "20", "favourite": "100"}


def finished(visitor: Visitor) -> str:
    """The room, once its work is done."""
    for _ in range(600):
        page: str = visitor.get("/leave").text
        if "work going" not in page:
            return page
        time.sleep(0.1)
    raise AssertionError("it never ended")


def test_it_says_what_the_command_line_says(
    visitor: Visitor, book: Path, visit: Callable[..., Visitor]
) -> None:
    assert visitor.post("/leave", ASKED).headers["location"] == "/leave"
    page = finished(visitor)
    files = ["--map", str(DEMO / "venue.geojson"), "--heights", str(DEMO / "heights.csv")]
    asked = ["--from", "60yd", "--to", "100yd", "--step", "20yd", "--favourite", "100yd"]
    where = ["--hole", "4", "--hole-location", "17 on, centre", "--book", str(book)]
    told = said("leave", *files, *asked, *where)
    rows = re.findall(r'<th scope="row" class="n">(\d+)<.*?<td class="n">([\d.]+)<', page)
    assert rows == [(f"{d['left_m'] / YARD:.0f}", f"{d['strokes']:.2f}") for d in told["distances"]]
    assert page.count('class="finish"') == sum(d["flat"] for d in told["distances"])
    saved = told["closer"]["saves"]
    assert f"{'saves' if saved > 0 else 'costs'} {abs(saved):.2f} ±" in page
    assert 'class="guide"' in page  # the favourite
    visitor.post("/units", {"units": "metres"})
    assert re.findall(r'<th scope="row" class="n">(\d+)<', visitor.get("/leave").text) == [
        f"{d['left_m']:.0f}" for d in told["distances"]
    ]
    again = visit(book)  # the server was stopped, and started again
    rows = re.findall(r'<th scope="row" class="n">(\d+)<', again.get("/leave").text)
    assert rows == [f"{d['left_m'] / YARD:.0f}" for d in told["distances"]]
    again.post("/today", {"temp": "3"})  # another day, another answer
    assert 'class="finish"' not in again.get("/leave").text
    assert 'class="finish"' not in visit(book).get("/leave").text


@pytest.mark.parametrize(("off_line", "trouble"), [("0", False), ("25", True)])
def test_without_trouble_it_says_so_and_draws_no_empty_panel(
    visitor: Visitor, off_line: str, trouble: bool
) -> None:
    visitor.post("/leave", ASKED | {"off_line": off_line})
    page = finished(visitor)
    assert ("none ends in water, sand, rough or out of bounds" in page) is not trouble
    assert ("lay-ups [%]" in page) is trouble
    assert ('class="bar ' in page) is trouble
    assert page.count("distance left [yd]") == 1  # below whichever panel is the last
    high = re.search(r'class="chart" viewBox="0 0 [\d.]+ ([\d.]+)"', page)
    assert high is not None
    assert (float(high[1]) > 300.0) is trouble


def test_work_is_shown_and_stopped(visitor: Visitor) -> None:
    part = visitor.post("/leave", ASKED | {"step": "1", "furthest": "120"}, headers=HX).text
    assert "<html" not in part
    assert "<progress" in part
    assert 'hx-get="/leave"' in part
    visitor.post("/leave/stop", headers=HX)
    page = finished(visitor)
    assert "Stopped." in page
    assert 'value="120"' in page  # what was typed is there to try again
    assert "hx-trigger" not in page


@pytest.mark.parametrize(
    ("typed", "field", "words"),
    [
        ({"nearest": "far"}, "nearest", "from = &#39;far&#39;"),
        ({"nearest": "90", "furthest": "60"}, "nearest", "0 distances"),
        ({"step": "0.2"}, "step", "step = 0.2 yd is outside"),
        ({"hole": "99"}, "hole", "hole"),
    ],
)
def test_what_cannot_be_used_is_said_beside_its_field(
    visitor: Visitor, typed: dict[str, str], field: str, words: str
) -> None:
    answer = visitor.post("/leave", ASKED | typed)
    assert answer.status_code == 400
    told = re.search(rf'id="problem-{field}">([^<]*)<', answer.text)
    assert told is not None
    assert words in told[1]
    kept = visitor.get("/leave").text
    assert all(f'value="{v}"' in kept for k, v in typed.items() if k != "hole")


def test_a_bad_day_is_said_above_the_form(visitor: Visitor) -> None:
    visitor.post("/today", {"temp": "99"})
    answer = visitor.post("/leave", ASKED)
    assert answer.status_code == 400
    assert re.search(r'id="problem-leave-page">[^<]*air temperature', answer.text)


def test_what_nobody_reaches_is_a_plain_sentence(visitor: Visitor) -> None:
    far = {"nearest": "180", "furthest": "190", "step": "10", "favourite": ""}
    visitor.post("/leave", ASKED | far)
    assert "none of your shots lands" in finished(visitor).lower()


def test_another_course_begins_anew(visitor: Visitor) -> None:
    visitor.post("/leave", ASKED | {"hole": "11"})
    visitor.post("/ground/describe", {"green": "30 deep, 24 wide"})
    page = visitor.get("/leave").text
    assert "described: one green" in page
    assert 'value="17 on, centre"' not in page


def test_without_a_shot_it_begins_with_one(newcomer: Visitor) -> None:
    assert "Begin with one shot you own" in newcomer.get("/leave").text


def test_a_scale_has_round_marks() -> None:
    assert Scale(0.0, 10.0, 0.0, 100.0).marks(5) == tuple(
        (10.0 * v, f"{v}") for v in (0, 2, 4, 6, 8, 10)
    )
    fine = Scale(-0.06, 0.06, 0.0, 12.0).marks(4)
    assert [text for _, text in fine] == ["−0.05", "0.00", "0.05"]
    assert Scale(2.0, 4.0, 50.0, 10.0).at(3.0) == 30.0
    axes = axes_of((0.0, 7.0), (0.0, 1.0), ("x", "y"), frame=(40.0, 10.0, 110.0))
    assert (axes.x.at(0.0), axes.y.at(0.0), axes.y.at(1.0)) == (40.0, 110.0, 10.0)
