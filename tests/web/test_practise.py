"""The Practise room: a session planned, called before it is seen, taken back, looked back on."""

import html
import json
import re
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest

from carrybook.app.forms.practise import PractiseForm
from carrybook.app.services.balls import logged_balls
from carrybook.app.services.log import now
from carrybook.app.services.practise import planned_session
from carrybook.app.services.practise_run import hit, session_on
from carrybook.app.services.rounds import end_round, start_round
from carrybook.base.constants import YARD
from carrybook.store.versions import HEAD

Visitor = Any  # the class in conftest.py
PLAN = {"balls": "24", "minutes": "40", "aim": "mixed"}


def planned(visitor: Visitor) -> None:
    assert visitor.post("/practise/plan", PLAN).headers["location"] == "/practise"


def strike(visitor: Visitor, called: str, carry: str, side: str = "") -> None:
    assert visitor.post("/practise/call", {"called": called}).status_code == 303
    assert visitor.post("/practise/result", {"carry": carry, "side": side}).status_code == 303


def without_patterns(page: str) -> str:
    """What is seen: what a script may show later stands in templates."""
    return re.sub(r"<template.*?</template>", "", page, flags=re.DOTALL)


def shown(visitor: Visitor) -> str:
    return without_patterns(visitor.get("/practise").text)


def test_a_newcomer_begins_with_a_shot(newcomer: Visitor) -> None:
    page = newcomer.get("/practise").text
    assert "Begin with one shot you own" in page
    assert 'name="back" value="/practise"' in page


def test_a_session_is_planned_and_shown(visitor: Visitor, book: Path) -> None:
    assert "Plan a session" in visitor.get("/practise").text
    planned(visitor)
    page = visitor.get("/practise").text
    target = session_on(book).practice.next
    assert target is not None
    assert f"{target.planned.target_m / YARD:.0f} yd</span>" in page
    assert target.planned.play.cue[:10] in page
    for words in ("Warm up ten minutes", "Why there", "Load: 0 balls", "see a clinician"):
        assert words in page
    sheet = visitor.get("/practise/sheet.pdf")
    assert sheet.content.startswith(b"%PDF")


def test_what_cannot_be_planned_is_said_beside_its_field(visitor: Visitor) -> None:
    answer = visitor.post("/practise/plan", {**PLAN, "balls": "5"})
    assert answer.status_code == 400
    assert re.search(r'id="problem-balls">balls = 5 balls is outside', answer.text)
    answer = visitor.post("/practise/plan", {**PLAN, "focus": "<b>wood</b>"})
    assert answer.status_code == 400
    assert "<b>wood" not in answer.text


def test_the_call_is_in_the_log_before_the_result_is_asked(visitor: Visitor, book: Path) -> None:
    planned(visitor)
    assert 'name="carry"' not in shown(visitor)
    visitor.post("/practise/call", {"called": "70"})
    (ball,) = [b for b in logged_balls(book, last=1)]
    assert (round((ball.called_m or 0.0) / YARD), ball.carry_m) == (70, None)
    page = shown(visitor)
    assert 'name="carry"' in page
    assert 'data-reveal="4"' in page
    visitor.post("/practise/result", {"carry": "72", "side": "-3"})
    (ball,) = logged_balls(book, last=1)
    assert ball.side_m is not None
    assert round(ball.side_m / YARD) == -3
    assert ball.called_first is True
    page = visitor.get("/practise").text
    assert "1 of " in page
    assert "So far" in page
    assert "3 yd left" in page


def test_a_form_that_is_sent_twice_is_one_ball(visitor: Visitor, book: Path) -> None:
    planned(visitor)
    visitor.post("/practise/call", {"called": "70", "place": "1"})
    for _ in range(2):
        visitor.post("/practise/result", {"carry": "72", "place": "1"})
    assert session_on(book).practice.done == 1
    assert session_on(book).practice.next is not None
    assert not session_on(book).practice.next.called  # type: ignore[union-attr]


def test_no_call_is_a_ball_too(visitor: Visitor, book: Path) -> None:
    planned(visitor)
    strike(visitor, "", "71m", "2R")
    (ball,) = logged_balls(book, last=1)
    assert (ball.called_m, ball.carry_m) == (None, 71.0)


def test_a_result_that_cannot_be_used_is_asked_again(visitor: Visitor, book: Path) -> None:
    planned(visitor)
    visitor.post("/practise/call", {"called": "70"})
    for typed in ({"carry": "far"}, {"side": "2"}, {"carry": "9999"}):
        answer = visitor.post("/practise/result", typed)
        assert answer.status_code == 400
        assert 'name="carry"' in without_patterns(answer.text)
    assert logged_balls(book, last=1)[0].carry_m is None


def test_undo_skip_and_end(visitor: Visitor, book: Path) -> None:
    before = len(logged_balls(book))
    planned(visitor)
    strike(visitor, "70", "72")
    visitor.post("/practise/undo")
    assert len(logged_balls(book)) == before
    visitor.post("/practise/skip")
    assert session_on(book).practice.done == 1
    strike(visitor, "70", "72")
    assert visitor.post("/practise/end").headers["location"] == "/practise/history"
    page = visitor.get("/practise/history").text
    assert "2 of " in page
    assert "Plan a session" in visitor.get("/practise").text
    assert visitor.post("/practise/undo").status_code in {400, 422}


def test_the_standing_test_is_planned_here_too(visitor: Visitor, book: Path) -> None:
    assert "no session was struck yet" in visitor.get("/practise/history").text
    visitor.post("/practise/test")
    page = visitor.get("/practise").text
    assert "Standing test, 0 of 27 balls" in page
    hit(book, ["called 70 got 72 1R"] * 26, now(), units="yards")
    strike(visitor, "70", "72", "1")
    visitor.post("/practise/end")
    assert "27 balls, depth and side" in visitor.get("/practise/history").text


def test_a_server_that_was_stopped_goes_on(
    visitor: Visitor, book: Path, visit: Callable[..., Visitor]
) -> None:
    planned(visitor)
    strike(visitor, "70", "72")
    sheet = visitor.get("/practise/sheet.pdf").content
    again = visit(book)
    page = again.get("/practise").text
    assert "1 of " in page
    assert "Why there" in page
    assert again.get("/practise/sheet.pdf").content == sheet
    again.post("/units", {"units": "metres", "back": "/practise"})
    assert again.get("/practise/sheet.pdf").content != sheet


def test_reasons_are_those_of_this_very_session(visitor: Visitor, book: Path) -> None:
    planned(visitor)
    planned_session(book, PractiseForm.of(), now(), seed=2)  # elsewhere, and it has the same key
    assert "Why there" not in visitor.get("/practise").text
    assert visitor.get("/practise/sheet.pdf").status_code == 422


def test_while_a_round_is_on_it_only_records(visitor: Visitor, book: Path) -> None:
    start_round(book, now())
    assert "Shut during the round" in visitor.get("/practise").text
    end_round(book, now())
    planned(visitor)
    start_round(book, now())
    page = visitor.get("/practise").text
    assert "only recorded (Rule 4.3a)" in page
    assert "feel " not in page.split("<main")[1]
    strike(visitor, "70", "72")
    assert "strokes" not in visitor.get("/practise").text.split("<main")[1]
    assert "Shut during the round" in visitor.post("/practise/plan", PLAN).text
    assert "Shut during the round" in visitor.get("/practise/history").text


def test_in_metres(visitor: Visitor, book: Path) -> None:
    visitor.post("/units", {"units": "metres", "back": "/practise"})
    planned(visitor)
    strike(visitor, "64", "66")
    (ball,) = logged_balls(book, last=1)
    assert (ball.called_m, ball.carry_m) == (64.0, 66.0)
    assert " m</span>" in visitor.get("/practise").text


def waited(visitor: Visitor, book: Path, what: str, place: int, **said: str) -> Any:  # noqa: ANN401
    session = str(session_on(book).practice.key)
    told = {"what": what, "place": str(place), "session": session, "waited": "7200", **said}
    return visitor.post("/practise/waiting", told).json()


def test_what_waited_is_taken_once_and_says_so(visitor: Visitor, book: Path) -> None:
    planned(visitor)
    visitor.post("/practise/call", {"called": "70", "place": "1"})  # its answer was lost
    assert waited(visitor, book, "call", 1, called="70yd") == {"taken": False}
    for taken in (True, False):
        found = waited(visitor, book, "result", 1, carry="72yd", side="-3yd")
        assert found == {"taken": taken}
    (ball,) = logged_balls(book, last=1)
    assert round((ball.side_m or 0.0) / YARD) == -3
    assert waited(visitor, book, "skip", 2) == {"taken": True}
    for back in (True, False):
        assert waited(visitor, book, "undo", 2) == {"taken": back}
    assert session_on(book).practice.done == 1


def test_what_waited_and_cannot_be_used_is_refused_in_words(visitor: Visitor, book: Path) -> None:
    planned(visitor)
    said = {"what": "call", "place": "1", "session": "1", "called": "far"}
    answer = visitor.post("/practise/waiting", said)
    assert answer.status_code == 400
    assert "far" in answer.json()["refused"]
    assert "it carried is missing" in waited(visitor, book, "result", 1)["refused"]
    for place in ("x", "", "²", "9" * 30):
        refused = visitor.post("/practise/waiting", {**said, "place": place}).json()["refused"]
        assert refused == "what waited cannot be read"
    assert waited(visitor, book, "", 1) == {"refused": "what waited cannot be read"}
    assert session_on(book).practice.done == 0  # nothing is skipped that nobody said to skip


def test_what_waited_waits_on_where_only_the_book_is_shut(
    visitor: Visitor, book: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    planned(visitor)
    session = str(session_on(book).practice.key)
    said = {"what": "call", "place": "1", "session": session, "called": "70yd"}
    token = visitor.token()
    monkeypatch.setattr(visitor, "token", lambda: token)
    monkeypatch.setattr("carrybook.store.book._WAIT_S", 0.05)
    with closing(sqlite3.connect(book, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        answer = visitor.post("/practise/waiting", said)
    assert (answer.status_code, list(answer.json())) == (503, ["later"])
    assert visitor.post("/practise/waiting", said).json() == {"taken": True}


def test_what_waited_waits_on_where_the_book_is_from_a_newer_version(
    visitor: Visitor, book: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    planned(visitor)
    session = str(session_on(book).practice.key)
    said = {"what": "call", "place": "1", "session": session, "called": "70yd"}
    token = visitor.token()
    monkeypatch.setattr(visitor, "token", lambda: token)
    for version, answer in (("9999", "later"), (HEAD, "taken")):
        with closing(sqlite3.connect(book)) as other, other:
            other.execute("UPDATE alembic_version SET version_num = ?", [version])
        assert list(visitor.post("/practise/waiting", said).json()) == [answer]


def test_the_page_tells_a_script_every_ball_and_no_advice_during_a_round(
    visitor: Visitor, book: Path
) -> None:
    def told() -> list[dict[str, Any]]:
        found = re.search(r'data-balls="([^"]*)"', visitor.get("/practise").text)
        assert found is not None
        balls: list[dict[str, Any]] = json.loads(html.unescape(found[1]))
        return balls

    planned(visitor)
    visitor.post("/practise/call", {"called": "70"})
    balls, targets = told(), session_on(book).practice.targets
    assert [b["what"] for b in balls] == [f"{t.planned.target_m / YARD:.0f} yd" for t in targets]
    assert [b["called"] for b in balls[:2]] == ["70", ""]
    assert balls[1]["feel"].startswith(f"with the {targets[1].planned.play.shot}, feel ")
    start_round(book, now())
    assert {(b["feel"], b["cue"]) for b in told()} == {("", "")}
