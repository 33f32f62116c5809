"""`review` at the command line: the demo's season in, causes out; shut while a round is on."""

import csv
import json
import shutil
from collections.abc import Callable
from importlib.resources import files
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from carrybook.app.cli import app

Say = Callable[..., Result]
DEMO = Path(str(files("carrybook.app"))) / "demo_data"


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The invented player's bag and season."""
    book = tmp_path_factory.mktemp("season") / "book.sqlite"
    with (DEMO / "shots.csv").open(newline="", encoding="utf-8") as file:
        for row in csv.DictReader(file):
            words = ["shots", "add", row["club"], "--loft", f"{row['loft_deg']}deg"]
            words += ["--carry", f"{row['carry_yd']}yd", "--flight", row["flight"]]
            words += ["--partials", f"{row['shortest_yd']}yd..{row['longest_yd']}yd"]
            assert CliRunner().invoke(app, [*words, "--book", str(book)]).exit_code == 0
    poured = CliRunner().invoke(
        app, ["round", "import", str(DEMO / "season.csv"), "--book", str(book)]
    )
    assert poured.exit_code == 0, poured.output
    return book


@pytest.fixture
def season(made: Path, book: Path) -> Path:
    """A copy of it, where commands look."""
    book.parent.mkdir(parents=True)
    return Path(shutil.copy(made, book))


def test_a_season_in_words(say: Say, season: Path, tmp_path: Path) -> None:
    picture = tmp_path / "review.png"
    done = say("review", "--figure", str(picture))
    assert done.exit_code == 0, done.output
    said = done.stdout
    assert said.startswith("24 rounds, 264 scoring shots, against a tour player's average")
    for words in (
        "choice",
        "wind not as believed",
        "strike: distance",
        "what cost most:",
        "note: ",
    ):
        assert words in said
    assert "carrybook practise plan --focus " in said
    assert "what would have been worth knowing:\n  the wind: " in said
    assert picture.read_bytes().startswith(b"\x89PNG")


def test_a_season_as_json_adds_up(say: Say, season: Path) -> None:
    found = json.loads(say("review", "--json", "--against", "book").stdout)
    assert (found["against"], found["rounds"], found["shots"]) == ("book", 24, 264)
    assert sum(p["strokes_per_round"] for p in found["parts"]) == pytest.approx(
        found["gained"]["strokes_per_round"], abs=1e-9
    )
    for shot in found["by_shot"]:
        gained = sum(v for v in shot["split"].values() if v is not None)
        assert gained == pytest.approx(shot["baseline"] - shot["strokes"], abs=1e-9)
    assert len(found["costs"]) <= 3
    assert found["looks"] > len(found["patterns"]) > 0
    assert all(p["chance"] < 0.05 for p in found["patterns"])


def test_some_rounds_alone(say: Say, season: Path) -> None:
    def rounds(*words: str) -> int:
        return int(json.loads(say("review", "--json", *words).stdout)["rounds"])

    assert rounds("--last", "3") == 3
    assert rounds("--round", "2") == 1
    assert 0 < rounds("--since", "2026-07-01") < 24
    assert "too few rounds to tell any from luck" in say("review", "--last", "2").stdout


def test_against_a_rival_and_in_metres(say: Say, season: Path, tmp_path: Path) -> None:
    rival = tmp_path / "rival.csv"
    rival.write_text("lie,distance (yd),strokes\nfairway,20,3.4\nfairway,120,4.0\n")
    done = say("review", "--last", "8", "--against", str(rival), "--units", "metres")
    assert "against rival's average" in done.stdout
    assert " yd shorter" not in done.stdout


@pytest.mark.parametrize(
    ("words", "code", "message"),
    [
        ("--round 99", 2, "round = 99 is not in the book"),
        ("--round 1 --last 2", 2, "which rounds? say one of --round, --last and --since"),
        ("--since yesterday", 2, "since = 'yesterday' is not a day like 2026-05-30"),
        ("--since 2030-01-01", 1, "no round since 2030-01-01 has a recorded scoring shot"),
        ("--against nobody", 2, "against = 'nobody' is not one of: tour, book; nor a file"),
        ("--against no.csv", 2, "no.csv cannot be read"),
        ("--figure x.txt", 2, "must end in one of: .png, .svg"),
    ],
)
def test_what_cannot_be_answered_is_said(
    say: Say, season: Path, words: str, code: int, message: str
) -> None:
    done = say("review", *words.split())
    assert (done.exit_code, done.stdout) == (code, "")
    assert message in done.stderr
    assert done.stderr.count("\n") == 1


def test_nothing_recorded_yet(say: Say, bag: None) -> None:
    done = say("review")
    assert done.exit_code == 1
    assert "record some: carrybook round shot" in done.stderr


def test_it_is_shut_during_a_round_and_recording_is_not(say: Say, season: Path) -> None:
    say("round", "start")
    done = say("review")
    assert done.exit_code == 1
    assert "Rule 4.3a" in done.stderr
    assert say("round", "shot", "4 88yd, with 56, holed").exit_code == 0
