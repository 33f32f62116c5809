"""`card` through the command line: printed, measured, refused."""

import json
from collections.abc import Callable
from importlib.resources import files
from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader
from typer.testing import Result

from carrybook.app.forms.card import CardForm
from carrybook.app.services.card import _facts, _round_carries
from carrybook.base.constants import YARD
from carrybook.base.errors import BadInputError
from carrybook.player.bag import Club, Flight, Shape, Shot
from carrybook.player.strips import FactKind
from carrybook.world.air import Air

Say = Callable[..., Result]
DEMO = files("carrybook.app") / "demo_data"
COURSE = ("--map", str(DEMO / "venue.geojson"), "--heights", str(DEMO / "heights.csv"))
PLAN = ("--advice", "4; 8 on, centre; 80yd; 8mph 45deg")


def text_of(path: Path) -> str:
    pages = PdfReader(BytesIO(path.read_bytes())).pages
    return " ".join(" ".join(page.extract_text().split()) for page in pages)


@pytest.mark.usefixtures("bag")
def test_a_card_is_printed_and_holds(say: Say, tmp_path: Path) -> None:
    out = tmp_path / "card.pdf"
    said = say("card", str(out), "--air", "9C 85% 1004hPa", "--title", "Thursday")
    assert said.exit_code == 0, said.stderr
    assert "ordinary card, 2 shots, 0 plans" in said.stdout
    text = text_of(out)
    for words in (
        "Thursday",
        "9 C (48 F), 1004 hPa, 85 % humidity",
        "What to feel for a carry today of (yd) 70 80",
        "Wind at 10 m: adds to the carry (yd)",
        "10 ft higher",
        "light rough",
    ):
        assert words in text
    check = say("card", "--check", str(out))
    assert check.exit_code == 0
    assert check.stdout.startswith("Ordinary profile: holds\n")
    assert "  yes  size of a card" in check.stdout
    assert "NO" not in check.stdout


@pytest.mark.usefixtures("bag")
def test_a_plan_on_an_ordinary_and_on_a_restricted_card(say: Say, tmp_path: Path) -> None:
    ordinary, restricted = tmp_path / "o.pdf", tmp_path / "r.pdf"
    assert say("card", str(ordinary), *COURSE, *PLAN).exit_code == 0
    made = say("card", str(restricted), *COURSE, *PLAN, "--profile", "restricted", "--json")
    assert json.loads(made.stdout)["plans"] == [{"hole": "4", "shot": "54"}]
    for path in (ordinary, restricted):
        assert "Saltfen Reach" in text_of(path)  # the venue where no title is given
        assert "wind 8 mph quartering into from the right" in text_of(path)
        assert say("card", "--check", str(path)).exit_code == 0
    assert "scale 1:5" in text_of(ordinary)
    assert "scale" not in text_of(restricted)
    check = say("card", "--check", str(ordinary), "--profile", "restricted", "--json")
    assert check.exit_code == 1
    view = json.loads(check.stdout)
    assert (view["profile"], view["holds"]) == ("restricted", False)
    broken = [f["what"] for f in view["findings"] if not f["holds"]]
    assert broken == ["pictures and maps", "words of slope or putting"]


@pytest.mark.usefixtures("bag")
@pytest.mark.parametrize(
    ("layout", "pages"), [("single", 2), ("fold", 2), ("a4", 1), ("letter", 1)]
)
def test_layouts(say: Say, tmp_path: Path, layout: str, pages: int) -> None:
    out = tmp_path / "card.pdf"
    view = json.loads(say("card", str(out), "--layout", layout, "--json").stdout)
    assert (view["layout"], view["pages"], view["file"]) == (layout, pages, str(out))
    assert len(PdfReader(out).pages) == pages
    assert say("card", "--check", str(out)).exit_code == 0


@pytest.mark.usefixtures("bag")
def test_the_same_words_give_the_same_bytes(say: Say, tmp_path: Path) -> None:
    cards = [tmp_path / name for name in ("a.pdf", "b.pdf")]
    for path in cards:
        assert say("card", str(path), "--units", "metres").exit_code == 0
    assert cards[0].read_bytes() == cards[1].read_bytes()
    assert "into 2 m/s" in text_of(cards[0])


@pytest.mark.usefixtures("bag")
def test_json_has_partials_and_strips_in_si(say: Say, tmp_path: Path) -> None:
    view = json.loads(say("card", str(tmp_path / "c.pdf"), "--json").stdout)
    assert [shot["shot"] for shot in view["strips"]] == ["54", "60 low"]
    facts = view["strips"][0]["facts"]
    assert [f["fact"] for f in facts[:5]] == ["into", "into", "helping", "helping", "across"]
    assert facts[1]["amount"] == pytest.approx(4.4704)
    assert all(f["carry_low_m"] <= f["carry_m"] <= f["carry_high_m"] for f in facts)
    carries = view["partials"][0]["carries"]
    assert carries[-1]["carry_m"] == pytest.approx(80.0 * YARD)
    assert carries[-1]["feel_m"] == pytest.approx(80.0 * YARD, rel=0.02)


@pytest.mark.usefixtures("bag")
@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["card"], "card = nothing: name the file to print"),
        (["card", "c.txt"], "card = 'c.txt' must end in one of: .pdf"),
        (["card", "c.pdf", "--layout", "a5"], "layout = 'a5' is not one of: single, fold, a4"),
        (["card", "c.pdf", "--profile", "loose"], "profile = 'loose' is not one of: ordinary"),
        (["card", "c.pdf", "--advice", "4, 91yd"], "advice = '4, 91yd' is not understood"),
        (["card", "c.pdf", "--advice", "4; 8 on; 91yd; 3mph 4deg x"], "is not understood"),
        (["card", "c.pdf", *PLAN], "advice needs a map of the course"),
        (["card", "c.pdf", *COURSE, "--advice", "4; 8 on, centre; 900yd"], "number"),
        (["card", "c.pdf", *COURSE, "--advice", "99; 8 on, centre; 80yd"], "99"),
        (["card", "--check", "nothing.pdf"], "card = 'nothing.pdf' cannot be read"),
        (["card", "--check", __file__], "is not a PDF that can be read"),
    ],
)
def test_what_cannot_be_used_is_said_in_one_line(
    say: Say, words: list[str], said: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    result = say(*words)
    assert result.exit_code == 2
    assert said in result.stderr
    assert result.stderr.count("\n") == 1
    assert not list(tmp_path.glob("*.pdf"))


def test_without_a_book_there_is_no_answer(say: Say, tmp_path: Path) -> None:
    result = say("card", str(tmp_path / "c.pdf"))
    assert result.exit_code == 1
    assert "a first shot starts it" in result.stderr


def test_plans_are_taken_apart() -> None:
    form = CardForm.of(advice=["4; 27 on, 9 from the left; 91yd", " 7 ;8 on, centre; 70m ; 8mph"])
    first, second = form.advice
    assert (first.hole, first.hole_location, first.number) == (
        "4",
        "27 on, 9 from the left",
        "91yd",
    )
    assert first.wind is None
    assert (second.hole, second.wind, second.wind_from) == ("7", "8mph", None)
    with pytest.raises(BadInputError, match="write hole, hole location and number like"):
        CardForm.of(advice=["4;;91yd"])


@pytest.mark.parametrize(("celsius", "missing"), [(45.0, "warmer"), (-20.0, "colder"), (20.0, "")])
def test_no_strip_leaves_the_air_that_is_modelled(celsius: float, missing: str) -> None:
    kinds = [f.kind for f in _facts(Air(celsius + 273.15), "yards")]
    absent = {FactKind.WARMER, FactKind.COLDER} - set(kinds)
    assert {kind.value for kind in absent} == ({missing} if missing else set())


@pytest.mark.parametrize(
    ("shortest", "longest", "expected"),
    [
        (41.0, 79.0, [50, 60, 70]),
        (40.0, 150.0, [45, 60, 75, 90, 105, 120, 135, 150]),
        (83.0, 88.0, []),
    ],
)
def test_round_carries_are_few_and_within_the_bag(
    shortest: float, longest: float, expected: list[int]
) -> None:
    shot = Shot(Club("x", 0.9), Flight.STOCK, Shape.STRAIGHT, longest, shortest, longest)
    assert _round_carries([shot], 1.0) == expected
    yards = [m / YARD for m in _round_carries([shot], YARD)]
    assert yards == pytest.approx([round(yd) for yd in yards])
