"""The quick engine for a small book: nothing is replaced, everything is drawn in turn.

Student's t is a normal whose variance is drawn too, so the line is normal given those variances.
Which values are odd is drawn, then the scale, both without those variances, then the rest. The
scale moves by a scoring step with noise that is accepted or not, so that the chain is exact. An
iteration costs n q^2: for books of up to :data:`MOST_VALUES` values.
"""

from dataclasses import dataclass

import numpy as np
from scipy.linalg import solve_triangular

from carrybook.base.numerics import Flags, Floats, Ints
from carrybook.player.learn.pooling import Side, drawn_sd, sweep
from carrybook.player.learn.problem import FREEDOM, ODD_PRIOR, Problem, log_core

__all__ = ["MOST_VALUES", "Chain", "sample"]

MOST_VALUES = 1000
_BURN_IN = 80
_EVERY = 2  # of the draws after that, one in so many is kept: neighbours are much alike
_SCALES = (-12.0, 5.0)  # of the logarithm of a scale
_RESCALE = 0.7  # of ln sd of a pooled scale, in one try


@dataclass(frozen=True, slots=True)
class Chain:
    """Draws, one a row: coefficients of line and scale, standard deviations, shares of odd values.

    Parameters
    ----------
    line, scale : ndarray, shape (d, q), (d, r)
        Coefficients.
    sds : dict of str to ndarray, shape (d,)
        Of pooled groups.
    odd : ndarray, shape (d, kinds)
        Shares.
    """

    line: Floats
    scale: Floats
    sds: dict[str, Floats]
    odd: Floats


@dataclass(frozen=True, slots=True)
class _Dense:
    problem: Problem
    x: Floats
    z: Floats
    kind: Ints


def sample(
    problem: Problem,
    line: Side,
    scale: Side,
    share: Floats,
    rng: np.random.Generator,
    draws: int,
) -> Chain:
    """Draw from the posterior itself.

    Parameters
    ----------
    problem : Problem
        The question.
    line, scale : Side
        Where to begin; they move on.
    share : ndarray, shape (kinds,)
        Share of odd values to begin with.
    rng : Generator
        For the draws.
    draws : int
        How many are kept.
    """
    dense = _Dense(
        problem, problem.design.toarray(), problem.scale_design.toarray(), problem.kind.astype(int)
    )
    pooled = [(s, k) for s in (line, scale) for k in s.pooled()]
    kept, middle = [], np.zeros(len(line.at))
    for t in range(-_BURN_IN, draws * _EVERY):
        miss = problem.values - dense.x @ line.at
        odd = _odd(dense, miss, scale, share, rng)
        share = _share(dense, odd, rng)
        _move_scale(dense.z, scale, miss, ~odd, rng)
        mean = _move_line(dense, line, scale, miss, odd, rng)
        if t >= 0:
            middle += mean / (draws * _EVERY)
        if t >= 0 and t % _EVERY == 0:
            sds = [s.sd[k] for s, k in pooled]
            kept.append((line.at, scale.at, np.array(sds), share))
    lines, scales, sds_, shares = (np.array(part) for part in zip(*kept, strict=True))
    names = [s.groups[k].name for s, k in pooled]
    lines = lines + (middle - lines.mean(axis=0))
    return Chain(lines, scales, dict(zip(names, sds_.T, strict=True)), shares)


def _odd(d: _Dense, miss: Floats, scale: Side, share: Floats, rng: np.random.Generator) -> Flags:
    """Which values are something else."""
    wide, own = d.problem.odd_sd, share[d.kind]
    odd = -0.5 * (miss / wide) ** 2 - np.log(wide * np.sqrt(2.0 * np.pi)) + np.log(own)
    core = log_core(miss, _log_scale(d.z, scale.at)) + np.log1p(-own)
    return np.asarray(rng.random(len(miss)) * (1.0 + np.exp(np.minimum(core - odd, 700.0))) < 1.0)


def _share(d: _Dense, odd: Flags, rng: np.random.Generator) -> Floats:
    kinds = d.problem.kinds
    found = np.bincount(d.kind, weights=odd, minlength=kinds)
    rest = np.bincount(d.kind, minlength=kinds) - found
    share = rng.beta(ODD_PRIOR[0] + found, ODD_PRIOR[1] + rest)
    return np.clip(share, 1e-12, 1.0 - 1e-12)


def _move_line(
    d: _Dense, line: Side, scale: Side, miss: Floats, odd: Flags, rng: np.random.Generator
) -> Floats:
    """Draw each value's own variance, then the line; gives its mean."""
    tight = np.exp(-2.0 * _log_scale(d.z, scale.at))
    stretch = rng.gamma((FREEDOM + 1.0) / 2.0, 2.0 / (FREEDOM + miss**2 * tight))
    weight = np.where(odd, d.problem.odd_sd**-2.0, stretch * tight)
    weighted = d.x * weight[:, None]
    line.information = weighted.T @ d.x
    line.at, mean = sweep(line, weighted.T @ d.problem.values, rng)
    return mean


def _move_scale(
    z: Floats, scale: Side, miss: Floats, core: Flags, rng: np.random.Generator
) -> None:
    """Draw the scale given the line and which values count, then its standard deviations."""
    own, off = z[core], miss[core]
    precision = scale.precision()
    expected = own.T @ own * (2.0 * FREEDOM / (FREEDOM + 3.0)) + np.diag(precision)
    covariance, root = np.linalg.inv(expected), np.linalg.cholesky(expected)

    def look(at: Floats) -> tuple[float, Floats]:
        """Logarithm of the density, and where a scoring step from here leads."""
        log_scale = _log_scale(own, at)
        u2 = (off * np.exp(-log_scale)) ** 2
        lean = precision * (at - scale.centre)
        score = own.T @ ((FREEDOM + 1.0) * u2 / (FREEDOM + u2) - 1.0) - lean
        step = covariance @ score
        log_density = _fit(off, log_scale) - 0.5 * float(lean @ (at - scale.centre))
        return log_density, at + step

    here, ahead = look(scale.at)
    noise = rng.standard_normal(len(precision))
    tried = ahead + solve_triangular(root.T, noise, lower=False, check_finite=False)
    there, back = look(tried)
    returned = root.T @ (scale.at - back)
    gain = there - here + 0.5 * float(noise @ noise - returned @ returned)
    if np.log(rng.random()) < gain:
        scale.at = tried
    for k, place in scale.pooled().items():
        scale.sd[k] = drawn_sd(scale.groups[k], scale.at[place], rng)
        _try_rescale(own, off, scale, k, place, rng)


def _try_rescale(
    own: Floats, off: Floats, scale: Side, k: int, place: slice, rng: np.random.Generator
) -> None:
    """Try another standard deviation with coefficients in proportion to it."""
    factor = float(np.exp(_RESCALE * rng.standard_normal()))
    tried = scale.at.copy()
    tried[place] *= factor
    old, new = (scale.sd[k] * f / scale.groups[k].sd for f in (1.0, factor))
    gain = _fit(off, _log_scale(own, tried)) - _fit(off, _log_scale(own, scale.at))
    gain += np.log(factor) - 0.5 * (new**2 - old**2)
    if np.log(rng.random()) < gain:
        scale.at, scale.sd[k] = tried, scale.sd[k] * factor


def _log_scale(z: Floats, at: Floats) -> Floats:
    """Held where values that are all alike would make it vanish."""
    return np.clip(z @ at, *_SCALES)


def _fit(miss: Floats, log_scale: Floats) -> float:
    return float(log_core(miss, log_scale).sum())
