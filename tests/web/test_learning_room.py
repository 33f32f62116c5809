"""Learning on the page: shown, stopped, kept; feel, drift and the learning curve drawn."""

import re
import time
from collections.abc import Callable
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

import pytest
from tests.web.told import said

from carrybook.app.services.learn import learnt_state
from carrybook.app.web.jobs import Tell
from carrybook.app.web.rooms import learning
from carrybook.app.web.views.curve import curve_picture
from carrybook.app.web.views.gaps import gaps_picture
from carrybook.app.web.views.moved import moved_picture
from carrybook.artefacts.words import METRES, YARDS
from carrybook.base.errors import NoSolutionError
from carrybook.player.day import Day
from carrybook.player.learn.check import CurvePoint
from carrybook.player.learn.feel import Feel, FeelGap, Week
from carrybook.player.moved import moved_today
from carrybook.player.summary import summarise
from carrybook.world.air import Air
from carrybook.world.lie import Moisture

Visitor = Any  # the class in conftest.py

HX = {"hx-request": "true"}
SHOT = {"club": "56", "loft": "56", "carry": "80", "partials": "50yd..80yd"}


def until(look: Callable[[], str], there: str) -> str:
    for _ in range(900):
        page = look()
        if there in page:
            return page
        time.sleep(0.1)
    raise AssertionError(f"{there} never came")


@pytest.fixture
def somebody(newcomer: Visitor) -> Visitor:
    """A player with one shot and a dozen balls that were called."""
    newcomer.post("/book/shots", SHOT)
    for k in range(12):
        ball = {"shot": "56", "intended": "80", "called": f"{80 + k % 3}", "carry": f"{77 + k % 4}"}
        newcomer.post("/range", ball | {"key": f"{k}"})
    return newcomer


def test_it_learns_beside_the_page_and_says_when(somebody: Visitor) -> None:
    assert "Nothing is learnt yet" in somebody.get("/book").text
    part = somebody.post("/book/learn", {"how": "quick"}, headers=HX).text
    assert "<html" not in part
    assert 'hx-get="/book/learning"' in part
    page = until(lambda: somebody.get("/book/learning").text, "Learnt from 12 balls")
    stored = learnt_state(somebody.app.state.desk.book)
    assert stored is not None
    assert f"Learnt {stored.at.astimezone():%Y-%m-%d} at" in page
    assert "up to date" in page
    told = said("numbers", "--book", str(somebody.app.state.desk.book))["numbers"][0]
    assert f"<b>{told['reference_m'] / 0.9144:.0f}</b>" in somebody.get("/book").text
    learnt = somebody.get("/book/learnt").text
    assert 'href="/book/learnt"' not in learnt  # where one is already
    assert 'href="/book/learnt"' in somebody.get("/book").text
    assert "How carry at the same feel changes in a year: 56 " in learnt
    somebody.post("/range", {"shot": "56", "carry": "79", "key": "new"})
    assert "has changed since" in somebody.get("/book").text


def test_it_stops_and_keeps_nothing(somebody: Visitor, monkeypatch: pytest.MonkeyPatch) -> None:
    def endless(_book: Path, *, progress: Tell, **_: object) -> None:
        for _k in range(2000):
            progress("sampling chains 1 and 2 of 4", 0.3)
            time.sleep(0.01)

    monkeypatch.setattr(learning, "learn_book", endless)
    somebody.post("/book/learn", {"how": "full"})
    page = until(lambda: somebody.get("/book/learning").text, "sampling chains 1 and 2")
    assert 'value="0.300"' in page
    somebody.post("/book/learn/stop", headers=HX)
    until(lambda: somebody.get("/book/learning").text, "Stopped.")
    assert learnt_state(somebody.app.state.desk.book) is None


def test_it_asks_to_stop_before_it_keeps(somebody: Visitor) -> None:
    def stop(words: str, _share: float) -> None:
        if words.startswith("keeping"):
            raise NoSolutionError("stopped here")

    book = somebody.app.state.desk.book
    with pytest.raises(NoSolutionError, match="stopped here"):
        learning.learn_book(book, full=False, seed=1, at=datetime.now(UTC), progress=stop)
    assert learnt_state(book) is None


GAP = FeelGap("56", 0.0, 1e9, 12, 0.021, 0.004, 0.039)
MEANT = FeelGap("56", 0.0, 1e9, 12, -0.01, -0.03, 0.01)
BAND = FeelGap("all", 60 * 0.9144, 80 * 0.9144, 12, 0.02, 0.0, 0.04)
WEEKS = tuple(Week(date(2026, 5, d), 9, 0.02, 0.01, 0.03) for d in (4, 11))
FEEL = Feel((GAP,), (MEANT,), (BAND,), (BAND,), (), WEEKS)
CURVE = (CurvePoint(0, "56", 0, 9.0), CurvePoint(9, "56", 9, 3.0), CurvePoint(9, "60", 0, 4.0))


def test_feel_and_the_curve_are_shown_when_asked_for(
    somebody: Visitor, monkeypatch: pytest.MonkeyPatch, visit: Callable[..., Visitor]
) -> None:
    monkeypatch.setattr(learning, "feel_of_book", lambda _book: FEEL)
    monkeypatch.setattr(learning, "curve_of", lambda _book, **_: CURVE)
    page = somebody.get("/book/learnt").text
    assert "Compare feel with real" in page
    somebody.post("/book/feel")
    page = until(lambda: somebody.get("/book/feel").text, "<table")
    assert "+2.1 % (+0.4 % to +3.9 %)" in page
    assert page.count('class="guess"') == 1  # meant less called, open
    assert "60 to 80 yd" in page
    assert "2026-05-11" in page
    somebody.post("/book/curve", headers=HX)
    page = until(lambda: somebody.get("/book/curve").text, "<svg")
    assert "56 3.3 yd, 60 4.4 yd" in page
    assert len(re.findall(r'class="curve dash\d"', page)) == 2
    page = visit(somebody.app.state.desk.book).get("/book/learnt").text  # another server
    assert "+2.1 % (+0.4 % to +3.9 %)" in page
    assert "56 3.3 yd, 60 4.4 yd" in page


def test_feel_without_a_call_is_a_plain_sentence(newcomer: Visitor) -> None:
    newcomer.post("/book/shots", SHOT)
    newcomer.post("/range", {"shot": "56", "carry": "79", "key": "k"})
    newcomer.post("/book/feel")
    until(lambda: newcomer.get("/book/feel").text, "No logged ball was called")
    newcomer.post("/book/feel/stop")
    newcomer.post("/book/curve/stop")


def test_gaps_lie_where_they_are() -> None:
    p = gaps_picture([{"a": (-0.01, 0.0, 0.01), "b": (0.02, 0.03, 0.04)}, {"a": (0, 0, 0)}], "x")
    assert p is not None
    assert [name for _, name in p.names] == ["a", "b"]
    a, b, other = p.marks
    assert a.at == pytest.approx(p.zero)
    assert a.low < a.at < a.high < b.low < b.at
    assert (a.filled, other.filled) == (True, False)
    assert a.y < other.y < b.y
    assert "b +3.0 % (+2.0 to +4.0)" in p.told
    assert gaps_picture([{}], "x") is None


def test_the_curve_falls_and_names_do_not_meet() -> None:
    p = curve_picture(CURVE, METRES)
    assert p is not None
    first, second = p.lines
    assert first.points[0][1] < first.points[1][1]  # down the page is narrower
    assert abs(first.name_y - second.name_y) >= 12.0
    assert p.told == "56 3.0 m, 60 4.0 m"
    assert curve_picture((), METRES) is None


def test_what_moved_adds_up(demo_book: Path) -> None:
    from carrybook.app.services.balls import logged_balls
    from carrybook.app.services.shots import owned_shots

    shots = summarise(owned_shots(demo_book), logged_balls(demo_book))[:2]
    cold = Air(temperature_k=278.15, humidity=0.5, pressure_pa=101325.0)
    moves = moved_today(shots, cold, moisture=Moisture.WET)
    p = moved_picture(moves, YARDS)
    assert p is not None
    for row, moved in zip(p.rows, moves, strict=True):
        change = (moved.number.today_m - moved.number.reference_m) / YARDS.far_m
        assert row.at == pytest.approx(p.axes.x.at(change))
        assert abs(int(row.text.replace("−", "-")) - change) < 1.01
        lie = next(part for part in row.parts if part.kind == "lie")
        assert lie.width == pytest.approx(
            abs(p.axes.x.at(moved.lie_m / YARDS.far_m) - p.axes.x.at(0.0))
        )
    still = moved_today(shots, Day().air)
    assert moved_picture(still, YARDS) is None


def test_today_shows_what_moved_the_numbers(visitor: Visitor) -> None:
    assert "What moved them" not in visitor.get("/today").text
    visitor.post("/today", {"temp": "5", "moisture": "wet"})
    page = visitor.get("/today").text
    assert "What moved them" in page
    assert 'class="part air"' in page
    assert 'class="part lie"' in page


def test_a_message_at_the_range_is_in_both_units(visitor: Visitor) -> None:
    visitor.post("/units", {"units": "metres"})
    answer = visitor.post("/range", {"shot": "56", "carry": "400", "key": "far"})
    told = re.search(r'id="problem-carry">([^<]*)<', answer.text)
    assert told is not None
    assert "(400 m; " in told[1]
    assert " yd is outside" in told[1]


def test_a_shared_page_says_what_a_phone_lacks(book: Path, visit: Callable[..., Visitor]) -> None:
    from carrybook.app.web import tokens
    from carrybook.app.web.door import Door

    shared = visit(book, door=Door("nine wet wedges"))
    shared.client.cookies.set("pass", tokens.pass_of(shared.app.state.desk.secret))
    assert "does not install it on a home screen" in shared.get("/more").text
    assert "home screen" not in visit(book).get("/more").text
