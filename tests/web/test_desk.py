"""What the rooms share: read once, and read again when the book has changed."""

import shutil
import time
from pathlib import Path
from typing import Any

import pytest

import carrybook
from carrybook.app.forms.practise import PractiseForm
from carrybook.app.services.balls import log_ball
from carrybook.app.services.log import now
from carrybook.app.services.practise import planned_session
from carrybook.app.web import tokens
from carrybook.app.web.desk import Arrived, Desk, _program
from carrybook.app.web.jobs import StoppedError, Tell
from carrybook.base.errors import NoSolutionError
from carrybook.player.balls import Ball

Visitor = Any  # the class in conftest.py


@pytest.fixture
def desk(book: Path) -> Desk:
    """A desk with a full book."""
    return Desk(book)


def test_what_is_dear_is_made_once(desk: Desk) -> None:
    made = []
    for _ in range(3):
        assert desk.remembered("a", lambda: made.append(1) or len(made)) == 1
    assert (desk.knows("a"), desk.knows("b")) == (True, False)


def test_what_was_long_ago_is_forgotten_and_what_is_used_is_not(desk: Desk) -> None:
    desk.remembered("kept", lambda: 0)
    for k in range(40):
        desk.remembered(k, lambda: 0)
        desk.remembered("kept", lambda: pytest.fail("it was forgotten"))
    assert not desk.knows(0)
    assert desk.knows(39)


def test_a_failure_is_not_remembered(desk: Desk) -> None:
    def fail() -> int:
        raise NoSolutionError("not now")

    with pytest.raises(NoSolutionError):
        desk.remembered("a", fail)
    assert desk.remembered("a", lambda: 3) == 3


def test_the_book_is_read_again_when_it_has_changed(desk: Desk, book: Path) -> None:
    before = desk.summaries()
    assert desk.summaries() is before
    log_ball(book, Ball(shot="56", carry_m=80.0), key="new", raw={})
    after = {s.shot.label: s.balls for s in desk.summaries()}
    assert after["56"] == {s.shot.label: s.balls for s in before}["56"] + 1


def test_a_book_that_is_not_there_yet_has_no_shots(tmp_path: Path) -> None:
    with pytest.raises(NoSolutionError, match="there is no book"):
        Desk(tmp_path / "none.sqlite").summaries()
    assert not (tmp_path / "none.sqlite").exists()  # looking makes nothing but the page's folder


def test_what_an_answer_rests_on_is_the_shots_and_not_the_file(
    desk: Desk, book: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = desk.shots_stamp()
    assert len(before) == 64
    planned_session(book, PractiseForm.of(), now(), seed=1)  # it changes the file, and no shot
    assert desk.shots_stamp() == before
    assert Desk(book).shots_stamp() == before
    asked = desk.rests_on({"hole": "4"}, before)
    assert Desk(book).rests_on({"hole": "4"}, before) == asked
    log_ball(book, Ball(shot="56", carry_m=80.0), key="new", raw={})
    assert desk.shots_stamp() != before
    assert Desk(tmp_path / "none.sqlite").shots_stamp() == ""
    assert desk.rests_on({"hole": "5"}, before) != asked
    monkeypatch.setattr("carrybook.app.web.desk._program", lambda: "edited")
    assert desk.rests_on({"hole": "4"}, before) != asked


@pytest.mark.parametrize("room", ["player/learn", "decision/bag_fit", "artefacts", "app/services"])
def test_an_edit_anywhere_in_the_program_makes_what_was_kept_old(
    room: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    package = tmp_path / "carrybook"
    shutil.copytree(Path(carrybook.__file__).parent, package, ignore=only_sources)
    monkeypatch.setattr(carrybook, "__file__", str(package / "__init__.py"))
    before = _program.__wrapped__()
    (package / room / "edited.py").write_text("x = 1\n")
    assert _program.__wrapped__() != before


def only_sources(folder: str, names: list[str]) -> set[str]:
    return {n for n in names if (Path(folder) / n).is_file() and not n.endswith(".py")}


def test_work_ends_with_the_server_and_what_is_done_is_kept(visitor: Visitor, book: Path) -> None:
    def work(tell: Tell) -> str:
        while True:
            try:
                tell("on and on", 0.5)
            except StoppedError:
                return "a part of it"
            time.sleep(0.01)

    with visitor.client:  # the server runs
        job = visitor.app.state.desk.jobs.start(work, "leave", "this")
        while job.words != "on and on":
            time.sleep(0.01)
    assert job.done
    assert Desk(book).shelf.result("leave") == ("this", "a part of it")


def test_marks_of_forms_are_those_of_one_browser_and_the_last() -> None:
    arrived = Arrived()
    for k in range(12):
        arrived.add("a", f"m{k}")
    arrived.add("b", "<script>")
    arrived.add("b", "")
    assert arrived.of("a") == " ".join(f"m{k}" for k in range(4, 12))
    assert arrived.of("b") == arrived.of("c") == ""
    for k in range(300):
        arrived.add(f"v{k}", "x")
    assert arrived.of("a") == ""
    assert arrived.of("v299") == "x"


def test_a_page_names_only_forms_that_were_taken(visitor: Visitor) -> None:
    visitor.post("/practise/plan", {"balls": "24", "minutes": "40", "aim": "mixed", "sent": "abc1"})
    assert 'data-arrived="abc1"' in visitor.get("/practise").text
    visitor.post("/book/shots", {"club": "58", "loft": "steep", "sent": "abc2"})
    visitor.post("/before/round", {"playing": "yes"})
    visitor.post("/shot", {"number": "80", "sent": "abc3"})  # shut during the round
    assert 'data-arrived="abc1"' in visitor.get("/more").text


def test_a_form_token_belongs_to_one_browser_and_one_server() -> None:
    somebody, other = tokens.new_visitor(), tokens.new_visitor()
    secret = b"s" * 32
    token = tokens.form_token(secret, somebody)
    assert tokens.is_form_token(secret, somebody, token)
    assert not tokens.is_form_token(secret, other, token)
    assert not tokens.is_form_token(b"t" * 32, somebody, token)
    for forged in ("", token[:-1], token.upper(), "é" * 64):
        assert not tokens.is_form_token(secret, somebody, forged)


@pytest.mark.parametrize("name", [None, "", "x" * 31, "x" * 33, "é" * 32])
def test_a_browser_has_a_name_of_ours(name: str | None) -> None:
    assert not tokens.is_visitor(name)
    assert tokens.is_visitor(tokens.new_visitor())
