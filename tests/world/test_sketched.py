"""Surfaces through a few readings: they come back, and are as sure as they say."""

from pathlib import Path

import numpy as np
import pytest

from carrybook.base.constants import YARD
from carrybook.base.errors import BadInputError
from carrybook.base.numerics import Floats
from carrybook.world.described_hole import described_hole
from carrybook.world.hole import Hole
from carrybook.world.relief import with_heights
from carrybook.world.shape import doubt_at, shape_at

X, Y = (v.ravel() for v in np.meshgrid(np.arange(1.0, 26.5, 1.5), np.arange(-9.0, 9.1, 1.5)))


def swell(x: Floats, y: Floats) -> Floats:
    return np.asarray(0.02 * x + 0.01 * y + 0.12 * np.sin(x / 6.0) * np.cos(y / 7.0))


def swell_slope(x: Floats, y: Floats) -> tuple[Floats, Floats]:
    return (
        0.02 + 0.02 * np.cos(x / 6.0) * np.cos(y / 7.0),
        0.01 - 0.12 / 7.0 * np.sin(x / 6.0) * np.sin(y / 7.0),
    )


def level() -> Hole:
    return described_hole("30 deep, 24 wide")


def sketch(
    folder: Path, header: str, rows: list[tuple[object, ...]], hole: Hole | None = None
) -> Hole:
    path = folder / "green.csv"
    path.write_text("\n".join([header, *(",".join(str(v) for v in row) for row in rows)]))
    return with_heights(hole or level(), path, None)


def places(n: int, seed: int) -> tuple[Floats, Floats]:
    rng = np.random.default_rng(seed)
    return rng.uniform(0.0, 27.0, n), rng.uniform(-10.0, 10.0, n)


def test_spot_heights_give_the_surface_within_its_own_error(tmp_path: Path) -> None:
    x, y = places(60, 1)
    z = 7.0 + swell(x, y) + np.random.default_rng(2).normal(0.0, 0.01, 60)
    hole = sketch(tmp_path, "x_m,y_m,height_m", list(zip(x, y, z, strict=True)))
    error = shape_at(hole.ground, X, Y).height - (swell(X, Y) - swell(np.zeros(1), np.zeros(1)))
    assert hole.doubt is not None
    se = doubt_at(hole.ground, hole.doubt, X, Y)[0]
    assert np.sqrt(np.mean(error**2)) < 0.03
    assert 0.4 < np.sqrt(np.mean((error / se) ** 2)) < 1.8
    assert "60 heights" in hole.notes[-1]


def test_slope_readings_alone_give_slopes_and_heights(tmp_path: Path) -> None:
    x, y = places(40, 3)
    sx, sy = swell_slope(x, y)
    rng = np.random.default_rng(4)
    sx, sy = sx + rng.normal(0, 0.003, 40), sy + rng.normal(0, 0.003, 40)
    turn = np.degrees(np.arctan2(sy, -sx)) % 360.0
    rows = list(zip(x, -y, 100.0 * np.hypot(sx, sy), turn, strict=True))
    hole = sketch(tmp_path, "on_m,right_m,slope_pct,falls_to", rows)
    shape, (want_x, want_y) = shape_at(hole.ground, X, Y), swell_slope(X, Y)
    assert hole.doubt is not None
    se = doubt_at(hole.ground, hole.doubt, X, Y)[1]
    both = np.concatenate([shape.slope_x - want_x, shape.slope_y - want_y])
    assert np.sqrt(np.mean(both**2)) < 0.006
    assert 0.4 < np.sqrt(np.mean((both / np.tile(se, 2)) ** 2)) < 1.8
    assert shape_at(hole.ground, 25.0, 0.0).height == pytest.approx(
        float(swell(np.array([25.0]), np.zeros(1))[0]), abs=0.1
    )


def test_more_readings_are_surer(tmp_path: Path) -> None:
    se = []
    for n in (6, 20, 80):
        x, y = places(n, 5)
        hole = sketch(tmp_path, "x_m,y_m,height_m", list(zip(x, y, swell(x, y), strict=True)))
        assert hole.doubt is not None
        se.append(float(np.median(doubt_at(hole.ground, hole.doubt, X, Y)[1])))
    assert se[0] > se[1] > se[2]


def test_readings_correct_a_description(tmp_path: Path) -> None:
    """Four slopes that agree with a described tilt leave its tier where it was."""
    told = described_hole(
        "30 deep, 24 wide; tilt back to front 2 %; shelf at 18, rises 2 ft over 3"
    )
    rows = [(on, right, 2.0, "front") for on, right in ((4, 5), (8, -6), (12, 5), (13, -6))]
    hole = sketch(tmp_path, "on,right,slope_pct,falls_to", rows, told)
    before, after = (shape_at(h.ground, 19.5 * YARD, 0.0).slope_x for h in (told, hole))
    assert after == pytest.approx(before, abs=0.01)
    off = [(on, right, 4.0, "front") for on, right in ((4, 5), (8, -6), (12, 5), (13, -6))]
    steeper = sketch(tmp_path, "on,right,slope_pct,falls_to", off, told)
    assert shape_at(steeper.ground, 9 * YARD, 0.0).slope_x == pytest.approx(0.04, abs=0.005)


def test_the_level_does_not_matter(tmp_path: Path) -> None:
    x, y = places(20, 6)
    low, high = (
        sketch(tmp_path, "x_m,y_m,height_m", list(zip(x, y, swell(x, y) + level_m, strict=True)))
        for level_m in (0.0, 1500.0)
    )
    np.testing.assert_allclose(low.ground.heights, high.ground.heights, atol=1e-4)


def test_the_surface_levels_out_beyond_the_green(tmp_path: Path) -> None:
    x, y = places(30, 7)
    ground = sketch(tmp_path, "x_m,y_m,height_m", list(zip(x, y, swell(x, y), strict=True))).ground
    assert float(shape_at(ground, -120.0, 0.0).slope) == pytest.approx(0.0, abs=1e-9)
    assert np.ptp(ground.heights) < 2.0


@pytest.mark.parametrize(
    ("header", "rows", "message"),
    [
        ("x,y,height_m", [(5, 0, 1), (6, 0, 1), (7, 1, 1)], r"^green.csv: 3 readings on and"),
        ("lon,lat,height_m", [(4.1, 54.2, 1)] * 5, r"described green has no place on the earth"),
        ("on,right,slope_pct,falls_to", [(n % 20, n % 7, 1, 30) for n in range(301)],
         r"has 301 readings with slopes near the green; at most 300 can be used$"),
    ],
)  # fmt: skip
def test_sketches_that_cannot_be_used(
    tmp_path: Path, header: str, rows: list[tuple[object, ...]], message: str
) -> None:
    with pytest.raises(BadInputError, match=message):
        sketch(tmp_path, header, rows)


def test_a_raster_needs_a_place(tmp_path: Path) -> None:
    with pytest.raises(BadInputError, match=r"h.tif: a described green has no place on the earth"):
        with_heights(level(), tmp_path / "h.tif", None)
