"""OpenStreetMap data: nodes, ways, relations, old words, two courses in a file; spoilt files."""

import re
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pyproj import Proj

from carrybook.base.errors import BadInputError
from carrybook.world import osm
from carrybook.world.ground import Surface
from carrybook.world.hole_map import list_holes, read_hole
from carrybook.world.osm import read_osm

pytest.importorskip("osmium")

PLANE = Proj(proj="aeqd", lon_0=4.1, lat_0=54.2, ellps="WGS84")
Points = list[tuple[float, float]]


class Drawing:
    """Puts an OpenStreetMap file together from points in metres (east, north)."""

    def __init__(self) -> None:
        self.nodes: list[str] = []
        self.ways: list[str] = []
        self.relations: list[str] = []

    def node(self, point: tuple[float, float], **tags: str) -> int:
        """Add a point; give its number."""
        lon, lat = PLANE(*point, inverse=True)
        number = len(self.nodes) + 1
        self.nodes.append(
            f'<node id="{number}" lat="{lat:.9f}" lon="{lon:.9f}">{_tags(tags)}</node>'
        )
        return number

    def way(self, points: Points, *, closed: bool = True, **tags: str) -> int:
        """Add a line, or a ring; give its number."""
        refs = [self.node(p) for p in points]
        refs += refs[:1] if closed else []
        number = len(self.ways) + 1
        nodes = "".join(f'<nd ref="{r}"/>' for r in refs)
        self.ways.append(f'<way id="{number}">{nodes}{_tags(tags)}</way>')
        return number

    def relation(self, outer: list[int], inner: list[int], **tags: str) -> None:
        """Add a multipolygon."""
        members = [f'<member type="way" ref="{r}" role="outer"/>' for r in outer]
        members += [f'<member type="way" ref="{r}" role="inner"/>' for r in inner]
        body = "".join(members) + _tags({"type": "multipolygon", **tags})
        self.relations.append(f'<relation id="{len(self.relations) + 1}">{body}</relation>')

    def text(self) -> str:
        """Give the whole file."""
        body = "\n".join([*self.nodes, *self.ways, *self.relations])
        return f'<?xml version="1.0" encoding="UTF-8"?>\n<osm version="0.6">\n{body}\n</osm>\n'


def _tags(tags: dict[str, str]) -> str:
    return "".join(f'<tag k="{k.replace("__", ":")}" v="{v}"/>' for k, v in tags.items())


def box(west: float, south: float, east: float, north: float) -> Points:
    return [(west, south), (east, south), (east, north), (west, north)]


def course() -> Drawing:
    d = Drawing()
    d.way(box(-400, -500, 400, 300), leisure="golf_course", name="Nowhere Links")
    d.way([(0, -300), (0, 15)], closed=False, golf="hole", ref="4", par="4")
    d.way(box(-10, 0, 10, 30)[::-1], golf="green")  # wound clockwise
    d.node((2, 20), golf="pin")
    d.way(box(12, 5, 18, 15), natural="sand")
    d.way(box(-40, -50, -20, 40), golf="lateral_water_hazard")
    d.way(box(-25, -140, -22, -60), golf="water_hazard")
    d.way([(25, -100), (25, 60)], closed=False, golf="cartpath")
    outer, inner = d.way(box(-20, -150, 20, -5)), d.way(box(-5, -100, 5, -90))
    d.relation([outer], [inner], golf="fairway")
    return d


@pytest.fixture
def save(tmp_path: Path) -> Callable[..., Path]:
    def write(text: str, name: str = "course.osm") -> Path:
        path = tmp_path / name
        path.write_text(text, encoding="utf-8")
        return path

    return write


@pytest.mark.parametrize("name", ["course.osm", "course.osm.xml"])
def test_a_hole_of_every_kind_of_thing(save: Callable[..., Path], name: str) -> None:
    path = save(course().text(), name)
    kinds = sorted(f.kind for f in read_osm(path).features)
    assert kinds == [
        "bunker",
        "course",
        "fairway",
        "green",
        "hole",
        "path",
        "pin",
        "water",
        "water",
    ]
    hole = read_hole(path, "4")
    expected = {
        (15.0, 0.0): Surface.GREEN,
        (10.0, -15.0): Surface.BUNKER,
        (0.0, 30.0): Surface.WATER,
        (-100.0, 23.5): Surface.WATER,
        (-50.0, 0.0): Surface.FAIRWAY,
        (-95.0, 0.0): Surface.ROUGH,  # the hole in the multipolygon
        (20.0, -25.0): Surface.PATH,
    }
    assert {point: hole.ground.surface_at(*point) for point in expected} == expected
    assert (hole.venue, hole.par) == ("Nowhere Links", 4)
    assert hole.green[:, 0].max() == pytest.approx(30.0, abs=0.01)


def test_credit_and_cautions_come_with_the_data(save: Callable[..., Path]) -> None:
    hole = read_hole(save(course().text()), "4")
    assert hole.attribution == "© OpenStreetMap contributors, ODbL"
    assert any("ODbL" in note and "credit" in note for note in hole.notes)
    assert any("1 to 5 m off" in note for note in hole.notes)


def test_two_courses_with_the_same_numbers(save: Callable[..., Path]) -> None:
    d = Drawing()
    for east, name in ((0, "East"), (900, "West")):
        d.way(box(east - 200, -400, east + 200, 200), leisure="golf_course", name=name)
        d.way([(east, -300), (east, 15)], closed=False, golf="hole", ref="1")
        d.way(box(east - 10, 0, east + 10, 30 if name == "East" else 25), golf="green")
    d.way([(0, -350), (0, -320)], closed=False, golf="hole", ref="2", golf__course__name="East")
    path = save(d.text())
    assert list_holes(path) == ("1, East", "1, West", "2")
    assert read_hole(path, "1, west").green[:, 0].max() == pytest.approx(25.0, abs=0.01)
    with pytest.raises(BadInputError, match=r"hole '1' is not in .*: '1, East', '1, West', 2$"):
        read_hole(path, "1")


def test_a_green_that_is_only_a_point(save: Callable[..., Path]) -> None:
    d = Drawing()
    d.way([(0, -300), (0, 15)], closed=False, golf="hole", ref="4")
    d.node((0, 15), golf="green")
    with pytest.raises(
        BadInputError, match=r"no green in course.osm, only a point; draw its outline"
    ):
        read_hole(save(d.text()), "4")


def test_lenient_where_the_meaning_is_plain(save: Callable[..., Path]) -> None:
    text = course().text()
    deleted = text.replace('<way id="5">', '<way id="5" visible="false">')
    assert len(read_osm(save(deleted)).features) == 8
    bow_tie = Drawing()
    bow_tie.way([(0, 0), (10, 10), (10, 0), (0, 10)], golf="green")
    (feature,) = read_osm(save(bow_tie.text())).features
    assert feature.geometry.is_valid
    assert feature.geometry.area > 0.0
    lost = re.sub(r'<node id="6" .*\n', "", text)  # an end of the hole line
    assert "hole" not in {f.kind for f in read_osm(save(lost)).features}


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("", r"course.osm is not OpenStreetMap data: XML parsing error at line 1"),
        ("<html></html>", r"not OpenStreetMap data: Unknown top-level element: html$"),
        ('<osm version="0.5"></osm>', r"Can not read file with version 0.5$"),
        ('<osm version="0.6"><node id="1" lat="x" lon="1"/></osm>', r"wrong format for coordinate"),
        ('<!DOCTYPE a [<!ENTITY b "c">]><osm version="0.6"/>', r"XML entities are not supported$"),
        ('<osm version="0.6"></osm>', r"hole '4' is not in course.osm; holes there: none$"),
    ],
)
def test_bad_files(save: Callable[..., Path], text: str, message: str) -> None:
    with pytest.raises(BadInputError, match=message) as caught:
        read_hole(save(text), "4")
    assert "\n" not in str(caught.value)


def test_missing_file_and_missing_library(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with pytest.raises(BadInputError, match=r"cannot read .*none\.osm: there is no such file$"):
        read_osm(tmp_path / "none.osm")
    monkeypatch.setitem(__import__("sys").modules, "osmium", None)
    with pytest.raises(
        BadInputError, match=r"needs osmium; install it with: pip install 'carrybook"
    ):
        osm.read_osm(tmp_path / "none.osm")


@settings(max_examples=80, deadline=None)
@given(data=st.data())
def test_a_spoilt_file_is_read_or_refused(
    tmp_path_factory: pytest.TempPathFactory, data: st.DataObject
) -> None:
    """Cut, double or overwrite a piece of a good file."""
    text = course().text()
    at = data.draw(st.integers(0, len(text)))
    end = data.draw(st.integers(at, min(len(text), at + 40)))
    piece = data.draw(
        st.sampled_from(["", text[at:end] * 2, "9e99", "-1", "<", '"', "\x00", "é", "nan"])
    )
    path = tmp_path_factory.getbasetemp() / "spoilt.osm"
    path.write_text(text[:at] + piece + text[end:], encoding="utf-8")
    with suppress(BadInputError):
        read_hole(path, "4")
