"""Every way in gives the same kind of hole."""

from collections.abc import Callable
from pathlib import Path

import pytest

from carrybook import app as rooms
from carrybook.base.constants import YARD
from carrybook.base.errors import BadInputError
from carrybook.world.ways import open_hole

DATA = Path(rooms.__file__).parent / "demo_data"


def test_words_and_a_file_of_words_are_the_same(tmp_path: Path) -> None:
    words = "30 deep, 24 wide; tilt back to front 2 %"
    path = tmp_path / "seven.txt"
    path.write_text("\ufeff" + words.replace("; ", "\r\n"), encoding="utf-8")
    typed, read = open_hole(green=words), open_hole(path, "7")
    assert (typed.ground.heights == read.ground.heights).all()


def test_the_demo_green_is_a_whole_page() -> None:
    hole = open_hole(DATA / "described.txt")
    assert (hole.venue, hole.ref, hole.par) == ("Saltfen Reach", "7", 3)
    assert hole.front_number_m == pytest.approx(94 * YARD)
    assert {kind for kind, _ in hole.areas} == {"fairway", "fringe", "bunker", "water"}


def test_the_only_hole_needs_no_number(
    save_map: Callable[..., Path], draw_hole: Callable[..., object], green: object
) -> None:
    assert open_hole(save_map(draw_hole(), green)).ref == "4"
    with pytest.raises(
        BadInputError, match=r"^which hole of venue.geojson\? add --hole; .* 4, 11, 16$"
    ):
        open_hole(DATA / "venue.geojson")


def test_map_or_words_not_both_nor_neither(tmp_path: Path) -> None:
    with pytest.raises(BadInputError, match=r"^which green\? .* here neither was given$"):
        open_hole()
    with pytest.raises(BadInputError, match=r"^which green\? .* here both were given$"):
        open_hole(tmp_path / "x.txt", green="30 deep, 24 wide")


@pytest.mark.parametrize(
    ("content", "message"),
    [
        (None, r"^cannot read .*seven.txt: No such file"),
        (b"\xff\xfe\x00", r"^seven.txt is not a text file in UTF-8$"),
        (b"x" * 100_001, r"^seven.txt is too long for a description of a green$"),
        (
            b"30 deep, 24 wide\ntilt up",
            r"^seven.txt, line 2: 'tilt up' is not understood; write it",
        ),
    ],
)
def test_files_that_are_no_description(tmp_path: Path, content: bytes | None, message: str) -> None:
    path = tmp_path / "seven.txt"
    if content is not None:
        path.write_bytes(content)
    with pytest.raises(BadInputError, match=message):
        open_hole(path)
