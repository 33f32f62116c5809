"""Readings of a green: heights, slopes, places on the earth or on the green; strictly read."""

from contextlib import suppress
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from carrybook.base.constants import FOOT
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
