"""Recording scoring shots at the command line: a line each, or a file; open during a round."""

import json
from collections.abc import Callable
from math import pi
from pathlib import Path

import pytest
from typer.testing import Result

from carrybook.app.forms.round_line import shot_line
from carrybook.app.forms.round_shot import RoundShotForm, place_words, wind_named
from carrybook.base.constants import FOOT, YARD
from carrybook.base.errors import BadInputError
from carrybook.player.round_shots import Rest, RoundShot
from carrybook.world.lie import Lie, Moisture

Say = Callable[..., Result]

LINE = (
    "4 88yd light rough dew, wind 12mph into from left, hole 24 on, 5 from the right of 32, very"
    " firm, speed 11ft, 9C, with 54 low meant 84 aim 2R called 83, landed 3 short 2R, finish 12ft"
    " green 1 past 4 left, putts 2, then 1, penalty 1, true number 92, true wind calm, true lie"
    " deep rough wet, true soft # into the sun"
)


def shot_of(line: str, units: str = "yards") -> RoundShot:
    return RoundShotForm.of(units=units, **shot_line(line)).value()


def test_everything_can_be_said_in_a_line() -> None:
    shot = shot_of(LINE)
    assert (shot.hole, shot.shot, shot.finish) == (4, "54 low", Rest.GREEN)
    assert shot.number_m == pytest.approx(88 * YARD)
    assert (shot.lie, shot.known.moisture) == (Lie.LIGHT_ROUGH, Moisture.DEW)
    assert shot.known.wind_from_rad == pytest.approx(1.75 * pi)
    assert shot.known.firmness_g == 130.0
    assert shot.hole_location == "24 on 5 from the right"
    assert shot.green_deep_m == pytest.approx(32 * YARD)
    assert shot.temperature_k == pytest.approx(282.15)
    assert shot.stimp_m == pytest.approx(11 * FOOT)
    assert shot.intended_m == pytest.approx(84 * YARD)
    assert shot.called_m == pytest.approx(83 * YARD)
    assert shot.aim_right_m == pytest.approx(2 * YARD)
    assert shot.landing_m == pytest.approx((-3 * YARD, 2 * YARD))
    assert shot.finish_m == pytest.approx(12 * FOOT)
    assert shot.missed_m == pytest.approx((1 * YARD, -4 * YARD))
    assert (shot.putts, shot.others, shot.penalties, shot.strokes) == (2, 1, 1, 5)
    assert shot.true.number_m == pytest.approx(92 * YARD)
    assert (shot.true.wind_mps, shot.true.lie) == (0.0, Lie.DEEP_ROUGH)
    assert (shot.true.moisture, shot.true.firmness_g) == (Moisture.WET, 70.0)
    assert shot.note == "into the sun"


def test_a_short_line_leaves_the_rest_unsaid() -> None:
    shot = shot_of("with 54, 12 80, holed", "metres")
    assert (shot.hole, shot.number_m, shot.finish, shot.strokes) == (12, 80.0, Rest.HOLED, 1)
    assert (shot.known.wind_mps, shot.intended_m, shot.landing_m) == (None, None, None)


def test_distance_left_follows_from_the_place() -> None:
    shot = shot_of("4 88, with 54, finish bunker 3 short 4 left, then 1, putts 1")
    assert shot.finish_m == pytest.approx(5 * YARD)


@pytest.mark.parametrize(
    ("line", "message"),
    [
        ("88yd, with 54, holed", "'88yd' is not understood; write the shot like: 4 88yd"),
        ("4 88yd, holed", "which shot was played is missing"),
        ("with 54, holed", "which hole, and which number, is missing"),
        ("4 88yd, with 54", "where it finished is missing"),
        ("4 88yd, with 54, holed, with 56", "'with 56': shot is said twice"),
        ("4 88yd, with 54, finish green, putts 2", "how far from the hole"),
        ("4 88yd, with 54, finish 12ft green", "putts, or strokes after it, are missing"),
        ("4 88yd, with 54, wind 12mph, holed", "where does it come from"),
        ("4 88yd, with 54, wind 12mph sideways, holed", "wind direction = 'sideways' is not one"),
        ("4 88yd, with 54, hole by the oak, holed", "hole location = 'by the oak' is not"),
        ("4 900yd, with 54, holed", "number = 900 yd is outside 5 to 250 yd"),
    ],
)
def test_what_is_not_understood_is_named(line: str, message: str) -> None:
    with pytest.raises(BadInputError, match=message):
        shot_of(line)


@pytest.mark.parametrize(
    ("words", "degrees"),
    [("into", 0), ("across from right", 90), ("helping-from left", 225), ("30deg", 30)],
)
def test_wind_in_words(words: str, degrees: float) -> None:
    assert wind_named(words) == pytest.approx(degrees * pi / 180.0)


def test_hole_locations_in_words() -> None:
    assert place_words("Back-Left") == "back left"
    assert place_words("middle center") == "middle centre"
    assert place_words("22m on,  4m from the left") == "22m on, 4m from the left"


@pytest.fixture
def playing(say: Say, bag: None) -> None:
    """A round is on."""
    assert say("round", "start", "--setting", "competition").exit_code == 0


def test_record_list_and_take_back_during_a_round(say: Say, playing: None) -> None:
    done = say("round", "shot", "4 88yd, with 54 meant 84, finish 12ft green, putts 2")
    assert done.stdout == (
        "recorded, shot 1 of the round: hole 4, 88 yd fairway, with the 54, meant 84 yd,"
        " 12 ft green, 3 strokes\n"
    )
    say("round", "shot", "5 70m, with 60 low, holed", "--units", "metres")
    shown = json.loads(say("round", "shots", "--json").stdout)["rounds"]
    assert [s["hole"] for s in shown[0]["shots"]] == [4, 5]
    assert shown[0]["setting"] == "competition"
    assert "12 ft green" in say("round", "shots").stdout
    assert say("round", "undo").stdout.startswith(
        "took back: hole 5, 77 yd fairway, with the 60 low"
    )
    assert len(json.loads(say("round", "shots", "--json").stdout)["rounds"][0]["shots"]) == 1
    assert json.loads(say("round", "undo", "--json").stdout)["took_back"]["strokes"] == 3
    assert "no shots of a round yet" in say("round", "shots").stdout
    assert say("round", "undo").exit_code == 2


def test_nothing_is_kept_of_a_line_that_is_refused(say: Say, playing: None) -> None:
    wrong = say("round", "shot", "4 88yd, with driver, holed")
    assert (wrong.exit_code, wrong.stdout) == (2, "")
    assert "shot 'driver' is not in the book; its shots: " in wrong.stderr
    assert wrong.stderr.count("\n") == 1
    assert "no shots of a round yet" in say("round", "shots").stdout


FILE = """round,setting,hole,number (yd),wind (mph),wind from,shot,finish on,finish (ft),putts
2026-05-30T08:10,competition,4,88,12,into,54,green,12,2
2026-05-30T08:10,competition,9,70,0,,60 low,holed,,
2026-06-02T08:10,course,4,88,,,54,bunker,30,{putts}
"""


def test_a_season_is_poured_in_once(say: Say, bag: None, tmp_path: Path) -> None:
    path = tmp_path / "season.csv"
    path.write_text(FILE.format(putts=3))
    assert say("round", "import", str(path)).stdout == "season.csv: added 3 shots of 2 new rounds\n"
    again = json.loads(say("round", "import", str(path), "--json").stdout)
    assert (again["shots_added"], again["already_there"]) == (0, 3)
    shown = json.loads(say("round", "shots", "--last", "9", "--json").stdout)["rounds"]
    assert [len(each["shots"]) for each in shown] == [2, 1]
    assert shown[0]["shots"][1]["known"]["wind_mps"] == 0.0
    assert shown[1]["shots"][0]["known"]["wind_mps"] is None
    one = say("round", "shots", "--round", str(shown[1]["round"])).stdout
    assert "(course)" in one
    assert "(competition)" not in one
    assert say("round", "shots", "--round", "99").exit_code == 2


def test_a_file_with_a_bad_cell_adds_nothing(say: Say, bag: None, tmp_path: Path) -> None:
    path = tmp_path / "season.csv"
    path.write_text(FILE.format(putts="two"))
    wrong = say("round", "import", str(path))
    assert wrong.exit_code == 2
    assert "season.csv, row 4: putts = 'two' is not a whole number" in wrong.stderr
    assert "no shots of a round yet" in say("round", "shots").stdout


def test_a_time_that_is_none_is_named(say: Say, bag: None, tmp_path: Path) -> None:
    path = tmp_path / "season.csv"
    path.write_text(FILE.format(putts=2).replace("2026-06-02T08:10", "second of June"))
    assert "round = 'second of June' is not a time" in say("round", "import", str(path)).stderr
