"""`leave` through the command line: JSON, text, picture, and what it refuses."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from typer.testing import CliRunner, Result

from carrybook import app as rooms
from carrybook.app.cli import app
from carrybook.app.forms.plan import LeaveForm
from carrybook.app.texts.leave import against_words
from carrybook.artefacts.words import YARDS
from carrybook.base.constants import YARD
from carrybook.base.errors import BadInputError
from carrybook.decision.leave import Against

DATA = Path(rooms.__file__).parent / "demo_data"
ASKED = (
    "leave", "--map", str(DATA / "venue.geojson"), "--hole", "16", "--hole-location",
    "17 on, 8 from the left", "--from", "40yd", "--to", "100yd", "--step", "20yd",
    "--favourite", "90yd", "--scatter", "0yd", "--side-scatter", "0yd",
)  # fmt: skip
Ask = Callable[..., Result]


@pytest.fixture(scope="module")
def ask(tmp_path_factory: pytest.TempPathFactory) -> Ask:
    """Ask a book with one shot."""
    book = str(tmp_path_factory.mktemp("leave") / "book.sqlite")

    def invoke(*words: str) -> Result:
        return CliRunner().invoke(app, ["--book", book, *words], catch_exceptions=False)

    shot = "shots add 56 --loft 56deg --carry 92yd --partials 55yd..95yd --cue low-hands"
    assert invoke(*shot.split()).exit_code == 0
    return invoke


@pytest.fixture(scope="module")
def answer(ask: Ask, tmp_path_factory: pytest.TempPathFactory) -> tuple[Any, Path]:
    picture = tmp_path_factory.mktemp("out") / "leave.png"
    result = ask(*ASKED, "--figure", str(picture), "--json")
    assert result.exit_code == 0, result.output
    return json.loads(result.stdout), picture


def test_keys_and_values_of_the_answer(answer: tuple[Any, Path]) -> None:
    view, picture = answer
    assert list(view) == [
        "venue", "hole", "hole_location", "air", "lie", "off_line_deg", "scatter", "distances",
        "best_m", "flat", "favourite_m", "closer", "closest", "draws", "seed", "doubts",
        "rules_note",
    ]  # fmt: skip
    rows = {round(d["left_m"] / YARD): d for d in view["distances"]}
    assert list(rows) == [40, 60, 80, 90, 100]
    assert rows[40]["strokes"] is None
    assert rows[40]["shot"] is None
    assert (rows[80]["shot"], rows[80]["cue"]) == ("56", "low-hands")
    assert rows[80]["feel_m"] == pytest.approx(78.0 * YARD, abs=8.0 * YARD)
    assert 2.3 < rows[80]["strokes"] < 3.1
    assert view["closer"]["left_m"] in (rows[60]["left_m"], rows[80]["left_m"])
    assert view["closest"]["left_m"] == rows[60]["left_m"]
    assert view["favourite_m"] == pytest.approx(90.0 * YARD)
    assert view["flat"]["low_m"] <= view["best_m"] <= view["flat"]["high_m"]
    assert "Rule 4.3a" in view["rules_note"]
    assert picture.read_bytes().startswith(b"\x89PNG")


def test_text_says_the_same(ask: Ask, answer: tuple[Any, Path]) -> None:
    view, _ = answer
    text = ask(*ASKED).stdout
    rows = text.split("\n\n")[1].splitlines()[1:]
    lines = {line.split()[0]: line for line in rows}
    assert "none of your shots" in lines["40"]
    for row in view["distances"][1:]:
        assert f"{row['strokes']:.2f}" in lines[f"{row['left_m'] / YARD:.0f}"]
        assert ("=" in lines[f"{row['left_m'] / YARD:.0f}"]) is row["flat"]
    assert "instead of 90 yd" in text
    unclear = ("does not matter here", "cannot be told from one that does not matter")
    assert any(words in text for words in unclear) is not all(
        view[k]["matters"] for k in ("closer", "closest")
    )


@pytest.mark.parametrize(
    ("saves", "unsure", "said"),
    [
        (0.10, 0.01, "60 yd instead of 90 yd saves 0.10 +- 0.01 strokes"),
        (0.04, 0.02, "0.04 +- 0.02 strokes: perhaps, but it cannot be told from one that does not"),
        (-0.01, 0.01, "costs 0.01 +- 0.01 strokes: does not matter here"),
    ],
)
def test_a_difference_is_said_with_what_it_is_worth(saves: float, unsure: float, said: str) -> None:
    told = against_words(Against(60.0 * YARD, 90.0 * YARD, saves, unsure), YARDS)
    assert said in told
    assert ("matter" in told) is (saves < 0.1)


def test_scatter_comes_from_the_longest_shot_unless_it_is_said(ask: Ask) -> None:
    said = ASKED[: ASKED.index("--from")]
    one = (*said, "--from", "80yd", "--to", "80yd", "--json", "--scatter", "6yd")
    scatter = json.loads(ask(*one).stdout)["scatter"]
    assert scatter["depth_m"] == pytest.approx(6.0 * YARD)
    assert 1.0 < scatter["side_m"] < 15.0
    assert scatter["source"] == "as you said; to the side as your 56 does at its stock carry"


@pytest.mark.parametrize(
    ("words", "why"),
    [
        (("--from", "90yd", "--to", "60yd"), "from = 90 yd to = 60 yd in steps of 5 yd"),
        (("--step", "0.1yd"), "step = 0.1 yd is outside 1 to 50 yd"),
        (("--from", "5yd"), "distance left = 5 yd is outside 15 to 200 yd"),
        (("--favourite", "90"), "90"),
        (("--scatter", "60yd", "--side-scatter", "1yd"), "scatter of the lay-up in depth = 60 yd"),
        (("--lie", "moss"), "lie = 'moss' is not one of"),
    ],
)
def test_bad_input_is_one_line(ask: Ask, words: tuple[str, ...], why: str) -> None:
    result = ask(*ASKED[: ASKED.index("--from")], *words)
    assert (result.exit_code, result.stdout) == (2, "")
    assert why in result.stderr
    assert result.stderr.count("\n") == 1


def test_where_nothing_reaches_it_is_no_answer(ask: Ask) -> None:
    result = ask(*ASKED[: ASKED.index("--from")], "--from", "20yd", "--to", "30yd")
    assert result.exit_code == 1
    assert "none of your shots lands a ball near the hole" in result.stderr


def test_distances_are_counted_up_to_the_last() -> None:
    form = LeaveForm.of(
        map="x", hole="4", hole_location="", nearest="30yd", furthest="52yd", step="10yd"
    )
    assert [round(d / YARD) for d in form.distances()] == [30, 40, 50]
    far = LeaveForm.of(map="x", hole="4", hole_location="", nearest="15yd", step="1yd")
    with pytest.raises(BadInputError, match="116 distances; give 1 to 100"):
        far.distances()
