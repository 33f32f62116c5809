"""`learn`, `feel`, and `numbers` with and without what was learnt, from the door to the book."""

import csv
import json
import sys
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
from typer.testing import Result

from carrybook.app.services import learn as service
from carrybook.base.constants import YARD
from carrybook.player.learn.invented import bag_of, book_of, drawn_truth
from carrybook.player.learn.result import Diagnostics, Learnt

Say = Callable[..., Result]
MADE = bag_of(2)


@pytest.fixture
def played(say: Say, tmp_path: Path) -> None:
    """Two shots and sixty balls, called too long by two per cent."""
    for shot in MADE:
        words = ["shots", "add", shot.club.label, "--loft", "60deg", "--flight", shot.flight.value]
        words += ["--carry", f"{shot.stock_carry_m / YARD:.1f}yd", "--partials", "40yd..80yd"]
        if shot.flight.value == "low":
            words[-1] = "40yd..70yd"
        assert say(*words).exit_code == 0
    rng = np.random.default_rng(1)
    balls = book_of(MADE, drawn_truth(MADE, np.random.default_rng(3)), 60, rng, days=3, wet=0.0)
    with (tmp_path / "log.csv").open("w", newline="") as file:
        log = csv.writer(file)
        log.writerow(
            ["time", "shot", "intended (m)", "called (m)", "carry (m)", "side (m)", "temp"]
        )
        for b in balls:
            assert b.at
            assert b.carry_m
            assert b.air
            row = [b.at.isoformat(), b.shot, b.intended_m, 1.02 * b.carry_m, b.carry_m, b.side_m]
            log.writerow([*row, f"{b.air.temperature_k - 273.15:.1f}C"])
    assert say("balls", "import", str(tmp_path / "log.csv")).exit_code == 0


def answer(say: Say, *words: str) -> dict[str, object]:
    result = say(*words, "--json")
    assert result.exit_code == 0, result.stderr
    found: dict[str, object] = json.loads(result.stdout)
    return found


def test_learning_is_kept_used_and_goes_stale(say: Say, played: None) -> None:
    assert "nothing is learnt yet: carrybook learn" in say("numbers").stdout
    before = answer(say, "numbers", "--air", "5C")
    assert before["learnt"] == {"used": False, "method": None, "at": None, "fresh": None}
    learnt = answer(say, "learn")
    assert (learnt["method"], learnt["diagnostics"]) == ("quick", None)
    assert learnt["balls"] == pytest.approx(60, abs=1)
    after = answer(say, "numbers", "--air", "5C")
    assert after["learnt"]["used"] is True  # type: ignore[index]
    assert after["numbers"] != before["numbers"]
    assert "Rests on what was learnt" in say("numbers").stdout
    assert say("shots", "add", "56", "--loft", "56deg", "--carry", "92yd").exit_code == 0
    text = say("numbers").stdout
    assert "is stale" in text
    assert "carrybook learn brings it up to date" in text
    assert answer(say, "numbers")["learnt"]["fresh"] is False  # type: ignore[index]


def test_one_ball_is_enough_for_numbers_and_for_learning(say: Say) -> None:
    assert say("shots", "add", "56", "--loft", "56deg", "--carry", "80yd").exit_code == 0
    assert say("balls", "log", "56 70 got 68").exit_code == 0
    assert "1 ball" in say("numbers").stdout
    learnt = say("learn")
    assert learnt.exit_code == 0
    assert ("Long goes:" in learnt.stdout) == ("long goes" in learnt.stdout)
    assert " -0 %" not in learnt.stdout
    assert "-0.0 %" not in learnt.stdout


def test_the_split_sums_exactly_with_everything_in_it(say: Say, played: None) -> None:
    answer(say, "learn")
    day = ("--air", "3C", "--wind", "10mph", "--wind-from", "180deg", "--moisture", "wet")
    view = answer(say, "numbers", *day, "--competition")
    parts = [f"{part}_adds_m" for part in ("air", "ball", "wind", "body", "lie")]
    for n in view["numbers"]:  # type: ignore[attr-defined]
        assert sum(n[p] for p in parts) == pytest.approx(n["today_m"] - n["reference_m"])
        assert n["wind_adds_m"] > 1.0 > 0.0 > n["ball_adds_m"]
        assert n["body_adds_m"] != 0.0
        assert n["shortest_m"] < n["today_m"] <= n["longest_m"] * 1.05
    warm = answer(say, "numbers", *day, "--ball-temp", "20C")
    assert all(n["ball_adds_m"] == 0.0 for n in warm["numbers"])  # type: ignore[attr-defined]
    text = say("numbers", *day).stdout
    for word in ("moved yd", "body", "overlap", "ball at 3 C", "helping"):
        assert word in text


def test_a_gap_between_partials_is_named(say: Say) -> None:
    for words in ("60 --loft 60deg --carry 60yd --partials 50yd..60yd",
                  "48 --loft 48deg --carry 118yd --partials 100yd..118yd"):  # fmt: skip
        assert say("shots", "add", *words.split()).exit_code == 0
    assert "no shot   60 to 100 yd" in say("numbers").stdout
    reach = answer(say, "numbers")["reach"]
    assert [len(r["shots"]) for r in reach] == [1, 0, 1]  # type: ignore[attr-defined]
    result = say("numbers", "--for", "80yd")
    assert (result.exit_code, result.stdout) == (1, "")
    assert "no shot carries 80 yd (73 m) today" in result.stderr


def test_which_shot_for_a_distance_and_what_to_feel(say: Say, played: None) -> None:
    answer(say, "learn")
    view = answer(say, "numbers", "--for", "62yd", "--air", "5C", "--wind", "8mph")
    options = view["options"]
    assert [o["miss_m"] for o in options] == sorted(o["miss_m"] for o in options)  # type: ignore[attr-defined]
    assert {o["shot"] for o in options} == {"60", "60 low"}  # type: ignore[attr-defined]
    calm = answer(say, "numbers", "--for", "62yd", "--air", "5C")["options"]
    feel, still = ({o["shot"]: o["feel_m"] for o in found} for found in (options, calm))  # type: ignore[attr-defined]
    assert all(feel[shot] > still[shot] for shot in feel)  # into the wind: feel more
    across = say("numbers", "--for", "62yd", "--wind", "15mph", "--wind-from", "90deg").stdout
    assert "yd right" in across
    assert "To carry 62 yd" in across


def test_the_feel_number_carries_the_distance_back(say: Say, played: None) -> None:
    """What `--for` says to feel is what `numbers` says it carries: stock feel gives stock carry."""
    answer(say, "learn")
    for n in answer(say, "numbers", "--air", "12C")["numbers"]:  # type: ignore[attr-defined]
        found = answer(say, "numbers", "--air", "12C", "--for", f"{n['today_m'] - 0.5:.3f}m")
        (own,) = (o for o in found["options"] if o["shot"] == n["shot"])  # type: ignore[attr-defined]
        assert own["feel_m"] == pytest.approx(n["stock_feel_m"] - 0.5, abs=0.35)


def test_coverage_is_shown_and_nothing_is_stored(say: Say, played: None) -> None:
    rows = answer(say, "learn", "--check")["coverage"]
    assert {"carry", "side"} < {r["what"] for r in rows}  # type: ignore[attr-defined]
    assert "in 90 %" in say("learn", "--check").stdout
    assert answer(say, "numbers")["learnt"]["at"] is None  # type: ignore[index]


def test_pictures_are_drawn(say: Say, played: None, tmp_path: Path) -> None:
    for words in (("learn", "--figure"), ("feel", "--figure"), ("numbers", "--moved")):
        file = tmp_path / f"{words[0]}.png"
        assert say(*words, str(file)).exit_code == 0
        assert file.read_bytes().startswith(b"\x89PNG")


def test_feel(say: Say, played: None) -> None:
    text = say("feel").stdout
    for title in (
        "CALLED LESS MEASURED",
        "MEANT LESS CALLED",
        "HOW MUCH TO TRUST",
        "by meant carry",
    ):
        assert title in text
    first = answer(say, "feel")["called_less_measured"][0]  # type: ignore[index]
    assert first["shot"] == "all"
    assert first["low"] <= 0.0201
    assert first["high"] >= 0.0199


def test_nothing_called_nothing_measured_no_book(say: Say, bag: None) -> None:
    for words, why in (
        (("feel",), "no logged ball was called before it was seen"),
        (("learn", "--check"), "there is nothing to check"),
    ):
        result = say(*words)
        assert (result.exit_code, result.stdout) == (1, "")
        assert why in result.stderr
    assert say("learn").exit_code == 0  # the player's word and the priors


def test_without_the_packages_full_sampling_says_how_to_get_them(
    say: Say, played: None, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, "nutpie", None)
    result = say("learn", "--full")
    assert (result.exit_code, result.stdout) == (1, "")
    assert "pip install 'carrybook[learn]'" in result.stderr
    assert result.stderr.count("\n") == 1


def test_bad_chains_are_refused_and_nothing_is_stored(
    say: Say, played: None, book: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from carrybook.player.learn import learn as engine

    real = engine.learn_quick

    def bad(shots: object, balls: object, rng: np.random.Generator, **_: object) -> Learnt:
        quick = real(shots, balls, rng)  # type: ignore[arg-type]
        return Learnt("full", quick.shots, quick.balls, quick.days, quick.not_flown,
                      quick.launch_measured, quick.draws,
                      Diagnostics(4, 500, 1.31, 12.0, 300, "sd carry/day"))  # fmt: skip

    monkeypatch.setattr(engine, "learn_full", bad)
    result = say("learn", "--full")
    assert (result.exit_code, result.stdout) == (1, "")
    for part in ("chains do not agree", "worth only 12", "astray in 15 %", "nothing was stored"):
        assert part in result.stderr
    assert service.learnt_state(book) is None


@pytest.mark.parametrize(
    ("words", "why"),
    [
        (["numbers", "--for", "77"], "77"),
        (["numbers", "--ball-temp", "200C"], "ball temperature"),
        (["learn", "--figure", "a.jpg"], "must end in one of: .png, .svg"),
        (["feel", "--figure", "no/a.png"], "make it first"),
        (["numbers", "--wind-from", "90deg"], "has no wind"),
    ],
)
def test_bad_input_is_one_line(say: Say, played: None, words: list[str], why: str) -> None:
    result = say(*words)
    assert (result.exit_code, result.stdout) == (2, "")
    assert why in result.stderr
    assert result.stderr.count("\n") == 1


def test_another_ball_is_asked_for_before_and_after_learning(say: Say, tmp_path: Path) -> None:
    assert say("shots", "add", "56", "--loft", "56deg", "--carry", "90yd").exit_code == 0
    with (tmp_path / "two.csv").open("w", newline="") as file:
        log = csv.writer(file)
        log.writerow(
            ["shot", "carry (yd)", "ball speed (mph)", "launch (deg)", "spin (rpm)", "ball model"]
        )
        for k in range(60):
            log.writerow(["56", 90.0 + k % 5 - (k % 2) * 5.0, 76.0, 31.0, 8500.0, "ab"[k % 2]])
    assert say("balls", "import", str(tmp_path / "two.csv")).exit_code == 0
    for _ in range(2):
        a, b = (answer(say, "numbers", "--ball-model", model) for model in "ab")
        assert (a["ball"]["model"], b["ball"]["model"]) == ("a", "b")  # type: ignore[index]
        assert a["ball"]["drag_factor"] < b["ball"]["drag_factor"]  # type: ignore[index]
        first, second = (x["numbers"][0]["reference_m"] for x in (a, b))  # type: ignore[index]
        assert 1.0 < first - second < 6.0
        assert say("numbers", "--ball-model", "c").exit_code == 2
        answer(say, "learn")
    assert a["learnt"]["used"] is True  # type: ignore[index]
    options = answer(say, "numbers", "--for", "85yd", "--ball-model", "b")
    assert options["ball"] == b["ball"]


def test_a_left_handers_book_turns_the_draw_round(say: Say) -> None:
    shot = ("shots", "add", "56", "--loft", "56deg", "--carry", "90yd", "--shape", "draw")
    assert say(*shot).exit_code == 0
    for _ in range(2):
        aims = [
            answer(say, "numbers", "--for", "85yd", *hand)["options"][0]["aim_right_rad"]  # type: ignore[index]
            for hand in ((), ("--left-handed",))
        ]
        assert aims[0] == pytest.approx(-aims[1], abs=1e-4)
        assert aims[0] > 0.01  # a right-hander's draw starts right
        answer(say, "learn")
