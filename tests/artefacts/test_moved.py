"""Picture of what moved the carries: bars of the parts, a dot for the sum, units, sizes."""

from collections.abc import Sequence
from dataclasses import replace
from io import BytesIO
from typing import Any

import pytest
from matplotlib.axes import Axes
from matplotlib.text import Text

from carrybook.artefacts.moved import what_moved
from carrybook.base.constants import YARD
from carrybook.base.errors import BadInputError
from carrybook.player.moved import Moved
from carrybook.player.numbers import TodayNumber


@pytest.fixture
def moves(numbers: Sequence[TodayNumber]) -> tuple[Moved, ...]:
    """Both down; one up, one down; both up."""
    parts = ((-2.0, -1.0), (-1.5, 4.2), (0.5, 1.0))
    return tuple(
        Moved(number, air * YARD, lie * YARD)
        for number, (air, lie) in zip(numbers, parts, strict=True)
    )


def drawn(axes: Axes, gid: str) -> list[Any]:
    return axes.findobj(lambda a: a.get_gid() == gid)


@pytest.mark.parametrize(("units", "far_m", "far"), [("yards", YARD, "yd"), ("metres", 1.0, "m")])
def test_bars_are_the_parts_and_the_dot_their_sum(
    moves: tuple[Moved, ...], units: str, far_m: float, far: str
) -> None:
    axes = what_moved(moves, units=units).axes[0]
    assert f"[{far}]" in axes.get_xlabel()
    assert axes.get_ylabel() == "shot"
    rows = sorted(moves, key=lambda m: m.number.today_m)
    for name in ("air", "lie"):
        widths = [bar.get_width() for bar in drawn(axes, name)]
        assert widths == pytest.approx([getattr(m, f"{name}_m") / far_m for m in rows])
    both = [float(dot.get_xdata()[0]) for dot in drawn(axes, "both")]
    assert both == pytest.approx([(m.air_m + m.lie_m) / far_m for m in rows])
    labels = [tick.get_text() for tick in axes.get_yticklabels()]
    assert labels == [m.number.summary.shot.label for m in rows]


def test_numbers_stand_beyond_everything_in_their_row(moves: tuple[Moved, ...]) -> None:
    figure = what_moved(moves)
    figure.draw_without_rendering()
    (axes,) = figure.axes
    shown = {t.get_text(): t.get_window_extent() for t in axes.texts}
    assert set(shown) == {"−3.0", "+3", "+2"}  # tenths only where under 1 yd is left open
    bars = [bar.get_window_extent() for name in ("air", "lie") for bar in drawn(axes, name)]
    for box in shown.values():
        assert axes.bbox.x0 < box.x0 < box.x1 < axes.bbox.x1 + 1.0
        assert not any(box.overlaps(bar) for bar in bars if bar.width > 0.5)


def test_what_is_left_open_is_drawn(moves: tuple[Moved, ...]) -> None:
    (axes,) = what_moved(moves, units="metres").axes
    rows = sorted((m.number for m in moves), key=lambda n: n.today_m)
    for line, n in zip(drawn(axes, "open"), rows, strict=True):
        ends = (n.today_low_m - n.reference_m, n.today_high_m - n.reference_m)
        assert list(line.get_xdata()) == pytest.approx(ends)
        assert axes.get_xlim()[0] < ends[0] < ends[1] < axes.get_xlim()[1]


def test_air_and_lie_differ_without_colour(moves: tuple[Moved, ...]) -> None:
    axes = what_moved(moves).axes[0]
    assert not drawn(axes, "air")[0].get_hatch()
    assert drawn(axes, "lie")[0].get_hatch()


def test_a_day_on_which_nothing_moves_can_be_drawn(moves: tuple[Moved, ...]) -> None:
    figure = what_moved([replace(m, air_m=0.0, lie_m=0.0) for m in moves])
    low, high = figure.axes[0].get_xlim()
    assert low < -1.0
    assert high > 1.0
    figure.savefig(BytesIO(), format="png", dpi=80)
    texts = [t for t in figure.findobj(Text) if isinstance(t, Text) and t.get_text()]
    assert min(t.get_fontsize() for t in texts) >= 7.5


def test_unknown_units_are_refused(moves: tuple[Moved, ...]) -> None:
    with pytest.raises(BadInputError, match="units = 'feet'"):
        what_moved(moves, units="feet")
