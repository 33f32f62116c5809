"""Logging at the range: the line, the session that asks, and nothing lost when the machine dies."""

import json
import os
import signal
import sqlite3
import subprocess
import sys
import time
from collections.abc import Callable
from contextlib import closing
from math import radians
from pathlib import Path

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from typer.testing import CliRunner, Result

from carrybook.app.cli import app
from carrybook.app.forms.quick_line import EXAMPLE, quick_line
from carrybook.base.constants import MILE_PER_HOUR, RPM, YARD
from carrybook.base.errors import BadInputError
from carrybook.player.bag import Club, Effort, Flight, Shape, Shot
from carrybook.world.lie import Lie, Moisture

Say = Callable[..., Result]


def shot(club: str, flight: Flight = Flight.STOCK, carry: float = 75.0) -> Shot:
    efforts = (Effort("pump", 50.0),) if club == "54" else ()
    return Shot(
        Club(club, radians(54.0)), flight, Shape.STRAIGHT, carry, 40.0, carry, efforts=efforts
    )


SHOTS = (shot("54"), shot("54", Flight.LOW), shot("60"), shot("gap wedge"))


def numbers(text: str, **more: object) -> dict[str, float]:
    return dict(quick_line(text, SHOTS, **{"units": "yards", **more}).numbers)  # type: ignore[arg-type]


def test_the_example() -> None:
    line = quick_line(EXAMPLE, SHOTS, units="yards")
    assert line.shot.label == "54 low"
    assert line.numbers == pytest.approx(
        {"intended_m": 70 * YARD, "called_m": 72 * YARD, "carry_m": 68 * YARD, "side_m": 3 * YARD}
    )
    assert (line.moisture, line.lie, line.effort, line.note) == (Moisture.WET, None, "", "")


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("54 70", {"intended_m": 70 * YARD}),
        ("54 to 70 got 68", {"intended_m": 70 * YARD, "carry_m": 68 * YARD}),
        ("Gap  WEDGE 70yd", {"intended_m": 70 * YARD}),
        ("54 65m got 70,5 m", {"intended_m": 65.0, "carry_m": 70.5}),
        ("54 carry: 68 total 71", {"carry_m": 68 * YARD, "total_m": 71 * YARD}),
        ("54 got 68 4 L", {"carry_m": 68 * YARD, "side_m": -4 * YARD}),
        ("54 got 68 4 left", {"carry_m": 68 * YARD, "side_m": -4 * YARD}),
        ("54 got 68 left 4", {"carry_m": 68 * YARD, "side_m": -4 * YARD}),
        ("54 got 68 9 ft right", {"carry_m": 68 * YARD, "side_m": 3 * YARD}),
        ("54 got 68 78mph 9000 rpm 30deg", {
            "carry_m": 68 * YARD, "ball_speed_mps": 78 * MILE_PER_HOUR,
            "spin_rad_s": 9000 * RPM, "launch_rad": radians(30)}),
        ("54 3/4 got 55", {"intended_m": 0.75 * 75.0, "carry_m": 55 * YARD}),
        ("54 three quarter got 55", {"intended_m": 0.75 * 75.0, "carry_m": 55 * YARD}),
        ("54 9 o'clock got 41", {"intended_m": 0.5 * 75.0, "carry_m": 41 * YARD}),
        ("54 pump got 55", {"intended_m": 50.0, "carry_m": 55 * YARD}),
        ("54 half 40 got 41", {"intended_m": 40 * YARD, "carry_m": 41 * YARD}),
    ],
)  # fmt: skip
def test_numbers_of_a_line(text: str, found: dict[str, float]) -> None:
    assert numbers(text) == pytest.approx(found)


def test_units_are_those_of_the_person() -> None:
    assert numbers("54 70 got 68", units="metres") == {"intended_m": 70.0, "carry_m": 68.0}
    assert numbers("72", shot=SHOTS[0], bare="called_m") == pytest.approx({"called_m": 72 * YARD})


def test_words_of_a_line() -> None:
    line = quick_line("54 70 got 60 light rough dew thin # hands cold, again", SHOTS, units="yards")
    assert (line.lie, line.moisture) == (Lie.LIGHT_ROUGH, Moisture.DEW)
    assert line.note == "thin; hands cold, again"
    assert quick_line("54 bunker got 20", SHOTS, units="yards").lie is Lie.SAND


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("", r"'nothing' is no shot of the book, and a line begins with one: 54, 54 low, 60, gap"),
        ("33 70", r"'33 70' is no shot of the book"),
        ("54 low 70 caled 72", r"'caled': is not understood; understood so far: 54 low, meant 70"),
        ("54 70 68", r"'68': a second number; say which with called 72 or got 68; understood so"),
        ("54 got", r"'got': needs a number after it; understood so far: 54; write it like: 54 lo"),
        ("54 got 68 got 69", r"'69': got is said twice; understood so far: 54, got 68 yd"),
        ("54 rough", r"'rough': is it light rough or deep rough\?"),
        ("54 got 12C", r"'12C': 'c' is not a unit of a distance"),
        ("54 got 900", r"got = 900 yd is outside|carry = 900 yd is outside 0.5 to 380 yd"),
        ("54 3/4 half got 60", r"'half': a swing is said twice"),
        ("54 got 99999999999", r"'99999999999': is not understood"),
    ],
)
def test_what_is_not_understood_is_said_with_what_was(text: str, message: str) -> None:
    with pytest.raises(BadInputError, match=message) as caught:
        quick_line(text, SHOTS, units="yards")
    assert "\n" not in str(caught.value)


SOME = (
    "54 low 60 gap wedge 70 72yd called got 3R L right total wet dew light rough 9 o'clock 3/4 75%"
    " half pump # - , 9000rpm 30deg -3 1e9 ½ 68,5 '"
)
WORDS = st.sampled_from(SOME.split())


@given(st.one_of(st.lists(WORDS, max_size=9).map(" ".join), st.text(max_size=40)))
@example("54 " + "9" * 400)
@example("54 got ٣")
def test_any_line_is_read_or_refused_in_one_line(text: str) -> None:
    said = ""
    try:
        assert quick_line(text, SHOTS, units="yards").shot in SHOTS
    except BadInputError as error:
        said = str(error)
    assert len(said.splitlines()) <= 1


@pytest.fixture
def low(say: Say, bag: None) -> None:
    """One more shot: 54 low."""
    words = ["--loft", "54deg", "--carry", "75yd", "--flight", "low"]
    assert say("shots", "add", "54", *words).exit_code == 0


def logged(say: Say) -> list[dict[str, object]]:
    return list(reversed(json.loads(say("balls", "list", "--json").stdout)["balls"]))


def test_a_line_is_a_ball_and_lines_are_one_session(say: Say, low: None) -> None:
    assert say("balls", "log", EXAMPLE).stdout == (
        "1: 54 low, meant 70, called 72, got 68, 3 yd right, wet (yd)\n"
    )
    second = json.loads(say("balls", "log", *["54", "half", "got", "40"], "--json").stdout)
    assert second["number"] == 2
    assert second["ball"]["effort"] == "half"
    assert second["ball"]["at"]
    assert len(logged(say)) == 2
    assert say("balls", "log", "undo").stdout.startswith("took back: 54, meant 41, got 40, half")
    assert len(logged(say)) == 1
    text = say("balls", "undo").stdout
    assert text.startswith("took back session of ")
    assert text.endswith(": 1 ball removed\n")


def test_what_is_said_of_the_session_is_with_each_ball(say: Say, low: None) -> None:
    say("balls", "log", "54 got 70", "--air", "9C 85% 1004hPa", "--setting", "Practice-Green",
        "--order", "random", "--moisture", "dew", "--ball-model", "soft")  # fmt: skip
    say("balls", "log", "54 got 71 dry")
    first, second = logged(say)
    assert (first["setting"], first["moisture"], first["ball_model"]) == (
        "practice green", "dew", "soft",
    )  # fmt: skip
    assert first["air"] == second["air"]
    assert second["moisture"] == "dry"
    say("balls", "log", "end")
    assert json.loads(say("balls", "log", "54 got 71", "--json").stdout)["number"] == 1


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (["54 got"], "'got': needs a number after it"),
        (["33"], "'33' is no shot of the book"),
        (["54"], "nothing but the shot 54 is said; write what it was: got 68"),
        (["54 got 70", "--order", "mixed"], "order = 'mixed' is not one of: block, random"),
        (["54 got 70", "--setting", "home"], "setting = 'home' is not one of: range"),
        (["--json"], "--json needs a line"),
        (["undo"], "there is no logged ball to undo"),
    ],
)
def test_a_line_that_cannot_be_used_stores_nothing(
    say: Say, bag: None, words: list[str], message: str
) -> None:
    result = say("balls", "log", *words)
    assert result.exit_code == 2
    assert message in result.stderr
    assert len(result.stderr.splitlines()) == 1
    assert logged(say) == []


def ask(*lines: str, options: tuple[str, ...] = ()) -> str:
    """Type lines into the session that asks."""
    typed = "".join(f"{line}\n" for line in lines)
    result = CliRunner().invoke(app, ["balls", "log", *options], input=typed)
    assert result.exit_code == 0, result.output
    return result.stdout


def test_a_session_that_asks(say: Say, low: None) -> None:
    text = ask(
        "55 low 70",  # no such shot
        "54 low 70",
        "72", "68 3R wet",  # call, then what it was
        "54", "60 thin",  # a call of 54, not the club
        "-", "66",  # no call
        "called 71 got 69",  # both in one line
        "72", "what",  "68",  # an answer that is not understood is asked again
        "undo",
        "shot 60 low 50", "52", "51",
        "target 45", "47", "44 2L",
        "end",
    )  # fmt: skip
    assert "error: '55 low' is no shot of the book" in text
    assert "error: 'what': is not understood" in text
    assert text.endswith("6 logged; see them with: carrybook balls list\n")
    found = [
        (
            b["shot"],
            *(m and round(m / YARD) for m in (b["intended_m"], b["called_m"], b["carry_m"])),
        )
        for b in logged(say)
    ]
    assert found == [
        ("54 low", 70, 72, 68),
        ("54 low", 70, 54, 60),
        ("54 low", 70, None, 66),
        ("54 low", 70, 71, 69),
        ("60 low", 50, 52, 51),
        ("60 low", 45, 47, 44),
    ]
    first = [ball["called_first"] for ball in logged(say)]
    assert first == [True, True, True, None, True, True]


def test_random_targets_are_asked_for_each_ball(say: Say, low: None) -> None:
    ask("54 70", "72", "68", "60", "61", "62", "end", options=("--order", "random"))
    assert [round(b["intended_m"] / YARD) for b in logged(say)] == [70, 60]  # type: ignore[operator]


def test_a_call_is_kept_when_its_result_never_comes(say: Say, low: None) -> None:
    assert "1 logged" in ask("54 70", "72")  # then there is nobody there any more
    (ball,) = logged(say)
    assert (ball["called_m"], ball["carry_m"]) == (pytest.approx(72 * YARD), None)


def test_an_undone_call_asks_for_no_result(say: Say, low: None) -> None:
    ask("54 70", "72", "undo", "73", "68", "end")
    (ball,) = logged(say)
    assert ball["called_m"] == pytest.approx(73 * YARD)


def test_nothing_is_lost_when_it_is_killed(say: Say, bag: None, book: Path) -> None:
    command = [sys.executable, "-u", "-m", "carrybook", "balls", "log"]
    with subprocess.Popen(  # noqa: S603 - our own command
        command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True,
        env=os.environ | {"CARRYBOOK_BOOK": str(book)},
    ) as process:  # fmt: skip
        assert process.stdin is not None
        for line in ("54 70", "72", "68 3R wet", "71"):  # the last is a call without its result
            process.stdin.write(f"{line}\n")
            process.stdin.flush()
        end = time.monotonic() + 30.0
        while calls(book) < 2 and time.monotonic() < end:
            time.sleep(0.05)
        process.send_signal(signal.SIGKILL)
        process.wait()
    assert process.returncode == -signal.SIGKILL
    first, second = logged(say)
    assert (first["carry_m"], first["called_first"]) == (pytest.approx(68 * YARD), True)
    assert (second["called_m"], second["carry_m"]) == (pytest.approx(71 * YARD), None)


def calls(book: Path) -> int:
    with closing(sqlite3.connect(book)) as connection:
        return int(connection.execute("SELECT count(called_m) FROM ball").fetchone()[0])
