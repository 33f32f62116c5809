"""Spot heights: read strictly, and a smooth surface against a known one."""

from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from carrybook.base.constants import FOOT, YARD
from carrybook.base.errors import BadInputError
from carrybook.base.numerics import Floats
from carrybook.world.heights import read_spots, smooth_surface

X, Y = np.arange(-20.0, 50.1, 0.5), np.arange(-30.0, 30.1, 0.5)


def spots_of(
    height: Callable[[Floats, Floats], Floats], step: float, margin: float = 20.0
) -> Floats:
    x = np.arange(X[0] - margin, X[-1] + margin + 0.1, step)
    y = np.arange(Y[0] - margin, Y[-1] + margin + 0.1, step)
    spots = np.stack(np.meshgrid(x, y, indexing="ij"), axis=-1).reshape(-1, 2)
    return np.column_stack([spots, height(*spots.T)])


def two_tiers(x: Floats, y: Floats) -> Floats:
    """Two feet up over four yards at a depth of 18 yd, on a waving slope."""

    def hinge(u: Floats) -> Floats:
        return np.asarray(0.35 * np.logaddexp(0.0, u / 0.35))

    ramp = 2.0 * FOOT / (4.0 * YARD) * (hinge(x - 18.0 * YARD) - hinge(x - 22.0 * YARD))
    return np.asarray(0.0175 * x + 0.01 * y + ramp + 0.15 * np.sin(x / 9.0) * np.cos(y / 8.0))


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
    np.testing.assert_allclose(read_spots(write(tmp_path, content)), [[4.1, 54.2, 3.5]], rtol=1e-15)


@pytest.mark.parametrize(
    ("content", "message"),
    [
        ("", "needs the columns lon, lat and height_m or height_ft; it has nothing"),
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
        read_spots(write(tmp_path, content))
    assert "\n" not in str(caught.value)


def test_missing_file(tmp_path: Path) -> None:
    with pytest.raises(BadInputError, match=r"^cannot read .*none\.csv: No such file"):
        read_spots(tmp_path / "none.csv")


@settings(max_examples=200, deadline=None)
@given(content=st.one_of(st.binary(max_size=100), st.text(max_size=60).map(str.encode)))
def test_any_bytes_are_read_or_refused(
    tmp_path_factory: pytest.TempPathFactory, content: bytes
) -> None:
    folder = tmp_path_factory.getbasetemp()
    for head in (b"", b"lon,lat,height_m\n"):
        with suppress(BadInputError):
            assert np.isfinite(read_spots(write(folder, head + content))).all()


def test_two_tier_green_within_the_stated_error() -> None:
    surface = smooth_surface(spots_of(two_tiers, 2.0), X, Y)
    error = surface - two_tiers(*np.meshgrid(X, Y, indexing="ij"))
    assert error.std() < 0.005
    assert np.abs(error).max() < 0.025


def test_noise_leaves_the_stated_false_slope() -> None:
    spots = spots_of(lambda x, y: 0.02 * x, 2.0)
    spots[:, 2] += np.random.default_rng(1).normal(0.0, 0.02, len(spots))
    slope = np.diff(smooth_surface(spots, X, Y), axis=0) / 0.5 - 0.02
    assert 0.008 < slope.std() < 0.016


def test_plane_stays_a_plane_whatever_the_order() -> None:
    spots = spots_of(lambda x, y: 3.0 + 0.02 * x - 0.01 * y, 2.0, margin=40.0)
    np.random.default_rng(2).shuffle(spots)
    plane = 3.0 + 0.02 * X[:, None] - 0.01 * Y[None, :]
    np.testing.assert_allclose(smooth_surface(spots, X, Y), plane, atol=1e-4)


def test_close_spots_are_averaged() -> None:
    spots = spots_of(lambda x, y: np.zeros_like(x), 2.0)
    up = np.array([0.0, 0.0, 0.1])
    twice = np.concatenate([spots + up, spots - up])
    np.testing.assert_allclose(smooth_surface(twice, X, Y), 0.0, atol=1e-12)


def test_runs_out_level_without_swinging() -> None:
    """A steep edge of the survey must not throw the surface up or down beyond it."""
    cliff = spots_of(lambda x, y: np.where(y > 10.0, -2.0, 0.0), 2.0, margin=-10.0)
    surface = smooth_surface(cliff, X, Y)
    assert surface.min() > -2.7
    assert surface.max() < 0.7
    np.testing.assert_allclose(surface[0, :20], 0.0, atol=0.01)


def test_few_spots_in_a_row_are_enough_for_a_surface() -> None:
    spots = np.column_stack([np.arange(5.0) * 3.0, np.zeros(5), np.full(5, 1.5)])
    np.testing.assert_allclose(smooth_surface(spots, X, Y), 1.5, atol=1e-9)
