"""Courses of a venue: one file, a folder, descriptions that stand in for the map."""

import shutil
from pathlib import Path

import pytest

from carrybook import app as rooms
from carrybook.base.errors import BadInputError
from carrybook.world.venue import Venue
from carrybook.world.venue_course import course_refs, read_course

DATA = Path(rooms.__file__).parent / "demo_data"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Put a map, heights and a described green into a folder."""
    for name in ("venue.geojson", "heights.csv", "described.txt"):
        shutil.copy(DATA / name, tmp_path / name)
    return tmp_path


def refs(venue: Venue, *wanted: str) -> list[str]:
    return [hole.ref for hole in read_course(venue, wanted, level=True)]


def test_a_map_and_a_description() -> None:
    assert refs(Venue("V", DATA / "venue.geojson")) == ["4", "11", "16"]
    assert refs(Venue("V", DATA / "venue.geojson"), "16", "4") == ["16", "4"]
    assert refs(Venue("V", DATA / "described.txt")) == ["7"]


def test_heights_of_the_folder_and_of_elsewhere(folder: Path) -> None:
    (inside,) = read_course(Venue("V", folder), ("4",))
    (named,) = read_course(Venue("V", DATA / "venue.geojson", DATA / "heights.csv"), ("4",))
    (level,) = read_course(Venue("V", folder), ("4",), level=True)
    assert (inside.ground.heights == named.ground.heights).all()
    assert (inside.heights_known, level.heights_known) == (True, False)


def test_a_folder_has_all_of_them_and_words_stand_in_for_the_map(folder: Path) -> None:
    assert refs(Venue("V", folder)) == ["4", "11", "16", "7"]
    words = (folder / "described.txt").read_text().replace("number   7", "number   11")
    (folder / "eleven.txt").write_text(words)
    told = []
    venue = Venue("V", folder)
    holes = read_course(venue, level=True, progress=lambda what, share: told.append((what, share)))
    course = {hole.ref: hole for hole in holes}
    assert told[1] == ("reading hole 11", 0.25)
    assert course_refs(venue) == tuple(course)
    assert list(course) == ["4", "11", "16", "7"]
    assert course["11"].par == course["7"].par == 3


def test_what_is_not_there(folder: Path) -> None:
    with pytest.raises(BadInputError, match=r"V has no course; name it again: carrybook venue add"):
        read_course(Venue("V"))
    with pytest.raises(BadInputError, match=r"its course at /nowhere/x, which is not there"):
        read_course(Venue("V", Path("/nowhere/x")))
    with pytest.raises(
        BadInputError, match=r"hole = '5' is not among the holes of V: 4, 11, 16, 7"
    ):
        read_course(Venue("V", folder), ("4", "5"))
    shutil.copy(folder / "venue.geojson", folder / "old.geojson")
    with pytest.raises(BadInputError, match=r"has 2 maps: old.geojson, venue.geojson; name one"):
        read_course(Venue("V", folder))


def test_an_empty_folder(tmp_path: Path) -> None:
    with pytest.raises(BadInputError, match=r"has no map \(.geojson, .*\) and no green \(.txt\)"):
        read_course(Venue("V", tmp_path))
