"""`land` and `firmness`: keys, words, figures, and one clear line for what cannot be used."""

import json
from collections.abc import Callable
from pathlib import Path

import pytest
from typer.testing import Result

from carrybook.app.forms.landing import seen_named
from carrybook.base.constants import YARD
from carrybook.base.errors import BadInputError, OutOfRangeError

Say = Callable[..., Result]
BALL = ("--speed", "18mps", "--descent", "49deg", "--spin", "6000rpm")


@pytest.fixture(autouse=True)
def _fewer_draws(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("carrybook.outcomes.firmness._DRAWS", 24)


def land(say: Say, *words: str) -> dict[str, float]:
    view: dict[str, float] = json.loads(say("land", *BALL, *words, "--json").stdout)
    return view


def test_land_has_these_keys(say: Say) -> None:
    assert list(land(say)) == [
        "first_bounce_m", "run_m", "side_m", "bounces", "time_s",
        "run_p10_m", "run_p50_m", "run_p90_m", "side_p10_m", "side_p90_m",
        "firmness_g", "firmness_sd_g",
    ]  # fmt: skip


def test_firm_and_downhill_release_soft_and_spun_come_back(say: Say) -> None:
    level = land(say)
    assert level["run_p10_m"] < level["run_p50_m"] < level["run_p90_m"]
    assert land(say, "--firmness", "firm")["run_m"] > level["run_m"]
    assert land(say, "--slope", "3%")["run_m"] < level["run_m"]
    assert land(say, "--slope", "3%", "--slope-direction", "downhill")["run_m"] > level["run_m"]
    assert land(say, "--firmness", "soft", "--descent", "54deg", "--spin", "9000rpm")["run_m"] < 0.0


def test_sides_count_to_the_right(say: Say) -> None:
    assert land(say, "--slope", "2%", "--slope-direction", "left to right")["side_m"] > 0.1
    assert land(say, "--slope", "2%", "--slope-direction", "90deg")["side_m"] < -0.1


def test_water_moves_firmness_and_a_reading_may_say_how_sure_it_is(say: Say) -> None:
    view = land(say, "--firmness", "108g+-6g")
    assert (view["firmness_g"], view["firmness_sd_g"]) == (108.0, 6.0)
    wet = land(say, "--firmness", "108g+-6g", "--moisture", "wet")
    assert wet["firmness_g"] == pytest.approx(92.0)
    assert wet["firmness_sd_g"] == pytest.approx(10.0)
    assert wet["run_m"] < view["run_m"]


def test_land_says_it_in_the_units_asked_for(say: Say) -> None:
    yards = say("land", *BALL, "--slope", "2%", "--slope-direction", "315deg").stdout
    assert "40 mph, 49 degrees down, 6000 rpm" in yards
    assert (
        "green, medium (90 +- 10 g), speed 10.0 ft (3.05 m), falls 2.0 % towards you, right"
        in yards
    )
    assert "eight in ten between" in yards
    metres = say("land", *BALL, "--surface", "rough", "--units", "metres").stdout
    assert "rough beside a green that is medium" in metres
    assert " yd" not in metres


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (("--surface", "water"), "surface = 'water' is not one of: green, fringe"),
        (("--slope", "30%"), "slope = 30 % is outside -20 to 20 %"),
        (("--slope", "2"), "slope = 2 has no unit; write it like 2%"),
        (("--firmness", "rock"), "firmness = 'rock' is not one of"),
        (("--moisture", "moist"), "moisture = 'moist' is not one of"),
        (("--stimp", "40ft"), "green speed = 40 ft is outside"),
        (("--kind", "bent"), "kind of green = 'bent' is not one of: unknown, gripping"),
        (("--descent", "120deg"), "angle of descent = 120 deg is outside 1 to 90 deg"),
        (("--figure", "x.gif"), "figure = 'x.gif' must end in one of"),
    ],
)
def test_land_refuses_in_one_line(say: Say, words: tuple[str, ...], message: str) -> None:
    result = say("land", *BALL, *words)
    assert result.exit_code == 2
    assert message in result.stderr
    assert result.stderr.count("\n") == 1


@pytest.mark.parametrize("suffix", ["png", "svg"])
def test_both_draw(say: Say, tmp_path: Path, suffix: str) -> None:
    drawn = tmp_path / f"land.{suffix}", tmp_path / f"firm.{suffix}"
    say("land", *BALL, "--figure", str(drawn[0]))
    say("firmness", "--saw", "checked", "--figure", str(drawn[1]))
    assert all(path.stat().st_size > 5000 for path in drawn)


def test_firmness_moves_narrows_and_says_how_to_use_it(say: Say) -> None:
    words = ("firmness", "--before", "medium", "--saw", "released 6 paces, shallow mark")
    view = json.loads(say(*words, "--json").stdout)
    assert view["before_g"] == pytest.approx(90.0, abs=0.5)
    assert view["firmness_g"] > 94.0
    assert view["firmness_sd_g"] < view["before_sd_g"]
    assert sum(view["posterior"]) == pytest.approx(1.0)
    assert len(view["grid_g"]) == len(view["prior"]) == len(view["posterior"])
    told = f"{view['firmness_g']:.0f}g+-{view['firmness_sd_g']:.0f}g"
    text = say(*words).stdout
    assert f'--firmness "{told}"' in text
    assert "saw      released 6 paces, shallow mark" in text
    assert land(say, "--firmness", told)["firmness_g"] == round(view["firmness_g"])


def test_firmness_warns_of_what_no_green_does(say: Say) -> None:
    text = say("firmness", "--before", "70g+-3g", "--saw", "released 40yd").stdout
    assert "warning: nothing we believe of greens makes a ball do this: released 40yd" in text


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (("--saw", "released -4 paces"), "told like 'came back 2yd'"),
        (("--saw", "came back -2yd"), "a run is told without a minus"),
        (("--saw", "flew"), "saw = 'flew' is not one of: spun back, came back"),
        (("--saw", "released 4"), "run = 4 has no unit; write it like 4yd"),
        (("--saw", "checked, huge mark"), "pitch mark = 'huge mark' is not one of: plugged mark"),
        (("--saw", "checked", "--speed", "19mps"), "came down lacks --descent, --spin"),
        (("--saw", "checked", "--before", "hard"), "firmness = 'hard' is not one of"),
        ((), "Missing option '--saw'"),
    ],
)
def test_firmness_refuses_in_one_line(say: Say, words: tuple[str, ...], message: str) -> None:
    result = say("firmness", *words)
    assert result.exit_code == 2
    assert message in result.stderr
    assert result.stderr.count("\n") == 1


def test_what_was_seen_is_read_as_a_caddie_says_it() -> None:
    paced = seen_named("Released 4 paces, deep pitch mark")
    assert (paced.low_m, paced.high_m) == (4 * YARD, 4 * YARD)
    assert paced.mark_g == 70.0
    assert seen_named("came back 2yd").low_m == -2 * YARD
    assert seen_named("backed up 1 m").high_m == -1.0
    hop = seen_named("one hop and stopped")
    assert hop.low_m < 0.0 < hop.high_m
    assert hop.mark_g is None
    with pytest.raises(OutOfRangeError, match="run = 90 yd"):
        seen_named("released 90yd")
    with pytest.raises(BadInputError, match="pitch mark"):
        seen_named("checked, a crater")
