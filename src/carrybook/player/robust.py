"""Centre, trend and spread that a few wild balls do not move: Student's t with four degrees.

Mishits stay in the log and in the tails; they do not drag the centre.
"""

from dataclasses import dataclass

import numpy as np

from carrybook.base.numerics import Floats

__all__ = ["DEGREES_OF_FREEDOM", "HALF_WIDTH_68", "Fit", "student_centre", "student_fit"]

DEGREES_OF_FREEDOM = 4.0  # heavy tails; ko-2012 fitted shot patterns with t and mixtures
HALF_WIDTH_68 = 1.1416  # scale to half-width that holds 68.27 % of a t with 4 df (scipy.stats.t)
_ROUNDS = 200


@dataclass(frozen=True, slots=True)
class Fit:
    """Robust linear fit of a sample.

    Parameters
    ----------
    coefficients : ndarray, shape (k,)
        Of the columns of the design.
    covariance : ndarray, shape (k, k)
        Of the coefficients; asymptotic for the t family, prior included.
    spread : float
        Half-width around the fit that holds 68 % of the fitted distribution.
    weights : ndarray, shape (n,)
        How much each value counted: near 1 in the middle, near 0 for a wild one.
    """

    coefficients: Floats
    covariance: Floats
    spread: float
    weights: Floats

    @property
    def centre(self) -> float:
        """First coefficient: the centre, where the first column is all ones."""
        return float(self.coefficients[0])

    @property
    def standard_error(self) -> float:
        """Of the first coefficient."""
        return float(np.sqrt(self.covariance[0, 0]))


def student_centre(values: Floats) -> Fit:
    """Fit the centre and spread of a sample of at least two finite numbers.

    Parameters
    ----------
    values : ndarray, shape (n,)
        The sample.
    """
    return student_fit(values, np.ones((len(values), 1)), np.array([np.inf]))


def student_fit(
    values: Floats,
    design: Floats,
    prior_sd: Floats,
    *,
    prior_spread: float = 0.0,
    prior_count: float = 0.0,
    least_spread: float = 0.0,
) -> Fit:
    """Fit a line to a sample with Student t errors of four degrees of freedom.

    Parameters
    ----------
    values : ndarray, shape (n,)
        The sample.
    design : ndarray, shape (n, k)
        Columns of the line.
    prior_sd : ndarray, shape (k,)
        Standard deviation of a normal prior around zero on each coefficient; inf is none.
    prior_spread, prior_count : float
        Spread to shrink toward, and the number of values that is worth.
    least_spread : float
        Spread that is never undercut; needed where there are more columns than values.

    Returns
    -------
    fit : Fit
        Most likely coefficients; with n = 0 the prior alone.

    Notes
    -----
    Expectation-maximisation of lange-1989; the information of n values is
    (nu + 1) / ((nu + 3) scale^2) X^T X, to which the prior adds its own.
    """
    nu, n = DEGREES_OF_FREEDOM, len(values)
    precision = np.diag(prior_sd**-2.0)
    beta: Floats = np.zeros(design.shape[1])
    weights = np.ones(n)
    least = max(least_spread / HALF_WIDTH_68, 1e-12)
    scale = max(_first_scale(values), least)
    for _ in range(_ROUNDS if n else 0):
        weighted = design * weights[:, None]
        normal = design.T @ weighted + scale**2 * precision
        moved = np.asarray(np.linalg.solve(normal, weighted.T @ values), dtype=np.float64)
        left = values - design @ moved
        wider = max(float(np.sqrt(np.mean(weights * left**2))), least)
        done = np.abs(moved - beta).max() < 1e-10 * wider and abs(wider / scale - 1.0) < 1e-10
        beta, scale = moved, wider
        weights = (nu + 1.0) / (nu + (left / scale) ** 2)
        if done:
            break
    spread = scale * HALF_WIDTH_68
    if prior_count:
        spread = float(np.sqrt((prior_count * prior_spread**2 + n * spread**2) / (prior_count + n)))
    known = (nu + 1.0) / (nu + 3.0) * (HALF_WIDTH_68 / spread) ** 2 * design.T @ design
    covariance = np.asarray(np.linalg.inv(known + precision), dtype=np.float64)
    return Fit(beta, covariance, spread, weights * nu / (nu + 1.0))


def _first_scale(values: Floats) -> float:
    """A scale to start from, above zero."""
    if not len(values):
        return 1.0
    middle = float(np.median(values))
    return max(float(np.median(np.abs(values - middle))) * 1.3, 1e-12 + 1e-9 * abs(middle))
