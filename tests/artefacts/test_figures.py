"""Pictures: what is given is what is drawn, axes say their unit, nothing global is touched."""

from dataclasses import replace
from io import BytesIO
from typing import Any

import matplotlib
import numpy as np
import pytest
from matplotlib.axes import Axes
from matplotlib.collections import PathCollection
from matplotlib.colors import to_rgb
from matplotlib.figure import Figure
from matplotlib.text import Text

from carrybook.artefacts import style
from carrybook.artefacts.figures import ladder, plan_and_side
from carrybook.artefacts.view import View
from carrybook.artefacts.words import METRES, YARDS, Units
from carrybook.base.constants import FOOT, YARD
from carrybook.base.errors import BadInputError
from carrybook.decision.advice import Advice
from carrybook.player.numbers import TodayNumber
from carrybook.world.ground import flat_ground
from carrybook.world.wind import CALM


def drawn(axes: Axes, gid: str) -> Any:  # noqa: ANN401 - a line, dots or a patch
    """Find the one artist that carries this mark."""
    (artist,) = axes.findobj(lambda a: a.get_gid() == gid)
    return artist


def rendered(figure: Figure, dpi: float = 80) -> bytes:
    buffer = BytesIO()
    figure.savefig(buffer, format="png", dpi=dpi)
    return buffer.getvalue()


@pytest.mark.parametrize(("units", "far", "near"), [("yards", "yd", "ft"), ("metres", "m", "m")])
def test_every_axis_says_its_unit(advice: Advice, units: str, far: str, near: str) -> None:
    above, flight, landing = plan_and_side(advice, units=units).axes
    for label in (
        above.get_xlabel(),
        above.get_ylabel(),
        flight.get_xlabel(),
        landing.get_xlabel(),
    ):
        assert f"[{far}]" in label
    for label in (flight.get_ylabel(), landing.get_ylabel()):
        assert f"[{near}]" in label


@pytest.mark.parametrize(("name", "units"), [("yards", YARDS), ("metres", METRES)])
def test_plan_draws_what_it_was_given(advice: Advice, name: str, units: Units) -> None:
    above = plan_and_side(advice, units=name).axes[0]
    best, view = advice.options[0], View(advice.situation, units)
    dots = drawn(above, "finishes")
    assert isinstance(dots, PathCollection)
    assert np.asarray(dots.get_offsets()) == pytest.approx(view.outline(best.finishes))
    spot = np.array([[best.landing_x, best.landing_y]])
    assert drawn(above, "landing").get_xydata() == pytest.approx(view.outline(spot))
    track = drawn(above, "track").get_xydata()
    assert track == pytest.approx(view.outline(best.flight[:, :2]))
    assert drawn(above, "hole").get_xydata()[0] == pytest.approx((0.0, view.number))
    aim = drawn(above, "start line").get_xydata()[1]
    assert aim == pytest.approx((best.aim_right_m / units.far_m, view.number))


def test_landing_spot_lies_left_and_short_as_the_words_say(advice: Advice) -> None:
    above = plan_and_side(advice).axes[0]
    right, along = drawn(above, "landing").get_xydata()[0]
    assert right == pytest.approx(-2.1, abs=1e-6)
    assert along == pytest.approx(112.0 - 6.2, abs=1e-6)


def test_plan_has_one_scale_and_shows_the_green(advice: Advice) -> None:
    above = plan_and_side(advice).axes[0]
    box = above.get_window_extent()
    (left, right), (near, far) = above.get_xlim(), above.get_ylim()
    assert (right - left) / box.width == pytest.approx((far - near) / box.height, rel=1e-6)
    green = View(advice.situation, YARDS).outline(advice.situation.hole.green)
    assert left < green[:, 0].min() < green[:, 0].max() < right
    assert near < green[:, 1].min() < green[:, 1].max() < far


def test_side_draws_the_flight_above_the_ball(advice: Advice) -> None:
    flight = plan_and_side(advice).axes[1]
    best = advice.options[0]
    height = drawn(flight, "flight").get_ydata()
    assert height == pytest.approx((best.flight[:, 2] - best.flight[0, 2]) / FOOT)
    assert any("79 ft high, 5.1 s" in text.get_text() for text in flight.texts)


def test_run_is_drawn_from_tenth_to_ninetieth(advice: Advice) -> None:
    landing = plan_and_side(advice).axes[2]
    best = advice.options[0]
    at = View(advice.situation, YARDS).outline(best.flight[-1:, :2])[0, 1]
    bar = drawn(landing, "run").get_xdata()
    assert bar[[0, -1]] == pytest.approx((at - 1.1, at + 5.2))
    assert drawn(landing, "finish").get_xdata()[0] == pytest.approx(at + 2.2)
    low, high = landing.get_xlim()
    assert low < bar[0] < bar[-1] < high


def test_only_the_chosen_shot_wears_the_accent(advice: Advice) -> None:
    above = plan_and_side(advice).axes[0]
    assert to_rgb(drawn(above, "landing").get_color()) == to_rgb(style.ACCENT)
    rival = drawn(above, "rival landing")
    assert to_rgb(rival.get_markeredgecolor()) == to_rgb(style.INK)
    alone = plan_and_side(replace(advice, options=advice.options[:1])).axes[0]
    assert not alone.findobj(lambda a: a.get_gid() == "rival landing")


def test_bunker_and_water_differ_without_colour(advice: Advice) -> None:
    above = plan_and_side(advice).axes[0]
    hatches = {kind: drawn(above, kind).get_hatch() for kind in ("bunker", "water")}
    assert all(hatches.values())
    assert hatches["bunker"] != hatches["water"]


def test_no_text_smaller_than_a_phone_shows(
    advice: Advice, numbers: tuple[TodayNumber, ...]
) -> None:
    for figure in (plan_and_side(advice), ladder(numbers)):
        texts = [t for t in figure.findobj(Text) if isinstance(t, Text) and t.get_text()]
        assert min(t.get_fontsize() for t in texts) >= 7.5
        assert {tuple(t.get_fontfamily()) for t in texts} == {(style.FONT,)}


@pytest.mark.parametrize("dpi", [80, 1200 / 4.5])
def test_rendered_width(advice: Advice, dpi: float) -> None:
    figure = plan_and_side(advice)
    width = int.from_bytes(rendered(figure, dpi)[16:20], "big")  # of the PNG's header
    assert width == pytest.approx(4.5 * dpi, abs=1.0)


def test_texts_lie_inside_the_picture_and_apart(advice: Advice) -> None:
    """Neither clipped nor on top of each other: title lines, axis labels, legend."""
    figure = plan_and_side(advice)
    figure.draw_without_rendering()
    labels = [a for axes in figure.axes for a in (axes.xaxis.label, axes.yaxis.label)]
    boxes = [t.get_window_extent() for t in (*figure.texts, *labels, *figure.legends)]
    for k, box in enumerate(boxes):
        assert figure.bbox.x0 <= box.x0
        assert box.x1 <= figure.bbox.x1
        assert figure.bbox.y0 <= box.y0
        assert not any(box.overlaps(other) for other in boxes[k + 1 :])


def test_ground_without_slope_or_map_can_be_drawn(advice: Advice) -> None:
    hole = replace(advice.situation.hole, ground=flat_ground(), areas=())
    situation = replace(advice.situation, hole=hole, wind=CALM)
    assert rendered(plan_and_side(replace(advice, situation=situation)))


def test_odd_characters_are_drawn_as_they_are(
    nasty: Advice, numbers: tuple[TodayNumber, ...]
) -> None:
    figure = plan_and_side(nasty)
    assert rendered(figure)
    assert any("$x_1$ <b>&amp;" in text.get_text() for text in figure.texts)
    odd = replace(numbers[0], summary=nasty.options[0].summary)
    assert rendered(ladder([odd, *numbers]))


def test_a_handful_of_finishes_gets_no_regions(advice: Advice) -> None:
    best = advice.options[0]
    few = replace(best, finishes=best.finishes[:3])
    figure = plan_and_side(replace(advice, options=(few,)))
    assert rendered(figure)
    assert len(np.asarray(drawn(figure.axes[0], "finishes").get_offsets())) == 3


def test_half_and_nine_in_ten_lie_inside_their_outlines(advice: Advice) -> None:
    best = advice.options[0]
    above = plan_and_side(replace(advice, options=(best,))).axes[0]
    (regions,) = above.findobj(lambda a: a.get_gid() == "regions")
    balls = View(advice.situation, YARDS).outline(best.finishes)
    shares = [path.contains_points(balls).mean() for path in regions.get_paths()]
    assert shares == pytest.approx([0.9, 0.5], abs=0.02)


def test_ladder_draws_carries_scatter_and_partials(numbers: tuple[TodayNumber, ...]) -> None:
    axes = ladder(numbers).axes[0]
    assert axes.get_xlabel() == "carry today, level [yd]"
    today = axes.findobj(lambda a: a.get_gid() == "today")
    carries = sorted(n.today_m / YARD for n in numbers)
    assert [float(dot.get_xdata()[0]) for dot in today] == pytest.approx(carries)
    one_ball = axes.findobj(lambda a: a.get_gid() == "one ball")[-1].get_xdata()
    assert one_ball == pytest.approx((carries[-1] - 4.0, carries[-1] + 4.0))
    first = numbers[0]
    partials = axes.findobj(lambda a: a.get_gid() == "partials")[-1].get_xdata()
    assert partials == pytest.approx((first.shortest_m / YARD, first.longest_m / YARD))


def test_ladder_draws_what_is_left_open_below_each_rung(numbers: tuple[TodayNumber, ...]) -> None:
    axes = ladder(numbers).axes[0]
    rungs = sorted(numbers, key=lambda n: n.today_m)
    bands = axes.findobj(lambda a: a.get_gid() == "band")
    for y, (band, n) in enumerate(zip(bands, rungs, strict=True)):
        assert list(band.get_xdata()) == pytest.approx(
            (n.today_low_m / YARD, n.today_high_m / YARD)
        )
        assert all(y - 0.5 < at < y - 0.2 for at in band.get_ydata())


def test_no_height_is_written_over_the_hole(advice: Advice) -> None:
    above = plan_and_side(advice).axes[0]
    heights = [t for t in above.texts if t.get_text()[:1] in "+-0123456789"]
    assert heights
    number = advice.situation.number_m / YARD
    heights = [t for t in heights if t.get_transform() == above.transData]
    for text in heights:
        right, along = text.get_position()
        assert np.hypot(right, along - number) * YARD >= 5.0


def test_a_few_stray_balls_make_no_region_of_their_own(advice: Advice) -> None:
    best = advice.options[0]
    stray = np.full((16, 2), best.finishes.mean(axis=0)) + np.array([2.0, 14.0])
    many = replace(best, finishes=np.vstack([best.finishes, stray]))
    above = plan_and_side(replace(advice, options=(many,))).axes[0]
    (regions,) = above.findobj(lambda a: a.get_gid() == "regions")
    assert [len(path.to_polygons()) for path in regions.get_paths()] == [1, 1]


def test_a_shot_without_balls_looks_uncertain(numbers: tuple[TodayNumber, ...]) -> None:
    axes = ladder(numbers).axes[0]
    dots = axes.findobj(lambda a: a.get_gid() == "today")
    bars = axes.findobj(lambda a: a.get_gid() == "centre")
    assert [to_rgb(dot.get_markerfacecolor()) == to_rgb(style.PAPER) for dot in dots] == [
        n.summary.balls == 0 for n in sorted(numbers, key=lambda n: n.today_m)
    ]
    assert [bar.get_linestyle() for bar in bars] == ["--", "-", "-"]


def test_nothing_global_is_touched(advice: Advice, numbers: tuple[TodayNumber, ...]) -> None:
    before = dict(matplotlib.rcParams)
    first = rendered(plan_and_side(advice))
    ladder(numbers)
    assert dict(matplotlib.rcParams) == before
    assert rendered(plan_and_side(advice)) == first


def test_unknown_units_are_refused(advice: Advice, numbers: tuple[TodayNumber, ...]) -> None:
    with pytest.raises(BadInputError, match="units = 'feet'"):
        plan_and_side(advice, units="feet")
    with pytest.raises(BadInputError, match="units = 'feet'"):
        ladder(numbers, units="feet")
