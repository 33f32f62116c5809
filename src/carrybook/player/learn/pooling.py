"""Coefficients in groups, and one draw of them and of the groups' standard deviations."""

from dataclasses import dataclass

import numpy as np
from scipy.linalg import solve_triangular

from carrybook.base.numerics import Floats
from carrybook.player.learn.problem import Group, Matrix

__all__ = ["Side", "drawn_sd", "sweep"]

_GRID = 41
_EVEN = np.linspace(0.0, 1.0, _GRID)
_AROUND = np.linspace(-8.0, 5.0, _GRID)  # sds: skewed to the left where it is wide


@dataclass(slots=True)
class Side:
    """The coefficients of the line, or of the scale, with their priors and their quadratic.

    Parameters
    ----------
    design : sparse array, shape (n, q)
        Columns.
    groups : tuple of Group
        What they are.
    at, centre : ndarray, shape (q,)
        Where the coefficients are now, and their means before any data.
    sd : list of float
        Present standard deviation of each group.
    information : ndarray, shape (q, q)
        Of the values.
    score : ndarray, shape (q,)
        Slope of the logarithm of the likelihood.
    """

    design: Matrix
    groups: tuple[Group, ...]
    at: Floats
    centre: Floats
    sd: list[float]
    information: Floats
    score: Floats

    def precision(self) -> Floats:
        """Prior precision of every coefficient."""
        sizes = [g.size for g in self.groups]
        return np.asarray(np.repeat(np.array(self.sd), sizes) ** -2.0)

    def pooled(self) -> dict[int, slice]:
        """Groups whose standard deviation is learnt, and where their coefficients stand."""
        ends = np.cumsum([0, *(g.size for g in self.groups)])
        return {
            k: slice(int(ends[k]), int(ends[k + 1]))
            for k, g in enumerate(self.groups)
            if g.pooled and g.size
        }


def sweep(side: Side, target: Floats, rng: np.random.Generator) -> tuple[Floats, Floats]:
    """Draw coefficients given standard deviations, then these, plain and rescaled.

    Parameters
    ----------
    side : Side
        Its `sd` moves on; its `information` is that of a normal likelihood.
    target : ndarray, shape (q,)
        X^T W y.
    rng : Generator
        For the draws.

    Returns
    -------
    coefficients, mean : ndarray, ndarray, shape (q,)
        The draw, and the mean given the standard deviations it was drawn with: averaged, it is a
        quieter middle than that of the draws.
    """
    precision = side.precision()
    root = np.linalg.cholesky(side.information + np.diag(precision))
    half = solve_triangular(root, target + precision * side.centre, lower=True, check_finite=False)
    noise = rng.standard_normal(len(half))
    both = solve_triangular(
        root.T, np.column_stack([half + noise, half]), lower=False, check_finite=False
    )
    beta, mean = both[:, 0].copy(), both[:, 1]
    for k, own in side.pooled().items():
        side.sd[k] = drawn_sd(side.groups[k], beta[own], rng)
        _rescale(side, k, own, beta, target, rng)
    return beta, mean


def drawn_sd(group: Group, off: Floats, rng: np.random.Generator) -> float:
    """A standard deviation given the coefficients, by inversion on a grid of its logarithm.

    Parameters
    ----------
    group : Group
        Its size and prior.
    off : ndarray, shape (size,)
        Coefficients against their centre.
    rng : Generator
        For the draw.
    """
    total = float(off @ off)
    low = np.log(min(max(np.sqrt(total / group.size) / 8.0, 1e-3 * group.sd), 3.0 * group.sd))
    grid = np.exp(low + (np.log(4.0 * group.sd) - low) * _EVEN)
    logs = (1.0 - group.size) * np.log(grid) - 0.5 * total / grid**2 - 0.5 * (grid / group.sd) ** 2
    return _from_grid(grid, logs, rng)


def _rescale(
    side: Side, k: int, own: slice, beta: Floats, target: Floats, rng: np.random.Generator
) -> None:
    """Draw the standard deviation again with coefficients in proportion to it."""
    group = side.groups[k]
    unit = beta[own] / side.sd[k]
    quadratic = float(unit @ side.information[own, own] @ unit)
    rest = side.information[own] @ beta - side.information[own, own] @ beta[own]
    linear = float(unit @ (target[own] - rest))
    bend = quadratic + group.sd**-2.0
    root = float(np.sqrt(linear**2 + 4.0 * bend))
    mode = (linear + root) / (2.0 * bend) if linear > 0.0 else 2.0 / (root - linear)
    width = (bend * mode**2 + 1.0) ** -0.5  # of its logarithm
    grid = mode * np.exp(width * _AROUND)
    logs = linear * grid - 0.5 * bend * grid**2 + np.log(grid)
    side.sd[k] = _from_grid(grid, logs, rng)
    beta[own] = unit * side.sd[k]


def _from_grid(grid: Floats, logs: Floats, rng: np.random.Generator) -> float:
    """One draw from a density on an even grid of logarithms, spread within its cell."""
    weights = np.cumsum(np.exp(logs - logs.max()))
    k = int(np.searchsorted(weights, rng.random() * weights[-1]))
    cell = np.log(grid[1] / grid[0])
    return float(grid[min(k, len(grid) - 1)] * np.exp(cell * (rng.random() - 0.5)))
