"""`plan` through the command line: JSON, text, card, all hands alike, and an interrupt."""

import json
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader
from typer.testing import CliRunner, Result

from carrybook import app as rooms
from carrybook.app.cli import app
from carrybook.app.json_views.plan import plan_view
from carrybook.app.services import plan as services
from carrybook.app.sweep import sweep
from carrybook.app.texts.plan import lay_up_line, plan_text
from carrybook.artefacts.cautions import LIGHTNING
from carrybook.artefacts.words import units_named
from carrybook.base.constants import YARD
from carrybook.decision.prepared import LayUp
from carrybook.world.air import REFERENCE_DAY

DATA = Path(rooms.__file__).parent / "demo_data"
ASKED = ("plan", "--map", str(DATA / "venue.geojson"), "--numbers", "85yd")
HOLE = (*ASKED, "--hole", "11")
Ask = Callable[..., Result]


@pytest.fixture(scope="module")
def ask(tmp_path_factory: pytest.TempPathFactory) -> Ask:
    """Ask a book with one shot."""
    book = str(tmp_path_factory.mktemp("plan") / "book.sqlite")

    def invoke(*words: str) -> Result:
        return CliRunner().invoke(app, ["--book", book, *words], catch_exceptions=False)

    shot = "shots add 56 --loft 56deg --carry 92yd --partials 60yd..95yd"
    assert invoke(*shot.split()).exit_code == 0
    return invoke


@pytest.fixture(scope="module")
def card(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("out") / "plan.pdf"


@pytest.fixture(scope="module")
def answer(ask: Ask, card: Path) -> Any:  # noqa: ANN401 - JSON
    result = ask(*HOLE, "--workers", "1", "--card", str(card), "--json")
    assert result.exit_code == 0, result.output
    return json.loads(result.stdout)


def test_keys_and_values_of_the_answer(answer: Any) -> None:  # noqa: ANN401 - JSON
    assert list(answer) == [
        "venue", "holes", "air", "cells", "lay_ups", "left_out", "pieces_done", "pieces", "seed",
        "cautions", "rules_note",
    ]  # fmt: skip
    zones = [c["zone"] for c in answer["cells"]]
    assert 6 <= len(zones) <= 9
    assert zones == list(dict.fromkeys(zones))
    assert (answer["pieces"], answer["pieces_done"]) == (len(zones), len(zones))
    for cell in answer["cells"]:
        assert (cell["hole"], cell["shot"]) == ("11", "56")
        assert cell["number_m"] == pytest.approx(85.0 * YARD)
        assert cell["feel_m"] == pytest.approx(85.0 * YARD, abs=15.0 * YARD)
        assert 2.3 < cell["strokes"] < 3.3


def test_it_warns_of_lightning_and_of_heat_with_its_sun(answer: Any) -> None:  # noqa: ANN401
    assert answer["cautions"] == [LIGHTNING]  # on the reference day
    hot = replace(REFERENCE_DAY, temperature_k=306.15, humidity=0.6)
    plan = services.VenuePlan("V", (), hot, (), (), (), 0, 0, 1)
    heat, lightning = plan_view(plan)["cautions"]  # type: ignore[misc]
    assert "danger; full sun adds up to 8 C (15 F)" in heat
    text = plan_text(plan, "yards")
    assert heat in text
    assert lightning in text


@pytest.fixture
def two_zones(monkeypatch: pytest.MonkeyPatch) -> None:
    """Plan only the first two zones of a hole."""
    pieces = services._pieces
    monkeypatch.setattr(services, "_pieces", lambda *given: pieces(*given)[:2])


@pytest.mark.usefixtures("two_zones")
def test_two_workers_give_the_same(ask: Ask, answer: Any) -> None:  # noqa: ANN401 - JSON
    view = json.loads(ask(*HOLE, "--workers", "2", "--json").stdout)
    assert view["cells"] == answer["cells"][:2]


@pytest.mark.usefixtures("two_zones")
def test_text_says_the_same(ask: Ask, answer: Any) -> None:  # noqa: ANN401 - JSON
    text = ask(*HOLE, "--workers", "1").stdout
    assert "hole 11" in text
    rows = [line for line in text.splitlines() if line.split(" ")[0] in ("front", "middle", "back")]
    for row, cell in zip(rows, answer["cells"][:2], strict=True):
        assert row.startswith(cell["zone"])
        assert f"{cell['strokes']:.2f}" in row


def test_the_card_carries_every_zone(answer: Any, card: Path) -> None:  # noqa: ANN401 - JSON
    printed = "".join(page.extract_text() for page in PdfReader(card).pages)
    for cell in answer["cells"]:
        assert cell["zone"] in printed


def test_what_to_leave_comes_with_it(ask: Ask, monkeypatch: pytest.MonkeyPatch) -> None:
    pieces, leave = services._pieces, ("--lay-ups", "--workers", "1")
    monkeypatch.setattr(services, "_pieces", lambda *given: pieces(*given)[-1:])
    view = json.loads(ask(*HOLE, *leave, "--json").stdout)
    assert [t["hole"] for t in view["lay_ups"]] == ["11"]
    assert view["cells"] == []
    assert view["lay_ups"][0]["left_m"][0] > 55.0 * YARD
    text = ask(*HOLE, *leave).stdout
    assert "hole 11, to the middle, left yd and strokes: " in text


def test_an_interrupt_leaves_what_is_done(ask: Ask, monkeypatch: pytest.MonkeyPatch) -> None:
    def interrupted(*given: Any) -> Iterator[Any]:  # noqa: ANN401 - those of sweep
        results = sweep(*given)
        yield next(results)
        raise KeyboardInterrupt

    monkeypatch.setattr(services, "sweep", interrupted)
    result = ask(*HOLE, "--workers", "1", "--json")
    assert result.exit_code == 1
    view = json.loads(result.stdout)
    assert view["pieces_done"] == len(view["cells"]) == 1
    assert result.stderr == f"error: stopped after 1 of {view['pieces']} zones; run it again\n"


def test_all_holes_are_those_of_the_map(ask: Ask, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(services, "sweep", lambda *_: iter(()))
    for words in (ASKED, (*ASKED, "--hole", "all")):
        assert json.loads(ask(*words, "--json").stdout)["holes"] == ["4", "11", "16"]
    assert json.loads(ask(*ASKED, "--hole", "16, 4", "--json").stdout)["holes"] == ["16", "4"]


@pytest.mark.parametrize(
    ("words", "why"),
    [
        (("--hole", "5"), "5"),
        (("--hole", "4,,11"), "hole = '4,,11' is not understood; write it like 4,11,16 or all"),
        (("--hole", "4", "--numbers", "85"), "85"),
        (("--hole", "4", "--numbers", "500yd"), "number to hole 4 = 500 yd is outside 15 to 200"),
        (("--card", "plan.txt"), "card = 'plan.txt' must end in"),
    ],
)
def test_bad_input_is_one_line(ask: Ask, words: tuple[str, ...], why: str) -> None:
    result = ask(*ASKED[:3], "--workers", "1", *words)
    assert (result.exit_code, result.stdout) == (2, "")
    assert why in result.stderr
    assert result.stderr.count("\n") == 1


@pytest.mark.parametrize(
    ("high", "said"), [(60.0, "; no difference from 50 to 60 yd"), (50.0, "; best from 50 yd")]
)
def test_a_flat_of_one_distance_is_called_the_best(high: float, said: str) -> None:
    left, strokes = (50.0 * YARD, 60.0 * YARD), (2.6, 2.61)
    told = LayUp("4", left, strokes, (0.01, 0.01), 50.0 * YARD, high * YARD, "")
    assert lay_up_line(told, units_named("yards")).endswith(said)
