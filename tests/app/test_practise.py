"""`practise`: planned, struck, taken back, ended, tested; nothing lost, nothing half done."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import icalendar
import pytest
from pypdf import PdfReader
from typer.testing import CliRunner, Result

from carrybook.app.cli import app
from carrybook.app.services.balls import logged_balls
from carrybook.app.services.learn import day_summaries
from carrybook.base.constants import YARD
from carrybook.player.day import Day

Say = Callable[..., Result]
PLAN = ("practise", "plan", "--balls", "24", "--minutes", "40")


@pytest.fixture
def wedges(say: Say) -> None:
    """Three shots in the book."""
    for words in (
        "54 --loft 54deg --carry 82yd --partials 50yd..84yd",
        "60 --loft 60deg --carry 68yd --partials 35yd..70yd",
        "54 --loft 54deg --carry 70yd --partials 45yd..72yd --flight low",
    ):
        assert say("shots", "add", *words.split(), "--cue", "chest keeps turning").exit_code == 0


def answer(result: Result) -> dict[str, Any]:
    assert result.exit_code == 0, result.output
    found: dict[str, Any] = json.loads(result.stdout)
    return found


def status(say: Say) -> dict[str, Any]:
    return answer(say("practise", "status", "--json"))


def test_a_plan_fits_and_says_why(say: Say, wedges: None) -> None:
    found = answer(say(*PLAN, "--json"))
    assert found["struck"] <= 24
    assert found["takes_min"] <= 40.0
    assert found["steps"][0]["kind"] == "warm-up"
    assert found["steps"][0]["minutes"] >= 10.0
    worths = [k["worth"] for k in found["leaks"]]
    assert worths == sorted(worths, reverse=True)
    assert "a usual round" in found["demand"]
    assert "scratch" in found["baseline"]  # no ball is logged yet
    text = say(*PLAN).stdout
    for words in (
        "warm-up",
        "worth a round",
        "chest keeps turning",
        "see a clinician",
        "Load: 0 balls",
    ):
        assert words in text
    assert status(say)["begun"] is None


def test_focus_aim_demand_and_baseline(say: Say, wedges: None, tmp_path: Path) -> None:
    near = answer(say(*PLAN, "--focus", "45-60yd", "--aim", "build", "--json"))
    assert {round(k["target_m"] / YARD) for k in near["leaks"]} == {45, 55}
    shot = answer(say(*PLAN, "--focus", "54 low", "--json"))
    assert {k["shot"] for k in shot["leaks"]} == {"54 low"}
    file = tmp_path / "demand.csv"
    file.write_text("distance,lie,times\n60yd,fairway,2\n50m,light rough,0.5\n")
    found = answer(say(*PLAN, "--demand", str(file), "--baseline", "tour", "--json"))
    assert next((round(k["target_m"]), k["lie"], k["times"]) for k in found["leaks"]) == (
        55,
        "fairway",
        2.0,
    )
    assert found["demand"] == "your file demand.csv"
    assert "published percent errors" in found["baseline"]


@pytest.mark.parametrize(
    ("words", "line"),
    [
        ("--balls 5", "balls = 5 balls is outside 10 to 300 balls"),
        ("--minutes 500", "minutes = 500 min is outside 15 to 240 min"),
        ("--aim fun", "aim = 'fun' is not one of: build, test, mixed"),
        ("--focus wood", "focus = 'wood' is neither a stretch like 70-90yd nor a shot of the book"),
        ("--baseline hero", "baseline = 'hero' is not one of"),
        ("--demand no.csv", "cannot read no.csv"),
        ("--calendar week.ics", "a calendar needs both"),
        (
            "--calendar week.txt --start 2026-06-01",
            "calendar = 'week.txt' must end in one of: .ics",
        ),
        ("--calendar week.ics --start soon", "start = 'soon' is not understood"),
        ("--calendar week.ics --start 2026-06-01T17:00+02:00", "has a zone; it is local"),
        (
            "--calendar week.ics --start 9999-12-31",
            "year of the start = 9999 is outside 2000 to 2100",
        ),
        (
            "--calendar week.ics --start 2026-06-01 --weeks 53",
            "weeks = 53 weeks is outside 1 to 52 weeks",
        ),
        ("--sheet sheet.doc", "sheet = 'sheet.doc' must end in one of: .pdf"),
    ],
)
def test_what_cannot_be_used_is_one_line_and_nothing_changes(
    say: Say, wedges: None, book: Path, words: str, line: str,
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch,
) -> None:  # fmt: skip
    monkeypatch.chdir(tmp_path)
    before = book.read_bytes()
    result = say(*PLAN, *words.split())
    assert (result.exit_code, result.stdout) == (2, "")
    assert line in result.stderr
    assert result.stderr.count("\n") == 1
    assert book.read_bytes() == before


@pytest.mark.parametrize(
    ("row", "line"),
    [
        ("60yd,fairway,often", "demand.csv, row 2: weight = 'often' is not a number above 0"),
        ("60,fairway,1", "demand.csv, row 2: distance"),
        ("60yd,sand,1", "demand.csv, row 2: lie = 'sand'"),
    ],
)
def test_a_bad_row_of_a_demand_is_named(
    say: Say, wedges: None, tmp_path: Path, row: str, line: str
) -> None:
    file = tmp_path / "demand.csv"
    file.write_text(f"distance,lie,times\n{row}\n")
    result = say(*PLAN, "--demand", str(file))
    assert result.exit_code == 2
    assert line in result.stderr


def test_sheet_calendar_and_picture(say: Say, wedges: None, tmp_path: Path) -> None:
    sheet, week, leak = (tmp_path / name for name in ("s.pdf", "w.ics", "l.png"))
    when = ("--start", "2026-06-01 17:00", "--weeks", "3")
    files = ("--sheet", str(sheet), "--calendar", str(week), *when, "--figure", str(leak))
    assert say(*PLAN, *files).exit_code == 0
    assert "Warm-up" in PdfReader(sheet).pages[0].extract_text()
    assert leak.read_bytes().startswith(b"\x89PNG")
    events = icalendar.Calendar.from_ical(week.read_bytes()).walk("VEVENT")
    starts = [e["DTSTART"].dt for e in events]
    assert [(s.month, s.day, s.hour) for s in starts] == [(6, 1, 17), (6, 8, 17), (6, 15, 17)]
    texts = {str(e["DESCRIPTION"]) for e in events}
    assert len(texts) == 3  # each week in an order of its own


def test_balls_are_struck_one_by_one(say: Say, wedges: None, book: Path) -> None:
    say(*PLAN)
    first = status(say)["next"]
    found = answer(say("practise", "hit", "called 72 got 68 3R", "--json"))
    (ball,) = found["said"]
    assert (ball["place"], found["done"]) == (1, 1)
    depth, side = 68.0 * YARD - first["target_m"], 3.0 * YARD
    exact = 100.0 * (depth**2 + side**2) ** 0.5 / first["target_m"]
    assert ball["scored"]["percent"] == pytest.approx(exact)
    assert ball["scored"]["called_off_m"] == pytest.approx(4.0 * YARD)
    (logged,) = logged_balls(book)
    assert logged.shot == first["shot"]
    assert logged.intended_m == pytest.approx(first["feel_m"])
    assert (logged.setting, logged.lie) == ("range", first["lie"])
    assert say("practise", "hit", "called 60").exit_code == 0
    assert status(say)["next"]["called_m"] == pytest.approx(60.0 * YARD)
    found = answer(say("practise", "hit", "59 1L", "--json"))
    assert found["done"] == 2
    assert logged_balls(book, last=1)[0].called_first is True


def test_another_shot_may_be_played(say: Say, wedges: None, book: Path) -> None:
    say(*PLAN)
    planned = status(say)["next"]
    other = next(s for s in ("54 low", "60") if s != planned["shot"])
    assert say("practise", "hit", f"{other} called 60 got 58").exit_code == 0
    (ball,) = logged_balls(book)
    assert ball.shot == other
    assert ball.intended_m == pytest.approx(planned["target_m"])  # no feel was planned for it
    assert say("practise", "hit", "54 3R").exit_code == 0  # a carry of 54
    assert logged_balls(book, last=1)[0].carry_m == pytest.approx(54.0 * YARD)


def test_all_lines_or_none(say: Say, wedges: None, book: Path) -> None:
    say(*PLAN)
    for bad in ("nonsense", "called 60 got 62 got 63", "dry"):
        result = say("practise", "hit", "called 60 got 61", bad)
        assert (result.exit_code, result.stdout) == (2, "")
        assert result.stderr.count("\n") == 1
        assert logged_balls(book) == ()
    assert status(say)["begun"] is None


def test_lines_come_from_standard_input(wedges: None, say: Say, book: Path) -> None:
    say(*PLAN)
    lines = "called 60 got 61\n\nskip\n58 2L\n"
    result = CliRunner().invoke(app, ["practise", "hit", "-"], input=lines)
    assert result.exit_code == 0, result.output
    assert len(logged_balls(book)) == 2
    assert status(say)["done"] == 3


def test_undo_and_end(say: Say, wedges: None, book: Path) -> None:
    say(*PLAN)
    say("practise", "hit", "60", "called 61")
    assert "ball 2 is to be struck again" in say("practise", "undo").stdout
    assert len(logged_balls(book)) == 1
    again = say(*PLAN)
    assert again.exit_code == 2
    assert "a session is on, 1 of" in again.stderr
    assert "ended, 1 of" in say("practise", "end").stdout
    assert say("practise", "status").exit_code == 1
    assert say(*PLAN).exit_code == 0
    assert say("practise", "end").exit_code == 2
    assert "there is no ball to undo" in say("practise", "undo").stderr


def test_a_session_that_asks(say: Say, wedges: None, book: Path) -> None:
    say(*PLAN)
    typed = "\n72\n68 3R\n-\n70\n61 got 60\nnonsense\nskip\nundo\n54 low called 66 got 64\nend\n"
    result = CliRunner().invoke(app, ["practise", "run", "--reveal", "0"], input=typed)
    assert result.exit_code == 0, result.output
    assert "warmed up?" in result.stdout
    assert "error: 'nonsense'" in result.stdout
    balls = logged_balls(book)[::-1]
    assert [round(b.carry_m / YARD) for b in balls if b.carry_m] == [68, 70, 60, 64]
    assert [b.called_first for b in balls] == [True, None, None, None]
    assert status(say)["done"] == 4  # it goes on where it was
    again = CliRunner().invoke(app, ["practise", "run", "--reveal", "0"], input="60\n")
    assert "warmed up?" not in again.stdout
    assert status(say)["next"]["called_m"] == pytest.approx(60.0 * YARD)
    whole = CliRunner().invoke(
        app, ["practise", "run", "--reveal", "0"], input="61\n" + "62 got 60\n" * 22
    )
    assert "ended" in whole.stdout
    assert "over your book" in whole.stdout


def test_practice_feeds_what_is_known_of_each_shot(say: Say, wedges: None, book: Path) -> None:
    say(*PLAN)
    assert say("practise", "hit", *["called 60 got 61 1R"] * 12).exit_code == 0
    assert sum(s.balls for s in day_summaries(book, Day())) == 12


def strike_test(say: Say, factor: float, seed: int) -> None:
    planned = answer(say("practise", "test", "--seed", str(seed), "--json"))
    balls = [b for step in planned["steps"] for b in step["balls"]]
    targets = [b["target_m"] for b in balls]
    lines = [
        f"called {t:.1f} got {t * (1.0 + factor * (-1) ** k):.2f} {0.5 * factor * t:.2f}R"
        for k, t in enumerate(targets)
    ]
    assert say("practise", "hit", *lines, "--units", "metres").exit_code == 0
    assert say("practise", "end").exit_code == 0


def test_the_standing_test_tells_change_from_luck(say: Say, wedges: None, tmp_path: Path) -> None:
    assert "no session was struck yet" in say("practise", "history").stderr
    strike_test(say, 0.08, 1)
    strike_test(say, 0.07, 2)
    strike_test(say, 0.03, 3)
    figure = tmp_path / "tests.png"
    found = answer(say("practise", "history", "--json", "--figure", str(figure)))
    assert figure.read_bytes().startswith(b"\x89PNG")
    first, second, third = found["tests"]
    assert first["result"]["percent"] == pytest.approx(8.0 * 1.25**0.5, rel=0.02)
    assert first["since_first"] is None
    assert not second["since_last"]["real"]
    assert third["since_first"]["real"]
    assert third["since_first"]["chance_closer"] > 0.9
    text = say("practise", "history").stdout
    assert "may well be luck" in text
    assert "more than luck" in text


def test_the_standing_test_stays_the_same(say: Say, wedges: None) -> None:
    first, second = (answer(say("practise", "test", "--seed", s, "--json")) for s in "12")
    assert first["standing_test"] == second["standing_test"]
    orders = [[b["target_m"] for st in p["steps"] for b in st["balls"]] for p in (first, second)]
    assert sorted(orders[0]) == sorted(orders[1])
    assert orders[0] != orders[1]
    refused = say("practise", "test", "--balls", "54")
    assert refused.exit_code == 2
    assert "the standing test of this book has 27" in refused.stderr
    longer = answer(say("practise", "test", "--balls", "54", "--new", "--json"))
    assert longer["standing_test"]["smallest_change"] < first["standing_test"]["smallest_change"]


def test_while_a_round_is_on_balls_are_only_recorded(say: Say, wedges: None, book: Path) -> None:
    say(*PLAN)
    say("round", "start")
    found = answer(say("practise", "hit", "called 60 got 61", "--json"))
    assert found["judged"] is False
    assert found["said"][0]["scored"] is None
    assert found["kinds"] == {}
    assert set(found["next"]) & {"shot", "feel_m", "cue"} == set()
    assert "Rule 4.3a" in say("practise", "status").stdout
    assert "strokes" not in say("practise", "hit", "61").stdout
    assert len(logged_balls(book)) == 2
    assert say(*PLAN).exit_code == 1
    assert say("practise", "history").exit_code == 1


def test_the_load_counts_what_was_struck(say: Say, wedges: None) -> None:
    say(*PLAN)
    say("practise", "hit", *["60"] * 5)
    say("practise", "end")
    found = answer(say(*PLAN, "--json"))
    warm_up = sum(w["balls"] for w in found["steps"][0]["warm_up"])
    assert found["load"]["this_week"] == 5 + warm_up
    assert found["load"]["week_with_session"] == 5 + warm_up + found["struck"]
