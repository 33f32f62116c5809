"""A cold ball: an assumption of ours, so the sign, the reference day and the size are tested."""

import numpy as np
import pytest

from carrybook.physics.ball_temperature import speed_when_at
from carrybook.physics.flight import level_carries
from carrybook.player.day import Day
from carrybook.world.air import REFERENCE_DAY, Air


def test_nothing_changes_on_the_reference_day() -> None:
    assert speed_when_at(REFERENCE_DAY.temperature_k) == 1.0


def test_colder_is_slower_and_warmth_ends_at_23_c() -> None:
    speeds = [speed_when_at(273.15 + c) for c in (-5.0, 5.0, 15.0, 23.0, 35.0)]
    assert speeds == sorted(speeds)
    assert speeds[-1] == speeds[-2] > 1.0
    assert speed_when_at(278.15) == pytest.approx(1.0 - 15.0 * 0.00056, rel=1e-3)


def test_carry_falls_about_a_tenth_of_a_per_cent_per_kelvin() -> None:
    speed = np.array([31.0])
    full, cold = (level_carries(speed * k, 0.5, 25.0)[0] for k in (1.0, speed_when_at(283.15)))
    assert 100.0 * (1.0 - cold / full) / 10.0 == pytest.approx(0.1, abs=0.03)


def test_a_ball_outside_takes_the_temperature_of_the_air() -> None:
    cold = Air(278.15, 101_325.0, 0.5)
    assert Day(cold).ball_temperature_k == 278.15
    assert Day(cold, ball_k=293.15).ball_temperature_k == 293.15
