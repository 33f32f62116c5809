"""Picture of one flown ball: the band it was given, sides the right way round, units, sizes."""

from dataclasses import replace
from io import BytesIO
from math import radians
from typing import Any

import numpy as np
import pytest
from matplotlib.axes import Axes
from matplotlib.colors import to_rgb
from matplotlib.text import Text

from carrybook.artefacts import style
from carrybook.artefacts.flown import flight_side_and_plan
from carrybook.base.constants import FOOT, RPM, YARD
from carrybook.base.errors import BadInputError
from carrybook.physics.band import FlownBand, fly_band
from carrybook.physics.flight import Launch
from carrybook.world.air import REFERENCE_DAY
from carrybook.world.wind import Wind

NAMES = ("low", "middle", "high")


@pytest.fixture(scope="module")
def flown() -> FlownBand:
    """Start 1 deg left, with a wind from the left and a tilt that both push it right."""
    launch = Launch(34.0, radians(30.0), 9000 * RPM, radians(4.0), radians(-1.0))
    return fly_band(launch, REFERENCE_DAY, Wind(5.0, radians(250.0)))


def drawn(axes: Axes, gid: str) -> Any:  # noqa: ANN401 - a line
    (artist,) = axes.findobj(lambda a: a.get_gid() == gid)
    return artist


@pytest.mark.parametrize(("units", "far", "near"), [("yards", YARD, FOOT), ("metres", 1.0, 1.0)])
def test_both_panels_draw_the_paths_they_were_given(
    flown: FlownBand, units: str, far: float, near: float
) -> None:
    side, plan = flight_side_and_plan(flown, units=units).axes
    for name, path in zip(NAMES, flown.paths, strict=True):
        seen = drawn(side, f"{name} path").get_xydata()
        assert seen == pytest.approx(path[:, (0, 2)] / (far, near))
        above = drawn(plan, f"{name} path").get_xydata()
        assert above == pytest.approx(np.column_stack([path[:, 0], -path[:, 1]]) / far)
        assert drawn(side, f"{name} landing").get_xydata()[0] == pytest.approx(seen[-1])
        assert drawn(plan, f"{name} landing").get_xydata()[0] == pytest.approx(above[-1])


def test_the_players_right_is_down_and_all_is_inside(flown: FlownBand) -> None:
    plan = flight_side_and_plan(flown).axes[1]
    low, high = plan.get_ylim()
    assert low > high
    assert 0.0 < drawn(plan, "middle landing").get_ydata()[0] < low
    assert plan.yaxis.get_major_formatter()(-2.0, 0) == "2 L"
    assert plan.yaxis.get_major_formatter()(4.0, 0) == "4 R"
    assert plan.yaxis.get_major_formatter()(0.0, 0) == "0"
    start = drawn(plan, "start line").get_ydata()
    assert high < start[-1] < 0.0
    straight = replace(flown, launch=replace(flown.launch, start_right_rad=0.0))
    assert not flight_side_and_plan(straight).findobj(lambda a: a.get_gid() == "start line")


@pytest.mark.parametrize(("units", "far", "near"), [("yards", "yd", "ft"), ("metres", "m", "m")])
def test_every_axis_says_its_unit(flown: FlownBand, units: str, far: str, near: str) -> None:
    side, plan = flight_side_and_plan(flown, units=units).axes
    assert f"[{near}]" in side.get_ylabel()
    for label in (side.get_xlabel(), plan.get_xlabel(), plan.get_ylabel()):
        assert f"[{far}]" in label


def test_the_sets_differ_without_colour_and_the_middle_wears_the_accent(flown: FlownBand) -> None:
    side = flight_side_and_plan(flown).axes[0]
    lines = [drawn(side, f"{name} path") for name in NAMES]
    assert len({str(line._unscaled_dash_pattern) for line in lines}) == 3
    assert to_rgb(lines[1].get_color()) == to_rgb(style.ACCENT)


def test_the_title_says_the_band_the_launch_and_the_day(flown: FlownBand) -> None:
    said = [text.get_text() for text in flight_side_and_plan(flown).texts]
    carries = sorted(landing.carry_m / YARD for landing in flown.landings)
    low, middle, high = (f"{carry:.0f}" for carry in carries)
    assert said[0].startswith(f"carries {middle} yd ({low} to {high}), ")
    assert said[1:3] == ["76 mph, 30° up, 9000 rpm", "wind 11 mph across from the left"]
    assert said[3].startswith("20 C (68 F)")


def test_texts_are_large_enough_and_lie_inside(flown: FlownBand) -> None:
    figure = flight_side_and_plan(flown)
    figure.draw_without_rendering()
    texts = [t for t in figure.findobj(Text) if isinstance(t, Text) and t.get_text()]
    assert min(t.get_fontsize() for t in texts) >= 7.5
    labels = [a for axes in figure.axes for a in (axes.xaxis.label, axes.yaxis.label)]
    boxes = [t.get_window_extent() for t in (*figure.texts, *labels, *figure.legends)]
    for k, box in enumerate(boxes):
        assert figure.bbox.x0 <= box.x0 < box.x1 <= figure.bbox.x1
        assert figure.bbox.y0 <= box.y0
        assert not any(box.overlaps(other) for other in boxes[k + 1 :])


@pytest.mark.parametrize("rise_m", [6.0, -9.0])
def test_ground_above_or_below_the_ball_can_be_drawn(flown: FlownBand, rise_m: float) -> None:
    figure = flight_side_and_plan(fly_band(flown.launch, height_change_m=rise_m))
    low, high = figure.axes[0].get_ylim()
    landed = drawn(figure.axes[0], "middle landing").get_ydata()[0]
    assert low < landed < high
    assert landed == pytest.approx(rise_m / FOOT, abs=1e-3)
    figure.savefig(BytesIO(), format="svg")


def test_unknown_units_are_refused(flown: FlownBand) -> None:
    with pytest.raises(BadInputError, match="units = 'feet'"):
        flight_side_and_plan(flown, units="feet")
