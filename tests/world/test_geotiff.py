"""Heights from GeoTIFF: where a pixel is, which unit it has, what is noise, and what is refused."""

from collections.abc import Callable
from contextlib import suppress
from math import cos, radians, sin
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pyproj import Transformer

from carrybook.base.constants import FOOT
from carrybook.base.errors import BadInputError
from carrybook.base.numerics import Floats
from carrybook.world.geotiff import raster_heights
from carrybook.world.place import Place
from carrybook.world.smoothing import smoothed

rasterio = pytest.importorskip("rasterio")
from rasterio.transform import Affine  # noqa: E402 - comes with the extra

PLACE = Place(4.1, 54.2, heading=radians(30.0))
X, Y = np.arange(-30.0, 50.1, 1.0), np.arange(-25.0, 25.1, 1.0)
NODES = np.stack(np.meshgrid(X, Y, indexing="ij"), axis=-1)
LONLAT = PLACE.to_lonlat(NODES.reshape(-1, 2)).reshape(NODES.shape)
GREEN = (NODES[..., 0] >= 0.0) & (NODES[..., 0] <= 27.0) & (np.abs(NODES[..., 1]) <= 11.0)
SURVEY_FOOT = 1200.0 / 3937.0
Height = Callable[[Floats, Floats], Floats]


def plane(x: Floats, y: Floats) -> Floats:
    return np.asarray(12.0 + 0.02 * x - 0.015 * y)


def draw(
    path: Path, height: Height = plane, *, crs: str = "EPSG:32631", pixel: float = 1.0,
    scale: float = 1.0, unit: str | None = "metre", spoil: Callable[[Floats], None] | None = None,
    point: bool = False, **profile: object,
) -> Path:  # fmt: skip
    """Write heights of the hole's axes as a raster of 160 m around the green."""
    to_map = Transformer.from_crs("EPSG:4326", crs, always_xy=True)
    east, north = to_map.transform(4.1, 54.2)
    degrees_ = crs == "EPSG:4326"
    step_e = pixel / (111_320.0 * cos(radians(54.2))) if degrees_ else pixel * _per_metre(crs)
    step_n = pixel / 111_320.0 if degrees_ else pixel * _per_metre(crs)
    n = int(160.0 / pixel)
    transform = Affine(step_e, 0.0, east - n / 2 * step_e, 0.0, -step_n, north + n / 2 * step_n)
    cols, rows = np.meshgrid(np.arange(n), np.arange(n))
    shift = 0.0 if point else 0.5  # pixels that are points lie on the corner of this transform
    e, north_of = transform.c + step_e * (cols + shift), transform.f - step_n * (rows + shift)
    lonlat = np.column_stack(to_map.transform(e.ravel(), north_of.ravel(), direction="INVERSE"))
    xy = PLACE.to_axes(lonlat)
    z = height(xy[:, 0], xy[:, 1]).reshape(n, n) * scale
    if spoil is not None:
        spoil(z)
    options = {
        "driver": "GTiff",
        "height": n,
        "width": n,
        "count": 1,
        "dtype": "float64",
        "crs": crs,
    }
    with (
        rasterio.Env(GTIFF_POINT_GEO_IGNORE=point),
        rasterio.open(path, "w", transform=transform, **(options | profile)) as out,
    ):
        out.write(z.astype(options["dtype"]), 1)
        if unit is not None:
            out.units = (unit,)
        if point:
            out.update_tags(AREA_OR_POINT="Point")
    return path


def _per_metre(crs: str) -> float:
    from pyproj import CRS

    return 1.0 / CRS(crs).axis_info[0].unit_conversion_factor


def read(path: Path, unit: str = "") -> Floats:
    return raster_heights(path, LONLAT, GREEN, unit=unit)[0]


def assert_plane(heights: Floats, atol: float = 2e-3) -> None:
    np.testing.assert_allclose(heights[GREEN], plane(*NODES[GREEN].T), atol=atol)


@pytest.mark.parametrize("crs", ["EPSG:32631", "EPSG:3857", "EPSG:4326", "EPSG:3034"])
def test_a_plane_comes_back_from_any_projection(tmp_path: Path, crs: str) -> None:
    assert_plane(read(draw(tmp_path / "h.tif", crs=crs)))


def test_pixels_that_are_points_lie_half_a_pixel_off(tmp_path: Path) -> None:
    """Half a pixel of 2 m on a slope of 2.5 % would be 2.5 cm."""
    for point in (False, True):
        assert_plane(read(draw(tmp_path / f"{point}.tif", pixel=2.0, point=point)))


@pytest.mark.parametrize(
    ("unit", "typed", "metres"),
    [("foot", "", FOOT), ("US survey foot", "", SURVEY_FOOT), (None, "ft", FOOT),
     (None, "us ft", SURVEY_FOOT), (None, "m", 1.0), ("ft", "ft", FOOT)],
)  # fmt: skip
def test_feet_and_metres(tmp_path: Path, unit: str | None, typed: str, metres: float) -> None:
    path = draw(tmp_path / "h.tif", scale=1.0 / metres, unit=unit)
    assert_plane(read(path, typed), atol=1e-3)


def test_a_unit_is_never_guessed(tmp_path: Path) -> None:
    path = draw(tmp_path / "h.tif", unit=None)
    with pytest.raises(
        BadInputError, match=r"does not say the unit of its heights; add --heights-unit"
    ):
        read(path)
    with pytest.raises(
        BadInputError, match=r"unit of the heights = 'yd' is not one of: m, ft, us ft"
    ):
        read(path, "yd")
    with pytest.raises(BadInputError, match=r"says its heights are in 'foot', not in 'm'"):
        read(draw(tmp_path / "f.tif", unit="foot"), "m")
    with pytest.raises(BadInputError, match=r"heights in 'fathom' are not understood"):
        read(draw(tmp_path / "g.tif", unit="fathom"))


def test_a_compound_crs_says_its_vertical_unit(tmp_path: Path) -> None:
    path = draw(tmp_path / "h.tif", scale=1.0 / SURVEY_FOOT, unit=None, crs="EPSG:32631+6360")
    assert_plane(read(path), atol=1e-3)


def test_what_is_not_known_is_no_height(tmp_path: Path) -> None:
    """A few pixels of the green are the nodata value, others NaN: neither may pull the surface."""

    def spoil(z: Floats) -> None:
        z[80:83, 80:83] = -9999.0
        z[70, 85] = np.nan

    assert_plane(read(draw(tmp_path / "h.tif", spoil=spoil, nodata=-9999.0)))

    def half(z: Floats) -> None:
        z[:, 80:] = -9999.0

    with pytest.raises(
        BadInputError, match=r"knows the height of \d+ % of the green; at least 90 %"
    ):
        read(draw(tmp_path / "half.tif", spoil=half, nodata=-9999.0))


def test_noise_of_10_cm_is_not_read_as_slope(tmp_path: Path) -> None:
    """Two in a hundred over 5 m is what it would look like; a half is what we allow."""
    rng = np.random.default_rng(5)

    def spoil(z: Floats) -> None:
        z += rng.normal(0.0, 0.1, z.shape)

    heights, doubt, note = raster_heights(draw(tmp_path / "h.tif", spoil=spoil), LONLAT, GREEN)
    false = np.gradient(heights - plane(*np.moveaxis(NODES, -1, 0)), axis=0)[GREEN]
    assert 0.002 < false.std() < 0.007
    assert float(doubt.slope_se[0, 0]) == pytest.approx(false.std(), rel=0.4)
    error = (heights - plane(*np.moveaxis(NODES, -1, 0)))[GREEN]
    assert float(doubt.height_se[0, 0]) == pytest.approx(error.std(), rel=0.5)
    assert "noise about 10 cm, smoothed over 2 m" in note


def test_a_clean_raster_keeps_its_tier(tmp_path: Path) -> None:
    def tier(x: Floats, y: Floats) -> Floats:
        return np.asarray(0.6 * np.clip((x - 15.0) / 3.0, 0.0, 1.0))

    heights = read(draw(tmp_path / "h.tif", tier, pixel=0.5))
    middle = heights[:, Y.size // 2]
    assert middle[X == 21.0] - middle[X == 12.0] == pytest.approx(0.6, abs=0.01)
    assert np.gradient(middle, X).max() > 0.16


def test_smoothing_error_is_its_closed_form() -> None:
    rng = np.random.default_rng(6)
    z = rng.normal(0.0, 0.05, (220, 220))
    surface, (height_se, slope_se), width, noise = smoothed(z, (1.0, 1.0))
    assert noise == pytest.approx(0.05, rel=0.05)
    inner = surface[20:-20, 20:-20]
    assert inner.std() == pytest.approx(height_se, rel=0.1)
    assert np.gradient(inner, axis=0).std() == pytest.approx(slope_se, rel=0.15)
    assert width == 1.5


def test_noise_shared_by_neighbours_is_still_seen() -> None:
    """A survey of 1 m drawn at 0.25 m looks smooth pixel by pixel."""
    rng = np.random.default_rng(7)
    z = np.kron(rng.normal(0.0, 0.1, (60, 60)), np.ones((4, 4)))
    assert smoothed(z, (0.25, 0.25))[3] == pytest.approx(0.1, rel=0.2)


@pytest.mark.parametrize(
    ("options", "message"),
    [
        ({"crs": "EPSG:32633"}, None),
        ({"pixel": 5.0}, r"has pixels of 5 m; a green needs 3 m or finer$"),
    ],
)
def test_other_zones_are_fine_and_coarse_pixels_are_not(
    tmp_path: Path, options: dict[str, object], message: str | None
) -> None:
    path = draw(tmp_path / "h.tif", **options)  # type: ignore[arg-type]
    if message is None:
        assert_plane(read(path))
        return
    with pytest.raises(BadInputError, match=message):
        read(path)


def test_files_of_another_place_or_of_none(tmp_path: Path) -> None:
    path = draw(tmp_path / "h.tif")
    far = LONLAT + np.array([0.2, 0.0])
    with pytest.raises(BadInputError, match=r"h.tif does not reach the green"):
        raster_heights(path, far, GREEN)
    with pytest.raises(BadInputError, match=r"cannot read .*none.tif: there is no such file$"):
        read(tmp_path / "none.tif")
    bare = tmp_path / "bare.tif"
    with pytest.warns(rasterio.errors.NotGeoreferencedWarning):
        rasterio.open(
            bare, "w", driver="GTiff", height=9, width=9, count=1, dtype="float32"
        ).close()
    with pytest.raises(BadInputError, match=r"does not say where on the earth it is"):
        read(bare)
    text = tmp_path / "text.tif"
    text.write_text("lon,lat\n")
    with pytest.raises(BadInputError, match=r"text.tif cannot be read as GeoTIFF: "):
        read(text)


def test_missing_library(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(__import__("sys").modules, "rasterio", None)
    with pytest.raises(
        BadInputError, match=r"needs rasterio; install it with: pip install 'carrybook"
    ):
        read(tmp_path / "h.tif")


def test_the_plane_of_a_hole_turns_back() -> None:
    np.testing.assert_allclose(
        PLACE.to_axes(LONLAT.reshape(-1, 2)), NODES.reshape(-1, 2), atol=1e-6
    )
    assert PLACE.bearing_rad == pytest.approx(radians(60.0))
    assert PLACE.forward(10.0).east == pytest.approx(10.0 * cos(radians(30.0)))
    assert PLACE.forward(10.0).north == pytest.approx(10.0 * sin(radians(30.0)))


@settings(max_examples=60, deadline=None)
@given(data=st.data())
def test_a_spoilt_file_is_read_or_refused(
    tmp_path_factory: pytest.TempPathFactory, data: st.DataObject
) -> None:
    folder = tmp_path_factory.getbasetemp()
    good = folder / "good.tif"
    if not good.exists():
        draw(good, pixel=2.0, dtype="float32", nodata=-9999.0)
    content = bytearray(good.read_bytes())
    for _ in range(data.draw(st.integers(1, 4))):
        at = data.draw(st.one_of(st.integers(0, 600), st.integers(0, len(content) - 1)))
        content[at : at + 1] = data.draw(st.binary(max_size=4))
    if data.draw(st.booleans()):
        del content[data.draw(st.integers(0, len(content))) :]
    spoilt = folder / "spoilt.tif"
    spoilt.write_bytes(content)
    with suppress(BadInputError):
        assert np.isfinite(read(spoilt)).all()
