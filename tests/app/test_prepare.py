"""`prepare` through the command line: numbers, plans, what changed, cards; kept and refused."""

import json
from collections.abc import Callable
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader
from typer.testing import CliRunner, Result

from carrybook import app as rooms
from carrybook.app.cli import app
from carrybook.app.services import kept_plans, plan

Ask = Callable[..., Result]
DATA = Path(rooms.__file__).parent / "demo_data"
NAME = "Saltfen Reach"
SATURDAY = ("prepare", NAME, "--from", "2026-05-30")
ONE = (*SATURDAY, "--hole", "4", "--numbers", "85yd", "--lay-ups", "none", "--workers", "1")
NOTES = (
    ("--date", "2025-05-27", "--firmness", "very firm", "--text", "dry spring"),
    ("--date", "2026-05-28", "--hole", "4", "--saw", "released 5 paces", "--saw", "ran out"),
    ("--date", "2026-05-28", "--stimp", "11ft", "--text", "slopes hard to the water"),
)


@pytest.fixture(scope="module")
def ask(tmp_path_factory: pytest.TempPathFactory) -> Ask:
    """Ask a book with one shot and the demo's venue."""
    book = str(tmp_path_factory.mktemp("week") / "book.sqlite")

    def invoke(*words: str) -> Result:
        return CliRunner().invoke(app, ["--book", book, *words], catch_exceptions=False)

    def well(*words: str) -> None:
        assert invoke(*words).exit_code == 0, words

    shot = "shots add 56 --loft 56deg --carry 92yd --partials 60yd..95yd"
    well(*shot.split())
    well("venue", "add", NAME, "--course", str(DATA / "venue.geojson"))  # level: it is read faster
    well("venue", "forecast", NAME, str(DATA / "week.csv"))
    for day, sheet, tee in (("29", "friday", "12:50"), ("30", "saturday", "09:30")):
        well("venue", "tee", NAME, tee, "--date", f"2026-05-{day}")
        well("venue", "holes", NAME, str(DATA / f"{sheet}.txt"), "--date", f"2026-05-{day}")
    for note in NOTES:
        well("venue", "note", NAME, *note)
    return invoke


def view(result: Result) -> Any:  # noqa: ANN401 - JSON
    assert result.exit_code == 0, result.output
    return json.loads(result.stdout)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("cards") / "of the week"


@pytest.fixture(scope="module")
def week(ask: Ask, folder: Path) -> Any:  # noqa: ANN401 - JSON
    return view(ask(*ONE, "--cards", str(folder), "--json"))


def test_keys_of_the_answer(week: Any) -> None:  # noqa: ANN401 - JSON
    assert list(week) == [
        "venue", "holes", "numbers_m", "notes", "days", "remarks", "pieces_done", "pieces",
        "pieces_kept", "cards", "seed", "rules_note",
    ]  # fmt: skip
    (day,) = week["days"]
    assert (day["day"], day["tee_off"], week["holes"]) == ("2026-05-30", "09:30", ["4"])
    assert (week["pieces"], week["pieces_done"]) == (1, 1)
    assert [note["day"] for note in week["notes"]] == ["2025-05-27", "2026-05-28", "2026-05-28"]


def test_numbers_are_those_of_numbers_in_that_air(ask: Ask, week: Any) -> None:  # noqa: ANN401
    for half in week["days"][0]["halves"]:
        day = (DATA / "week.csv").read_text().splitlines()
        one = Path(week["cards"][0]).parent / "one.csv"
        one.write_text("\n".join(r for r in day if r.startswith(("time", "2026-05-30"))))
        said = ask("numbers", "--forecast", str(one), "--at", half["middle"]["at"], "--json")
        (plain,), (told,) = view(said)["numbers"], half["numbers"]
        for key in ("today_m", "centre_se_m", "spread_m"):
            assert told[key] == plain[key]
        assert told["low_m"] < told["today_m"] < told["high_m"]
        assert told["into_m"] < told["today_m"] < told["helping_m"]


def test_what_changed_since_the_day_before(week: Any) -> None:  # noqa: ANN401 - JSON
    moved = week["days"][0]["changes"]
    assert moved["since"] == "2026-05-29"
    (hole,) = moved["holes"]
    assert (hole["before"], hole["now"]) == ("8 on, 9 from the left", "27 on, 9 from the left")
    assert {wind["half"] for wind in moved["winds"]} == {"morning", "afternoon"}
    assert moved["stimps"] == moved["shots"] == []


def test_firmness_is_learnt_from_the_balls_seen(ask: Ask, week: Any) -> None:  # noqa: ANN401
    """On the day of the note it is nearly what `firmness` says; two days later less sure."""
    saw = ("--saw", "released 5 paces", "--saw", "ran out")
    learnt = view(ask("firmness", *saw, "--json"))
    then = view(ask("prepare", NAME, "--from", "2026-05-28", "--no-plans", "--json"))
    green = next(g for g in then["days"][0]["greens"] if g["hole"] == "4")
    assert green["firmness_g"] == pytest.approx(learnt["firmness_g"], abs=1.0)
    assert green["firmness_sd_g"] == pytest.approx(learnt["firmness_sd_g"], abs=0.5)
    now = week["days"][0]["greens"][0]
    assert now["firmness_sd_g"] > green["firmness_sd_g"]
    assert (now["noted"], now["stimp_m"]) == ("2026-05-28", pytest.approx(11 * 0.3048))
    other = next(g for g in then["days"][0]["greens"] if g["hole"] == "11")
    assert 95.0 < other["firmness_g"] < green["firmness_g"]


def test_the_plan_is_for_where_the_hole_is_cut(week: Any) -> None:  # noqa: ANN401 - JSON
    (cell,) = week["days"][0]["cells"]
    (green,) = week["days"][0]["greens"]
    assert (cell["hole"], cell["zone"], cell["shot"]) == ("4", green["zone"], "56")
    assert cell["on_m"] == pytest.approx(27 * 0.9144)
    assert green["at"] == "10:00"


def test_plans_are_kept_until_something_changes(
    ask: Ask,
    week: Any,  # noqa: ANN401 - JSON
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    again = view(ask(*ONE, "--json"))
    assert again["pieces_kept"] == 1
    assert again["days"] == week["days"]
    other = view(ask(*ONE, "--seed", "2", "--json"))
    assert other["pieces_kept"] == 0
    monkeypatch.setattr(kept_plans, "program", lambda: "edited")
    edited = view(ask(*ONE, "--json"))
    assert (edited["pieces_kept"], edited["days"]) == (0, week["days"])


@pytest.fixture
def two_pieces(monkeypatch: pytest.MonkeyPatch) -> None:
    """Plan only two zones of a hole."""
    pieces = kept_plans._pieces
    monkeypatch.setattr(kept_plans, "_pieces", lambda *given: list(pieces(*given))[:2])


@pytest.mark.usefixtures("two_pieces")
def test_without_a_sheet_zones_are_planned_and_an_interrupt_keeps_what_is_done(
    ask: Ask, monkeypatch: pytest.MonkeyPatch
) -> None:
    sunday = ("prepare", NAME, "--from", "2026-05-31", *ONE[4:])
    whole = plan.sweep

    def stopped(*given: object) -> object:
        yield next(iter(whole(*given)))  # type: ignore[arg-type, call-overload]
        raise KeyboardInterrupt

    monkeypatch.setattr(plan, "sweep", stopped)
    half = ask(*sunday)
    assert half.exit_code == 1
    assert "stopped after 1 of 2 zones, which are kept; run it again" in half.stderr
    assert "plans: 1 of 2 zones" in half.stdout
    monkeypatch.setattr(plan, "sweep", whole)
    rest = view(ask(*sunday, "--json"))
    assert (rest["pieces_kept"], rest["pieces_done"]) == (1, 2)
    assert [cell["zone"] for cell in rest["days"][0]["cells"]] == ["front left", "front centre"]
    assert rest["remarks"] == ["no tee time for 2026-05-31: hours from 07:00 to 18:00 count"]


def text_of(path: Path) -> str:
    pages = PdfReader(BytesIO(path.read_bytes())).pages
    return " ".join(" ".join(page.extract_text().split()) for page in pages)


def test_cards_of_both_profiles_hold(ask: Ask, week: Any, folder: Path) -> None:  # noqa: ANN401
    names = [f"saltfen-reach-2026-05-30-{p}.pdf" for p in ("ordinary", "restricted")]
    assert [Path(path).name for path in week["cards"]] == names
    for name, profile in zip(names, ("Ordinary", "Restricted"), strict=True):
        check = ask("card", "--check", str(folder / name))
        assert (check.exit_code, "NO" in check.stdout) == (0, False)
        assert check.stdout.startswith(f"{profile} profile: holds")
        text = text_of(folder / name)
        for words in (
            "Saltfen Reach, Sat 30 May", "Tee 09:30", "Carries in yd, morning, 10:00: 7 C",
            "Carries in yd, afternoon, 13:00: 8 C", "Wind, morning at 10:00: 17 mph from WNW",
            "Hole 4: by hole location", "Cold: feels", "Since Fri 29 May: wind", "Lightning",
        ):  # fmt: skip
            assert words in text, words


@pytest.mark.usefixtures("week")
def test_a_restricted_card_holds_nothing_of_slopes_nor_the_players_words(folder: Path) -> None:
    ordinary, restricted = (
        text_of(folder / f"saltfen-reach-2026-05-30-{p}.pdf") for p in ("ordinary", "restricted")
    )
    for words in ("slopes hard to the water", "dry spring", "27 on, 9 from the left"):
        assert words in ordinary
        assert words not in restricted
    for word in ("slope", "tier", "break", "uphill", "%)", "is cut"):
        assert word not in restricted


def test_days_without_forecast_and_without_tee_time(ask: Ask) -> None:
    said = ask("prepare", NAME, "--from", "2026-05-31", "--to", "2026-06-01", "--no-plans")
    assert said.exit_code == 0
    assert "MON 1 JUN\n  no forecast yet\n" in said.stdout
    assert "note: no forecast yet for 2026-06-01: nothing is worked out for it" in said.stdout
    assert "note: no tee time for 2026-05-31: hours from 07:00 to 18:00 count" in said.stdout
    assert "full sun adds up to 8 C (15 F): extreme caution" in said.stdout
    assert "Tue 27 May 2025, course: very firm (130 +- 10 g); dry spring" in said.stdout
    assert "Lightning: leave at the first thunder" in said.stdout


def test_metres(ask: Ask) -> None:
    said = ask(*SATURDAY, "--no-plans", "--units", "metres").stdout
    assert "carry m  morning" in said
    assert "8 m/s from WNW (302)" in said


@pytest.mark.parametrize(
    ("words", "code", "said"),
    [
        ("--from 2027-05-30", 1, "has no forecast from 2027-05-30 to 2027-05-30; read one: carry"),
        ("--from 2026-05-30 --to 2026-05-29", 2, "is no stretch of 1 to 14 days"),
        ("--from 2026-05-01 --to 2026-05-30", 2, "is no stretch of 1 to 14 days"),
        ("--from tomorrow", 2, "date = 'tomorrow' is not a date; write it like 2026-05-31"),
        ("--from 2026-05-30 --hole 5", 2, "hole = '5' is not among the holes of Saltfen Reach: 4"),
        ("--from 2026-05-30 --numbers 90", 2, "number = 90 has no unit"),
        ("--from 2026-05-30 --layout a5", 2, "layout = 'a5' is not one of: single"),
    ],
)
def test_what_cannot_be_prepared(ask: Ask, words: str, code: int, said: str) -> None:
    result = ask("prepare", NAME, *words.split())
    assert (result.exit_code, len(result.stderr.splitlines())) == (code, 1)
    assert said in result.stderr


def test_a_tee_time_outside_the_forecast(ask: Ask) -> None:
    assert ask("venue", "tee", NAME, "21:00", "--date", "2026-05-28").exit_code == 0
    result = ask("prepare", NAME, "--from", "2026-05-28", "--no-plans")
    assert result.exit_code == 2
    assert "tee time = 21:00 on 2026-05-28 is outside the forecast of that day" in result.stderr
    assert ask("venue", "tee", NAME, "08:10", "--date", "2026-05-28").exit_code == 0


def test_the_venue_that_nobody_added(ask: Ask) -> None:
    result = ask("prepare", "Nowhere", "--from", "2026-05-30")
    assert (result.exit_code, "the book has no venue 'Nowhere'" in result.stderr) == (2, True)
