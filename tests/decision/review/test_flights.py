"""Remembered shots fly as the one-ball doors say, all at once."""

from dataclasses import replace

import numpy as np
import pytest

from carrybook.base.constants import YARD
from carrybook.decision.review.flights import (
    ARRIVAL_ROW,
    Asked,
    fly_asked,
    lie_factors,
    scatter_of,
    wind_rows,
)
from carrybook.physics.strike import lie_effect
from carrybook.player.robust import HALF_WIDTH_68
from carrybook.player.summary import ShotSummary
from carrybook.world.air import REFERENCE_DAY
from carrybook.world.lie import Lie, Moisture

T0 = REFERENCE_DAY.temperature_k


def asked(felt: list[float], shot: list[int] | None = None, **change: np.ndarray) -> Asked:
    n = len(felt)
    plain = Asked(
        np.array(shot or [0] * n), np.array(felt), wind_rows(np.zeros(n), np.zeros(n)), np.ones(n),
        np.ones(n), np.full(n, T0),
    )  # fmt: skip
    return replace(plain, **change)


def test_on_the_reference_day_it_carries_what_the_book_says(bag: tuple[ShotSummary, ...]) -> None:
    felt = [s.shot.stock_carry_m for s in bag] + [60.0 * YARD]
    found = fly_asked(bag, asked(felt, [0, 1, 2, 3, 2]))
    wanted = [
        float(bag[k].reference_for(np.array(f))) for k, f in zip((0, 1, 2, 3, 2), felt, strict=True)
    ]
    assert found.shape == (5, len(ARRIVAL_ROW))
    assert found[:, 0] == pytest.approx(wanted, abs=0.05)
    assert np.abs(found[:, 1]).max() < 1e-9


def test_wind_air_and_lie_do_what_they_do(bag: tuple[ShotSummary, ...]) -> None:
    winds = wind_rows(np.array([0.0, 6.0, 6.0, 6.0]), np.radians([0.0, 0.0, 180.0, 90.0]))
    still, into, helped, right = fly_asked(bag, asked([80.0] * 4, winds=winds))
    assert into[0] < still[0] < helped[0]
    assert into[3] > still[3] > helped[3]  # steeper into the wind
    assert right[1] < -2.0  # a wind from the right blows it left
    cold = fly_asked(bag, asked([80.0], temperature=np.array([T0 - 20.0])))
    assert cold[0, 0] < still[0]
    lies = lie_factors([Lie.LIGHT_ROUGH], [Moisture.WET])
    wet = fly_asked(bag, asked([80.0], lie_spin=lies[:, 0], lie_speed=lies[:, 1]))
    assert wet[0, 4] < still[4]


def test_lies_keep_what_the_strike_says_and_sand_stands_clean() -> None:
    found = lie_factors([Lie.DEEP_ROUGH, Lie.SAND, Lie.FAIRWAY], [Moisture.DEW] * 3)
    rough = lie_effect(Lie.DEEP_ROUGH, Moisture.DEW)
    assert found[0] == pytest.approx([rough.spin[1], rough.speed[1]])
    assert found[1].tolist() == [1.0, 1.0]


def test_scatter_is_the_books(bag: tuple[ShotSummary, ...]) -> None:
    stock = bag[1].shot.stock_carry_m
    (row,) = scatter_of(bag, np.array([1]), np.array([stock]), np.array([stock]))
    assert row[0] == pytest.approx(bag[1].spread * stock / HALF_WIDTH_68)
    assert row[1] == pytest.approx(bag[1].side_rad * stock / HALF_WIDTH_68)
    assert row[2] == pytest.approx(bag[1].bias_se * stock)


def test_no_shots_is_no_rows(bag: tuple[ShotSummary, ...]) -> None:
    assert fly_asked(bag, asked([])).shape == (0, 5)
