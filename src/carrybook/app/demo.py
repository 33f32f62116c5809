"""The demo: an invented player, an invented course in the open sea, three shots that differ.

It is made of ordinary commands, so that whatever it shows can be typed again and changed.
"""

import csv
import shutil
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from importlib.resources import files
from pathlib import Path

from carrybook.app.files import make_folder, write_file
from carrybook.base.errors import BadInputError

__all__ = ["Step", "command_here", "lay_out"]

_FILES = (
    "venue.geojson", "heights.csv", "described.txt", "balls.csv", "shots.csv", "week.csv",
    "thursday.txt", "friday.txt", "saturday.txt", "season.csv",
)  # fmt: skip
_VENUE = "Saltfen Reach"
# A week at the venue: date, sheet of the hole locations where there is one yet, tee time.
_WEEK = (
    ("2026-05-28", "thursday.txt", "08:10"),
    ("2026-05-29", "friday.txt", "12:50"),
    ("2026-05-30", "saturday.txt", "09:30"),
    ("2026-05-31", None, "13:40"),
)
# Notes of the year before and of practice days, words of the command parted by bars.
_NOTES = (
    "--date|2025-05-27|--firmness|very firm|--stimp|11ft|--text|dry spring, everything ran out",
    "--date|2026-05-26|--firmness|firm|--stimp|10ft",
    "--date|2026-05-27|--hole|16|--saw|one hop and stopped, deep mark|--saw|came back 2yd, deep"
    " mark|--saw|one hop and stopped|--text|in the shade of the bank until ten",
    "--date|2026-05-29|--stimp|11ft|--saw|released 4 paces|--saw|released 6 paces, shallow mark",
)


@dataclass(frozen=True, slots=True)
class Step:
    """One command of the demo: what it is for (empty where that is plain), and its words."""

    why: str
    words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Scene:
    name: str
    why: str
    hole: str
    hole_location: str
    number: str
    day: str  # words of the command, parted by bars


_SCENES = (
    _Scene(
        "1-back-shelf",
        "A warm, firm afternoon; the hole is at the back, up on the shelf.",
        "4",
        "27 on, 9 from the left",
        "91yd",
        "--air|27C 45% 1018hPa|--wind|5mph|--wind-from|160deg|--firmness|firm|--green-speed|11ft",
    ),
    _Scene(
        "2-over-the-bunker",
        "A cold, damp morning out of light rough; the hole is at the front, just over the bunker.",
        "11",
        "8 on, centre",
        "76yd",
        "--air|7C 93% 1004hPa|--lie|light rough|--moisture|dew|--firmness|soft|--green-speed|9ft",
    ),
    _Scene(
        "3-water-left",
        "A wind across from the right, and water all along the left.",
        "16",
        "17 on, 8 from the left",
        "104yd",
        "--air|16C 70% 1012hPa|--wind|14mph|--wind-from|90deg|--firmness|medium|--green-speed|10ft",
    ),
)


def command_here() -> str:
    """How this program was started, where `carrybook` alone would not find it; else empty."""
    if shutil.which("carrybook"):
        return ""
    started = Path(sys.argv[0])
    return str(started) if started.stem == "carrybook" else f"{sys.executable} -m carrybook"


def lay_out(out: Path) -> tuple[Step, ...]:
    """Put the demo's files into a folder and give the commands that play it.

    Parameters
    ----------
    out : Path
        The folder; made where it is not there yet. The demo's own book goes there too.

    Returns
    -------
    steps : tuple of Step
        Run in this order. Running them again adds nothing to the book.

    Raises
    ------
    BadInputError
        The folder cannot be made or written.
    """
    make_folder(out)
    for name in _FILES:
        write_file(out / name, (files("carrybook.app") / "demo_data" / name).read_bytes())
    book = ("--book", str(out / "demo-book.sqlite"))
    return (
        *_bag(out / "shots.csv", book),
        Step(
            "Two sessions of logged balls, in two airs and two units, some rows unreadable.",
            ("balls", "import", str(out / "balls.csv"), *book),
        ),
        Step(
            "What each shot carries on the second of those mornings.",
            ("numbers", "--air", "7C 93% 1004hPa", *book),
        ),
        *(_ask(scene, out, book) for scene in _SCENES),
        *_week(out, book),
        Step(
            "A season of recorded rounds.",
            ("round", "import", str(out / "season.csv"), *book),
        ),
        Step(
            "What it was made of: choice, what was believed, strike, luck; and what repeats.",
            ("review", "--figure", str(out / "review.png"), *book),
        ),
    )


def _bag(shots: Path, book: tuple[str, ...]) -> Iterator[Step]:
    why = "A demo book, and the shots this player owns."
    with shots.open(newline="", encoding="utf-8") as file:
        for row in csv.DictReader(file):
            words = ["shots", "add", row["club"], "--loft", f"{row['loft_deg']}deg"]
            words += ["--carry", f"{row['carry_yd']}yd", "--flight", row["flight"]]
            words += ["--partials", f"{row['shortest_yd']}yd..{row['longest_yd']}yd"]
            words += ["--cue", row["cue"]]
            words += [] if row["trusted"] == "yes" else ["--untrusted"]
            yield Step(why, (*words, *book))
            why = ""


def _week(out: Path, book: tuple[str, ...]) -> Iterator[Step]:
    """A week at the venue; what is noted there already is not noted again."""
    venue, course = ("venue",), ("--course", str(out / "venue.geojson"))
    yield Step(
        "A week at this venue: forecast by the hour, tee times, hole locations, notes.",
        (*venue, "add", _VENUE, *course, "--heights", str(out / "heights.csv"), *book),
    )
    yield Step("", (*venue, "forecast", _VENUE, str(out / "week.csv"), *book))
    for day, sheet, tee in _WEEK:
        yield Step("", (*venue, "tee", _VENUE, tee, "--date", day, *book))
        if sheet is not None:
            yield Step("", (*venue, "holes", _VENUE, str(out / sheet), "--date", day, *book))
    for note in () if _is_noted(out) else _NOTES:
        yield Step("", (*venue, "note", _VENUE, *note.split("|"), *book))
    days = ("--from", _WEEK[2][0], "--hole", "4", "--cards", str(out / "week"))
    yield Step(
        "Saturday: numbers by half-day, the plan of one hole, what changed since Friday.",
        ("prepare", _VENUE, *days, *book),
    )


def _is_noted(out: Path) -> bool:
    from carrybook.app.services.venues import look_at_venue

    path = out / "demo-book.sqlite"
    try:
        return path.exists() and bool(look_at_venue(path, _VENUE).notes)
    except BadInputError:  # a demo of an older version has no venue
        return False


def _ask(scene: _Scene, out: Path, book: tuple[str, ...]) -> Step:
    words = ["choose", "--map", str(out / "venue.geojson"), "--heights", str(out / "heights.csv")]
    words += ["--hole", scene.hole, "--hole-location", scene.hole_location]
    words += ["--number", scene.number, *scene.day.split("|")]
    words += ["--figure", str(out / f"{scene.name}.png"), "--card", str(out / f"{scene.name}.pdf")]
    return Step(scene.why, (*words, *book))
