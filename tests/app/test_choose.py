"""`choose` through the command line: what its JSON, text, picture and card hold."""

import json
from collections.abc import Callable
from math import atan2, degrees
from pathlib import Path
from typing import Any

import pytest
from typer.testing import CliRunner, Result

from carrybook import app as rooms
from carrybook.app.cli import app
from carrybook.world.hole_map import read_hole

DATA = Path(rooms.__file__).parent / "demo_data"
ASKED = (
    "choose", "--map", str(DATA / "venue.geojson"), "--hole", "4",
    "--heights", str(DATA / "heights.csv"),
    "--hole-location", "24 on, 5 from the right", "--number", "88yd",
    "--air", "9C 85% 1004hPa", "--wind", "12mph", "--wind-from", "90deg",
    "--firmness", "105g", "--green-speed", "10ft", "--moisture", "dew",
)  # fmt: skip
SHOTS = (
    "56 --loft 56deg --carry 92yd --partials 60yd..95yd",
    "52 --loft 52deg --carry 105yd --partials 70yd..110yd",
)
Ask = Callable[..., Result]


@pytest.fixture(scope="module")
def ask(tmp_path_factory: pytest.TempPathFactory) -> Ask:
    """Ask a book with two shots."""
    book = str(tmp_path_factory.mktemp("choose") / "book.sqlite")

    def invoke(*words: str) -> Result:
        return CliRunner().invoke(app, ["--book", book, *words], catch_exceptions=False)

    for shot in SHOTS:
        assert invoke("shots", "add", *shot.split()).exit_code == 0
    return invoke


@pytest.fixture(scope="module")
def answer(ask: Ask, tmp_path_factory: pytest.TempPathFactory) -> tuple[Any, Path]:
    """Give the JSON of one answer, and the folder of its picture and card."""
    out = tmp_path_factory.mktemp("out")
    files = ("--figure", str(out / "plan.png"), "--card", str(out / "card.pdf"))
    result = ask(*ASKED, *files, "--json")
    assert result.exit_code == 0, result.output
    return json.loads(result.stdout), out


def test_keys_of_the_answer(answer: tuple[Any, Path]) -> None:
    view, _ = answer
    assert list(view) == [
        "situation", "too_close_to_call", "options", "at_flag", "ball", "candidates", "draws",
        "at_most_strokes", "flips", "worth_knowing", "seed",
        "doubts", "left_out", "rules_note", "learnt",
    ]  # fmt: skip
    assert view["seed"] == 1
    assert view["candidates"] >= 200
    assert "4.3a" in view["rules_note"]


def test_the_situation_is_what_was_typed(answer: tuple[Any, Path]) -> None:
    s = answer[0]["situation"]
    assert s["number_m"] == pytest.approx(88 * 0.9144)
    assert s["hole_location"]["on_m"] == pytest.approx(24 * 0.9144)
    assert s["hole_location"]["from_right_m"] == pytest.approx(5 * 0.9144)
    assert s["wind"]["speed_mps"] == pytest.approx(12 * 0.44704)
    assert s["wind"]["from_deg"] == pytest.approx(90.0)
    assert (s["firmness_g"], s["firmness_sd_g"]) == (105.0, 5.0)
    assert (s["lie"], s["moisture"], s["heights_known"]) == ("fairway", "dew", True)


def test_kind_and_water_of_the_green_reach_the_answer(ask: Ask) -> None:
    more = ("--kind", "gripping", "--turf-moisture", "+6%", "--competition", "--json")
    result = ask(*ASKED, *more)
    assert result.exit_code == 0, result.output
    s = json.loads(result.stdout)["situation"]
    assert s["kind_of_green"] == "gripping"
    assert s["firmness_g"] < 105.0  # wetter is softer, and less sure
    assert s["firmness_sd_g"] > 5.0


@pytest.mark.parametrize(
    ("option", "words", "why"),
    [
        ("--kind", "sticky", "kind of green = 'sticky' is not one of: unknown, gripping,"),
        ("--turf-moisture", "+50%", "moisture = 50 % is outside -30 to 30 %"),
    ],
)
def test_a_green_that_is_not_understood_is_refused(
    ask: Ask, option: str, words: str, why: str
) -> None:
    result = ask(*ASKED, option, words)
    assert result.exit_code == 2
    assert why in result.stderr


def test_the_spot_in_front_lies_on_the_start_line(answer: tuple[Any, Path]) -> None:
    aim = answer[0]["options"][0]["aim"]
    angle = degrees(atan2(aim["spot_right_m"], aim["spot_ahead_m"]))
    assert angle == pytest.approx(aim["start_right_deg"])


def test_keys_of_every_option(answer: tuple[Any, Path]) -> None:
    view, _ = answer
    for option in [*view["options"], view["at_flag"]]:
        assert set(option) == {
            "shot", "cue", "balls", "strokes", "strokes_se", "behind", "behind_se",
            "too_close_to_call", "chance", "proximity_50_m", "proximity_90_m", "chances",
            "miss_to_avoid", "landing_spot",
            "aim", "curve", "warnings", "playing_m", "feel_m", "flight", "after_landing", "leave",
            "why",
        }  # fmt: skip
        assert set(option["chances"]) == {
            "green", "holed", "water", "bunker", "out_of_bounds", "rough", "short_of_the_green",
            "over_the_green",
        }  # fmt: skip
        assert all(0.0 <= share <= 1.0 for share in option["chances"].values())
        assert set(option["leave"]) == {"length_m", "rise_m", "above", "below", "left", "right"}


def test_the_best_comes_first_and_its_reasons_add_up(answer: tuple[Any, Path]) -> None:
    view, _ = answer
    best, *others = view["options"]
    assert best["behind"] == 0.0
    assert all(other["behind"] > 0.0 for other in others)
    causes = sum(cause["metres"] for cause in best["why"])
    number = view["situation"]["number_m"]
    assert number + causes == pytest.approx(best["feel_m"], abs=1e-6)
    assert best["aim"]["right_of_hole_m"] > 0.0  # into a wind from the right


def test_picture_and_card_are_written(answer: tuple[Any, Path]) -> None:
    out = answer[1]
    assert (out / "plan.png").read_bytes().startswith(b"\x89PNG")
    assert (out / "card.pdf").read_bytes().startswith(b"%PDF")
    assert len(list(out.iterdir())) == 2


def test_the_text_is_in_the_units_asked_for(ask: Ask) -> None:
    text = ask(*ASKED, "--units", "metres").stdout
    assert "hole 4: 80 m to the hole" in text
    assert " yd" not in text
    assert "The player decides." in text


@pytest.mark.parametrize(
    ("more", "message"),
    [
        (("--number", "5yd"), "number to hole 4 = 5 yd is outside 15 to 200 yd"),
        (("--number", "-88yd"), "number = -88 yd is outside 0 to 1094 yd"),
        (("--hole", "19"), "hole '19' is not in venue.geojson"),
        (("--hole-location", "90 on, 5 left"), "is off the green"),
        (("--hole-location", "somewhere"), "hole location = 'somewhere' is not understood"),
        (
            ("--off-line", "120deg"),
            "angle off the line of approach = 120 deg is outside -60 to 60 deg",
        ),
        (("--firmness", "35g"), "firmness = 35 g is outside 40 to 160 g"),
        (("--lie", "sand"), "lie = 'sand' is not modelled"),
        (("--heights", "no.csv"), "no.csv"),
        (("--figure", "plan.gif"), "figure = 'plan.gif' must end in one of: .png, .svg"),
        (("--gust", "5mph"), "gust = 5mph is below the mean wind, 12mph"),
        (("--seed", "-1"), "Invalid value for '--seed'"),
    ],
)
def test_what_cannot_be_asked(ask: Ask, more: tuple[str, str], message: str) -> None:
    result = ask(*ASKED, *more)
    assert (result.exit_code, result.stdout) == (2, "")
    assert result.stderr.count("\n") == 1
    assert message in result.stderr


def test_a_number_that_no_shot_reaches(ask: Ask) -> None:
    result = ask(*ASKED, "--number", "190yd")
    assert result.exit_code == 1
    assert result.stderr.startswith("error: ")


# The demo's hole 4 is played along this bearing over its map.
LINE = degrees(read_hole(DATA / "venue.geojson", "4").bearing_rad)
DAY = ASKED[:11]  # map, hole, heights, hole location, number


def told(ask: Ask, *words: str) -> dict[str, float]:
    result = ask(*DAY, *words, "--elevation", "20m", "--json")
    assert result.exit_code == 0, result.output
    wind: dict[str, float] = json.loads(result.stdout)["situation"]["wind"]
    return wind


def test_the_wind_of_a_report_is_turned_to_the_line(ask: Ask) -> None:
    report = "ZZZZ 121030Z 24012G22KT 9999 12/08 Q1015"
    wind = told(ask, "--metar", report, "--off-line", "10deg", "--surroundings", "parkland")
    assert wind["speed_mps"] == pytest.approx(12 * 0.514444, rel=1e-5)
    assert wind["gust_mps"] == pytest.approx(22 * 0.514444, rel=1e-5)
    # From right of the approach the line to the hole points 10 degrees further left.
    assert wind["from_deg"] == pytest.approx((240.0 - LINE + 10.0) % 360.0)
    assert wind["roughness_m"] == 0.5
    said = ask(*DAY, "--metar", report, "--elevation", "20m").stdout
    assert ", gusts to 25 mph (at 10 m up)" in said
    assert "from 240 degrees true, gusts to 25 mph (11.3 m/s), is turned to your line" in said
    own = (*DAY, "--metar", report, "--elevation", "20m", "--wind", "5mph", "--gust", "9mph")
    assert "is not used" in ask(*own).stdout


def test_the_wind_of_a_forecast_is_turned_to_the_line(ask: Ask, tmp_path: Path) -> None:
    head = "time,temperature (C),humidity (%),station pressure (hPa),wind (mps),wind from (deg)"
    (tmp_path / "day.csv").write_text(f"{head},gust (mps)\n09:00,9,85,1004,5,300,8\n")
    wind = told(ask, "--forecast", str(tmp_path / "day.csv"), "--at", "09:00")
    assert (wind["speed_mps"], wind["gust_mps"]) == (5.0, 8.0)
    assert wind["from_deg"] == pytest.approx((300.0 - LINE) % 360.0)


@pytest.mark.parametrize(
    ("wind", "why"),
    [("VRB03KT", "has no direction"), ("/////KT", "the weather report of ZZZZ has")],
)
def test_a_reported_wind_of_no_use_asks_for_one(ask: Ask, wind: str, why: str) -> None:
    report = f"ZZZZ 121030Z {wind} 9999 12/08 Q1015"
    refused = ask(*DAY, "--metar", report, "--elevation", "20m")
    assert (refused.exit_code, refused.stderr.count("\n")) == (2, 1)
    assert why in refused.stderr
    assert "add it like --wind 12mph --wind-from 90deg" in refused.stderr
    assert ask(*DAY, "--metar", report, "--elevation", "20m", "--wind", "0mps").exit_code == 0


def test_draw_and_cut_are_flown_by_either_hand(ask: Ask, tmp_path: Path) -> None:
    book = str(tmp_path / "shapes.sqlite")

    def say(*words: str) -> Result:
        return CliRunner().invoke(app, ["--book", book, *words], catch_exceptions=False)

    for shape in ("draw", "cut"):
        say("shots", "add", *SHOTS[0].split(), "--shape", shape)
    seen = {}
    for hand in ((), ("--left-handed",)):
        view = json.loads(say(*ASKED, "--wind", "0mph", *hand, "--json").stdout)
        seen[hand] = {o["shot"]: o for o in view["options"]}
        assert not any("not computed" in doubt for doubt in view["doubts"])
        assert any("curves is mostly a guess" in doubt for doubt in view["doubts"])
    right, left = seen.values()
    for shape, way in (("56 draw", -1.0), ("56 cut", 1.0)):
        curve = right[shape]["curve"]
        assert way * curve["right_m"] > 1.0
        assert way * curve["axis_deg"] > 2.0
        assert 0.3 < curve["se_m"] < 3.0
        assert curve["measured_balls"] == 0
        assert left[shape]["curve"]["axis_deg"] == pytest.approx(-curve["axis_deg"])
        # it starts to the other side, so that it lands where it is meant to
        starts = right[shape]["aim"]["start_right_deg"]
        lands = degrees(
            right[shape]["landing_spot"]["right_of_line_m"]
            / right[shape]["landing_spot"]["distance_m"]
        )
        assert way * (lands - starts) > 1.0
    text = " ".join(say(*ASKED).stdout.split())
    assert "; it curves " in text
    assert "wind included" in text
