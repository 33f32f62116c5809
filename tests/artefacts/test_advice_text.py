"""The answer and the numbers in words: right numbers, honest digits, sums that add up."""

import re
import subprocess
import sys
from dataclasses import replace

import pytest

from carrybook.artefacts.advice_text import advice_text, ledger
from carrybook.artefacts.numbers_text import numbers_text, rests_on
from carrybook.base.constants import FOOT, YARD
from carrybook.base.errors import BadInputError
from carrybook.decision.advice import Advice, Cause, Option, Situation
from carrybook.player.numbers import TodayNumber
from carrybook.world.lie import Lie, Moisture
from carrybook.world.wind import CALM


def line_of(text: str, label: str) -> str:
    """Find the line that starts with a label, joined with the lines it was broken into."""
    found = re.search(rf"^  {label} +(.*(?:\n {{11}}.*)*)", text, re.MULTILINE)
    assert found, f"no line {label!r} in\n{text}"
    return " ".join(found.group(1).split())


def test_situation(advice: Advice) -> None:
    text = advice_text(advice)
    assert text.splitlines()[0] == "Heron Bank, hole 7: 112 yd to the hole"
    assert line_of(text, "hole") == "24 on, 5 from the right, room 6 behind (paces)"
    assert line_of(text, "lie") == "fairway, dew"
    assert line_of(text, "air") == "12 C (54 F), 1004 hPa, 70 % humidity"
    assert line_of(text, "wind").startswith("8 mph quartering into from the right")
    assert line_of(text, "green") == "medium (92 +- 10 g), speed 10.0 ft (3.05 m)"


def test_best_option_in_yards(advice: Advice) -> None:
    text = advice_text(advice)
    assert "PLAY 54, feel 113 yd: land it 6 yd short of the hole, 2 yd left" in text
    assert line_of(text, "cue") == '"hands ahead, chest through"'
    assert line_of(text, "number") == "plays 112 yd, feel 113 yd"
    land = "106 yd out, 6 yd short of the hole, 2 yd left, 18 paces on"
    assert line_of(text, "land") == land
    assert line_of(text, "start") == "1 yd right of the hole (0.6 degrees)"
    spot = "start it over one 1 in right of the line to the hole, 3 paces in front"
    assert line_of(text, "spot") == spot
    assert line_of(text, "flight") == "79 ft high, 5.1 s in the air, comes down at 47 degrees"
    assert line_of(text, "landed").startswith("it should check: 2 yd on (eight in ten")
    finish = (
        "half within 14 ft, nine in ten within 29 ft; 87 % on the green, 2 % just beside it,"
        " under 1 % holed"
    )
    assert line_of(text, "finish") == finish
    trouble = "bunker 8 %, short of the green 2 %, water under 1 %"
    assert line_of(text, "trouble") == trouble
    putt = "usually 13 ft, up 4 in; 70 % lie below the hole, 60 % lie left of it"
    assert line_of(text, "putt") == putt
    assert line_of(text, "strokes") == "2.84 +- 0.01 to hole out"
    assert line_of(text, "known") == "rests on 62 balls"


def test_best_option_in_metres(advice: Advice) -> None:
    text = advice_text(advice, units="metres")
    assert "PLAY 54, feel 104 m: land it 6 m short of the hole, 2 m left" in text
    assert line_of(text, "land").startswith("97 m out")
    assert line_of(text, "flight").startswith("24 m high")
    assert line_of(text, "finish").startswith("half within 4.4 m, nine in ten within 9.0 m")
    assert line_of(text, "putt").startswith("usually 4.0 m, up 11 cm")
    assert " yd" not in text.split("LEFT OUT")[0]


def test_other_options_and_the_habit(advice: Advice) -> None:
    lines = advice_text(advice).splitlines()
    rows = {name: next(x for x in lines if x.startswith(f"  {name} ")) for name in ("60", "54 low")}
    assert rows["60"].endswith("+0.01 +- 0.01  too close to call")
    assert rows["54 low"].endswith("+0.06 +- 0.01")
    assert any(re.search(r"54 at the flag .*pin high .*\+0\.094 \+- 0\.004$", x) for x in lines)


def test_where_nothing_else_reaches_no_table_stands_and_no_putt_is_made_up(advice: Advice) -> None:
    short = replace(advice.options[0], green=0.004)
    text = advice_text(replace(advice, options=(short,), at_flag=None))
    assert "INSTEAD: no other shot reaches, and none lands at the hole from here\n" in text
    assert "9 in 10" not in text
    assert "\n  putt " not in text


def test_doubts_left_out_and_the_last_word(advice: Advice) -> None:
    text = advice_text(advice)
    assert "NOT WELL KNOWN\n  - 54 low rests on your word: log ten balls" in text
    assert "LEFT OUT\n  - 50: 134 yd stock, its shortest partial is 120 yd" in text
    assert text.splitlines()[-1] == "The player decides."
    bare = advice_text(replace(advice, doubts=(), left_out=()))
    assert "NOT WELL KNOWN" not in bare
    assert "LEFT OUT" not in bare


@pytest.mark.parametrize("units", ["yards", "metres"])
def test_why_adds_up_on_paper(advice: Advice, units: str) -> None:
    unit = YARD if units == "yards" else 1.0
    why = advice_text(advice, units=units).split("WHY")[1].split("\n\n")[0]
    rows = re.findall(r"^ +([+-]\d+\.\d)? +(\d+\.\d)  (.*)$", why, re.MULTILINE)
    best = advice.options[0]
    assert len(rows) == 1 + len(best.why)
    total = round(float(rows[0][1]) * 10)
    for change, after, _ in rows[1:]:
        total += round(float(change) * 10)
        assert total == round(float(after) * 10)
    assert float(rows[0][1]) == pytest.approx(advice.situation.number_m / unit, abs=0.05)
    assert float(rows[-1][1]) == pytest.approx(best.feel_m / unit, abs=0.05)
    assert rows[1][2].endswith("= carry wanted")
    assert rows[-2][2].endswith("= playing number")
    assert rows[-1][2].endswith("= feel number")


def test_ledger_shows_each_fact_to_a_tenth(best: Option, situation: Situation) -> None:
    many = tuple(Cause(f"fact {k}", 0.0449 * YARD) for k in range(20))
    feel_m = situation.number_m + sum(cause.metres for cause in many)
    rows = ledger(replace(best, why=many, feel_m=feel_m), situation.number_m, YARD)
    assert rows[-1][2] == pytest.approx(feel_m / YARD, abs=0.05)
    assert all(abs(adds - 0.0449) < 0.1 for _, adds, _ in rows[1:])


def test_nothing_to_explain(advice: Advice) -> None:
    best = replace(advice.options[0], why=(), feel_m=advice.situation.number_m)
    text = advice_text(replace(advice, options=(best,)))
    assert "112.0  to the hole = feel number" in text


def test_odd_characters_do_not_break_the_page(nasty: Advice) -> None:
    text = advice_text(nasty)
    assert "\x1b" not in text
    assert "<script>alert('x')</script> $\\frac{1}{2}$" in line_of(text, "cue")
    assert text.splitlines()[0].startswith("Löch & <i>Ness</i> $50$")
    assert max(map(len, text.splitlines())) <= 92


@pytest.mark.parametrize("units", ["yards", "metres"])
def test_lines_fit_a_terminal(advice: Advice, numbers: tuple[TodayNumber, ...], units: str) -> None:
    text = advice_text(advice, units=units)
    table = numbers_text(numbers, advice.situation.air, units=units)
    assert max(map(len, (text + table).splitlines())) <= 92
    assert text.isascii()
    assert table.isascii()


def test_nothing_in_the_way(advice: Advice) -> None:
    best = replace(advice.options[0], troubles={}, miss=None, aim_right_m=0.0, landing_right_m=0.0)
    text = advice_text(replace(advice, options=(best,)))
    assert line_of(text, "trouble") == "none seen"
    assert line_of(text, "start") == "at the hole (0.6 degrees)"
    assert "short of the hole, on the line" in text


def test_calm(advice: Advice) -> None:
    still = replace(advice, situation=replace(advice.situation, wind=CALM))
    assert line_of(advice_text(still), "wind") == "calm"


def test_landing_short_of_the_green(advice: Advice) -> None:
    best = replace(advice.options[0], landing_x=-3.0 * YARD)
    text = advice_text(replace(advice, options=(best,)))
    assert line_of(text, "land").endswith("3 paces short of the front edge")


def test_numbers_in_yards(numbers: tuple[TodayNumber, ...], advice: Advice) -> None:
    text = numbers_text(numbers, advice.situation.air, lie=Lie.LIGHT_ROUGH, moisture=Moisture.WET)
    assert text.splitlines()[0] == "Today: 12 C (54 F), 1004 hPa, 70 % humidity; light rough, wet"
    row = {line.split()[0] + line.split()[1]: line.split() for line in text.splitlines()[3:6]}
    assert row["54116"] == ["54", "116", "113", "-3", "+-", "0.7", "+-", "4", "62", "balls"]
    assert row["60102"] == [
        "60",
        "102",
        "99",
        "-3",
        "+-",
        "1.4",
        "+-",
        "4",
        "98",
        "to",
        "101",
        "17",
        "balls",
    ]
    assert "54 low" in text
    assert text.count("your word, no balls yet") == 1
    assert "Reference day: 20 C (68 F), 1013 hPa, 50 % humidity" in text


def test_numbers_in_metres(numbers: tuple[TodayNumber, ...], advice: Advice) -> None:
    line = numbers_text(numbers, advice.situation.air, units="metres").splitlines()[3]
    assert line.split() == ["54", "106", "104", "-2", "+-", "0.6", "+-", "4", "62", "balls"]


def test_rests_on() -> None:
    assert rests_on(0) == "your word, no balls yet"
    assert rests_on(1) == "1 ball"
    assert rests_on(62) == "62 balls"


def test_unknown_units_are_refused(advice: Advice, numbers: tuple[TodayNumber, ...]) -> None:
    with pytest.raises(BadInputError, match="units = 'feet'"):
        advice_text(advice, units="feet")
    with pytest.raises(BadInputError, match="units = 'feet'"):
        numbers_text(numbers, advice.situation.air, units="feet")


def test_apex_is_in_feet(advice: Advice) -> None:
    assert advice.options[0].apex_m / FOOT == pytest.approx(78.7, abs=0.05)


def test_text_loads_no_drawing_library() -> None:
    code = (
        "import sys, carrybook.artefacts.advice_text;"
        "sys.exit(any(m in sys.modules for m in ('matplotlib', 'reportlab')))"
    )
    subprocess.run([sys.executable, "-c", code], check=True)  # noqa: S603 - our own interpreter
