"""Wind as a value: its gust, and reports turned to a line of play."""

from math import nan, radians

import pytest

from carrybook.base.errors import BadInputError, OutOfRangeError
from carrybook.world.wind import Wind, exposure_named, wind_on_line


def test_a_gust_is_at_least_the_mean() -> None:
    assert Wind(5.0).gust_mps is None
    assert Wind(5.0, gust_mps=5.0).gust_mps == 5.0
    assert Wind(30.0, gust_mps=45.0).gust_mps == 45.0


@pytest.mark.parametrize("gust", [4.9, 45.1, -1.0, nan])
def test_gusts_that_cannot_be(gust: float) -> None:
    with pytest.raises(OutOfRangeError, match=rf"gust = {gust:g} m/s is outside 5 to 45 m/s"):
        Wind(5.0, gust_mps=gust)


def test_gusts_go_with_a_wind_that_is_turned_to_a_line() -> None:
    wind = wind_on_line(6.0, radians(240.0), radians(150.0), 0.1, gust_mps=11.0)
    assert wind.from_rad == pytest.approx(radians(90.0))
    assert (wind.speed_mps, wind.roughness_m, wind.gust_mps) == (6.0, 0.1, 11.0)
    assert wind_on_line(0.0, None, 1.0, 0.1, gust_mps=3.0) == Wind(0.0, roughness_m=0.1)


def test_surroundings_in_words() -> None:
    assert exposure_named(" Parkland ") == 0.5
    with pytest.raises(BadInputError, match="surroundings = 'city' is not one of: open links"):
        exposure_named("city")
