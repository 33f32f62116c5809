"""The baseline off the green: its rows, values seen elsewhere, no surprises between rows."""

import numpy as np
import pytest

from carrybook.base.constants import YARD
from carrybook.outcomes.baseline import TABLE, strokes_from
from carrybook.outcomes.putting import expected_putts
from carrybook.world.lie import Lie

COLUMNS = {Lie.FAIRWAY: 0, Lie.LIGHT_ROUGH: 1, Lie.SAND: 2}

# Broadie 2014: the table is from memory; these three were seen printed elsewhere.
SEEN = [(Lie.FAIRWAY, 160, 2.98), (Lie.LIGHT_ROUGH, 80, 2.96), (Lie.LIGHT_ROUGH, 180, 3.31)]


@pytest.mark.parametrize(("lie", "yards", "strokes"), SEEN)
def test_values_seen_elsewhere(lie: Lie, yards: int, strokes: float) -> None:
    assert strokes_from(lie, np.array([yards * YARD]))[0] == pytest.approx(strokes, abs=5e-3)


@pytest.mark.parametrize("lie", COLUMNS)
def test_every_row_of_the_table_comes_out(lie: Lie) -> None:
    yards = np.array(list(TABLE))
    wanted = [row[COLUMNS[lie]] for row in TABLE.values()]
    assert strokes_from(lie, yards * YARD) == pytest.approx(wanted, abs=1e-9)


@pytest.mark.parametrize("lie", [Lie.FAIRWAY, Lie.LIGHT_ROUGH])
def test_nearer_is_never_worse(lie: Lie) -> None:
    assert np.all(np.diff(strokes_from(lie, np.linspace(1.0, 190.0, 2000))) >= -1e-9)


def test_under_ten_yards_it_is_a_putt_and_what_the_lie_costs() -> None:
    near = np.array([3.0, 6.0, 9.0]) * YARD
    over = strokes_from(Lie.FAIRWAY, near) - expected_putts(near)
    assert over == pytest.approx(np.full(3, over[0]), abs=1e-3)
    assert 0.1 < over[0] < 0.3


def test_rough_costs_what_was_published() -> None:
    # Derived from the table: 0.21 to 0.24 strokes between 60 and 140 yd.
    yards = np.arange(60, 141, 10) * YARD
    cost = strokes_from(Lie.LIGHT_ROUGH, yards) - strokes_from(Lie.FAIRWAY, yards)
    assert np.all((cost > 0.205) & (cost < 0.245))
