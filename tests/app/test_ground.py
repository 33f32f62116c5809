"""`ground show`, and `choose` on every way in, through the command line."""

import json
from pathlib import Path

import numpy as np
import pytest
from matplotlib.collections import PolyCollection
from pyproj import Transformer
from typer.testing import CliRunner, Result

from carrybook import app as rooms
from carrybook.app.cli import app
from carrybook.artefacts.ground import ground_figure
from carrybook.base.errors import BadInputError
from carrybook.world.ground_report import report_ground
from carrybook.world.locate import locate
from carrybook.world.ways import open_hole

DATA = Path(rooms.__file__).parent / "demo_data"
GREEN = (
    "30 deep, 24 wide; tilt back to front 2 %; shelf at 18, rises 2 ft over 3, on the right half;"
    " bunker short right, 4 off, 8 by 6; water left, 5 off, all along; front 70;"
    " hole 11 on, 6 from the right"
)


def say(*words: str) -> Result:
    return CliRunner().invoke(app, list(words), catch_exceptions=False)


@pytest.fixture(scope="module")
def described() -> dict[str, object]:
    result = say("ground", "show", "--green", GREEN, "--json")
    assert result.exit_code == 0, result.output
    view: dict[str, object] = json.loads(result.stdout)
    return view


def test_keys_of_the_answer(described: dict[str, object]) -> None:
    assert list(described) == [
        "venue", "hole", "par", "map_attribution", "notes", "heights_known", "bearing_deg",
        "front_number_m", "green", "slope_50", "slope_90", "rise_m", "height_se_m", "slope_se",
        "green_speed_m", "marginal_slope", "critical_slope", "usable", "reasons", "hole_location",
        "outline", "places", "rules_note",
    ]  # fmt: skip
    at = described["hole_location"]
    assert isinstance(at, dict)
    assert (at["allowed"], at["reason"]) == (True, "allowed")
    assert at["slope"] == pytest.approx(0.02, abs=1e-3)
    assert at["falls_to_deg"] == pytest.approx(180.0, abs=0.1)
    assert at["right_m"] > 0.0
    places = described["places"]
    assert isinstance(places, dict)
    assert len({len(column) for column in places.values()}) == 1
    assert len(places["x_m"]) > 400


def test_text_says_what_a_caddie_would() -> None:
    text = say("ground", "show", "--green", GREEN, "--green-speed", "11ft").stdout
    assert text.splitlines()[0] == "Described green"
    assert "30 paces deep, 24 wide" in text
    assert "70 yd to the front edge" in text
    assert "slopes +- 0.5 %" in text
    assert "11.0 ft (3.35 m)" in text
    assert "11 on, 6 from the right (paces): allowed" in text
    assert max(map(len, text.splitlines())) <= 92
    metres = say("ground", "show", "--green", GREEN, "--units", "metres").stdout
    assert "64 m to the front edge" in metres


def test_a_place_that_is_too_steep_says_why() -> None:
    text = say(
        "ground", "show", "--green", GREEN, "--hole-location", "19 on, 5 from the right"
    ).stdout
    assert "too steep for this green speed" in text


def test_a_level_map_says_that_it_knows_no_heights() -> None:
    text = say("ground", "show", "--map", str(DATA / "venue.geojson"), "--hole", "11").stdout
    assert "not known: taken as level" in text


@pytest.mark.parametrize(
    ("words", "message"),
    [
        ((), "which green? give either a map (--map FILE) or a description"),
        (("--green", "30 deep, 24 wide; pond left"), "'pond left' is not understood"),
        (("--map", "none.osm", "--hole", "4"), "none.osm: there is no such file"),
        (("--green", GREEN, "--green-speed", "10"), "green speed = 10 has no unit"),
        (("--green", GREEN, "--hole-location", "50 on, centre"), "the green is 30 paces deep"),
        (("--green", GREEN, "--figure", "x.gif"), "must end in one of: .png, .svg"),
    ],
)
def test_bad_input_is_one_line(words: tuple[str, ...], message: str) -> None:
    result = say("ground", "show", *words)
    assert result.exit_code == 2
    assert message in result.stderr
    assert len(result.stderr.strip().splitlines()) == 1


def test_figure_is_written(tmp_path: Path) -> None:
    path = tmp_path / "green.png"
    assert say("ground", "show", "--green", GREEN, "--figure", str(path)).exit_code == 0
    assert path.read_bytes()[:4] == b"\x89PNG"


def test_figure_shows_what_it_was_given() -> None:
    hole = open_hole(green=GREEN)
    report = report_ground(hole, 3.048, locate(hole, hole.location_words))
    (axes,) = ground_figure(report).axes
    (mark,) = (line for line in axes.lines if line.get_gid() == "hole")
    assert report.judged is not None
    right, on = -report.judged.location.y / 0.9144, report.judged.location.x / 0.9144
    np.testing.assert_allclose(mark.get_xydata(), [[right, on]])
    kinds = {patch.get_gid() for patch in axes.patches}
    assert {"bunker", "water"} <= kinds
    arrows = [c for c in axes.collections if c.get_gid() == "falls"]
    assert arrows
    assert all(isinstance(c, PolyCollection) for c in arrows)
    numbers = {t.get_text() for t in axes.texts}
    assert {"2.0", "hole"} <= numbers
    with pytest.raises(BadInputError, match="units"):
        ground_figure(report, units="furlongs")


def test_figure_of_a_level_green_and_of_a_credited_map() -> None:
    level = ground_figure(report_ground(open_hole(green="30 deep, 24 wide"), 3.048))
    assert "drawn level" in " ".join(t.get_text() for t in level.texts)
    venue = open_hole(DATA / "venue.geojson", "4")
    figure = ground_figure(report_ground(venue, 3.048))
    assert venue.attribution[:20] in " ".join(t.get_text() for t in figure.texts)


# --- choose, on every way in -------------------------------------------------------------------


def osm_file(folder: Path) -> Path:
    """The demo's hole 4 as OpenStreetMap XML: its line and its green."""
    course = json.loads((DATA / "venue.geojson").read_text("utf-8"))
    nodes, ways = [], []
    for feature in course["features"]:
        geometry, tags = feature["geometry"], feature["properties"]
        if geometry["type"] not in ("LineString", "Polygon"):
            continue
        ring = geometry["coordinates"]
        points = ring[0] if geometry["type"] == "Polygon" else ring
        refs = []
        for lon, lat, *_ in points:
            nodes.append(f'<node id="{len(nodes) + 1}" lat="{lat}" lon="{lon}"/>')
            refs.append(len(nodes))
        if geometry["type"] == "Polygon":
            refs[-1] = refs[0]
        inside = "".join(f'<nd ref="{r}"/>' for r in refs)
        inside += "".join(
            f'<tag k="{k}" v="{v}"/>' for k, v in tags.items() if k in ("golf", "ref", "natural")
        )
        ways.append(f'<way id="{len(ways) + 1}">{inside}</way>')
    path = folder / "course.osm"
    path.write_text(f'<osm version="0.6">{"".join(nodes)}{"".join(ways)}</osm>', encoding="utf-8")
    return path


def tif_file(folder: Path) -> Path:
    """A plane of 2 % to the north over the demo's hole 4."""
    rasterio = pytest.importorskip("rasterio")
    hole = next(
        f for f in json.loads((DATA / "venue.geojson").read_text("utf-8"))["features"]
        if f["properties"].get("golf") == "hole" and str(f["properties"].get("ref")) == "4"
    )  # fmt: skip
    east, north = Transformer.from_crs("EPSG:4326", "EPSG:3857", always_xy=True).transform(
        *hole["geometry"]["coordinates"][-1][:2]
    )
    n, step = 300, 1.7  # about 1 m on the ground
    path = folder / "heights.tif"
    z = np.repeat(0.02 * np.arange(n)[::-1, None], n, axis=1)
    transform = rasterio.Affine(step, 0.0, east - n / 2 * step, 0.0, -step, north + n / 2 * step)
    with rasterio.open(
        path, "w", driver="GTiff", height=n, width=n, count=1, dtype="float64", crs="EPSG:3857",
        transform=transform,
    ) as out:  # fmt: skip
        out.write(z, 1)
    return path


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> str:
    path = str(tmp_path_factory.mktemp("ways") / "book.sqlite")
    added = say("--book", path, "shots", "add", "54", "--loft", "54deg", "--carry", "92yd")
    assert added.exit_code == 0
    return path


@pytest.mark.parametrize("way", ["geojson", "osm", "words", "page", "sketch", "raster"])
def test_choose_runs_on_every_way_in(book: str, tmp_path: Path, way: str) -> None:
    asked = ["--number", "82yd", "--hole-location", "12 on, centre"]
    venue = ["--map", str(DATA / "venue.geojson"), "--hole", "4"]
    sketch = tmp_path / "sketch.csv"
    sketch.write_text(
        "on,right,slope_pct,falls_to\n5,0,2,front\n15,3,2,front\n15,-4,3,left\n25,0,1,30\n"
    )
    given = {
        "geojson": lambda: [*venue, *asked],
        "osm": lambda: ["--map", str(osm_file(tmp_path)), "--hole", "4", *asked],
        "words": lambda: ["--green", GREEN],
        "page": lambda: ["--map", str(DATA / "described.txt"), "--number", "82yd"],
        "sketch": lambda: [*venue, *asked, "--heights", str(sketch)],
        "raster": lambda: [
            *venue,
            *asked,
            "--heights",
            str(tif_file(tmp_path)),
            "--heights-unit",
            "m",
        ],
    }
    result = say("--book", book, "choose", *given[way](), "--json")
    assert result.exit_code == 0, result.output
    view = json.loads(result.stdout)
    situation = view["situation"]
    assert situation["number_m"] == pytest.approx((81 if way == "words" else 82) * 0.9144)
    assert situation["heights_known"] is (way not in ("geojson", "osm"))
    if way == "osm":
        assert situation["map_attribution"] == "© OpenStreetMap contributors, ODbL"
        assert any("ODbL" in doubt for doubt in view["doubts"])


def test_choose_asks_for_what_nobody_said(book: str) -> None:
    bare = ("--book", book, "choose", "--green", "30 deep, 24 wide")
    for words, message in (
        ((), "where is the hole cut? add --hole-location"),
        (("--hole-location", "12 on, centre"), "how far is it to the hole? add --number 88yd"),
        (
            ("--hole-location", "12 on, centre", "--number", "80yd", "--elevation", "10m",
             "--metar", "ZZZZ 121030Z 24012KT 9999 12/08 Q1015"),
            "which way does the hole play? add 'plays north-east'",
        ),
    ):  # fmt: skip
        result = say(*bare, *words)
        assert result.exit_code == 2
        assert message in result.stderr
