"""Robust centre and spread against SciPy's t distribution, and against gross errors."""

import numpy as np
import pytest
from scipy import stats

from carrybook.player.robust import (
    DEGREES_OF_FREEDOM,
    HALF_WIDTH_68,
    student_centre,
    student_fit,
)


def test_half_width_is_that_of_the_t_distribution() -> None:
    wanted = stats.t.ppf(0.5 + 0.6827 / 2.0, DEGREES_OF_FREEDOM)
    assert pytest.approx(wanted, abs=2e-4) == HALF_WIDTH_68


@pytest.mark.parametrize("seed", range(6))
def test_fit_is_the_maximum_likelihood_of_scipy(seed: int) -> None:
    rng = np.random.default_rng(seed)
    values = 3.0 + 0.5 * rng.standard_t(4, size=80)
    _, location, scale = stats.t.fit(values, fdf=4)
    ours = student_centre(values)
    assert ours.centre == pytest.approx(location, abs=1e-3)
    assert ours.spread / HALF_WIDTH_68 == pytest.approx(scale, rel=2e-3)


def test_standard_error_is_what_repeated_samples_show() -> None:
    rng = np.random.default_rng(7)
    fits = [student_centre(rng.standard_t(4, size=60)) for _ in range(400)]
    shown = np.std([f.centre for f in fits])
    assert np.mean([f.standard_error for f in fits]) == pytest.approx(shown, rel=0.12)


def test_five_per_cent_of_gross_errors_hardly_move_the_centre() -> None:
    rng = np.random.default_rng(3)
    good = 0.05 * rng.standard_normal(120)
    bad = good.copy()
    bad[:6] -= 0.6  # fat shots
    clean, spoilt = student_centre(good), student_centre(bad)
    assert abs(spoilt.centre - clean.centre) < clean.standard_error
    assert abs(bad.mean() - good.mean()) > 3.0 * clean.standard_error
    assert spoilt.weights[:6].max() < 0.1 < spoilt.weights[6:].mean()


def test_equal_values_do_not_divide_by_nothing() -> None:
    fit = student_centre(np.full(5, 2.0))
    assert fit.centre == pytest.approx(2.0)
    assert fit.spread < 1e-6


def test_a_line_comes_back_and_its_errors_cover_it() -> None:
    rng = np.random.default_rng(11)
    inside = 0
    for _ in range(200):
        x = rng.uniform(-0.5, 0.05, 60)
        values = 0.02 - 0.12 * x + 0.04 * rng.standard_t(4, size=60)
        fit = student_fit(values, np.column_stack([np.ones(60), x]), np.array([np.inf, np.inf]))
        error = np.sqrt(np.diag(fit.covariance))
        inside += int(np.all(np.abs(fit.coefficients - [0.02, -0.12]) < 2.24 * error))
    assert 0.88 <= inside / 200 <= 0.99  # 95 % of both, by Bonferroni


def test_with_no_values_the_prior_stands() -> None:
    fit = student_fit(
        np.empty(0), np.empty((0, 2)), np.array([0.04, 0.1]), prior_spread=0.05, prior_count=6.0
    )
    assert fit.coefficients.tolist() == [0.0, 0.0]
    assert np.sqrt(np.diag(fit.covariance)) == pytest.approx([0.04, 0.1])
    assert fit.spread == pytest.approx(0.05)
