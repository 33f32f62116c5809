"""While a round is on, whatever interprets is refused and recording goes on (Rule 4.3a)."""

import json
import os
import shlex
import signal
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
import typer
from typer.testing import Result

from carrybook.app.cli import app

Say = Callable[..., Result]

MAP = "--map no.geojson --hole 4"
WHERE = f"{MAP} --hole-location 24on,centre"
PLANNING = {
    "air": "air",
    "fly": "fly --ball-speed 30mps --launch 30deg --spin 9000rpm",
    "land": "land --speed 19mps --descent 51deg --spin 6500rpm",
    "firmness": "firmness --before medium --saw 'one hop and stopped'",
    "putt": "putt --distance 12ft",
    "numbers": "numbers",
    "choose": f"choose {WHERE} --number 88yd",
    "leave": f"leave {WHERE}",
    "plan": f"plan {MAP}",
    "prepare": "prepare Saltfen --from 2026-05-30",
    "card": "card card.pdf",
    "learn": "learn",
    "feel": "feel",
    "review": "review",
    "ground show": f"ground show {MAP}",
    "shots explain": "shots explain 54",
    "balls check": "balls check",
    "bag fit": "bag fit",
    "bag gaps": "bag gaps",
    "bag whatif": "bag whatif",
    "bag tryout": "bag tryout 54 --for 60-80yd",
    "practise plan": "practise plan",
    "practise test": "practise test",
    "practise history": "practise history",
}
RECORDING = {
    "round start", "round end", "round status", "round shot", "round shots", "round undo",
    "round import", "shots add", "shots list", "shots remove",
    "shots edit", "shots rename", "shots move", "shots undo", "balls import", "balls log",
    "balls list", "balls undo", "book export", "book restore", "book delete", "start", "serve",
    "doctor", "demo", "venue add", "venue note", "venue undo", "venue tee", "venue holes",
    "venue forecast", "venue show", "practise run", "practise hit", "practise undo",
    "practise status",
    "practise end",
}  # fmt: skip


def commands() -> set[str]:
    def paths(group: object, before: str) -> list[str]:
        inside = getattr(group, "commands", {}).items()
        return [p for name, each in inside for p in paths(each, f"{before} {name}")] or [before]

    return {path.strip() for path in paths(typer.main.get_command(app), "")}


def test_every_command_either_plans_or_records() -> None:
    assert commands() == {*PLANNING, *RECORDING}


@pytest.mark.parametrize("words", PLANNING.values(), ids=PLANNING)
def test_planning_is_refused_while_a_round_is_on(
    say: Say, bag: None, book: Path, words: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    assert say("round", "start").exit_code == 0
    before = book.read_bytes()
    result = say(*shlex.split(words))
    assert result.exit_code == 1
    assert result.stdout == ""
    assert result.stderr.startswith("error: a round is on since ")
    assert "Rule 4.3a" in result.stderr
    assert result.stderr.endswith("end it with: carrybook round end\n")
    assert result.stderr.count("\n") == 1
    assert book.read_bytes() == before
    assert not list(tmp_path.glob("*.pdf"))


def test_recording_goes_on(say: Say, bag: None, log: Path) -> None:
    say("round", "start")
    assert say("balls", "import", str(log)).exit_code == 0
    assert say("balls", "list").exit_code == 0
    assert say("shots", "list").exit_code == 0
    assert say("balls", "undo").exit_code == 0


def test_after_the_end_there_is_advice_again(say: Say, bag: None) -> None:
    say("round", "start")
    assert say("air").exit_code == 1
    assert say("round", "end").exit_code == 0
    assert say("air").exit_code == 0


def test_without_a_book_there_is_no_round(say: Say, book: Path) -> None:
    assert say("air").exit_code == 0
    assert say("round", "status").stdout.startswith("no round is on, and none was yet")
    assert not book.exists()


def test_a_round_can_begin_before_the_first_shot(say: Say, book: Path) -> None:
    assert say("round", "start").exit_code == 0
    assert say("air").exit_code == 1


def test_a_round_of_another_book_does_not_matter(say: Say, bag: None, tmp_path: Path) -> None:
    say("round", "start", "--book", str(tmp_path / "other.sqlite"))
    assert say("air").exit_code == 0
    assert say("air", "--book", str(tmp_path / "other.sqlite")).exit_code == 1


def test_status_says_since_when_and_what_was_noted(say: Say) -> None:
    say("round", "start", "--note", "final  day")
    shown = say("round", "status").stdout
    assert shown.startswith("a round is on since 20")
    assert "(final day): carrybook only records (Rule 4.3a)" in shown
    found = json.loads(say("round", "status", "--json").stdout)
    assert (found["on"], found["ended"], found["note"]) == (True, None, "final day")
    say("round", "end")
    found = json.loads(say("round", "status", "--json").stdout)
    assert not found["on"]
    assert found["ended"] >= found["begun"]
    assert say("round", "status").stdout.startswith("no round is on: the last one (final day)")


def test_begin_twice_and_end_twice_are_refused(say: Say) -> None:
    say("round", "start")
    again = say("round", "start")
    assert (again.exit_code, again.stdout) == (2, "")
    assert "end it first: carrybook round end" in again.stderr
    say("round", "end")
    assert say("round", "end").exit_code == 2


def test_killing_the_program_does_not_lift_the_lock(say: Say, book: Path) -> None:
    """A program that began a round and was killed at once, without any leave."""
    script = (
        "import os, signal; from datetime import datetime; from pathlib import Path;"
        "from carrybook.app.services.rounds import start_round;"
        f"start_round(Path({str(book)!r}), datetime.now().astimezone());"
        "os.kill(os.getpid(), signal.SIGKILL)"
    )
    killed = subprocess.run([sys.executable, "-c", script], env=os.environ, check=False)  # noqa: S603
    assert killed.returncode == -signal.SIGKILL
    assert say("air").exit_code == 1
    assert say("round", "end").exit_code == 0
