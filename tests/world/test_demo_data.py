"""The demo's files are what their scripts make, and hold what the demo is to show."""

import csv
import re
import runpy
from math import degrees, hypot, radians
from pathlib import Path

import numpy as np
import pytest

from carrybook.base.constants import CELSIUS_ZERO, FOOT, YARD
from carrybook.player.bag import Club, Flight, Shape, Shot
from carrybook.world.ground import Ground, Surface
from carrybook.world.hole import Hole
from carrybook.world.hole_map import list_holes, read_hole
from carrybook.world.locate import locate

ROOT = Path(__file__).parents[2]
DATA = ROOT / "src" / "carrybook" / "app" / "demo_data"
NUMBER = re.compile(r"-?\d+\.\d+")


def demo_hole(ref: str) -> Hole:
    return read_hole(DATA / "venue.geojson", ref, DATA / "heights.csv")


def height(ground: Ground, x: float, y: float) -> float:
    i, j = round((x - ground.x0) / ground.step), round((y - ground.y0) / ground.step)
    return float(ground.heights[i, j])


def slope(ground: Ground, x: float, y: float) -> float:
    """Steepness over two metres around a point."""
    along = (height(ground, x + 1.0, y) - height(ground, x - 1.0, y)) / 2.0
    across = (height(ground, x, y + 1.0) - height(ground, x, y - 1.0)) / 2.0
    return hypot(along, across)


@pytest.mark.parametrize(
    ("file", "maker"), [("venue.geojson", "map_text"), ("heights.csv", "heights_text")]
)
def test_venue_files_are_what_the_script_makes(file: str, maker: str) -> None:
    """Last digits may differ between machines: 1e-7 deg is 1 cm."""
    made = runpy.run_path(str(ROOT / "tools" / "make_demo_venue.py"))[maker]()
    kept = (DATA / file).read_bytes().decode()
    assert NUMBER.sub("#", made) == NUMBER.sub("#", kept)
    numbers = [np.array(NUMBER.findall(text), dtype=float) for text in (made, kept)]
    np.testing.assert_allclose(*numbers, rtol=0.0, atol=1.5e-3 if "csv" in file else 1.5e-7)


def test_venue_in_the_open_sea() -> None:
    hole = demo_hole("4")
    assert list_holes(DATA / "venue.geojson") == ("4", "11", "16")
    assert (hole.venue, hole.par, hole.heights_known) == ("Saltfen Reach", 4, True)
    assert "no real place" in hole.attribution
    lonlat = np.loadtxt(DATA / "heights.csv", delimiter=",", skiprows=1)[:, :2]
    np.testing.assert_allclose(lonlat.mean(axis=0), (4.1, 54.2), atol=0.02)


@pytest.mark.parametrize(("ref", "deep"), [("4", 34.0), ("11", 28.0), ("16", 30.0)])
def test_greens_are_as_deep_as_told(ref: str, deep: float) -> None:
    hole = demo_hole(ref)
    assert hole.green[:, 0].max() == pytest.approx(deep * YARD, abs=0.05)
    assert 20.0 < np.ptp(hole.green[:, 1]) / YARD < 30.0


@pytest.mark.parametrize(
    ("ref", "words"),
    [("4", "27 on, 9 from the left"), ("11", "8 on, centre"), ("16", "17 on, 7 from the left")],
)
def test_holes_are_cut_where_slopes_allow(ref: str, words: str) -> None:
    """At 1 to 3 % (green geometry, cupping areas), four paces and more from every edge."""
    hole = demo_hole(ref)
    spot = locate(hole, words)
    assert 0.010 < slope(hole.ground, spot.x, spot.y) < 0.030
    assert min(spot.on_m, spot.behind_m, spot.from_left_m, spot.from_right_m) >= 4.0 * YARD


def test_hole_4_has_two_tiers_and_a_bunker_right() -> None:
    ground = demo_hole("4").ground
    rise = height(ground, 23.0 * YARD, 0.0) - height(ground, 17.0 * YARD, 0.0)
    assert rise == pytest.approx(2.0 * FOOT + 6.0 * YARD * 0.0175, abs=0.06)
    assert 0.13 < slope(ground, 20.0 * YARD, 0.0) < 0.20
    assert ground.surface_at(13.5, -14.5) is Surface.BUNKER


def test_hole_11_is_guarded_by_a_deep_bunker_in_front() -> None:
    ground = demo_hole("11").ground
    across = [ground.surface_at(-5.0, y) for y in np.arange(-7.0, 7.5)]
    assert set(across) == {Surface.BUNKER}
    assert height(ground, -5.0, 0.0) < height(ground, 0.5, 0.0) - 1.2
    fall = height(ground, 20.0, 0.0) - height(ground, 5.0, 0.0)
    assert fall / 15.0 == pytest.approx(0.02, abs=0.004)


def test_hole_16_has_water_three_metres_left_of_a_green_that_leans_to_it() -> None:
    ground = demo_hole("16").ground
    left = max(y for y in np.arange(0.0, 20.0, 0.1) if ground.surface_at(14.0, y) is Surface.GREEN)
    water = min(y for y in np.arange(0.0, 20.0, 0.1) if ground.surface_at(14.0, y) is Surface.WATER)
    assert water - left == pytest.approx(3.0, abs=0.6)
    lean = (height(ground, 14.0, -7.0) - height(ground, 14.0, 5.0)) / 12.0
    assert lean == pytest.approx(0.015, abs=0.004)
    assert ground.surface_at(15.0, -15.0) is Surface.BUNKER
    assert height(ground, 14.0, 20.0) < -0.8


def shots() -> dict[str, Shot]:
    with (DATA / "shots.csv").open(encoding="utf-8", newline="") as file:
        owned = [
            Shot(
                Club(row["club"], radians(float(row["loft_deg"]))),
                Flight(row["flight"]),
                Shape(row["shape"]),
                float(row["carry_yd"]) * YARD,
                float(row["shortest_yd"]) * YARD,
                float(row["longest_yd"]) * YARD,
                row["cue"],
                row["trusted"] == "yes",
            )
            for row in csv.DictReader(file)
        ]
    return {shot.label: shot for shot in owned}


def balls() -> list[dict[str, str]]:
    with (DATA / "balls.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file, delimiter=";"))


def test_shots_are_owned_shots() -> None:
    assert list(shots()) == ["60", "60 low", "56", "56 low", "52", "48", "9 low"]


def test_log_holds_both_sessions_in_their_own_units() -> None:
    rows = balls()
    assert len(rows) == 420
    assert {row["temperature"] for row in rows} == {"75F", "7C"}
    metric = [row["carry (yd)"].endswith(" m") for row in rows if row["carry (yd)"]]
    assert 0.40 < np.mean(metric) < 0.50
    assert 0.55 < np.mean([row["spin (rpm)"] != "" for row in rows]) < 0.65
    assert 0.09 < np.mean([row["moisture"] == "wet" for row in rows]) < 0.15


def test_four_rows_are_nonsense() -> None:
    rows = balls()
    assert [row["shot"] for row in rows if row["shot"] not in shots()] == ["64"]
    assert [row["launch (deg)"] for row in rows if row["launch (deg)"].isalpha()] == ["high"]
    odd = [row["carry (yd)"] for row in rows if row["carry (yd)"] in ("about 70", "1910")]
    assert odd == ["about 70", "1910"]


def test_stock_balls_carry_about_what_the_truth_says() -> None:
    """Dry stock balls of the warm session: each median within 4 %, all together within 1.5 %."""
    truth = runpy.run_path(str(ROOT / "tools" / "make_demo_balls.py"))["SHOTS"]
    rows = [r for r in balls() if r["temperature"] == "75F" and r["moisture"] == "dry"]
    ratios = []
    for shot in truth:
        stock = [
            float(r["carry (yd)"])
            for r in rows
            if r["shot"] == shot.label
            and r["intended (yd)"] == str(shot.says_yd)
            and r["carry (yd)"].replace(".", "").isdigit()
        ]
        assert len(stock) >= 8
        ratios.append(float(np.median(stock)) / shot.is_yd)
    assert ratios == pytest.approx([1.0] * len(truth), abs=0.04)
    assert np.mean(ratios) == pytest.approx(1.0, abs=0.015)


def test_air_of_the_script_is_the_air_of_the_log() -> None:
    warm, cold = runpy.run_path(str(ROOT / "tools" / "make_demo_balls.py"))["SESSIONS"]
    assert warm.air.temperature_k - CELSIUS_ZERO == pytest.approx((75.0 - 32.0) / 1.8)
    assert cold.air.temperature_k - CELSIUS_ZERO == pytest.approx(7.0)
    assert degrees(shots()["52"].club.loft_rad) == pytest.approx(52.0)
