"""Files and drafts beside the book: by hash, never by a name that somebody gave."""

from pathlib import Path

import pytest

from carrybook.app.web.shelf import SHIPPED, Shelf
from carrybook.base.errors import BadInputError
from carrybook.world.lie import Lie

TRICKS = [
    "../secret",
    "/etc/passwd",
    "secret",
    "index.json",
    "..",
    "",
    "A" * 64,
    "0" * 64,
    "0" * 63,
]


@pytest.fixture
def shelf(tmp_path: Path) -> Shelf:
    """An empty shelf."""
    return Shelf(tmp_path / "book.sqlite.page")


def test_the_secret_stays_the_same_and_is_the_owners(shelf: Shelf, tmp_path: Path) -> None:
    assert shelf.secret() == Shelf(tmp_path / "book.sqlite.page").secret()
    assert (tmp_path / "book.sqlite.page" / "secret").stat().st_mode & 0o077 == 0
    assert (tmp_path / "book.sqlite.page").stat().st_mode & 0o077 == 0


@pytest.mark.parametrize("key", TRICKS)
def test_no_path_comes_from_a_request(shelf: Shelf, key: str) -> None:
    shelf.secret()
    with pytest.raises(BadInputError, match="map is not one of those kept here"):
        shelf.path_of(key, "map")
    shelf.drop(key)
    assert len(shelf.secret()) == 32


def test_a_file_goes_by_the_hash_of_its_content(shelf: Shelf) -> None:
    kept = shelf.keep_file("map", "../../etc/\x00links.geojson", b"{}")
    assert kept.name == "links.geojson"
    assert shelf.path_of(kept.key, "map").read_bytes() == b"{}"
    assert shelf.path_of(kept.key, "map").name == f"{kept.key}.geojson"
    assert shelf.keep_file("map", "again.geojson", b"{}").key == kept.key
    assert [k.name for k in shelf.kept("map")] == ["again.geojson"]
    with pytest.raises(BadInputError, match="heights is not one"):
        shelf.path_of(kept.key, "heights")
    shelf.drop(kept.key)
    assert shelf.kept() == ()


@pytest.mark.parametrize(
    ("kind", "name", "ending"),
    [
        ("map", "club.OSM", ".osm"),
        ("map", "green.txt", ".txt"),
        ("map", "x.sh", ".geojson"),
        ("map", "", ".geojson"),
        ("heights", "a.tif", ".tif"),
        ("heights", "a.geojson", ".csv"),
    ],
)
def test_a_file_keeps_an_ending_that_says_what_it_holds(
    shelf: Shelf, kind: str, name: str, ending: str
) -> None:
    kept = shelf.keep_file(kind, name, b"1")
    assert shelf.path_of(kept.key, kind).name == kept.key + ending
    shelf.drop(kept.key)
    with pytest.raises(BadInputError, match="is not one of those"):
        shelf.path_of(kept.key, kind)


def test_an_empty_file_is_refused(shelf: Shelf) -> None:
    with pytest.raises(BadInputError, match=r"map = 'a.json' is empty"):
        shelf.keep_file("map", "a.json", b"")


def test_the_invented_course_is_always_there(shelf: Shelf) -> None:
    assert shelf.path_of(SHIPPED, "map").name == "venue.geojson"
    assert shelf.path_of(SHIPPED, "heights").name == "heights.csv"


def test_drafts_come_back_and_damage_is_nothing(shelf: Shelf, tmp_path: Path) -> None:
    assert shelf.draft("day") == {}
    shelf.keep_draft("day", {"temp": "9C", "note": 'a "quoted" – word'})
    assert shelf.draft("day") == {"temp": "9C", "note": 'a "quoted" – word'}
    (tmp_path / "book.sqlite.page" / "draft-day.json").write_text("[1,")
    assert shelf.draft("day") == {}


@pytest.mark.parametrize("name", ["../x", "A", "", "a b", "x" * 21])
def test_a_draft_has_a_plain_name(shelf: Shelf, name: str) -> None:
    with pytest.raises(BadInputError, match="there is no such form"):
        shelf.draft(name)


def test_a_draft_may_not_fill_the_disk(shelf: Shelf) -> None:
    with pytest.raises(BadInputError, match="at most 40000"):
        shelf.keep_draft("day", {"temp": "x" * 50_000})


def test_results_come_back_and_damage_is_nothing(shelf: Shelf, tmp_path: Path) -> None:
    assert shelf.result("leave") is None
    shelf.keep_result("leave", "a", {"x": (1.5, None)})
    shelf.keep_result("leave", "b", Lie.SAND)
    assert shelf.result("leave") == ("b", Lie.SAND)
    (path,) = tmp_path.rglob("result-leave.json")
    for damage in (b"", b"[]", b"{", b'{"tuple": [1, 2]}', b'{"ours": ["os:system", {}]}'):
        path.write_bytes(damage)
        assert shelf.result("leave") is None


@pytest.mark.parametrize("kind", ["../x", "", "A", "a.b"])
def test_a_result_has_a_plain_name(shelf: Shelf, kind: str) -> None:
    with pytest.raises(BadInputError, match="no such work"):
        shelf.keep_result(kind, "a", 1)
