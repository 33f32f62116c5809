"""The demo: ordinary commands on invented data, and nothing new the second time."""

import hashlib
import json
import re
import shutil
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from typer.testing import Result

from carrybook.app.demo import command_here

Say = Callable[..., Result]


@pytest.fixture(scope="module")
def ran(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, str, str]:
    """Run the demo twice into one folder; give the folder and what was printed."""
    from typer.testing import CliRunner

    from carrybook.app.cli import app

    out = tmp_path_factory.mktemp("demo") / "out"
    printed = []
    for _ in range(2):
        result = CliRunner().invoke(app, ["demo", "--out", str(out)], prog_name="carrybook")
        assert result.exit_code == 0, result.output
        printed.append(result.stdout)
    return out, printed[0], printed[1]


def test_it_imports_the_log_with_its_bad_rows_kept_aside(ran: tuple[Path, str, str]) -> None:
    out, first, second = ran
    read, added, there, rejected = map(
        int, re.findall(r"balls\.csv: (\d+) .*? (\d+) added, (\d+) .*? (\d+) rej", first)[0]
    )
    assert 300 <= read <= 600
    assert (added, there) == (read - rejected, 0)
    assert 1 <= rejected <= 10
    assert f"0 added, {added} already there, {rejected} rejected" in second
    assert len(list(out.glob("*.rejects/*.csv"))) == 1


def test_it_answers_three_situations_that_differ(ran: tuple[Path, str, str]) -> None:
    _, first, second = ran
    plays = re.findall(r"^PLAY (.+?), feel (\d+) yd", first, flags=re.MULTILINE)
    assert len(plays) == 3
    assert len(set(plays)) == 3
    assert plays == re.findall(r"^PLAY (.+?), feel (\d+) yd", second, flags=re.MULTILINE)
    for words in ("firm (110", "light rough, dew", "across from the right", "The player decides."):
        assert words in first


def test_it_writes_a_picture_and_a_card_for_each(ran: tuple[Path, str, str]) -> None:
    out, _, _ = ran
    assert len(list(out.glob("?-*.png"))) == 3
    for card in out.glob("?-*.pdf"):
        assert card.read_bytes().startswith(b"%PDF")
    assert len(list(out.glob("?-*.pdf"))) == 3


def test_it_prepares_a_day_of_a_week_and_notes_nothing_twice(ran: tuple[Path, str, str]) -> None:
    out, first, second = ran
    for words in ("SAT 30 MAY, tee 09:30", "Cold: feels", "since Fri 29 May", "hole 4, at 10:00"):
        assert words in first
        assert words in second
    assert (first.count("carrybook venue note"), second.count("carrybook venue note")) == (4, 0)
    assert "0 of them kept from before" in first
    assert "1 of 1 zones, 1 of them kept from before" in second
    assert len(list((out / "week").glob("*.pdf"))) == 2


def test_running_it_again_changes_no_ball_and_no_card(ran: tuple[Path, str, str], say: Say) -> None:
    out, _, _ = ran
    book = str(out / "demo-book.sqlite")
    before = {p.name: hashlib.sha256(p.read_bytes()).hexdigest() for p in out.glob("*.pdf")}
    balls = json.loads(say("balls", "list", "--book", book, "--json").stdout)
    assert say("demo", "--out", str(out)).exit_code == 0
    assert json.loads(say("balls", "list", "--book", book, "--json").stdout) == balls
    after = {p.name: hashlib.sha256(p.read_bytes()).hexdigest() for p in out.glob("*.pdf")}
    assert after == before


def test_it_leaves_ones_own_book_alone(ran: tuple[Path, str, str], book: Path) -> None:
    assert not book.exists()


def test_it_says_what_carrybook_is_where_it_is_not_on_the_path(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(shutil, "which", lambda _: "/usr/bin/carrybook")
    assert command_here() == ""
    monkeypatch.setattr(shutil, "which", lambda _: None)
    monkeypatch.setattr(sys, "argv", [".venv/bin/carrybook", "demo"])
    assert command_here() == ".venv/bin/carrybook"
    monkeypatch.setattr(sys, "argv", ["/src/carrybook/__main__.py", "demo"])
    assert command_here() == f"{sys.executable} -m carrybook"


def test_the_first_line_says_so(ran: tuple[Path, str, str]) -> None:
    here = command_here()
    assert ran[1].startswith(f"# carrybook is {here} here\n" if here else "\n# ")


def test_a_folder_that_cannot_be_made_is_said_so_before_compiling(
    say: Say, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "taken").write_text("a file")
    monkeypatch.setattr("carrybook.app.doctor.kernels_are_warm", lambda: False)
    result = say("demo", "--out", str(tmp_path / "taken"))
    assert result.exit_code == 2
    assert re.fullmatch(r"error: the folder '.*taken' cannot be made: .*\n", result.stderr)
