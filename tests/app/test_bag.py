"""`bag` through the command line: JSON, text, picture, what counts, and what it refuses."""

import json
from collections.abc import Callable
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from typer.testing import CliRunner, Result

from carrybook import app as rooms
from carrybook.app.cli import app
from carrybook.app.forms.bag import BagForm, FitForm, TryOutForm, WhatIfForm
from carrybook.app.services.bag import change_bag, fit_book, gaps_of_book, try_shot
from carrybook.base.constants import YARD
from carrybook.base.errors import BadInputError
from carrybook.player.day import Day
from carrybook.world.air import REFERENCE_DAY

Ask = Callable[..., Result]
DATA = Path(rooms.__file__).parent / "demo_data"
FEW = ("--lofts", "55-57", "--from", "70yd", "--to", "90yd")
SHOTS = (
    "50 --loft 50deg --carry 110yd --partials 70yd..112yd",
    "56 --loft 56deg --carry 90yd --partials 55yd..92yd --cue smooth-hands",
    "60 --loft 60deg --carry 76yd --partials 45yd..78yd",
    "50 --loft 50deg --carry 92yd --partials 60yd..94yd --flight low --untrusted",
)


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("bag") / "book.sqlite"


@pytest.fixture(scope="module")
def ask(book: Path) -> Ask:
    """Ask a book of three wedges, and a fourth shot on trial with a few balls."""

    def invoke(*words: str) -> Result:
        return CliRunner().invoke(app, ["--book", str(book), *words], catch_exceptions=False)

    for shot in SHOTS:
        assert invoke("shots", "add", *shot.split()).exit_code == 0
    for carry, side in ((90, "2R"), (94, "1L"), (88, "3R"), (93, "2L"), (91, "1R"), (95, "0R")):
        assert invoke("balls", "log", f"50 low 92 called 92 got {carry} {side}").exit_code == 0
    return invoke


def answered(result: Result) -> Any:  # noqa: ANN401 - JSON
    assert result.exit_code == 0, result.output
    return json.loads(result.stdout)


@pytest.fixture(scope="module")
def fitted(ask: Ask, tmp_path_factory: pytest.TempPathFactory) -> tuple[Any, Path]:
    picture = tmp_path_factory.mktemp("out") / "bag.png"
    return answered(ask("bag", "fit", *FEW, "--figure", str(picture), "--json")), picture


def test_keys_and_values_of_a_fit(fitted: tuple[Any, Path]) -> None:
    view, picture = fitted
    assert list(view) == [
        "demand", "air", "wind", "stimp_m", "carried", "advised", "keep_what_you_have", "options",
        "best", "bags_compared", "alike_lofts_deg", "draws", "seed", "doubts", "rules_note",
    ]  # fmt: skip
    assert [p["distance_m"] / YARD for p in view["demand"]["places"]] == pytest.approx(
        [70, 75, 80, 85, 90]
    )
    assert sum(p["share"] for p in view["demand"]["places"]) == pytest.approx(1.0)
    assert [w["club"] for w in view["carried"]["wedges"]] == ["50", "56", "60"]
    assert view["carried"]["saves"] is None
    assert view["bags_compared"] == 10 + 5  # of five: 50, 60, and 55 to 57; three and four
    assert {len(o["wedges"]) for o in view["options"]} == {3, 4}
    assert len(view["advised"]["taken"]) == 5
    assert view["keep_what_you_have"] == (view["advised"] == view["carried"])
    assert any("Rule 4.1b" in doubt for doubt in view["doubts"])
    assert picture.read_bytes().startswith(b"\x89PNG")


def test_text_of_a_fit(ask: Ask, fitted: tuple[Any, Path]) -> None:
    view, _ = fitted
    text = ask("bag", "fit", *FEW).stdout
    assert "faced: every distance from 70 to 90 yd alike, fairway, dry" in text
    assert ("KEEP 50 56 60" in text) == view["keep_what_you_have"]
    assert "15 bags compared" in text
    assert "carry within 2 %, and 1 % more for each degree from the nearest you own" in text
    assert "Rule 4.3a" in text


def test_metres_change_the_words_alone(ask: Ask) -> None:
    one, other = (
        answered(ask("bag", "gaps", *FEW, "--json", *units))
        for units in ((), ("--units", "metres"))
    )
    assert one == other
    assert "full m" in ask("bag", "gaps", *FEW, "--units", "metres").stdout


def test_gaps_say_what_each_club_is_worth(ask: Ask) -> None:
    view = answered(ask("bag", "gaps", *FEW, "--json"))
    assert [c["club"] for c in view["clubs"]] == ["50", "56", "60"]
    assert view["clubs"][0]["gap_m"] == pytest.approx(20.0 * YARD, abs=2.0 * YARD)
    assert view["clubs"][2]["gap_m"] is None
    assert sum(c["share"] for c in view["clubs"]) == pytest.approx(1.0)
    for club in view["clubs"]:
        saves = club["saves"]
        assert saves["low"] <= saves["strokes"] <= saves["high"]
    assert {p["club"] for p in view["places"]} <= {"50", "56", "60"}


def test_a_file_of_what_is_faced(ask: Ask, tmp_path: Path) -> None:
    file = tmp_path / "faced.csv"
    file.write_text("distance (yd),lie,weight\n75,fairway,2\n75,fairway,1\n85,light rough,1\n")
    view = answered(ask("bag", "gaps", "--lofts", "55-57", "--demand", str(file), "--json"))
    places = view["demand"]["places"]
    assert [(p["lie"], p["share"]) for p in places] == [("fairway", 0.75), ("light rough", 0.25)]
    assert view["demand"]["source"] == "what faced.csv says you face"


def test_into_the_greens_of_a_course(ask: Ask) -> None:
    course = ("--map", str(DATA / "venue.geojson"), "--hole", "4", "--wedges", "3")
    ends = ("--lofts", "56-57", "--from", "80yd", "--to", "80yd")
    view = answered(ask("bag", "fit", *course, *ends, "--json"))
    assert [p["green"] for p in view["demand"]["places"]] == [0, 1, 2]
    cut = ["4 front", "4 middle", "4 back"]
    assert [p["where"] for p in view["demand"]["places"]] == cut
    assert "into holes 4 of venue.geojson" in view["demand"]["source"]
    assert any("those of the map" in doubt for doubt in view["doubts"])


def test_whatif_by_firmness(ask: Ask) -> None:
    words = (
        "bag",
        "whatif",
        "--club",
        "56",
        "--loft",
        "55deg",
        "--spin",
        "+10%",
        "--from",
        "80yd",
        "--to",
        "80yd",
    )
    view = answered(ask(*words, "--json"))
    first, second = view["changes"]
    assert (first["club"], first["change"]) == ("56", "56 at 55 deg")
    assert first["loft_deg"] == pytest.approx(55.0)
    assert (second["club"], second["spin_factor"]) == (None, pytest.approx(1.1))
    assert [g["firmness_g"] for g in first["greens"]] == [70.0, 90.0, 110.0, 130.0]


def test_a_shot_on_trial(ask: Ask) -> None:
    words = ("bag", "tryout", "50 LOW", "--for", "85-90yd", "--wind", "15mph")
    view = answered(ask(*words, "--json"))
    assert (view["shot"], view["trusted"], view["balls"]) == ("50 low", False, 6)
    assert view["measured_m"] == pytest.approx(92.0 * YARD, rel=0.03)
    assert view["verdict"] in (
        "earns its place", "does not earn a place", "only a feeling so far",
    )  # fmt: skip
    assert view["without"] - view["with"] == pytest.approx(view["saves"]["strokes"], abs=1e-9)
    assert view["wind"]["speed_mps"] == pytest.approx(6.7, abs=0.1)
    assert view["called"]["balls"] == 6


def test_a_bag_of_more_than_fourteen_clubs_is_refused(ask: Ask, tmp_path: Path) -> None:
    book = ("--book", str(tmp_path / "full.sqlite"))
    for k in range(12):
        words = f"shots add i{k} --loft {20 + 2 * k}deg --carry {200 - 5 * k}yd"
        assert ask(*words.split(), *book).exit_code == 0
    wedge = "shots add 54 --loft 54deg --carry 95yd"
    assert ask(*wedge.split(), *book).exit_code == 0
    result = ask("bag", "fit", "--wedges", "3", *book)
    assert result.exit_code == 2
    assert "3 wedges beside the 12 other clubs of the book make 15; Rule 4.1b" in result.stderr


@pytest.mark.parametrize(
    ("words", "code", "message"),
    [
        ("fit --wedges 9", 2, "wedges = 9 is outside 1 to 5"),
        ("fit --keep SW", 2, "club 'SW' has no trusted shot"),
        ("fit --lofts odd", 2, "lofts = 'odd' is not understood; write it like 46-64"),
        ("fit --lofts 20-64", 2, "lofts = 20 deg is outside 40 to 70 deg"),
        ("fit --from 90yd --to 60yd", 2, "from = 90 yd is beyond to = 60 yd"),
        ("fit --demand no.csv", 2, "cannot read no.csv"),
        ("fit --hole 4", 2, "--hole and --heights belong to a --map"),
        ("fit --lie sand", 2, "sand' is not modelled"),
        ("fit --figure odd.txt", 2, "odd.txt"),
        ("whatif --club 56", 2, "--club and --loft belong together"),
        ("whatif --club PW --loft 46deg", 2, "club 'PW' has no trusted shot"),
        ("whatif --spin lots", 2, "spin = 'lots' is not understood; write it like +10%"),
        ("whatif --spin +80%", 2, "spin = 80 % is outside -30 to 30 %"),
        ("whatif --club 56 --loft 30deg", 1, "56 at 30 deg: that cannot be guessed"),
        ("tryout 99 --for 60-90yd", 2, "shot '99' is not in the book"),
        ("tryout 56 --for far", 2, "for = 'far' is not understood; write it like 60-90yd"),
        ("tryout 56 --for 60-90yd", 1, "no ball of 56 is logged yet"),
    ],
)
def test_says_what_is_wrong(ask: Ask, words: str, code: int, message: str) -> None:
    result = ask("bag", *words.split())
    assert (result.exit_code, result.stdout) == (code, "")
    assert message in result.stderr
    assert result.stderr.count("\n") == 1


def test_forms_read_ranges_and_changes() -> None:
    for text in ("60-90yd", "60yd..90yd", "60 to 90 yd"):
        assert TryOutForm.of(label="x", carries=text).carries == pytest.approx(
            (60.0 * YARD, 90.0 * YARD)
        )
    assert WhatIfForm.of(spin="-5%").asked() == ("", None, pytest.approx(0.95))
    assert FitForm.of().sizes() == (3, 4)
    assert FitForm.of(wedges=5).sizes() == (5,)
    with pytest.raises(BadInputError, match="the smaller first"):
        BagForm.of(lofts="60-50")


def test_recorded_rounds_are_what_is_faced_where_nobody_says(ask: Ask) -> None:
    assert ask("round", "start").exit_code == 0
    for hole in range(1, 17):
        for far in ("72yd", "83yd"):
            line = f"{hole} {far} fairway, with 56, finish 12ft green, putts 2"
            assert ask("round", "shot", line).exit_code == 0
    assert ask("round", "end").exit_code == 0
    faced = answered(ask("bag", "gaps", "--lofts", "55-57", "--json"))["demand"]
    assert "32 shots of your recorded rounds" in faced["source"]
    assert [round(p["distance_m"] / YARD) for p in faced["places"]] == [70, 85]
    said = answered(ask("bag", "gaps", *FEW, "--json"))["demand"]
    assert "every distance from 70 to 90 yd alike" in said["source"]


@pytest.mark.usefixtures("ask")
@pytest.mark.parametrize("kind", ["fit", "gaps", "whatif", "tryout"])
def test_the_bar_begins_with_the_book_and_rises_to_the_end(book: Path, kind: str) -> None:
    told: list[tuple[str, float]] = []

    def tell(words: str, share: float) -> None:
        told.append((words, share))

    few, day = {"nearest": "70yd", "furthest": "75yd"}, Day(REFERENCE_DAY)
    match kind:
        case "fit":
            fit_book(book, FitForm.of(wedges=3, lofts="55-57", **few), day, progress=tell)
        case "gaps":
            gaps_of_book(book, BagForm.of(lofts="55-57", **few), day, progress=tell)
        case "whatif":
            change_bag(book, WhatIfForm.of(club="56", loft="55deg", **few), day, progress=tell)
        case _:
            asked = TryOutForm.of(label="50 low", carries="85-90yd")
            try_shot(book, asked, day, progress=tell)
    assert told[0] == ("reading your book and the greens", 0.0)
    shares = [share for _, share in told]
    assert shares == sorted(shares)
    assert shares[-1] == 1.0
    assert max(b - a for a, b in pairwise(shares)) < 0.5
