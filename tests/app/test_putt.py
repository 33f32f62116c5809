"""`putt` through the command line: keys, words, refusals, picture."""

import json
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
from matplotlib.image import imread
from typer.testing import CliRunner, Result

from carrybook import app as rooms
from carrybook.app.cli import app
from carrybook.app.forms.putt import PuttForm
from carrybook.app.services.putt import best_putt
from carrybook.app.texts.putt import aim_words
from carrybook.artefacts.putting import putting_figure
from carrybook.artefacts.words import METRES, YARDS
from carrybook.base.constants import HOLE_RADIUS
from carrybook.base.errors import BadInputError
from carrybook.outcomes.putt_answer import PuttAnswer, answer_putt

DATA = Path(rooms.__file__).parent / "demo_data"
MAPPED = (
    "--map", str(DATA / "venue.geojson"), "--heights", str(DATA / "heights.csv"), "--hole", "4",
    "--hole-location", "27 on, 9 from the left",
)  # fmt: skip
KEYS = {
    "make_probability", "make_low", "make_high", "expected_putts", "three_putt_probability",
    "aim_m", "aim_low_m", "aim_high_m", "start_right_deg", "pace_m", "plays_as_m", "distance_m",
    "rise_m", "ball", "misses", "green_speed_m", "errors", "rules_note",
}  # fmt: skip


def say(*words: str) -> Result:
    return CliRunner().invoke(app, ["putt", *words], prog_name="carrybook", catch_exceptions=False)


def answer(*words: str) -> dict[str, float]:
    result = say(*words, "--json")
    assert result.exit_code == 0, result.output
    view: dict[str, float] = json.loads(result.stdout)
    return view


@pytest.fixture(scope="module")
def across() -> PuttAnswer:
    form = PuttForm.of(distance="20ft", slope="2%", slope_direction="right to left")
    return best_putt(form)[0]


def test_keys_and_what_is_always_true_of_them() -> None:
    view = answer("--distance", "20ft", "--slope", "2%", "--slope-direction", "90deg")
    assert set(view) == KEYS
    assert view["make_low"] < view["make_probability"] < view["make_high"]
    assert 1.0 < view["expected_putts"] < 3.0
    assert 0.0 < view["three_putt_probability"] < 1.0
    assert view["aim_low_m"] < view["aim_m"] < view["aim_high_m"]
    assert view["distance_m"] == pytest.approx(6.096)
    assert view["misses"]["within_50_m"] < view["misses"]["within_90_m"]  # type: ignore[index]


def test_a_putt_that_runs_right_to_left_is_aimed_right_and_its_mirror_left() -> None:
    words = ("--distance", "4m", "--slope", "2%", "--slope-direction")
    left, right = (answer(*words, way)["aim_m"] for way in ("right to left", "left-to-right"))
    assert left > 0.1
    assert right == pytest.approx(-left, abs=0.003)


def test_uphill_plays_longer_than_downhill() -> None:
    words = ("--distance", "6m", "--slope", "2%", "--slope-direction")
    up, down = (answer(*words, way) for way in ("uphill", "downhill"))
    assert up["plays_as_m"] > 7.0 > 6.0 > down["plays_as_m"]
    assert up["rise_m"] == pytest.approx(0.12) == -down["rise_m"]


def test_a_better_player_needs_fewer_putts() -> None:
    tour, mid = (answer("--distance", "15ft", "--player", who) for who in ("tour", "MID"))
    own = answer("--distance", "15ft", "--direction", "1deg", "--pace", "8%", "--reading", "10%")
    assert own["expected_putts"] < tour["expected_putts"] < mid["expected_putts"]
    assert own["errors"] == {"direction_deg": pytest.approx(1.0), "pace": 0.08, "reading": 0.1}


def test_the_words_of_a_putt() -> None:
    text = say("--distance", "20ft", "--slope", "2%", "--slope-direction", "right to left").stdout
    assert "outside right" in text
    assert "past the hole" in text
    assert "20 ft, level" in text
    assert "Rule 4.3a" in text
    metres = say("--distance", "6m", "--slope", "1%", "--units", "metres").stdout
    assert "6.0 m, uphill 6 cm" in metres


@pytest.mark.parametrize(
    ("right_cm", "words"),
    [
        (0.0, "the middle of the hole"),
        (3.0, "inside right"),
        (-5.5, "left edge"),
        (5.4 + 10.8, "1 cup outside right"),
        (-(5.4 + 27.0), "2.5 cups outside left"),
        (105.4, "1.0 m outside right"),
    ],
)
def test_aims_in_cups(right_cm: float, words: str) -> None:
    assert aim_words(right_cm / 100.0, METRES) == words


def test_far_aims_are_said_in_feet() -> None:
    assert aim_words(HOLE_RADIUS + 1.53, YARDS) == "5 ft outside right"


def test_a_mapped_putt_and_its_picture(tmp_path: Path) -> None:
    file = tmp_path / "putt.png"
    view = answer(*MAPPED, "--from", "20m,-2m", "--stimp", "11ft", "--figure", str(file))
    assert view["ball"] == {"x_m": 20.0, "right_m": 2.0}
    assert view["rise_m"] > 0.1  # up to the shelf
    assert imread(file).std() > 0.05


def test_the_picture_holds_what_it_was_given(across: PuttAnswer) -> None:
    figure = putting_figure(across, outline=None, units="metres")
    (axes,) = figure.axes
    drawn = {line.get_gid(): line for line in axes.lines}
    ball, hole = (np.array(drawn[name].get_xydata())[0] for name in ("ball", "hole"))
    assert ball == pytest.approx([0.0, -6.096])
    assert hole == pytest.approx([0.0, 0.0])
    path = np.array(drawn["path"].get_xydata())
    assert path[0] == pytest.approx(ball)
    assert np.hypot(*path[-1]) < 0.4
    assert path[:, 0].max() > 0.1  # it swings out to the right
    assert np.array(drawn["aim"].get_xydata())[-1][0] == pytest.approx(across.aim_right_m, abs=0.02)
    with pytest.raises(BadInputError):
        putting_figure(across, outline=None, units="furlongs")


def test_a_ball_off_the_green_or_in_the_hole_is_refused(across: PuttAnswer) -> None:
    with pytest.raises(BadInputError, match="at the hole already"):
        answer_putt(across.chart, 0.0, 0.01)
    result = say(*MAPPED, "--from", "-20m,30m")
    assert (result.exit_code, result.stdout) == (2, "")
    assert "not on green or fringe" in result.stderr


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ((), "say either --distance"),
        (("--distance", "20ft", "--hole", "4"), "say either --distance"),
        (("--map", "x.geojson", "--hole", "4"), "say either --distance"),
        (("--distance", "20"), "distance = 20 has no unit"),
        (("--distance", "100m"), "distance = 100 m is outside 0.05 to 40 m"),
        (("--distance", "3m", "--slope", "30%"), "slope = 30 % is outside 0 to 15 %"),
        (("--distance", "3m", "--slope-direction", "sideways"), "right to left"),
        (("--distance", "3m", "--stimp", "30ft"), "stimp = 30 ft is outside"),
        (("--distance", "3m", "--player", "me"), "player = 'me' is not one of: tour, scratch, mid"),
        (("--distance", "3m", "--direction", "9deg"), "putting direction = 9 deg is outside"),
        ((*MAPPED, "--from", "12m"), "from = '12m' is not two lengths"),
        ((*MAPPED, "--from", "12m,-3"), "from = -3 has no unit"),
    ],
)
def test_what_cannot_be_used_is_said_in_one_line(words: tuple[str, ...], said: str) -> None:
    result = say(*words)
    assert result.exit_code == 2
    assert said in result.stderr
    assert result.stderr.count("\n") == 1


def test_a_player_is_kept_by_name(say: Callable[..., Result], book: Path) -> None:
    own = ("--direction", "1.8deg", "--pace", "14%")
    first = say("putt", "--distance", "8ft", *own, "--save-as", "My  Self", "--json")
    assert first.exit_code == 0, first.stderr
    again = say("putt", "--distance", "8ft", "--player", "my self", "--json")
    assert json.loads(again.stdout) == json.loads(first.stdout)
    assert json.loads(again.stdout)["errors"]["pace"] == pytest.approx(0.14)
    nobody = say("putt", "--distance", "8ft", "--player", "nobody")
    assert nobody.exit_code == 2
    assert nobody.stderr == (
        "error: player = 'nobody' is not one of: tour, scratch, mid, my self\n"
    )


def test_a_usual_player_keeps_their_name(say: Callable[..., Result], book: Path) -> None:
    result = say("putt", "--distance", "8ft", "--pace", "14%", "--save-as", "Tour")
    assert (result.exit_code, result.stderr) == (
        2, "error: save as = 'tour' is a usual player; take another name\n",
    )  # fmt: skip
    assert not book.exists()


def test_a_slope_that_holds_no_ball_has_no_answer() -> None:
    result = say("--distance", "20ft", "--slope", "9%", "--slope-direction", "downhill")
    assert (result.exit_code, result.stdout) == (1, "")
    assert "no putt from there stops near the hole: at this green speed" in result.stderr
