"""One ball with every set: the same landings and paths as one by one."""

from math import radians

import numpy as np
import pytest

from carrybook.base.constants import RPM
from carrybook.base.errors import NoSolutionError
from carrybook.physics.aerodynamics import BAND
from carrybook.physics.band import fly_band
from carrybook.physics.flight import Launch, fly, fly_path
from carrybook.world.air import Air
from carrybook.world.wind import Wind

LAUNCH = Launch(32.0, radians(30.0), 8800 * RPM, radians(5.0))


def test_the_band_is_its_sets_in_order() -> None:
    air, wind = Air(285.0, 98_000.0, 0.6), Wind(4.0, 1.0)
    flown = fly_band(LAUNCH, air, wind, height_change_m=-2.0)
    assert (flown.launch, flown.air, flown.wind) == (LAUNCH, air, wind)
    for a, landing, path in zip(BAND, flown.landings, flown.paths, strict=True):
        assert landing == fly(LAUNCH, air, wind, aerodynamics=a, height_change_m=-2.0)
        alone = fly_path(LAUNCH, air, wind, aerodynamics=a, height_change_m=-2.0)
        np.testing.assert_array_equal(path, alone)


def test_paths_end_where_landings_are() -> None:
    flown = fly_band(LAUNCH, wind=Wind(5.0, 0.5))
    for landing, path in zip(flown.landings, flown.paths, strict=True):
        assert path[-1] == pytest.approx([landing.carry_m, -landing.side_m, 0.0], abs=0.02)


def test_low_carries_least_and_high_most_where_spin_is_high() -> None:
    carries = [landing.carry_m for landing in fly_band(LAUNCH).landings]
    assert carries == sorted(carries)
    assert carries[2] > 1.05 * carries[0]


def test_ground_that_is_never_reached_is_said_so() -> None:
    with pytest.raises(NoSolutionError, match="does not come down"):
        fly_band(LAUNCH, height_change_m=50.0)
