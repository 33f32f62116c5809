"""Reads heights from a GeoTIFF, and smooths away the noise that would be read as slope.

The library (rasterio, over GDAL) turns rows and columns into map coordinates; a file whose pixels
are points and one whose pixels are areas differ by half a pixel, which it sees to (ogc-geotiff).
Everything is then brought into the axes of the hole, in metres, before any slope is taken.
"""

import warnings
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np
from pyproj import CRS, Geod, Transformer
from pyproj.exceptions import ProjError

from carrybook.base.constants import FOOT
from carrybook.base.errors import BadInputError
from carrybook.base.numerics import Flags, Floats
from carrybook.world.shape import HeightDoubt
from carrybook.world.smoothing import smoothed

if TYPE_CHECKING:
    from rasterio import DatasetReader

__all__ = ["raster_heights"]

_INSTALL = "reading {} needs rasterio; install it with: pip install 'carrybook[survey]'"
_SURVEY_FOOT = 1200.0 / 3937.0  # m, exactly (nist-sp-811)
_UNITS = {
    "m": 1.0, "metre": 1.0, "metres": 1.0, "meter": 1.0, "meters": 1.0,
    "ft": FOOT, "foot": FOOT, "feet": FOOT, "international foot": FOOT,
    "us ft": _SURVEY_FOOT, "us survey foot": _SURVEY_FOOT, "us-ft": _SURVEY_FOOT,
    "us_survey_foot": _SURVEY_FOOT, "foot_us": _SURVEY_FOOT, "ftus": _SURVEY_FOOT,
}  # fmt: skip
_HIGHEST = 9000.0  # m, either side of zero
# All ours.
_COARSEST = 3.0  # m, the largest pixel that still shows a green
_MARGIN = 10.0  # m read around the net
_MOST_PIXELS = 3_000_000
_COVERED = 0.9  # of the green


@dataclass(frozen=True, slots=True)
class _Window:
    """Heights of a part of the raster, NaN where unknown, and what a pixel measures."""

    heights: Floats
    row: int
    col: int
    pixel_m: tuple[float, float]  # along rows (down) and along columns


def raster_heights(
    path: Path, lonlat: Floats, on_green: Flags, *, unit: str = ""
) -> tuple[Floats, HeightDoubt, str]:
    """Heights at the nodes of a net.

    Parameters
    ----------
    path : Path
        The GeoTIFF; its first band is read.
    lonlat : ndarray, shape (nx, ny, 2)
        The nodes, WGS 84. [deg]
    on_green : ndarray of bool, shape (nx, ny)
        Which of them are on the green.
    unit : str
        Unit of the heights where the file does not say: "m", "ft" or "us ft".

    Returns
    -------
    heights : ndarray, shape (nx, ny)
        Smoothed; where the raster ends, or does not know, those of the nearest pixel go on. [m]
    doubt : HeightDoubt
        Standard errors that the noise leaves.
    note : str
        What a person should know of it, in a sentence.

    Raises
    ------
    BadInputError
        rasterio is not installed; the file is no GeoTIFF, has no place on the earth or no unit, is
        too coarse, or does not cover the green.
    """
    try:
        import rasterio
        from rasterio.errors import NotGeoreferencedWarning, RasterioError
    except ImportError:
        raise BadInputError(_INSTALL.format(path.name)) from None
    if not path.is_file():
        raise BadInputError(f"cannot read {path}: there is no such file")
    try:
        with (
            warnings.catch_warnings(action="ignore", category=NotGeoreferencedWarning),
            rasterio.Env(GTIFF_POINT_GEO_IGNORE=False, GDAL_DISABLE_READDIR_ON_OPEN="EMPTY_DIR"),
            rasterio.open(path, driver="GTiff") as raster,
        ):
            rows, cols = _pixels(raster, lonlat, path.name)
            window = _window(raster, rows, cols, lonlat, unit, path.name)
    except (RasterioError, ProjError, OSError, SystemError) as error:
        what = " ".join(str(error).split())[:120]
        raise BadInputError(f"{path.name} cannot be read as GeoTIFF: {what}") from None
    rows, cols = rows - window.row, cols - window.col
    _require_cover(window.heights, rows[on_green], cols[on_green], path.name)
    surface, doubt, width, noise = smoothed(window.heights, window.pixel_m)
    note = (
        f"Heights from {path.name}, {np.mean(window.pixel_m):.2g} m a pixel, noise about"
        f" {100.0 * noise:.0f} cm, smoothed over {width:g} m: tiers are rounded by as much. Check"
        " the date of the survey against the green's last rebuilding."
    )
    heights = _sampled(surface, rows, cols)
    return (
        heights,
        HeightDoubt(np.full_like(heights, doubt[0]), np.full_like(heights, doubt[1])),
        note,
    )


def _pixels(raster: "DatasetReader", lonlat: Floats, name: str) -> tuple[Floats, Floats]:
    """Row and column of each node; whole numbers are the middles of pixels."""
    if raster.crs is None or raster.transform.is_identity:
        raise BadInputError(f"{name} does not say where on the earth it is (no CRS)")
    to_map = Transformer.from_crs("EPSG:4326", CRS.from_wkt(raster.crs.to_wkt()), always_xy=True)
    east, north = to_map.transform(lonlat[..., 0], lonlat[..., 1])
    a, b, c, d, e, f = raster.transform[:6]
    across, up, area = np.asarray(east) - c, np.asarray(north) - f, a * e - b * d
    if not np.isfinite(area) or area == 0.0:
        raise BadInputError(f"{name} has pixels without an area")
    col, row = (e * across - b * up) / area, (a * up - d * across) / area
    if not (np.isfinite(col).all() and np.isfinite(row).all()):
        raise BadInputError(f"{name} lies in another part of the world than the green")
    return row - 0.5, col - 0.5


def _window(
    raster: "DatasetReader", rows: Floats, cols: Floats, lonlat: Floats, unit: str, name: str
) -> _Window:
    from rasterio.windows import Window

    down, across = _pixel_size(rows, cols, lonlat)
    if not 0.0 < max(down, across) <= _COARSEST:
        raise BadInputError(
            f"{name} has pixels of {max(down, across):.0f} m; a green needs {_COARSEST:.0f} m or"
            " finer"
        )
    spare = _MARGIN / min(down, across)
    top, left = (int(max(0.0, np.floor(v.min() - spare))) for v in (rows, cols))
    ends = zip((rows, cols), (raster.height, raster.width), strict=True)
    bottom, right = (int(min(float(n), np.ceil(v.max() + spare) + 1)) for v, n in ends)
    if bottom - top < 4 or right - left < 4:
        raise BadInputError(f"{name} does not reach the green; it covers another place")
    if (bottom - top) * (right - left) > _MOST_PIXELS:
        raise BadInputError(f"{name} is finer than 0.1 m a pixel; average it to 0.25 m first")
    band = raster.read(1, window=Window(left, top, right - left, bottom - top), masked=True)
    scale, offset = float(raster.scales[0]), float(raster.offsets[0])
    with np.errstate(all="ignore"):  # whatever is no height becomes NaN below
        heights = np.where(np.ma.getmaskarray(band), np.nan, np.asarray(band.data, dtype=float))
        heights = (heights * scale + offset) * _metres_per_unit(raster, unit, name)
    heights[~(np.abs(heights) <= _HIGHEST)] = np.nan
    return _Window(heights, top, left, (down, across))


def _pixel_size(rows: Floats, cols: Floats, lonlat: Floats) -> tuple[float, float]:
    """Metres along a row step and along a column step, from how the net lies on the raster."""
    geod = Geod(ellps="WGS84")
    corner, ends = lonlat[0, 0], (lonlat[-1, 0], lonlat[0, -1])
    moved, metres = [], []
    for (i, j), end in zip(((-1, 0), (0, -1)), ends, strict=True):
        azimuth, _, length = geod.inv(*corner, *end)
        turn = np.radians(azimuth)
        moved.append((rows[i, j] - rows[0, 0], cols[i, j] - cols[0, 0]))
        metres.append((length * np.sin(turn), length * np.cos(turn)))
    try:
        per_pixel = np.linalg.solve(np.array(moved), np.array(metres))
    except np.linalg.LinAlgError:
        return 0.0, 0.0
    down, across = np.hypot(per_pixel[:, 0], per_pixel[:, 1])
    return float(down), float(across)


def _metres_per_unit(raster: "DatasetReader", unit: str, name: str) -> float:
    """Metres in the unit of the heights: as the band or a vertical CRS says, or the person."""
    axes = [a for a in CRS.from_wkt(raster.crs.to_wkt()).axis_info if a.direction == "up"]
    said = [raster.units[0] or "", *(a.unit_name for a in axes)]
    told = next((s for s in said if s), "")
    if told and told.lower() not in _UNITS:
        raise BadInputError(f"{name}: heights in {told!r} are not understood; use m, ft or us ft")
    if told:
        if unit and not np.isclose(_UNITS[told.lower()], _unit_typed(unit), rtol=1e-9):
            raise BadInputError(f"{name} says its heights are in {told!r}, not in {unit!r}")
        return _UNITS[told.lower()]
    if unit:
        return _unit_typed(unit)
    raise BadInputError(
        f"{name} does not say the unit of its heights; add --heights-unit m, ft or 'us ft'"
    )


def _unit_typed(unit: str) -> float:
    found = _UNITS.get(" ".join(unit.lower().split()))
    if found is None:
        raise BadInputError(f"unit of the heights = {unit[:24]!r} is not one of: m, ft, us ft")
    return found


def _require_cover(heights: Floats, rows: Floats, cols: Floats, name: str) -> None:
    """Refuse a raster that does not know most of the green."""
    i, j = np.rint(rows).astype(int), np.rint(cols).astype(int)
    inside = (i >= 0) & (j >= 0) & (i < heights.shape[0]) & (j < heights.shape[1])
    known = ~np.isnan(heights[i[inside], j[inside]])
    share = float(known.sum()) / max(1, rows.size)
    if share < _COVERED:
        raise BadInputError(
            f"{name} knows the height of {100.0 * share:.0f} % of the green; at least"
            f" {100.0 * _COVERED:.0f} % are needed"
        )


def _sampled(surface: Floats, rows: Floats, cols: Floats) -> Floats:
    from scipy.ndimage import map_coordinates

    at = np.stack([rows, cols])
    return np.asarray(map_coordinates(surface, at, order=3, mode="nearest"))
