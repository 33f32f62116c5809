"""Maps of a course: RFC 7946, read leniently where its meaning is plain, else refused in a line."""

import json
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from carrybook.base.errors import BadInputError
from carrybook.world.geojson import read_map

SQUARE = [[4.0, 54.0], [4.001, 54.0], [4.001, 54.001], [4.0, 54.001], [4.0, 54.0]]
HOLE_IN_IT = [[4.0004, 54.0004], [4.0004, 54.0006], [4.0006, 54.0006], [4.0006, 54.0004]]


def bunker(coordinates: object, kind: str = "Polygon", **tags: object) -> dict[str, object]:
    properties = tags or {"golf": "bunker"}
    geometry = {"type": kind, "coordinates": coordinates}
    return {"type": "Feature", "properties": properties, "geometry": geometry}


def test_polygon_keeps_its_hole(save_map: Callable[..., Path]) -> None:
    (feature,) = read_map(save_map(bunker([SQUARE, HOLE_IN_IT]))).features
    assert feature.kind == "bunker"
    assert feature.geometry.area == pytest.approx(1e-6 - 4e-8)


@pytest.mark.parametrize(
    "ring",
    [
        pytest.param(SQUARE[::-1], id="wound the wrong way"),
        pytest.param(SQUARE[:-1], id="left open"),
        pytest.param([[*p, 3.2] for p in SQUARE], id="with heights"),
    ],
)
def test_lenient_with_rings(save_map: Callable[..., Path], ring: object) -> None:
    (feature,) = read_map(save_map(bunker([ring]))).features
    assert feature.geometry.equals(shapely.Polygon(SQUARE))


def test_crossed_ring_is_repaired(save_map: Callable[..., Path]) -> None:
    bow_tie = [SQUARE[0], SQUARE[2], SQUARE[1], SQUARE[3], SQUARE[0]]
    (feature,) = read_map(save_map(bunker([bow_tie]))).features
    assert feature.geometry.is_valid
    assert feature.geometry.area == pytest.approx(0.5e-6)


def test_multipolygon(save_map: Callable[..., Path]) -> None:
    other = [[x + 0.01, y] for x, y in SQUARE]
    (feature,) = read_map(save_map(bunker([[SQUARE], [other]], "MultiPolygon"))).features
    assert shapely.get_num_geometries(feature.geometry) == 2


def test_closed_line_is_an_area_and_an_open_one_is_left_out(save_map: Callable[..., Path]) -> None:
    closed, left_open = bunker(SQUARE, "LineString"), bunker(SQUARE[:3], "LineString")
    (feature,) = read_map(save_map(closed, left_open)).features
    assert feature.geometry.equals(shapely.Polygon(SQUARE))


def test_a_line_to_nowhere_and_back_is_no_area(save_map: Callable[..., Path]) -> None:
    for back in ([[4.0, 54.0], [4.0, 54.0]], [[4.0, 54.0], [4.001, 54.0], [4.0, 54.0]]):
        geometry = {"type": "LineString", "coordinates": back}
        feature = {"type": "Feature", "properties": {"golf": "green"}, "geometry": geometry}
        assert read_map(save_map(feature)).features == ()


@pytest.mark.parametrize(
    ("tags", "kind"),
    [
        ({"golf": "water_hazard"}, "water"),
        ({"golf": "lateral_water_hazard", "natural": "water"}, "water"),
        ({"natural": "water"}, "water"),
        ({"natural": "sand"}, "bunker"),
        ({"golf": "out_of_bounds"}, "out of bounds"),
        ({"golf": "cartpath"}, "path"),
        ({"golf": "tee", "ref": 4}, "tee"),
    ],
)
def test_kinds(save_map: Callable[..., Path], tags: dict[str, object], kind: str) -> None:
    (feature,) = read_map(save_map(bunker([SQUARE], **tags))).features
    assert feature.kind == kind
    assert feature.tags == {key: str(value) for key, value in tags.items()}


def test_strange_features_are_left_out(save_map: Callable[..., Path]) -> None:
    features = (
        bunker([SQUARE], building="clubhouse"),
        bunker("not looked at", building="clubhouse"),
        bunker([[SQUARE]], "MultiLineString"),
        bunker([[[4.0, 54.0]] * 4]),  # no area
        {"type": "Feature", "properties": {"golf": "green"}, "geometry": None},
        {"type": "Feature", "properties": None, "geometry": {"type": "Point"}},
    )
    assert read_map(save_map(*features)).features == ()


def test_venue_and_credit(save_map: Callable[..., Path]) -> None:
    course = bunker([SQUARE], leisure="golf_course", name="Nowhere  Links")
    assert read_map(save_map(course, name="x", copyright="Me")).venue == "Nowhere Links"
    assert read_map(save_map(name="Somewhere", copyright="Me")).attribution == "Me"
    assert read_map(save_map(name="Somewhere", attribution="You")).attribution == "You"
    assert read_map(save_map()).venue == "course"


def test_byte_order_mark(tmp_path: Path) -> None:
    path = tmp_path / "bom.geojson"
    path.write_bytes(b'\xef\xbb\xbf{"type":"FeatureCollection","features":[]}')
    assert read_map(path).features == ()


@pytest.mark.parametrize(
    ("content", "message"),
    [
        (b"", "is not a GeoJSON map: Invalid JSON"),
        (b"\x89PNG\r\n\x1a\n\x00\x00", "is not a text file in UTF-8$"),
        ('{"name":"Пески"}'.encode("cp1251"), "is not a text file in UTF-8$"),
        (b"lon,lat,height_m\r\n", "is not a GeoJSON map: Invalid JSON"),
        (b"[" * 100_000, "is not a GeoJSON map: Invalid JSON"),
        (b"[1, 2]", "is not a GeoJSON map: "),
        (b"{}", r"is not a GeoJSON map: type: Field required"),
        (b'{"type":"Feature"}', r"map: type: Input should be 'FeatureCollection'"),
        (b'{"type":"FeatureCollection","features":[3]}', r"map: features\[0\]: Input should be"),
    ],
)
def test_not_a_map(tmp_path: Path, content: bytes, message: str) -> None:
    path = tmp_path / "course.geojson"
    path.write_bytes(content)
    with pytest.raises(BadInputError, match=message) as caught:
        read_map(path)
    assert "\n" not in str(caught.value)


def test_missing_file_and_folder(tmp_path: Path) -> None:
    with pytest.raises(BadInputError, match=r"cannot read .*gone\.geojson: No such file"):
        read_map(tmp_path / "gone.geojson")
    with pytest.raises(BadInputError, match=r"cannot read .*: Is a directory"):
        read_map(tmp_path)


@pytest.mark.parametrize(
    ("coordinates", "message"),
    [
        (None, "coordinates: Input should be a valid list"),
        ([], "coordinates: List should have at least 1 item"),
        ([SQUARE[:2]], r"coordinates\[0\]: List should have at least 3 items"),
        ([[[4.0], [4.1], [4.2]]], r"coordinates\[0\]\[0\]: List should have at least 2 items"),
        ([[["4.0", 54.0], *SQUARE]], r"coordinates\[0\]\[0\]\[0\]: Input should be a valid number"),
        ([[[float("nan"), 54.0], *SQUARE]], r"coordinates\[0\]\[0\]\[0\]: .*finite"),
        ([[[10**400, 54.0], *SQUARE]], r"coordinates\[0\]\[0\]\[0\]: Input should be"),
        (
            [[[y, x + 100.0] for x, y in SQUARE]],
            r"coordinates\[0\]\[0\]: \[54, 104\] is no longitude and latitude",
        ),
    ],
)
def test_bad_coordinates_name_feature_and_place(
    save_map: Callable[..., Path], coordinates: object, message: str
) -> None:
    path = save_map(bunker([SQUARE]), bunker(coordinates))
    with pytest.raises(BadInputError, match=rf"^course.geojson, feature 2 \(bunker\): {message}"):
        read_map(path)


def test_swapped_order_is_explained(save_map: Callable[..., Path]) -> None:
    path = save_map(bunker([[[y + 60.0, x - 100.0] for x, y in SQUARE]]))
    with pytest.raises(BadInputError, match=r"\(-180 to 180, then -90 to 90\).*longitude first"):
        read_map(path)


NUMBERS = st.one_of(
    st.integers(), st.floats(), st.floats(-200.0, 200.0), st.sampled_from([10**400, 4.0, 54.0])
)
JSON = st.recursive(
    st.one_of(st.none(), st.booleans(), NUMBERS, st.text(max_size=5)),
    lambda inner: st.one_of(
        st.lists(inner, max_size=4), st.dictionaries(st.text(max_size=5), inner, max_size=3)
    ),
    max_leaves=12,
)
POSITIONS = st.lists(st.one_of(NUMBERS, JSON), min_size=1, max_size=3)
COORDINATES = st.one_of(
    JSON, POSITIONS, st.lists(POSITIONS, max_size=5), st.lists(st.lists(POSITIONS, max_size=6))
)
GEOMETRY = st.one_of(
    JSON,
    st.fixed_dictionaries(
        {
            "type": st.sampled_from(["Point", "LineString", "Polygon", "MultiPolygon", "x"]),
            "coordinates": COORDINATES,
        }
    ),
)
TAGS = st.one_of(
    JSON,
    st.fixed_dictionaries(
        {"golf": st.sampled_from(["hole", "green", "bunker", "pin"])}, optional={"ref": JSON}
    ),
)
FEATURES = st.fixed_dictionaries(
    {"type": st.just("Feature"), "geometry": GEOMETRY, "properties": TAGS}
)
COLLECTIONS = st.fixed_dictionaries(
    {"type": st.just("FeatureCollection"), "features": st.lists(FEATURES, max_size=3)},
    optional={"name": JSON, "attribution": JSON},
)


def read_or_refuse(folder: Path, content: bytes) -> None:
    path = folder / "fuzz.geojson"
    path.write_bytes(content)
    with suppress(BadInputError):
        read_map(path)


@settings(max_examples=300, deadline=None)
@given(value=st.one_of(JSON, COLLECTIONS))
def test_any_json_is_read_or_refused(
    tmp_path_factory: pytest.TempPathFactory, value: object
) -> None:
    read_or_refuse(tmp_path_factory.getbasetemp(), json.dumps(value).encode())


@settings(max_examples=200, deadline=None)
@given(content=st.binary(max_size=200))
def test_any_bytes_are_read_or_refused(
    tmp_path_factory: pytest.TempPathFactory, content: bytes
) -> None:
    read_or_refuse(tmp_path_factory.getbasetemp(), content)
