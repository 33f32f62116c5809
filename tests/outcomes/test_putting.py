"""Putting by distance against 1.25 million tour putts and the published averages."""

import numpy as np
import pytest

from carrybook.base.constants import FOOT
from carrybook.base.errors import OutOfRangeError
from carrybook.outcomes.putting import TOUR, PuttingSkill, expected_putts, make_probability

# Putts by distance bin (mean feet, attempts, holed): "golf putting data from Broadie (2018)", as
# released with A. Gelman's case study of 2019. Counts are facts; used to test, not shipped.
BINS = np.array([
    (0.28, 45198, 45183), (0.97, 183020, 182899), (1.93, 169503, 168594), (2.92, 113094, 108953),
    (3.93, 73855, 64740), (4.94, 53659, 41106), (5.94, 42991, 28205), (6.95, 37050, 21334),
    (7.95, 33275, 16615), (8.95, 30836, 13503), (9.95, 28637, 11060), (10.95, 26239, 9032),
    (11.95, 24636, 7687), (12.95, 22876, 6432), (14.43, 41267, 9813), (16.43, 35712, 7196),
    (18.44, 31573, 5290), (20.44, 28280, 4086), (21.95, 13238, 1642), (24.39, 46570, 4767),
    (28.40, 38422, 2980), (32.39, 31641, 1996), (36.39, 25604, 1327), (40.37, 20366, 834),
    (44.38, 15977, 559), (48.37, 11770, 311), (52.36, 8708, 231), (57.25, 8878, 204),
    (63.23, 5492, 103), (69.18, 3087, 35), (75.19, 1742, 24),
])  # fmt: skip

# Broadie 2014 (average putts; from memory but for the 1.50 at 8 ft): feet, tour average putts.
AVERAGES = {
    3: 1.04, 4: 1.13, 5: 1.23, 6: 1.34, 7: 1.42, 8: 1.50, 9: 1.56, 10: 1.61, 15: 1.78, 20: 1.87,
    30: 1.98, 40: 2.06, 50: 2.14, 60: 2.21,
}  # fmt: skip


def test_all_bins_are_met_within_a_point() -> None:
    feet, tried, holed = BINS.T
    assert tried.sum() == 1_253_196
    assert holed.sum() == 766_741
    misses = np.abs(make_probability(feet * FOOT) - holed / tried)
    assert misses.max() < 0.0085


@pytest.mark.parametrize(("feet", "putts"), AVERAGES.items())
def test_average_putts_come_out_without_being_fitted(feet: int, putts: float) -> None:
    tolerance = 0.02 if feet <= 30 else 0.06  # lag putts: ours three-putts a little less
    assert expected_putts(np.array([feet * FOOT]))[0] == pytest.approx(putts, abs=tolerance)


def test_putts_grow_with_distance_from_one() -> None:
    feet = np.linspace(0.0, 120.0, 400)
    putts, made = expected_putts(feet * FOOT), make_probability(feet * FOOT)
    assert putts[0] == pytest.approx(1.0)
    assert np.all(np.diff(putts) >= -1e-3)  # the net of errors shows as a ripple this small
    assert np.all(np.diff(made) <= 1e-12)
    assert made[0] == 1.0


def test_expected_putts_agree_with_playing_them_out() -> None:
    rng = np.random.default_rng(2)
    n, start = 40_000, 25.0 * FOOT
    left, putts = np.full(n, start), np.zeros(n)
    for _ in range(8):
        going = left > 0.0
        putts += going
        angle = TOUR.angle_rad * rng.standard_normal(n)
        past = (left + FOOT) * (1.0 + TOUR.pace * rng.standard_normal(n)) - left
        holed = (
            (np.abs(left * np.sin(angle)) < 0.108 / 2 - 0.04267 / 2)
            & (past > 0)
            & (past < 3 * FOOT)
        )
        gone = np.hypot(past, (left + past) * np.sin(angle))
        left = np.where(going & ~holed, np.maximum(gone, 1e-3), 0.0)
    assert expected_putts(np.array([start]))[0] == pytest.approx(putts.mean(), abs=0.01)


def test_a_worse_putter_needs_more() -> None:
    worse = PuttingSkill(angle_rad=2.0 * TOUR.angle_rad, pace=0.13)
    feet = np.array([4.0, 10.0, 30.0]) * FOOT
    assert np.all(expected_putts(feet, worse) > expected_putts(feet) + 0.05)


@pytest.mark.parametrize(("angle", "pace"), [(0.0, 0.08), (0.02, 2.0), (float("nan"), 0.08)])
def test_a_putter_nobody_is_is_refused(angle: float, pace: float) -> None:
    with pytest.raises(OutOfRangeError):
        PuttingSkill(angle, pace)
