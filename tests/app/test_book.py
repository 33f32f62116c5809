"""Starting, importing with questions, and the book as a whole, at the command line."""

import json
from collections.abc import Callable
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from carrybook.app import asking
from carrybook.app.cli import app
from carrybook.base.constants import YARD

Say = Callable[..., Result]
START = ("start", "--wedge", "54 54deg 82yd", "--wedge", "60 60deg 68yd", "--level")
MESSY = (
    "\ufeff# range, bay 7\r\nTime;Club;Carry flat;Carry true;Total;Side;Note\r\n"
    ";;yd;yd;m;yd;\r\n"
    "2026-05-31 17:45;54;81,5;80,9;76,1;3R;\r\n"
    "2026-05-31 17:46;54;79,2;78,8;74,0;1,5 L;cold\r\n"
    "2026-05-31 17:46;54;79,2;78,8;74,0;1,5 L;cold\r\n"
    "2026-05-31 17:50;sandy;70,1;69,9;65,2;2R;\r\n"
    "2026-05-31 17:52;60;sixty;64,0;58,2;2R;\r\n"
    "Average;;77,5;76,0;71,0;0;\r\n"
)


@pytest.fixture
def messy(tmp_path: Path) -> Path:
    path = tmp_path / "range.csv"
    path.write_bytes(MESSY.encode())
    return path


@pytest.fixture
def somebody(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let somebody sit at the terminal."""
    monkeypatch.setattr(asking, "somebody_is_there", lambda: True)


def test_a_book_is_started_and_guesses_are_marked(say: Say) -> None:
    view = json.loads(say(*START, "12", "--also", "50deg", "--hand", "left", "--json").stdout)
    assert (view["handicap"], view["left_handed"]) == (12.0, True)
    assert [s["label"] for s in view["shots"]] == ["50", "54", "60"]
    assert [s["stock_carry_source"] for s in view["shots"]] == ["prior", "said", "said"]
    assert all(0.04 < s["spread"] < 0.09 for s in view["shots"])
    assert say("shots", "undo").stdout == "took back: the first bag\n"


def test_level_alone_changes_the_player(say: Say) -> None:
    assert say(*START, "scratch").exit_code == 0
    assert json.loads(say("start", "--level", "+2", "--json").stdout)["handicap"] == -2.0
    assert say(*START, "5").stderr.startswith("error: the book ")


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (("--level", "good", "--wedge", "54 54deg 82yd"), "level = 'good' is not scratch, bogey"),
        (("--wedge", "54 54deg 82yd"), "two wedges with their lofts and full carries are needed"),
        (("--wedge", "82yd"), "wedge = '82yd' is not understood"),
        (("--hand", "both"), "hand = 'both' is not one of: right, left"),
    ],
)
def test_a_start_that_cannot_be(say: Say, book: Path, words: tuple[str, ...], message: str) -> None:
    result = say("start", *words)
    assert result.exit_code == 2
    assert message in result.stderr
    assert not book.exists()


def test_what_is_not_clear_is_asked_and_remembered(say: Say, messy: Path, somebody: None) -> None:
    say(*START, "12")
    words = ["balls", "import", str(messy), "--preview"]
    text = CliRunner().invoke(app, words, input="9\n1\ny\n").stdout
    assert "which column holds the carry?" in text
    assert "'9' is not a number from 1 to 3" in text
    assert "nothing is stored yet" in text
    assert "range.csv: 6 rows read, 3 added, 0 already there, 3 rejected" in text
    assert text.count("which column holds the carry?") == 1
    assert "a row that sums up others, not a ball" in text
    again = CliRunner().invoke(app, words[:3]).stdout
    assert "which column" not in again
    assert "6 rows read, 0 added, 3 already there, 3 rejected" in again
    assert "as you said for an earlier file with this header: carry" in again
    assert len(json.loads(say("balls", "list", "--json").stdout)["balls"]) == 3


def test_a_mapping_file_answers_and_a_preview_stores_nothing(
    say: Say, messy: Path, tmp_path: Path
) -> None:
    say(*START, "12")
    result = say("balls", "import", str(messy))
    assert (result.exit_code, result.stdout) == (2, "")
    assert "choose with --column carry=" in result.stderr
    mapping = tmp_path / "map.toml"
    mapping.write_text('[columns]\ncarry = "Carry true"\n', "utf-8")
    words = ("balls", "import", str(messy), "--mapping", str(mapping), "--preview", "--json")
    view = json.loads(say(*words).stdout)
    assert (view["stored"], view["added"], view["rejected"]) == (False, 4, 2)
    assert view["first"][0]["carry_m"] == pytest.approx(80.9 * YARD)
    assert view["units"] == {"carry": "yd", "total": "m", "side": "yd"}
    assert json.loads(say("balls", "list", "--json").stdout)["balls"] == []
    mapping.write_text("[colums]\n", "utf-8")
    assert "'colums' is not understood" in say(*words).stderr


def test_out_back_in_and_gone(say: Say, book: Path, tmp_path: Path) -> None:
    say(*START, "12")
    out, copy = str(tmp_path / "out"), str(tmp_path / "copy.sqlite")
    assert "shot 2" in say("book", "export", out).stdout
    assert "restored from" in say("book", "restore", out, "--book", copy).stdout
    assert say("shots", "list", "--book", copy).stdout == say("shots", "list").stdout
    assert "format = 'xml' is not one of" in say("book", "export", out, "--format", "xml").stderr
    asked = say("book", "delete")
    assert (asked.exit_code, book.exists()) == (2, True)
    assert str(book) in say("book", "delete", "--yes").stdout
    assert not book.exists()


def test_what_the_page_keeps_is_named_and_goes_too(say: Say, book: Path, tmp_path: Path) -> None:
    say(*START, "12")
    page = Path(f"{book}.page")
    assert (
        json.loads(say("book", "export", str(tmp_path / "a"), "--json").stdout)["not_in_it"] is None
    )
    page.mkdir()
    (page / "draft-plan.json").write_text("{}", "utf-8")
    told = say("book", "export", str(tmp_path / "b"))
    assert f"not in it: maps, plans and half-filled forms that the page keeps in {page}" in (
        told.stdout
    )
    assert str(page) in say("book", "delete", "--yes").stdout
    assert not page.exists()
    page.mkdir()  # somebody who only looked, and typed
    assert say("book", "delete", "--yes").stdout == f"removed {page}\n"
    assert not page.exists()
    assert say("book", "delete", "--yes").exit_code == 2
