"""Wind by height and gusts, against tables worked by hand from the published laws."""

from math import exp, log, sqrt

import numpy as np
import pytest

from carrybook.base.errors import OutOfRangeError
from carrybook.physics.wind import gust_sd, one_shot_share, turbulence_intensity, wind_share
from carrybook.world.wind import Wind

HEIGHTS = (1.0, 2.0, 3.0, 5.0, 10.0, 15.0, 20.0, 25.0, 30.0)
# ln(z / z0) / ln(10 m / z0) (wmo-guide-8), worked by hand; rows are z0 [m].
SHARES = {
    0.01: (0.667, 0.767, 0.826, 0.900, 1.0, 1.059, 1.100, 1.133, 1.159),
    0.03: (0.604, 0.723, 0.793, 0.881, 1.0, 1.070, 1.119, 1.158, 1.189),
    0.10: (0.500, 0.651, 0.739, 0.849, 1.0, 1.088, 1.151, 1.199, 1.239),
}
# 1 / ln(z / z0) (en-1991-1-4), worked by hand, at 2, 5, 10, 20, 30 m.
INTENSITIES = {
    0.03: (0.238, 0.195, 0.172, 0.154, 0.145),
    0.05: (0.271, 0.217, 0.189, 0.167, 0.156),
}


@pytest.mark.parametrize("roughness", SHARES)
def test_wind_by_height_is_the_worked_table(roughness: float) -> None:
    shares = [wind_share(height, roughness) for height in HEIGHTS]
    assert shares == pytest.approx(SHARES[roughness], abs=5.1e-4)


def test_there_is_no_wind_in_the_grass() -> None:
    assert wind_share(0.0, 0.03) == wind_share(0.03, 0.03) == 0.0
    assert 0.0 < wind_share(0.031, 0.03) < 0.01


def test_rough_ground_slows_the_wind_below_ten_metres() -> None:
    assert wind_share(3.0, 0.5) < wind_share(3.0, 0.03) < 1.0
    assert wind_share(25.0, 0.5) > wind_share(25.0, 0.03) > 1.0


@pytest.mark.parametrize("roughness", INTENSITIES)
def test_turbulence_is_the_worked_table(roughness: float) -> None:
    found = [turbulence_intensity(z, roughness) for z in (2.0, 5.0, 10.0, 20.0, 30.0)]
    assert found == pytest.approx(INTENSITIES[roughness], abs=5.1e-4)


# Worked by hand for gusts of 15 s.
@pytest.mark.parametrize(("time", "share"), [(3.0, 0.937), (4.0, 0.917), (5.0, 0.898)])
def test_one_shot_share_is_the_worked_value(time: float, share: float) -> None:
    assert one_shot_share(time, 15.0) == pytest.approx(share, abs=5e-4)
    # What is drawn for one shot (outcomes/simulate.py) is 0.95 of the standard deviation.
    assert sqrt(one_shot_share(time)) == pytest.approx(0.95, abs=0.02)


def test_one_shot_share_of_very_short_and_very_long_flights() -> None:
    assert one_shot_share(0.0) == 1.0
    assert one_shot_share(60.0, 1.0) == pytest.approx(2.0 / 60.0, rel=0.02)
    below, above = one_shot_share(0.0149999, 15.0), one_shot_share(0.0150001, 15.0)
    assert below == pytest.approx(above, abs=1e-6)  # series and formula meet


def test_one_shot_share_is_that_of_a_wind_that_forgets_exponentially() -> None:
    # Averaged over a flight of 4 s, a first-order process of 15 s, by its covariances.
    at = (np.arange(400) + 0.5) / 100.0
    covariance = np.exp(-np.abs(at[:, None] - at[None, :]) / 15.0)
    assert one_shot_share(4.0, 15.0) == pytest.approx(float(covariance.mean()), abs=1e-5)
    x = 4.0 / 15.0
    assert one_shot_share(4.0, 15.0) == pytest.approx(2.0 / x**2 * (x - 1.0 + exp(-x)), rel=1e-9)


def test_turbulence_and_share_agree() -> None:
    assert turbulence_intensity(5.0, 0.03) * wind_share(5.0, 0.03) == pytest.approx(
        1.0 / log(10.0 / 0.03)
    )


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: wind_share(-1.0, 0.03), "height above ground = -1 m is outside 0 to 200 m"),
        (lambda: wind_share(10.0, 3.0), "roughness length = 3 m is outside 0.0002 to 2 m"),
        (lambda: turbulence_intensity(1.5, 1.0), "height above ground = 1.5 m is outside 2 to 200"),
        (lambda: turbulence_intensity(10.0, 0.0), "roughness length = 0 m"),
        (lambda: one_shot_share(-1.0), "time in the air = -1 s is outside 0 to 60 s"),
        (lambda: one_shot_share(4.0, 0.0), "time scale of gusts = 0 s is outside 1 to 100 s"),
    ],
)
def test_wind_outside_its_range_is_refused(call: object, message: str) -> None:
    assert callable(call)
    with pytest.raises(OutOfRangeError, match=message):
        call()


def test_a_stated_gust_replaces_the_turbulence_of_the_roughness() -> None:
    assert gust_sd(Wind(5.0)) == pytest.approx(5.0 * 0.172, abs=5e-3)  # as INTENSITIES at 10 m
    assert gust_sd(Wind(5.0, gust_mps=5.0)) == 0.0
    assert gust_sd(Wind(5.0, roughness_m=1.0, gust_mps=10.5)) == pytest.approx(2.0)
    assert gust_sd(Wind(0.0)) == 0.0
    # A usual gust of open country, 1.4 to 1.5 times the mean, says about what the roughness says.
    low, high = (gust_sd(Wind(5.0, gust_mps=5.0 * g)) for g in (1.4, 1.5))
    assert low < gust_sd(Wind(5.0)) < high


def test_very_rough_surroundings_gust_as_a_forest_does() -> None:
    assert gust_sd(Wind(5.0, roughness_m=2.0)) == gust_sd(Wind(5.0, roughness_m=1.0))
