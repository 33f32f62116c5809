"""A sketched green: heights among words, read the same as a description and a file of readings."""

from pathlib import Path

import numpy as np
import pytest

from carrybook.app.forms.ground import GroundForm
from carrybook.app.forms.sketch import sketch_of
from carrybook.app.services.ground import open_ground, open_sketch, sketched_files
from carrybook.base.constants import FOOT, YARD
from carrybook.base.errors import BadInputError
from carrybook.world.hole import Hole

OUTLINE = "outline 2 -3, 1 6, 10 11, 20 10, 28 4, 27 -6, 14 -10"
HEIGHTS = "height 3 on, 0 right: 0in\nheight 14 6 6in\nheight 14 on, 6 left: 4in\nheight 24 0: 20in"


def test_heights_are_taken_out_of_the_words() -> None:
    sketch = sketch_of(f"{OUTLINE}\n{HEIGHTS}\nbunker short right, 4 off, 8 by 6")
    assert sketch.words.split("\n") == [OUTLINE, "", "", "", "", sketch.words.split("\n")[5]]
    assert sketch.heights[1] == pytest.approx((14 * YARD, 6 * YARD, FOOT / 2))
    assert sketch.heights[2] == pytest.approx((14 * YARD, -6 * YARD, FOOT / 3))


@pytest.mark.parametrize(
    ("typed", "high"),
    [("12 on, 3 right: 18in", 0.4572), ("12 3 0.5m", 0.5), ("12, -3, -6in", -0.1524)],
)
def test_a_height_may_be_written_in_several_ways(typed: str, high: float) -> None:
    assert sketch_of(f"HEIGHT {typed}").heights[0][2] == pytest.approx(high)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("height", "not understood"),
        ("height high up", "line 1: 'height high up' is not understood; write it like 'height 12"),
        ("30 deep\nheight 12 on, 3 right: 18", "line 2: height = 18 has no unit"),
        ("height 900 on, 3 right: 1ft", "line 1: place = 900 paces is outside"),
        ("\n".join(["height 1 1 1in"] * 201), "201 heights; at most 200"),
    ],
)
def test_what_is_not_understood_is_told(text: str, told: str) -> None:
    with pytest.raises(BadInputError, match=told):
        open_sketch(text)


def nodes(hole: Hole, on: float, right: float) -> float:
    g = hole.ground
    i, j = (round((v - o) / g.step) for v, o in ((on, g.x0), (-right, g.y0)))
    return float(g.heights[i, j])


def test_it_is_the_description_with_its_readings(tmp_path: Path) -> None:
    text = f"{OUTLINE}\n{HEIGHTS}"
    hole, front_m = open_sketch(text)
    assert front_m == pytest.approx(YARD)  # the outline begins a pace on
    words, heights, _ = sketched_files(text)
    assert heights is not None
    (tmp_path / "h.csv").write_bytes(heights)
    other = open_ground(GroundForm.of(green=words, heights=tmp_path / "h.csv"))
    np.testing.assert_array_equal(hole.ground.heights, other.ground.heights)
    rise = nodes(hole, 23 * YARD, 0.0) - nodes(hole, 2 * YARD, 0.0)
    assert rise == pytest.approx(20 * FOOT / 12, abs=0.06)


def test_words_alone_are_a_description() -> None:
    hole, front_m = open_sketch("30 deep, 24 wide; tilt back to front 2 %")
    assert front_m == 0.0
    assert sketched_files("30 deep, 24 wide")[1] is None
    assert nodes(hole, 25 * YARD, 0.0) > nodes(hole, 5 * YARD, 0.0)


def test_too_few_heights_say_how_many_are_needed() -> None:
    with pytest.raises(BadInputError, match=r"^1 readings .* at least 4 are needed"):
        open_sketch(f"{OUTLINE}\nheight 12 0 6in")
