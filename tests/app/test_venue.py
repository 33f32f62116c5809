"""`venue` through the command line: what is written comes back, and what cannot be is refused."""

import json
import re
from collections.abc import Callable
from pathlib import Path

import pytest
from typer.testing import Result

from carrybook import app as rooms

Say = Callable[..., Result]
DATA = Path(rooms.__file__).parent / "demo_data"
COURSE = ("--course", str(DATA / "venue.geojson"), "--heights", str(DATA / "heights.csv"))
NAME = "Saltfen Reach"


@pytest.fixture
def venue(say: Say) -> Say:
    """A venue with its course; give what says `venue ...`."""

    def venue(word: str, *words: str) -> Result:
        return say("venue", word, NAME, *words)

    assert venue("add", *COURSE[:2], "--numbers", "90yd,70yd").exit_code == 0
    return venue


def view(result: Result) -> dict[str, object]:
    assert result.exit_code == 0, result.output
    found: dict[str, object] = json.loads(result.stdout)
    return found


def test_a_venue_is_added_and_more_is_said_of_it(venue: Say, say: Say) -> None:
    found = view(venue("show", "--json"))["venue"]
    assert found == {
        "name": NAME,
        "course": str(DATA / "venue.geojson"),
        "heights": None,
        "elevation_m": None,
        "surroundings": "open links",
        "numbers_m": [pytest.approx(64.008), pytest.approx(82.296)],
    }
    assert venue("note", "--text", "kept").exit_code == 0
    more = view(
        venue("add", *COURSE[2:], "--elevation", "12m", "--surroundings", "heath", "--json")
    )
    said = {"heights": COURSE[3], "elevation_m": 12.0, "surroundings": "heath"}
    assert more["venue"] == {**found, **said}  # type: ignore[dict-item]
    assert [note["text"] for note in more["notes"]] == ["kept"]  # type: ignore[attr-defined]
    assert view(say("venue", "show", "--json")) == {"venues": [more["venue"]]}
    assert f"{NAME}: {DATA / 'venue.geojson'}\n" in say("venue", "show").stdout


def test_notes_are_kept_shown_and_taken_back(venue: Say) -> None:
    said = venue(
        "note", "--date", "2026-05-27", "--hole", "16", "--saw", "One hop and stopped, deep mark",
        "--saw", "released 4 paces", "--stimp", "10ft",
    )  # fmt: skip
    assert said.stdout == (
        "Saltfen Reach, 1 note; now Wed 27 May 2026, hole 16: 10.0 ft; saw: One hop and stopped,"
        " deep mark; saw: released 4 paces\n"
    )
    venue("note", "--date", "2025-05-27", "--firmness", "108g+-6g", "--text", "dry spring")
    page = venue("show").stdout
    old, new = (page.index(words) for words in ("Tue 27 May 2025, course: firm", "Wed 27 May"))
    assert old < new
    assert venue("undo").stdout.startswith("taken back: Tue 27 May 2025, course: firm (108 +- 6 g)")
    assert [n["hole"] for n in view(venue("show", "--json"))["notes"]] == ["16"]  # type: ignore[attr-defined]


def test_a_note_without_a_date_is_of_today(venue: Say) -> None:
    from datetime import date

    venue("note", "--text", "now")
    (note,) = view(venue("show", "--json"))["notes"]  # type: ignore[misc]
    assert abs((date.fromisoformat(note["day"]) - date.today()).days) <= 1


def test_tee_times_sheets_and_forecasts(venue: Say) -> None:
    assert venue("tee", "9:30", "--date", "2026-05-30", "--from-hole", "10").stdout == (
        "Saltfen Reach\n  Sat 30 May 2026: tee 09:30 from hole 10\n"
    )
    sheet = venue("holes", str(DATA / "saturday.txt"), "--date", "2026-05-30")
    assert sheet.stdout.endswith("tee 09:30 from hole 10; 3 hole locations\n")
    told = venue("forecast", str(DATA / "week.csv"))
    assert told.exit_code == 0
    assert told.stdout.count("forecast 06:00 to 19:00 from week.csv, read") == 4
    page = view(venue("show", "--json"))
    (day,) = page["days"]  # type: ignore[misc]
    assert (day["tee_off"], day["first_hole"]) == ("09:30", 10)
    assert day["locations"][0] == {"hole": "4", "location": "27 on, 9 from the left"}
    assert [len(f["hours"]) for f in page["forecasts"]] == [14] * 4  # type: ignore[attr-defined]


def test_a_sheet_may_come_in_parts(venue: Say, tmp_path: Path) -> None:
    venue("holes", str(DATA / "saturday.txt"), "--date", "2026-05-30")
    (tmp_path / "late.txt").write_text("11: 8 on, centre\n")
    venue("holes", str(tmp_path / "late.txt"), "--date", "2026-05-30")
    (day,) = view(venue("show", "--json"))["days"]  # type: ignore[misc]
    assert [each["location"] for each in day["locations"]] == [
        "27 on, 9 from the left", "8 on, centre", "9 on, centre",
    ]  # fmt: skip


def bad_files(folder: Path) -> dict[str, str]:
    """Files with a fault each."""
    faults = {
        "off.txt": "4: 80 on, centre\n",
        "unknown.txt": "5: 8 on, centre\n",
        "undated.csv": "time,temperature (C),humidity (%),station pressure (hPa),wind (mph),wind"
        " from (deg)\n09:00,9,85,1004,12,240\n",
    }
    for name, text in faults.items():
        (folder / name).write_text(text)
    return {name: str(folder / name) for name in faults}


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("add --course nowhere.geojson", r"its course at .*nowhere.geojson, which is not there"),
        ("add --surroundings jungle", r"surroundings = 'jungle' is not one of: open links"),
        ("note", r"the note says nothing; add --firmness firm"),
        ("note --firmness mushy", r"firmness = 'mushy' is not one of: soft, medium"),
        ("note --saw exploded", r"saw = 'exploded' is not one of: spun back"),
        ("note --stimp 10", r"green speed = 10 has no unit; write it like 10ft"),
        ("note --hole 5 --stimp 10ft", r"hole = '5' is not among the holes of Saltfen Reach: 4,"),
        ("note --stimp 10ft --date 31.5.", r"date = '31.5.' is not a date; write it like 2026-05"),
        ("note --stimp 10ft --date 2026-02-30", r"date = '2026-02-30' is not a date"),
        ("tee 25:00 --date 2026-05-30", r"time = '25:00' is not a time of day"),
        ("tee 08:10 --date 2026-05-30 --from-hole 19", r"first hole = 19 is not one of 1 to 18"),
        ("undo", r"Saltfen Reach has no note to take back"),
        ("holes off.txt --date 2026-05-30", r"off.txt, hole 4: hole location = '80 on, centre' is"),
        ("holes unknown.txt --date 2026-05-30", r"hole = '5' is not among the holes of Saltfen"),
        ("forecast undated.csv", r"undated.csv does not say which day it is for"),
        ("forecast off.txt", r"off.txt: the first row needs a column time"),
    ],
)
def test_what_cannot_be_is_refused_and_changes_nothing(
    venue: Say, tmp_path: Path, words: str, said: str
) -> None:
    before = view(venue("show", "--json"))
    files = bad_files(tmp_path)
    first, *rest = (files.get(word, word) for word in words.split())
    result = venue(first, *rest)
    assert result.exit_code == 2
    assert result.stderr.startswith("error: ")
    assert len(result.stderr.splitlines()) == 1
    assert re.search(said, result.stderr)
    assert view(venue("show", "--json")) == before


def test_an_unknown_venue_and_an_empty_book(say: Say) -> None:
    assert say("venue", "show").exit_code == 1
    assert say("venue", "add", "Ash Heath").exit_code == 0
    result = say("venue", "note", "Nowhere", "--text", "x")
    assert (result.exit_code, "it has: Ash Heath" in result.stderr) == (2, True)
    assert say("venue", "note", "ash  HEATH", "--text", "x", "--hole", "9").exit_code == 0


def test_recording_goes_on_during_a_round(venue: Say, say: Say) -> None:
    assert say("round", "start").exit_code == 0
    for words in (
        ("note", "--saw", "released 4 paces"),
        ("tee", "08:10", "--date", "2026-05-30"),
        ("holes", str(DATA / "saturday.txt"), "--date", "2026-05-30"),
        ("forecast", str(DATA / "week.csv")),
        ("undo",),
        ("show",),
    ):
        assert venue(*words).exit_code == 0, words
