"""Picture of what to leave: what it was given, units, marks."""

from io import BytesIO

import numpy as np
import pytest

from carrybook.artefacts import style
from carrybook.artefacts.leave import leave_figure
from carrybook.base.constants import YARD
from carrybook.base.errors import BadInputError
from carrybook.decision.advice import Advice, Trouble
from carrybook.decision.lay_ups import LayUpScatter, LeaveAsked
from carrybook.decision.leave import Distance, LeaveTable
from carrybook.world.ground import Surface


@pytest.fixture
def table(advice: Advice) -> LeaveTable:
    """Four distances, one of them without a shot, two of them flat."""
    left = tuple(y * YARD for y in (40.0, 60.0, 80.0, 100.0))
    nan = float("nan")
    rows = (
        Distance(left[0], Surface.FAIRWAY, "", "", 0.0, nan, nan, nan, nan, False, {}),
        Distance(left[1], Surface.FAIRWAY, "60", "", 55.0, 2.60, 0.01, 0.0, 0.0, True, {}),
        Distance(
            left[2], Surface.ROUGH, "54 low $x$", "", 74.0, 2.61, 0.01, 0.01, 0.01, True,
            {Trouble.WATER: 0.25, Trouble.ROUGH: 0.5},
        ),
        Distance(left[3], Surface.FAIRWAY, "54", "", 91.0, 2.75, 0.01, 0.15, 0.03, False, {}),
    )  # fmt: skip
    asked = LeaveAsked(left, LayUpScatter(5.0, 5.0), favourite_m=left[2])
    return LeaveTable(advice.situation, asked, rows, 1, None, None, 4096, 1, ())


@pytest.mark.parametrize(("units", "far", "name"), [("yards", YARD, "yd"), ("metres", 1.0, "m")])
def test_it_draws_what_it_was_given(table: LeaveTable, units: str, far: float, name: str) -> None:
    above, below = leave_figure(table, units=units).axes
    line = next(a for a in above.get_lines() if a.get_label() == "each distance")
    x, y = (np.asarray(v, dtype=float) for v in line.get_data())
    assert x == pytest.approx(np.array([d.left_m for d in table.distances]) / far)
    assert np.isnan(y[0])
    assert y[1:] == pytest.approx([2.60, 2.61, 2.75])
    assert below.get_xlabel() == f"distance left [{name}]"
    (mark,) = above.findobj(lambda a: a.get_gid() == "flat")
    assert np.asarray(mark.get_xdata()) * far == pytest.approx([60.0 * YARD, 80.0 * YARD])  # type: ignore[attr-defined]
    assert mark.get_color() == style.ACCENT  # type: ignore[attr-defined]


def test_troubles_stand_on_one_another(table: LeaveTable) -> None:
    below = leave_figure(table).axes[1]
    water, rough = below.containers
    assert [round(p.get_height()) for p in water] == [0, 0, 25, 0]
    assert [round(p.get_height()) for p in rough] == [0, 0, 50, 0]
    assert rough[2].get_y() == pytest.approx(25.0)


def test_shots_and_favourite_are_named(table: LeaveTable) -> None:
    figure = leave_figure(table)
    above = figure.axes[0]
    assert [t.get_text() for t in above.texts] == ["", "60", "54 low $x$", "54"]
    assert not any(t.get_parse_math() for t in above.texts)
    favourite = next(a for a in above.get_lines() if a.get_label() == "favourite")
    assert favourite.get_xdata()[0] == pytest.approx(80.0)  # type: ignore[index]
    figure.savefig(BytesIO(), format="png")


def test_units_of_another_name_are_refused(table: LeaveTable) -> None:
    with pytest.raises(BadInputError, match="units = 'chains'"):
        leave_figure(table, units="chains")
