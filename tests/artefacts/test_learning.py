"""Pictures of learning show the data they were given."""

from datetime import date

import numpy as np
import pytest

from carrybook.artefacts.learning import feel_figure, learning_curve_figure
from carrybook.base.constants import YARD
from carrybook.base.errors import BadInputError
from carrybook.player.learn.check import CurvePoint
from carrybook.player.learn.feel import Feel, FeelGap, Trust, Week

POINTS = [
    CurvePoint(balls, label, balls // 2, width * YARD)
    for balls, width in ((0, 12.0), (10, 6.0), (100, 2.0))
    for label in ("54", "60 low")
]
GAPS = tuple(FeelGap(x, 0.0, np.inf, 20, 0.02, 0.01, 0.03) for x in ("all", "54"))
BANDS = (FeelGap("all", 40 * YARD, 60 * YARD, 9, -0.01, -0.03, 0.01),)
FEEL = Feel(
    GAPS, GAPS[:1], BANDS, (), (Trust("all", 20, 0.5, 0.3, 0.7, 1.0),),
    (Week(date(2026, 6, 1), 9, 0.0, -0.01, 0.01),),
)  # fmt: skip


def test_one_line_a_shot_with_its_widths() -> None:
    (axes,) = learning_curve_figure(POINTS).axes
    lines = [line for line in axes.lines if line.get_gid() == "shot"]
    assert [line.get_label() for line in lines] == ["54", "60 low"]
    assert list(lines[0].get_xdata()) == [0, 5, 50]
    assert list(lines[0].get_ydata()) == pytest.approx([12.0, 6.0, 2.0])
    assert "[yd]" in axes.get_ylabel()
    metres = learning_curve_figure(POINTS, units="metres").axes[0]
    assert metres.lines[0].get_ydata()[0] == pytest.approx(12.0 * YARD)


def test_lines_differ_without_colour() -> None:
    (axes,) = learning_curve_figure(POINTS).axes
    first, second = axes.lines[:2]
    assert first.get_marker() != second.get_marker()
    assert first.get_linestyle() != second.get_linestyle()


def test_gaps_stand_with_their_intervals_both_kinds_apart() -> None:
    above, below = feel_figure(FEEL).axes
    intervals = [line for line in above.lines if line.get_gid() == "interval"]
    assert len(intervals) == len(GAPS) + 1
    assert list(intervals[0].get_xdata()) == pytest.approx([1.0, 3.0])
    fills = {str(line.get_markerfacecolor()) for line in above.lines if line.get_gid() == "middle"}
    assert len(fills) == 2
    assert below.lines[1].get_xdata()[0] == pytest.approx(49.4)


def test_no_calls_still_draw_a_figure_and_units_are_checked() -> None:
    nothing = Feel((), (), (), (), (), ())
    assert len(feel_figure(nothing).axes) == 2
    for draw, what in ((feel_figure, FEEL), (learning_curve_figure, POINTS)):
        with pytest.raises(BadInputError, match="units"):
            draw(what, units="feet")  # type: ignore[operator]
