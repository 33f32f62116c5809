"""The command line: help, the two exact doors, the book, and what it says of bad input."""

import ast
import json
import os
import re
import sqlite3
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import closing
from math import radians
from pathlib import Path

import pytest
import typer
from typer.testing import Result

from carrybook import __version__
from carrybook.app import commands
from carrybook.app.cli import app
from carrybook.app.services.shots import _ANY_LOFT_CARRIES
from carrybook.physics.solve import speed_for_carry
from carrybook.physics.strike import launch_from_loft
from carrybook.player.bag import Flight
from carrybook.store.fields import MISSING
from carrybook.world.air import REFERENCE_DAY

Say = Callable[..., Result]

UNIT = re.compile(r"\d(yd|m|C|deg|mph|mps|hPa|%|rpm|g|s)\b|\d%|\b(yd|m)\b")
FLY = ["fly", "--ball-speed", "30mps", "--launch", "30deg", "--spin", "9000rpm"]
ADD = ["shots", "add", "54", "--loft", "54deg", "--carry", "82yd"]
CHOOSE = ["choose", "--map", "no.geojson", "--hole", "4", "--hole-location", "24 on, 5 left"]


def words_of_commands() -> Iterator[tuple[str, ...]]:
    for name, command in typer.main.get_command(app).commands.items():
        if hasattr(command, "commands"):
            yield from ((name, sub) for sub in command.commands)
        else:
            yield (name,)


COMMANDS = list(words_of_commands())


def test_these_are_the_commands() -> None:
    wanted = """
        air
        bag fit
        bag gaps
        bag tryout
        bag whatif
        balls check
        balls import
        balls list
        balls log
        balls undo
        book delete
        book export
        book restore
        card
        choose
        demo
        doctor
        feel
        firmness
        fly
        ground show
        land
        learn
        leave
        numbers
        plan
        practise end
        practise history
        practise hit
        practise plan
        practise run
        practise status
        practise test
        practise undo
        prepare
        putt
        review
        round end
        round import
        round shot
        round shots
        round start
        round status
        round undo
        serve
        shots add
        shots edit
        shots explain
        shots list
        shots move
        shots remove
        shots rename
        shots undo
        start
        venue add
        venue forecast
        venue holes
        venue note
        venue show
        venue tee
        venue undo
    """
    assert sorted(" ".join(words) for words in COMMANDS) == wanted.strip().split("\n        ")


WITHOUT_QUANTITIES = (
    "remove", "undo", "doctor", "rename", "move", "serve", "status", "end", "history",
)  # fmt: skip


@pytest.mark.parametrize("words", COMMANDS, ids=" ".join)
def test_every_command_has_help_with_an_example(say: Say, words: tuple[str, ...]) -> None:
    result = say(*words, "--help")
    assert result.exit_code == 0
    assert f"Example: carrybook {' '.join(words)}" in result.stdout
    assert words[0] in say("--help").stdout
    if words[0] not in ("book", "round", "venue") and words[-1] not in WITHOUT_QUANTITIES:
        assert UNIT.search(result.stdout)
    if words not in (("demo",), ("serve",)):
        assert "--json" in result.stdout


def test_top_level_help_shows_how_to_write_a_quantity(say: Say) -> None:
    text = say("--help").stdout
    for shown in ("88yd", "9C", "1004hPa", "--book", "--units", "CARRYBOOK_BOOK"):
        assert shown in text


def test_version(say: Say) -> None:
    assert say("--version").stdout == f"carrybook {__version__}\n"


def test_no_command_shows_the_help(say: Say) -> None:
    result = say()
    assert (result.exit_code, result.stderr) == (2, "")
    assert "choose" in result.stdout


# Handlers: parse, call a service, print.


def handlers() -> list[ast.FunctionDef]:
    folder = Path(commands.__file__).parent
    trees = [ast.parse(path.read_text()) for path in sorted(folder.glob("*.py"))]
    found = [node for tree in trees for node in tree.body if isinstance(node, ast.FunctionDef)]
    return [node for node in found if len(node.body) > 1]  # a group has its help alone


@pytest.mark.parametrize("handler", handlers(), ids=lambda h: h.name)
def test_handlers_are_short_and_compute_nothing(handler: ast.FunctionDef) -> None:
    body = handler.body[1:]  # after the docstring
    assert body[-1].end_lineno is not None
    assert body[-1].end_lineno - body[0].lineno < 30
    nodes = [node for statement in body for node in ast.walk(statement)]
    assert sum(isinstance(node, ast.stmt) for node in nodes) < 15
    assert not any(isinstance(node, ast.BinOp) for node in nodes)


# The two doors whose JSON others read.


def test_air_has_exactly_these_keys(say: Say) -> None:
    words = "air --temp 20C --pressure 1013.25hPa --humidity 50% --json"
    view = json.loads(say(*words.split()).stdout)
    assert list(view) == [
        "density_kg_m3",
        "viscosity_pa_s",
        "station_pressure_hpa",
        "density_ratio_to_reference",
        "density_error",
    ]
    assert view["density_ratio_to_reference"] == 1.0
    assert view["station_pressure_hpa"] == pytest.approx(1013.25)
    # picard-2008 through an independent program: see tests/physics/test_air.py.
    assert view["density_kg_m3"] == pytest.approx(1.1992, abs=5e-4)


def test_air_says_the_same_however_it_is_typed(say: Say) -> None:
    apart = say("air", "--temp", "9C", "--humidity", "85%", "--pressure", "1004hPa")
    assert apart.stdout == say("air", "--air", "1004hPa 85% 9C").stdout
    assert "9 C (48 F), 1004 hPa, 85 % humidity" in apart.stdout
    assert "+3.0 % against the reference day" in apart.stdout


REPORT = "ZZZZ 121030Z 24012G22KT 9999 SCT020 12/08 Q1015"


def test_air_of_a_report_says_whose_it_is(say: Say) -> None:
    words = ("air", "--metar", REPORT, "--elevation", "120m")
    text = say(*words).stdout
    assert "12 C (54 F), 1001 hPa, 76 % humidity" in text
    assert "air of ZZZZ at 121030Z (UTC)" in text
    assert "an airport is not the course" in text
    wind = "14 mph (6.2 m/s) from 240 degrees true, gusts to 25 mph (11.3 m/s), is not used"
    assert wind in text
    apart = "air --temp 12C --dew-point 8C --sea-level-pressure 1015hPa --elevation 120m --json"
    assert say(*words, "--json").stdout == say(*apart.split()).stdout
    for wind, said in (("00000KT", "its wind is calm"), ("/////KT", "reported no wind")):
        report = REPORT.replace("24012G22KT", wind)
        assert said in say("air", "--metar", report, "--elevation", "0m").stdout
    report = REPORT.replace("24012G22KT", "VRB03KT")
    varies = say("air", "--metar", report, "--elevation", "0m").stdout
    assert "from a direction that varies" in varies


def test_the_air_of_a_report_goes_everywhere(say: Say, bag: None) -> None:
    report = ("--metar", REPORT, "--elevation", "120m")
    assert "an airport is not the course" in say(*FLY, *report).stdout
    assert "an airport is not the course" in say("numbers", *report).stdout
    view = json.loads(say("numbers", *report, "--json").stdout)
    assert view["air"]["station_pressure_pa"] == pytest.approx(100_065.0, abs=20.0)
    refused = say(*CHOOSE, "--number", "88yd", "--metar", REPORT)
    assert refused.exit_code == 2
    assert "weather report needs the height of the course" in refused.stderr


FORECAST = """time,temperature (C),dew point (C),sea-level pressure (hPa),wind (mph),wind from (deg)
09:00,12,8,1015,12,240
10:00,14,8,1015,12,240
"""


def test_numbers_of_an_hour_of_a_forecast(say: Say, bag: None, tmp_path: Path) -> None:
    (tmp_path / "day.csv").write_text(FORECAST)
    asked = ("numbers", "--forecast", str(tmp_path / "day.csv"), "--elevation", "120m", "--at")
    text = say(*asked, "9:00").stdout
    assert "12 C (54 F), 1001 hPa, 76 % humidity" in text
    assert "air as forecast for 09:00, local time of the file" in text
    assert "from 240 degrees true, is not used" in text
    same = say("numbers", "--metar", REPORT, "--elevation", "120m", "--json").stdout
    assert json.loads(say(*asked, "09:00", "--json").stdout) == json.loads(same)
    refused = say(*asked, "11:00")
    assert refused.exit_code == 2
    assert refused.stderr.endswith("time = 11:00 is not in the forecast; it has 09:00, 10:00\n")
    assert "say how high the course lies" in say(*asked[:3], "--at", "09:00").stderr


def flown(say: Say, *more: str) -> dict[str, float]:
    result = say(*FLY, *more, "--json")
    assert result.exit_code == 0, result.stderr
    view: dict[str, float] = json.loads(result.stdout)
    return view


def test_fly_has_exactly_these_keys(say: Say) -> None:
    view = flown(say)
    assert set(view) == {
        "carry_m", "side_m", "distance_m", "apex_m", "time_s", "descent_deg",
        "landing_speed_mps", "landing_spin_rpm", "band", "warnings",
    }  # fmt: skip
    band = view["band"]
    assert list(band) == ["carry_low_m", "carry_high_m"]
    assert band["carry_low_m"] < view["carry_m"] < band["carry_high_m"]
    assert 40.0 < view["carry_m"] < 90.0


def test_fly_takes_the_reference_day_calm_and_level_when_nothing_is_typed(say: Say) -> None:
    typed = "--temp 20C --pressure 1013.25hPa --humidity 50% --wind 0mps --wind-from 90deg"
    level = ["--height-change", "0m", "--spin-axis", "0deg", "--start-line", "0deg"]
    assert flown(say, *typed.split(), *level)["carry_m"] == flown(say)["carry_m"]


def test_signs_of_fly(say: Say) -> None:
    carry = flown(say)["carry_m"]
    assert (
        flown(say, "--spin-axis", "5deg")["side_m"]
        > 0.0
        > flown(say, "--spin-axis", "-5deg")["side_m"]
    )
    assert flown(say, "--start-line", "3deg")["side_m"] > 0.0
    assert flown(say, "--height-change", "-6ft")["carry_m"] > carry
    assert flown(say, "--wind", "5mps")["carry_m"] < carry
    assert flown(say, "--wind", "5mps", "--wind-from", "180deg")["carry_m"] > carry
    assert flown(say, "--wind", "5mps", "--wind-from", "90deg")["side_m"] < 0.0
    assert flown(say, "--wind", "5mps", "--wind-from", "270deg")["side_m"] > 0.0
    parkland = flown(say, "--wind", "5mps", "--surroundings", "parkland")["carry_m"]
    assert flown(say, "--wind", "5mps")["carry_m"] < parkland < carry


def test_units_of_the_text_and_none_of_the_json(say: Say) -> None:
    yards, metres = say(*FLY).stdout, say("--units", "metres", *FLY).stdout
    carry = flown(say)["carry_m"]
    assert f"carry    {carry / 0.9144:.1f} yd" in yards
    assert f"carry    {carry:.1f} m" in metres
    assert flown(say, "--units", "metres") == flown(say)


def test_fly_warns_and_widens_where_lift_may_reverse(say: Say) -> None:
    slow = ("--ball-speed", "20mps", "--spin", "2000rpm")
    view = flown(say, *slow)
    assert view["band"]["carry_low_m"] <= 0.92 * view["carry_m"] + 1e-9
    assert view["band"]["carry_high_m"] >= 1.08 * view["carry_m"] - 1e-9
    (warning,) = view["warnings"]
    assert f"warning: {warning}" in say(*FLY, *slow).stdout.splitlines()
    tame = ("--ball-speed", "36mps", "--launch", "24deg", "--spin", "6000rpm")
    assert flown(say, *tame)["warnings"] == []
    assert "warning" not in say(*FLY, *tame).stdout


def test_fly_takes_the_ball_itself(say: Say) -> None:
    plain = flown(say)
    usual = ("--drag-factor", "100%", "--ball-mass", "45.93g", "--ball-diameter", "42.67mm")
    assert flown(say, *usual)["carry_m"] == pytest.approx(plain["carry_m"], rel=1e-12)
    assert flown(say, "--drag-factor", "1.05")["carry_m"] < plain["carry_m"]
    assert flown(say, "--drag-factor", "1") == plain
    assert flown(say, "--ball-mass", "45.5g")["carry_m"] != plain["carry_m"]
    assert flown(say, "--ball-diameter", "42.8mm")["carry_m"] != plain["carry_m"]


@pytest.mark.parametrize(
    ("option", "typed", "said"),
    [
        ("--drag-factor", "3", "drag factor = 3 times is outside 0.5 to 2 times"),
        ("--ball-mass", "60g", "ball mass = 60 g is outside 40 to 50 g"),
        ("--ball-mass", "45.5", "ball mass = 45.5 has no unit; write it like 45.5g"),
        ("--ball-diameter", "2in", "ball diameter = 2 in is outside 1.575 to 1.772 in"),
    ],
)
def test_a_ball_that_is_none_is_refused(say: Say, option: str, typed: str, said: str) -> None:
    result = say(*FLY, option, typed)
    assert (result.exit_code, result.stderr) == (2, f"error: {said}\n")


def test_a_ball_that_never_comes_down_there(say: Say) -> None:
    result = say(*FLY, "--height-change", "50m")
    assert result.exit_code == 1
    assert result.stderr.startswith("error: the ball does not come down on ground +50.0 m")


# The book.


def test_shots_are_added_listed_and_removed(say: Say, bag: None) -> None:
    listed = say("shots", "list").stdout
    assert "54" in listed
    assert "60 low" in listed
    assert "cue" not in listed  # nobody has one
    shots = json.loads(say("shots", "list", "--json").stdout)["shots"]
    assert [shot["label"] for shot in shots] == ["54", "60 low"]
    assert shots[0]["stock_carry_m"] == pytest.approx(82 * 0.9144)
    assert shots[1]["loft_deg"] == pytest.approx(60.0)
    assert say("shots", "remove", "54").stdout == "54: removed\n"
    assert say("shots", "remove", "54").exit_code == 2


def test_shots_are_shown_in_the_units_asked_for(say: Say, bag: None) -> None:
    assert "stock m" in say("shots", "list", "--units", "metres").stdout
    assert (
        say("--units", "metres", "shots", "list").stdout
        == say("shots", "list", "--units=metres").stdout
    )
    assert (
        say(*ADD, "--untrusted", "--cue", "brush").stdout == "54: 82 yd stock, 74 to 82 yd felt\n"
    )
    assert re.search(
        r"54 +54 +82 +74 to 82 +prior: partials +no +brush", say("shots", "list").stdout
    )


def test_a_book_named_after_the_command(say: Say, tmp_path: Path, book: Path) -> None:
    other = tmp_path / "other.sqlite"
    assert say(*ADD, "--book", str(other)).exit_code == 0
    assert other.exists()
    assert not book.exists()
    assert say("shots", "list").exit_code == 1


def test_balls_are_read_listed_and_taken_back(say: Say, bag: None, log: Path) -> None:
    text = say("balls", "import", str(log)).stdout
    assert "monday.csv: 3 rows read, 2 added, 0 already there, 1 rejected" in text
    assert "columns not used: barometer tap" in text
    assert re.search(r"row 4, carry \(yd\) = 'nonsense': ", text)
    assert "rejects" in text.splitlines()[-1]
    again = json.loads(say("balls", "import", str(log), "--json").stdout)
    assert (again["added"], again["already_there"], again["rejected"]) == (0, 2, 1)
    assert again["columns"]["carry"] == "carry (yd)"
    balls = json.loads(say("balls", "list", "--json").stdout)["balls"]
    assert [ball["carry_m"] for ball in balls] == pytest.approx([84 * 0.9144, 80 * 0.9144])
    assert balls[0]["spin_rad_s"] is None
    assert len(say("balls", "list", "--last", "1").stdout.splitlines()) == 2
    assert "yd right" in say("balls", "list", "--shot", "54").stdout
    assert say("balls", "undo").stdout == "took back monday.csv: 2 balls removed\n"
    assert say("balls", "list").stdout.startswith("no balls yet; read some in like: carrybook")
    assert say("balls", "undo").exit_code == 2


ODD = """shot,intended (yd),carry (yd),ball speed (mph),launch (deg),spin (rpm)
54,82,80,75,30,8500
54,82,150,75,30,8500
54,82,80.0,75,30,8500
54,82,81,76,3,1000
"""


def test_an_import_says_at_once_that_units_look_mistaken(
    say: Say, bag: None, tmp_path: Path
) -> None:
    path = tmp_path / "slip.csv"
    rows = [f"54,80,{80 * 0.9144 + n / 10:.1f}" for n in range(6)]
    path.write_text("\n".join(["shot,intended [yd],carry [yd]", *rows]))
    answer = json.loads(say("balls", "import", str(path), "--json").stdout)
    slip = "most balls of 54 carry about 0.91 of what was meant: metres read as yards?"
    assert answer["unit_slips"] == [slip]
    assert (answer["added"], answer["odd"]) == (6, 0)
    say("balls", "undo")
    lines = say("balls", "import", str(path)).stdout.splitlines()
    assert lines[-2:] == [
        slip,
        "all are kept; if so, carrybook balls undo, then import with --unit",
    ]
    again = json.loads(say("balls", "import", str(path), "--json").stdout)
    assert again["unit_slips"] == []  # nothing was added


def test_odd_balls_are_named_and_kept(say: Say, bag: None, tmp_path: Path) -> None:
    assert say("balls", "check").stdout == "0 of 0 balls look odd\n"
    path = tmp_path / "odd.csv"
    path.write_text(ODD)
    text = say("balls", "import", str(path)).stdout
    assert text.splitlines()[-1] == "3 balls look odd: see carrybook balls check"
    assert "look odd" not in say("balls", "import", str(path)).stdout  # nothing was added
    text = say("balls", "check").stdout
    assert "more than its ball speed allows" in text
    assert "deg of loft at impact; 54 delivers 27 to 57 deg" in text
    assert "every measured number is that of an earlier ball" in text
    assert text.splitlines()[-1] == "3 of 4 balls look odd; none is dropped, all still count"
    view = json.loads(say("balls", "check", "--shot", "54", "--json").stdout)
    assert (view["checked"], len(view["odd"]), view["files"], view["dropped"]) == (4, 3, [], 0)
    assert view["odd"][0]["ball"]["carry_m"] == pytest.approx(150 * 0.9144)
    assert len(json.loads(say("balls", "list", "--json").stdout)["balls"]) == 4
    assert say("balls", "check", "--shot", "60 low").stdout == "0 of 0 balls look odd\n"
    assert say("balls", "check", "--shot", "7").exit_code == 2


def test_yards_taken_for_metres_are_said_once_a_file(say: Say, bag: None, tmp_path: Path) -> None:
    path = tmp_path / "metres.csv"
    rows = [f"54,82,{82 / 0.9144 + d:.1f},{d}" for d in range(-2, 4)]
    path.write_text("shot,intended (yd),carry (yd),side (yd)\n" + "\n".join(rows))
    say("balls", "import", str(path))
    lines = say("balls", "check").stdout.splitlines()
    assert lines[0].startswith("metres.csv: most balls of 54 carry about 1.09 of what was meant")
    assert len(lines) == 2


def test_columns_and_units_can_be_named(say: Say, bag: None, tmp_path: Path) -> None:
    path = tmp_path / "odd.csv"
    path.write_text("shot,Carry flat\n54,80\n")
    words = ("balls", "import", str(path), "--column", "carry=Carry flat", "--unit", "carry=yd")
    assert "1 added" in say(*words).stdout


def test_numbers(say: Say, bag: None, tmp_path: Path) -> None:
    picture = tmp_path / "ladder.svg"
    air = ("--air", "9C 85% 1004hPa")
    text = say("numbers", *air, "--figure", str(picture)).stdout
    assert "9 C (48 F), 1004 hPa, 85 % humidity" in text
    assert picture.read_text().startswith("<?xml")
    view = json.loads(say("numbers", *air, "--moisture", "dew", "--json").stdout)
    assert (view["lie"], view["moisture"]) == ("fairway", "dew")
    assert view["air"]["temperature_k"] == pytest.approx(282.15)
    assert [n["shot"] for n in view["numbers"]] == ["60 low", "54"][::-1]
    first = view["numbers"][0]
    assert first["today_low_m"] < first["today_m"] < first["today_high_m"]
    assert first["balls"] == 0


def test_what_moved_the_numbers_can_be_drawn(say: Say, bag: None, tmp_path: Path) -> None:
    picture = tmp_path / "moved.svg"
    words = ("numbers", "--air", "9C 85% 1004hPa", "--moisture", "dew")
    assert say(*words, "--moved", str(picture)).stdout == say(*words).stdout
    assert picture.read_text().startswith("<?xml")


def test_a_flight_can_be_drawn(say: Say, tmp_path: Path) -> None:
    picture = tmp_path / "flight.png"
    words = (*FLY, "--wind", "5mps", "--wind-from", "90deg", "--height-change", "-2m")
    assert say(*words, "--figure", str(picture)).stdout == say(*words).stdout
    assert picture.read_bytes().startswith(b"\x89PNG")


@pytest.mark.parametrize(
    "command", ["numbers", "shots list", "shots explain 54", "balls list", "balls undo"]
)
def test_without_a_book_it_says_how_to_start_one(say: Say, book: Path, command: str) -> None:
    result = say(*command.split())
    assert result.exit_code == 1
    assert result.stderr == (
        f"error: there is no book at {book} yet; a first shot starts it:"
        " carrybook shots add 54 --loft 54deg --carry 82yd\n"
    )
    assert not book.exists()


def test_without_a_shot_it_says_how_to_add_one(say: Say, bag: None) -> None:
    say("shots", "remove", "54")
    say("shots", "remove", "60 low")
    result = say("numbers")
    assert result.exit_code == 1
    assert result.stderr.startswith("error: the book holds no shots yet; add one: carrybook shots")


# What is wrong, in one line.

BAD = [
    (["air", "--temp", "nanC"], "air temperature = 'nanC' is not a number with a unit"),
    (["air", "--temp", "20"], "air temperature = 20 has no unit; write it like 12C"),
    (["air", "--temp", "-300C"], "air temperature = -300 C is outside -25 to 50 C"),
    (["air", "--temp", "20hPa"], "'hPa' is not a unit of temperature"),
    (["air", "--pressure", "infhPa"], "station pressure = 'infhPa' is not a number with a unit"),
    (["air", "--humidity", "-5%"], "relative humidity = -5 % is outside 0 to 100 %"),
    (["air", "--air", "9C 10C"], "air = '9C 10C': a second temperature, '10C', is not understood"),
    ([*FLY, "--ball-speed", "-30mps"], "ball speed = -30 mps is outside 0 to 100 mps"),
    ([*FLY, "--ball-speed", "0.1mps"], "ball speed = 0.1 m/s is outside 1 to 90 m/s"),
    ([*FLY, "--ball-speed", "30"], "ball speed = 30 has no unit; write it like 5mph"),
    ([*FLY, "--launch", "30rpm"], "'rpm' is not a unit of angle; write it like 30deg"),
    ([*FLY, "--launch", "-3deg"], "launch angle = -3 deg is outside 0 to 80 deg"),
    ([*FLY, "--spin", "nan"], "spin = 'nan' is not a number with a unit; write it like 9000rpm"),
    ([*FLY, "--spin", "18000rpm"], "spin = 18000 rpm is outside 0 to 16000 rpm"),
    ([*FLY, "--spin-axis", "95deg"], "spin axis = 95 deg is outside -80 to 80 deg"),
    ([*FLY, "--height-change", "90m"], "height change = 90 m is outside -60 to 60 m"),
    ([*FLY, "--wind", "80mps"], "wind = 80 mps is outside 0 to 30 mps"),
    ([*FLY, "--wind", "5"], "wind = 5 has no unit; write it like 5mph"),
    ([*FLY, "--wind-from", "90deg"], "wind direction = 90deg has no wind; add it like"),
    ([*FLY, "--wind-from", ""], "wind direction = '' is not a number with a unit; write it like"),
    ([*FLY, "--wind", "5mps", "--surroundings", "city"], "surroundings = 'city' is not one"),
    ([*ADD, "--carry", "9999yd"], "stock carry = 9999 yd is outside 0 to 1094 yd"),
    ([*ADD, "--carry", "-82yd"], "stock carry = -82 yd is outside 0 to 1094 yd"),
    ([*ADD, "--carry", "82"], "stock carry = 82 has no unit; write it like 77yd"),
    ([*ADD, "--loft", "54"], "loft = 54 has no unit; write it like 30deg"),
    ([*ADD, "--loft", "50deg"], "club '54' is in the book with a loft of 54 deg, not 50 deg"),
    ([*ADD, "--flight", "moon"], "flight = 'moon' is not one of: low, stock, high"),
    ([*ADD, "--partials", "55yd"], "partials = '55yd' is not a range; write it like 55yd..82yd"),
    (["shots", "remove", "33"], "shot '33' is not in the book; its shots: 54, 60 low"),
    (["balls", "list", "--shot", "33"], "shot '33' is not in the book"),
    (["balls", "list", "--last", "0"], "Invalid value for '--last'"),
    (["balls", "import", "no.csv"], "no.csv"),
    (["balls", "import", "no.csv", "--unit", "yd"], "unit = 'yd' is not understood; write it"),
    (["numbers", "--lie", "sand"], "lie = 'sand' is not modelled"),
    (["numbers", "--lie", "plugged"], "lie = 'plugged' is not one of: tee, fairway, light rough"),
    (["numbers", "--figure", "a.jpg"], "figure = 'a.jpg' must end in one of: .png, .svg"),
    (["numbers", "--figure", "no/a.png"], "make it first"),
    (["numbers", "--moved", "a.gif"], "moved = 'a.gif' must end in one of: .png, .svg"),
    ([*FLY, "--figure", "a.jpg"], "figure = 'a.jpg' must end in one of: .png, .svg"),
    ([*CHOOSE, "--number", "88"], "number = 88 has no unit; write it like 77yd"),
    ([*CHOOSE, "--number", "nan"], "number = 'nan' is not a number with a unit"),
    ([*CHOOSE, "--number", "88yd", "--firmness", "rock"], "firmness = 'rock' is not one of: soft"),
    ([*CHOOSE, "--number", "88yd", "--green-speed", "30ft"], "green speed = 30 ft is outside"),
    ([*CHOOSE, "--number", "88yd", "--card", "a.txt"], "card = 'a.txt' must end in one of: .pdf"),
    ([*CHOOSE, "--number", "88yd"], "no.geojson"),
    ([*CHOOSE[:1], "--number", "88yd"], "--map"),
    (["fly", "--bounce", "3"], "No such option: --bounce"),
    (["looper"], "No such command 'looper' (see carrybook --help)"),
    (["--units", "feet", "air"], "'feet' is not one of 'yards', 'metres'"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("words", "message"), BAD, ids=lambda x: " ".join(x) if type(x) is list else ""
)
def test_bad_input_is_one_line_and_leaves_the_book_alone(
    say: Say, bag: None, book: Path, words: list[str], message: str
) -> None:
    before = book.read_bytes()
    result = say(*words)
    assert result.exit_code == 2
    assert result.stdout == ""
    assert result.stderr.startswith("error: ")
    assert result.stderr.count("\n") == 1
    assert message in result.stderr
    assert book.read_bytes() == before


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["60", "--loft", "60deg"], "60 its 250 yd with a loft of 60 deg"),
        (["PW", "--loft", "46deg", "--flight", "high"], "PW high its 250 yd with a loft of 46 deg"),
    ],
)
def test_a_carry_that_no_flight_gives_is_not_stored(
    say: Say, book: Path, words: list[str], said: str
) -> None:
    result = say("shots", "add", *words, "--carry", "250yd")
    assert result.exit_code == 1
    assert result.stderr == (
        f"error: no flight carries {said}; check carry and loft; nothing was stored\n"
    )
    assert not book.exists()


@pytest.mark.parametrize("flight", Flight)
def test_a_carry_that_is_not_tried_can_be_flown_with_every_loft(flight: Flight) -> None:
    for loft in range(7, 71, 9):  # the lofts that a club may have
        launch = launch_from_loft(radians(loft), flight.value)
        assert speed_for_carry(_ANY_LOFT_CARRIES, *launch, REFERENCE_DAY) < 90.0


def test_a_draw_is_a_shot_of_its_own(say: Say, bag: None) -> None:
    say(*ADD, "--shape", "draw")
    assert "54 draw" in say("shots", "list").stdout
    assert "not computed" not in say("shots", "list").stdout


MEASURED = "shot,carry (yd),ball speed (mph),launch (deg),spin (rpm),ball model\n" + "\n".join(
    f"54,{carry},{speed},29,{8200 + 20 * k + len(model)},{model}"
    for k, (carry, speed) in enumerate(((80, 73.5), (82, 74.3), (81, 74), (83, 75), (78, 73)) * 4)
    for model in ("blue", "other")
)


def test_the_drag_of_the_balls_is_shown_and_can_be_chosen(
    say: Say, bag: None, tmp_path: Path
) -> None:
    assert "Ball: none in the log has ball speed" in " ".join(say("numbers").stdout.split())
    unknown = json.loads(say("numbers", "--json").stdout)["ball"]
    assert unknown["set_weights"] == {"low": 0.25, "middle": 0.5, "high": 0.25}
    assert (unknown["measured_balls"], unknown["drag_factor"]) == (0, 1.0)
    path = tmp_path / "measured.csv"
    path.write_text(MEASURED)
    say("balls", "import", str(path))
    checked = say("balls", "check")
    assert "Ball: blue, drag " in checked.stdout
    assert "Ball: other, drag " in checked.stdout
    assert checked.stdout.splitlines()[-1].endswith("of 40 balls look odd")
    models = json.loads(say("balls", "check", "--json").stdout)["models"]
    assert [(m["model"], m["measured_balls"]) for m in models] == [("blue", 20), ("other", 20)]
    usual, other = (
        json.loads(say("numbers", *more, "--json").stdout)["ball"]
        for more in ((), ("--ball-model", "other"))
    )
    assert (usual["model"], other["model"]) == ("blue", "other")
    assert usual == models[0]
    assert 0.0 < usual["drag_factor_se"] < unknown["drag_factor_se"]
    assert sum(usual["set_weights"].values()) == pytest.approx(1.0)
    refused = say("numbers", "--ball-model", "green")
    assert (refused.exit_code, refused.stdout) == (2, "")
    assert refused.stderr == (
        "error: ball model = 'green' has no ball in the log with ball speed, launch, spin and"
        " carry; models that have: blue, other\n"
    )


def test_numbers_warn_where_lift_may_reverse(say: Say, bag: None) -> None:
    dry = json.loads(say("numbers", "--json").stdout)["numbers"]
    assert not any(n["lift_may_reverse"] for n in dry)
    words = ("numbers", "--lie", "deep rough", "--moisture", "wet")
    text = " ".join(say(*words).stdout.split())
    assert "Warning: 54, 60 low: slow with little spin, so that lift may vanish or reverse" in text
    for number in json.loads(say(*words, "--json").stdout)["numbers"]:
        assert number["lift_may_reverse"]
        assert number["today_high_m"] >= 1.08 * number["today_m"]
        assert any("lift can vanish or reverse" in warning for warning in number["warnings"])


def test_a_file_of_which_no_row_can_be_used(say: Say, bag: None, tmp_path: Path) -> None:
    path = tmp_path / "bad.csv"
    path.write_text("shot,carry (yd)\n33,80\n54,far\n")
    result = say("balls", "import", str(path))
    assert result.exit_code == 1
    assert "bad.csv: 2 rows read, 0 added, 0 already there, 2 rejected" in result.stdout
    assert re.fullmatch(
        r"error: no row of bad\.csv could be used; the reasons are in .*\.rejects/bad-.*\.csv\n",
        result.stderr,
    )
    as_json = say("balls", "import", str(path), "--json")
    assert (as_json.exit_code, json.loads(as_json.stdout)["rejected"]) == (1, 2)


def test_help_says_which_words_count_as_missing(say: Say) -> None:
    text = " ".join(say("balls", "import", "--help").stdout.replace(",", " ").split())
    assert {word for word in MISSING if f" {word} " in text} == MISSING - {""}
    assert "empty cell" in text


def test_a_damaged_book_is_one_line(say: Say, bag: None, book: Path, log: Path) -> None:
    say("balls", "import", str(log))
    with closing(sqlite3.connect(book)) as connection, connection:
        connection.execute("UPDATE ball SET carry_m = 'abc' WHERE id = 2")
    for words in ("numbers", "balls list"):
        result = say(*words.split())
        assert result.exit_code == 2
        assert result.stderr == (
            f"error: the book {book} is damaged: ball with id 2 cannot be read (a value of the"
            " wrong type); put back a copy of it, or name another\n"
        )


def test_bad_input_makes_no_book(say: Say, book: Path) -> None:
    assert say(*ADD, "--carry", "82").exit_code == 2
    assert not book.parent.exists()


def test_a_file_that_is_no_book(say: Say, tmp_path: Path) -> None:
    notes = tmp_path / "notes.txt"
    notes.write_text("cut the grass")
    result = say("shots", "list", "--book", str(notes))
    assert result.exit_code == 2
    assert (
        result.stderr
        == f"error: {notes} is not a carrybook book, nor any SQLite file; name another\n"
    )


def test_a_bug_looks_like_one(say: Say, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: object) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr("carrybook.app.commands.flight.air_report", broken)
    with pytest.raises(ZeroDivisionError):
        say("air")


def test_an_unreadable_file_is_not_called_a_full_disk(
    say: Say, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*_: object) -> None:
        raise PermissionError(13, "Permission denied", "secret.txt")

    monkeypatch.setattr("carrybook.app.commands.flight.air_report", broken)
    with pytest.raises(PermissionError):
        say("air")


# As a program.


def program(*words: str) -> "subprocess.CompletedProcess[str]":
    return subprocess.run(  # noqa: S603 - our own program
        [sys.executable, "-m", "carrybook", *words],
        capture_output=True,
        text=True,
        check=False,
    )


def test_exit_codes_and_streams() -> None:
    good, bad, none = program("air"), program("air", "--temp", "20"), program("numbers")
    assert (good.returncode, good.stderr) == (0, "")
    assert (bad.returncode, bad.stdout) == (2, "")
    assert bad.stderr == "error: air temperature = 20 has no unit; write it like 12C\n"
    assert (none.returncode, none.stdout) == (1, "")
    assert none.stderr.startswith("error: there is no book at ")


@pytest.mark.parametrize("words", ["air --json", "fly --help", "--version"])
def test_a_closed_pipe_makes_no_traceback(words: str) -> None:
    reading, writing = os.pipe()
    os.close(reading)
    done = subprocess.run(  # noqa: S603 - our own program
        [sys.executable, "-m", "carrybook", *words.split()],
        stdout=writing,
        stderr=subprocess.PIPE,
        check=False,
    )
    os.close(writing)
    assert done.stderr == b""


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no full device")
@pytest.mark.parametrize("words", ["air", "air --json", "fly --help", "--version"])
def test_an_answer_that_cannot_be_written_is_one_line(words: str) -> None:
    with open("/dev/full", "w") as full:
        done = subprocess.run(  # noqa: S603 - our own program
            [sys.executable, "-m", "carrybook", *words.split()],
            stdout=full,
            stderr=subprocess.PIPE,
            check=False,
        )
    assert done.stderr == b"error: cannot write the answer: No space left on device\n"
    assert done.returncode == 2


def test_a_short_carry_is_added_without_flying(tmp_path: Path) -> None:
    code = (
        "import sys\nfrom carrybook.app.cli import run\n"
        "try:\n    run()\nexcept SystemExit:\n    print('carrybook.physics.solve' in sys.modules)"
    )
    for carry, flown in (("75yd", "False"), ("90yd", "True")):
        words = f"shots add 54 --loft 54deg --carry {carry} --book {tmp_path / 'b.sqlite'}".split()
        done = subprocess.run(  # noqa: S603 - our own code
            [sys.executable, "-c", code, *words], capture_output=True, text=True, check=True
        )
        assert done.stdout.splitlines()[-1] == flown


def loaded_by(words: str, *modules: str) -> list[str]:
    """Run a command in a process of its own; give which of these modules it loaded."""
    code = (
        "import sys\nfrom carrybook.app.cli import run\n"
        "try:\n    run()\nexcept SystemExit:\n"
        f"    print('loaded:', *[m for m in {modules} if m in sys.modules])"
    )
    done = subprocess.run(  # noqa: S603 - our own code
        [sys.executable, "-c", code, *words.split()], capture_output=True, text=True, check=True
    )
    return done.stdout.splitlines()[-1].split()[1:]


def test_help_and_version_load_nothing_heavy() -> None:
    heavy = ("numba", "scipy", "matplotlib", "sqlalchemy", "pint", "shapely", "pyproj", "reportlab")
    for words in ("--help", "--version", "choose --help"):
        assert loaded_by(words, *heavy) == []


def test_a_command_loads_only_its_own_module() -> None:
    own = [f"carrybook.app.commands.{name}" for name in ("numbers", "decide", "flight", "putt")]
    assert loaded_by("--version", *own) == []
    assert loaded_by("numbers --help", *own) == ["carrybook.app.commands.numbers"]
    assert loaded_by("--help", *own) == own


@pytest.mark.parametrize(
    "words", ["air --temp 9C", "shots list", "balls log 54 81yd", "balls list", "round status"]
)
def test_what_needs_no_kernel_does_not_wait_for_one(bag: None, words: str) -> None:
    assert loaded_by(words, "numba", "sqlalchemy") == ["sqlalchemy"]


def test_numbers_load_no_more_of_scipy_than_they_need(bag: None) -> None:
    heavy = ("scipy.linalg", "scipy.interpolate", "cffi", "yaml", "matplotlib", "alembic")
    assert loaded_by("numbers --air 9C", "numba", *heavy) == ["numba"]


# What would change a shot.


def test_explain_says_about_and_from_where_to_where(say: Say, bag: None) -> None:
    text = say("shots", "explain", "54").stdout
    assert max(map(len, text.splitlines())) <= 80
    for said in ("54 at stock feel: about 82 yd", "right-handed", "wet", "hands ahead", "(cut)"):
        assert said in text
    assert re.search(r"wet +\+5 +-3300", text)
    assert "no measured ball yet" in text
    metres = say("shots", "explain", "60 low", "--units", "metres").stdout
    assert "about 70 m" in metres
    assert max(map(len, metres.splitlines())) <= 80


def test_explain_mirrors_and_flies_in_the_air_given(say: Say, bag: None) -> None:
    def view(*more: str) -> dict[str, list[dict[str, dict[str, float]]]]:
        result = say("shots", "explain", "54", *more, "--json")
        shown: dict[str, list[dict[str, dict[str, float]]]] = json.loads(result.stdout)
        return shown

    right, left, cold = view(), view("--left-handed"), view("--air", "2C")
    for here, there in zip(right["changes"], left["changes"], strict=True):
        for key in ("start_right_deg", "curve_right_m"):
            assert here[key]["change"] == pytest.approx(-there[key]["change"], abs=1e-9)
        assert here["carry_m"] == pytest.approx(there["carry_m"])
    assert cold["stock"]["carry_m"]["value"] < right["stock"]["carry_m"]["value"]  # type: ignore[call-overload]


def test_explain_names_the_shots_there_are(say: Say, bag: None) -> None:
    result = say("shots", "explain", "99")
    assert (result.exit_code, result.stdout) == (2, "")
    assert result.stderr == "error: shot '99' is not in the book; its shots: 54, 60 low\n"
