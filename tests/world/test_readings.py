"""Readings of a green: heights, slopes, places on the earth or on the green; strictly read."""

from contextlib import suppress
from math import pi
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from carrybook.base.constants import FOOT, YARD
from carrybook.base.errors import BadInputError
from carrybook.world.readings import read_readings


def write(folder: Path, content: str | bytes) -> Path:
    path = folder / "heights.csv"
    path.write_bytes(content if isinstance(content, bytes) else content.encode())
    return path


@pytest.mark.parametrize(
    "content",
    [
        pytest.param("lon,lat,height_m\r\n4.1,54.2,3.5\r\n", id="RFC 4180"),
        pytest.param("\ufefflon,lat,height_m\n4.1,54.2,3.5\n\n", id="mark and blank row"),
        pytest.param('note,"Height_M",LAT, lon\n"a, b",3.5,54.2, 4.1\n', id="other order"),
        pytest.param(f"lon,lat,height_ft\n4.1,54.2,{3.5 / FOOT!r}\n", id="feet"),
    ],
)
def test_reads_spots(tmp_path: Path, content: str) -> None:
    r = read_readings(write(tmp_path, content))
    assert r.on_earth
    np.testing.assert_allclose([[*r.xy[0], r.height[0]]], [[4.1, 54.2, 3.5]], rtol=1e-15)
    assert np.isnan(r.slope).all()


@pytest.mark.parametrize(
    ("content", "message"),
    [
        (
            "",
            r"needs the columns lon, lat \(or on, right\) and height_m .*; it has nothing",
        ),
        ("lon,lat,height\n4,54,3\n", "it has lon, lat, height$"),
        ("lon,lat,height_m\n\n", " holds no spots$"),
        ("lon;lat;height_m\n4;54;3\n", "it has lon;lat;height_m$"),
        ("lon,lat,height_m\n4.1,54.2,high\n", r"row 2: height = 'high' is not a number within"),
        ("lon,lat,height_m\n4.1,54.2,3\n4.1,54.2,nan\n", r"row 3: height = 'nan' is not a number"),
        ("lon,lat,height_ft\n4.1,54.2,inf\n", r"row 2: height = 'inf'.* -29528 to 29528$"),
        ("lon,lat,height_m\n4.1,54.2\n", r"row 2: height = '' is not a number"),
        ("lon,lat,height_m\n4.1,104.2,3\n", r"row 2: lat = '104.2' .* -90 to 90$"),
        (b"\x89PNG\r\n\x1a\n\xff\xfe", "is not a text file in UTF-8$"),
        ("x" * 200_000, "is not a CSV file of heights: field larger than field limit"),
    ],
)
def test_bad_files(tmp_path: Path, content: str | bytes, message: str) -> None:
    with pytest.raises(BadInputError, match=rf"^heights\.csv.*{message}") as caught:
        read_readings(write(tmp_path, content))
    assert "\n" not in str(caught.value)


def test_missing_file(tmp_path: Path) -> None:
    with pytest.raises(BadInputError, match=r"^cannot read .*none\.csv: No such file"):
        read_readings(tmp_path / "none.csv")


@settings(max_examples=200, deadline=None)
@given(content=st.one_of(st.binary(max_size=100), st.text(max_size=60).map(str.encode)))
def test_any_bytes_are_read_or_refused(
    tmp_path_factory: pytest.TempPathFactory, content: bytes
) -> None:
    folder = tmp_path_factory.getbasetemp()
    for head in (b"", b"lon,lat,height_m\n"):
        with suppress(BadInputError):
            r = read_readings(write(folder, head + content))
            assert np.isfinite(r.xy).all()
            assert (np.isfinite(r.height) | np.isfinite(r.slope)).all()


def test_readings_on_the_green_in_paces_with_slopes(tmp_path: Path) -> None:
    text = "On (paces),Right,slope_pct,falls_to\n10,4,2.0,front-left\n20,-3,1.5,90\n5,0,0,\n"
    r = read_readings(write(tmp_path, text))
    assert not r.on_earth
    np.testing.assert_allclose(r.xy, np.array([(10, -4), (20, 3), (5, 0)]) * YARD)
    np.testing.assert_allclose(r.slope, [0.02, 0.015, 0.0])
    np.testing.assert_allclose(r.falls_rad[:2] % (2 * pi), [1.25 * pi, 0.5 * pi])
    assert not r.by_compass.any()


@pytest.mark.parametrize(
    ("header", "row", "xy"),
    [
        ("x,y", "10,4", (10 * YARD, 4 * YARD)),
        ("x_m,y_m", "10,4", (10.0, 4.0)),
        ("on_ft,left_ft", "10,4", (10 * FOOT, 4 * FOOT)),
        ("right_yd,on_yd", "4,10", (10 * YARD, -4 * YARD)),
    ],
)
def test_places_in_other_units(
    tmp_path: Path, header: str, row: str, xy: tuple[float, float]
) -> None:
    r = read_readings(write(tmp_path, f"{header},height_in\n{row},12\n"))
    np.testing.assert_allclose(r.xy, [xy])
    np.testing.assert_allclose(r.height, [FOOT])


def test_on_the_earth_degrees_count_from_north_but_sides_are_the_players(tmp_path: Path) -> None:
    text = "lon,lat,slope_pct,falls_to\n4.1,54.2,2,200\n4.1,54.2,2,left\n"
    r = read_readings(write(tmp_path, text))
    assert r.by_compass.tolist() == [True, False]
    np.testing.assert_allclose(r.falls_rad[0], np.radians(200.0))


def test_heights_and_slopes_in_one_file(tmp_path: Path) -> None:
    text = "on,right,height_cm,slope_pct,falls_to\n10,4,25,,\n12,4,,2,front\n14,4,30,1,back\n"
    r = read_readings(write(tmp_path, text))
    np.testing.assert_array_equal(np.isnan(r.height), [False, True, False])
    np.testing.assert_array_equal(np.isnan(r.slope), [True, False, False])
    assert r.of(~np.isnan(r.height)).xy.shape == (2, 2)


@pytest.mark.parametrize(
    ("content", "message"),
    [
        ("on,right\n1,2\n", r"it has on, right$"),
        ("on,right,slope_pct\n1,2,3\n", r"it has on, right, slope_pct$"),
        (
            "on,right,slope_pct,falls_to\n1,2,3,uphill\n",
            r"row 2: falls_to = 'uphill' is not a side",
        ),
        ("on,right,slope_pct,falls_to\n1,2,-3,front\n", r"row 2: a slope is not negative"),
        ("on,right,slope_pct,falls_to\n1,2,90,front\n", r"slope = '90' is not .* -60 to 60$"),
        ("on,right,slope_pct,falls_to\n1,2,,front\n", r"slope = '' is not a number, and"),
        ("on,right,height_m\n900,2,1\n", r"row 2: on = '900' is not a number within -328 to 328$"),
    ],
)
def test_bad_sketches(tmp_path: Path, content: str, message: str) -> None:
    with pytest.raises(BadInputError, match=message) as caught:
        read_readings(write(tmp_path, content))
    assert "\n" not in str(caught.value)
