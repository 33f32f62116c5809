"""Putts on Ground and Shot: the numbers of the command line, dragged, refused; a sketched green."""

import re
from pathlib import Path
from typing import Any

import pytest
from tests.web.told import said

from carrybook.app.services.putt import putts_to, usual_putt
from carrybook.app.web.rooms import situation
from carrybook.app.web.views.putts import putt_picture
from carrybook.base.constants import YARD
from carrybook.outcomes.putt_answer import answer_putt
from carrybook.outcomes.putter import TOUR_PUTTER
from carrybook.world.hole import Hole
from carrybook.world.hole_map import read_hole
from carrybook.world.locate import locate

Visitor = Any  # the class in conftest.py

DEMO = Path(situation.__file__).parents[2] / "demo_data"
WHERE = {"map": "practice", "heights": "practice", "hole": "11"}
ASKED = {**WHERE, "cut": "14 on, centre", "lies": "8 on, 9 from the left", "stimp": "9"}


@pytest.fixture(scope="module")
def hole() -> Hole:
    """A green that falls to its front."""
    return read_hole(DEMO / "venue.geojson", "11", DEMO / "heights.csv")


def test_a_putt_is_that_of_the_command_line(visitor: Visitor, hole: Hole, book: Path) -> None:
    answer = visitor.post("/ground/putts", ASKED).json()
    ball = locate(hole, ASKED["lies"])
    files = ["--map", str(DEMO / "venue.geojson"), "--heights", str(DEMO / "heights.csv")]
    where = ["--hole", "11", "--hole-location", ASKED["cut"], "--from", f"{ball.x}m,{ball.y}m"]
    told = said("putt", *files, *where, "--stimp", "9ft", "--book", str(book))
    assert f"{told['expected_putts']:.2f} putts" in answer["words"]
    assert f"holed {100 * told['make_probability']:.0f} %" in answer["words"]
    assert answer["ball"] == pytest.approx([-ball.y, -ball.x])
    assert answer["map"].count("<path") > 8


def test_what_is_dragged_becomes_words_and_is_kept(visitor: Visitor) -> None:
    first = visitor.post("/ground/putts", ASKED | {"haste": "rough"}).json()
    (x, y), (bx, by) = first["hole"], first["ball"]
    moved = {"cup_x": f"{x + 1}", "cup_y": f"{y - 2}", "ball_x": f"{bx}", "ball_y": f"{by}"}
    then = visitor.post("/ground/putts", ASKED | moved).json()
    assert then["hole"] == pytest.approx([x + 1, y - 2], abs=0.1)
    assert then["ball"] == pytest.approx([bx, by], abs=0.1)
    cut = then["fields"]["cut"]
    assert cut != ASKED["cut"]
    page = visitor.get("/ground", **WHERE).text
    assert f'value="{cut}"' in page  # a refresh loses nothing
    visitor.post("/ground/use", WHERE)
    assert f'value="{cut}"' in visitor.get("/shot").text  # and the Shot room has it too


def test_where_only_the_ball_moves_the_settled_map_stays(visitor: Visitor) -> None:
    rough = visitor.post("/ground/putts", ASKED | {"haste": "rough"}).json()
    settled = visitor.post("/ground/putts", ASKED).json()
    moved = {"ball_x": "1", "ball_y": "-6", "haste": "rough"}
    then = visitor.post("/ground/putts", ASKED | moved).json()
    tints = [re.findall(r'class="tint\d"[^>]*', each["map"]) for each in (rough, settled, then)]
    assert tints[0] != tints[1] == tints[2]
    assert then["words"] != settled["words"]


@pytest.mark.parametrize(
    ("typed", "field", "words"),
    [
        ({"cup_x": "90", "cup_y": "0"}, "cut", "hole location is off the green"),
        ({"ball_x": "90", "ball_y": "0"}, "lies", "ball is off the green"),
        ({"cut": "99 on, centre"}, "cut", "hole location"),
        ({"lies": "nowhere"}, "lies", "ball = 'nowhere' is not understood"),
        ({"stimp": "99"}, "stimp", "stimp = 99 ft"),
        ({"player": "somebody"}, "player", "player = 'somebody' is not one of"),
    ],
)
def test_what_cannot_be_is_refused_beside_its_field(
    visitor: Visitor, typed: dict[str, str], field: str, words: str
) -> None:
    answer = visitor.post("/ground/putts", ASKED | typed).json()
    assert words in answer["problem"]
    assert answer["field"] == field


def test_without_a_script_the_page_has_it_all(visitor: Visitor) -> None:
    sent = visitor.post("/ground/putting", ASKED)
    page = visitor.client.get(sent.headers["location"]).text
    assert "putts</p>" in page
    assert 'class="rolled" d="M' in page
    told = visitor.client.get(
        visitor.post("/ground/putting", ASKED | {"cut": "x"}).headers["location"]
    )
    assert re.search(r'id="problem-putts-cut">[^<]*not understood', told.text)


def test_putts_are_shut_during_a_round(visitor: Visitor) -> None:
    visitor.post("/before/round", {"playing": "yes"})
    assert "Shut during the round" in visitor.post("/ground/putts", ASKED).text
    assert "Shut during the round" in visitor.get("/shot/putts").text


def test_the_shot_room_maps_the_putt_that_is_usually_left(visitor: Visitor) -> None:
    page = visitor.get("/shot/putts").text
    assert "Usually left:" in page
    assert 'class="rolled" d="M' in page
    advice = situation_advice(visitor)
    chart, answer = usual_putt(advice)
    assert answer is not None
    leave = advice.options[0].leave
    assert answer.distance_m == pytest.approx(leave.length_m, abs=0.5)
    assert chart.hole == (advice.situation.location.x, advice.situation.location.y)


def situation_advice(visitor: Visitor) -> Any:  # noqa: ANN401 - what the desk remembers
    memory = visitor.app.state.desk._memory
    return next(v for k, v in memory.items() if isinstance(k, tuple) and k[0] == "advice")


def test_the_picture_holds_what_the_map_holds(hole: Hole) -> None:
    cut = locate(hole, "14 on, centre")
    rough, fine = (
        putts_to(hole, cut, stimp_m=3.0, putter=TOUR_PUTTER, rough=r) for r in (True, False)
    )
    assert (rough.step, fine.step) == (2.0, 1.0)
    answer = answer_putt(fine, cut.x - 5.0, cut.y)
    p = putt_picture(fine, answer)
    assert p.hole == pytest.approx((-cut.y, -cut.x))
    assert p.ball == pytest.approx((-cut.y, 5.0 - cut.x))
    ends = re.findall(r"(-?[\d.]+) (-?[\d.]+)", p.path)
    assert [float(v) for v in ends[0]] == pytest.approx(p.ball, abs=0.02)
    assert [float(v) for v in ends[-1]] == pytest.approx(p.hole, abs=0.3)
    assert p.uphill
    assert p.downhill
    labels = [(c.x, c.y, 0.6 * 1.7 * len(c.text)) for c in p.lines if c.text]  # at its size
    assert len(labels) >= 2
    for k, (x, y, wide) in enumerate(labels):
        for u, v, other in labels[:k]:
            assert abs(x - u) > (wide + other) / 2.0 or abs(y - v) > 1.7, "numbers meet"
    nobody = putt_picture(fine, None)
    assert (nobody.path, nobody.aim, nobody.ball) == ("", "", nobody.hole)


SKETCH = (
    "outline 2 -3, 1 6, 10 11, 20 10, 28 4, 27 -6, 14 -10\n"
    "height 3 0 0in\nheight 14 6 6in\nheight 14 -6 4in\nheight 24 0 20in"
)


def test_a_green_is_sketched_and_seen_at_once(visitor: Visitor) -> None:
    seen = visitor.post("/ground/sketch", {"green": SKETCH}).json()
    assert seen["front"] == pytest.approx(YARD)
    assert 'class="contour"' in seen["map"]
    assert "81 ft deep" in seen["size"]
    assert "outline 2 -3" in visitor.get("/ground").text  # nothing typed is lost
    kept = visitor.post("/ground/describe", {"green": SKETCH})
    page = visitor.client.get(kept.headers["location"]).text
    assert "81 ft deep, 63 ft wide; heights in ft" in page
    kinds = [k.kind for k in visitor.app.state.desk.shelf.kept()]
    assert sorted(kinds) == ["heights", "map"]
    assert 'class="what">' in visitor.get("/shot").text


def test_a_sketch_that_is_not_done_says_what_is_missing(visitor: Visitor) -> None:
    for text, words in (("outline 1 2, 3 4", "three or more"), ("", "how large"), ("?", "not")):
        assert words in visitor.post("/ground/sketch", {"green": text}).json()["problem"]
    few = visitor.post("/ground/describe", {"green": "30 deep, 24 wide\nheight 3 0 0in"})
    assert few.status_code == 400
    assert re.search(r'id="problem-green">[^<]*at least 4 are needed', few.text)
    assert visitor.app.state.desk.shelf.kept() == ()
