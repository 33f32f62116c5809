"""The quick engine: where the answer is most likely, then draws around it.

First the most likely line and scale (expectation-maximisation, as in `lange-1989`, with the share
of odd values as a third kind of latent). From there a small book is sampled exactly (`gibbs`). In a
large one the logarithm of the likelihood is replaced by its quadratic there: X^T W X and X^T W y
are all that is kept of the balls, so time and memory grow in proportion to their number. Given
these the coefficients are normal, and their standard deviations are drawn in turn from their exact
conditional, plain and rescaled, so that the chain does not stick near zero. What is approximate:
the quadratic, and that line and scale are taken as independent.
"""

import numpy as np
from scipy import sparse

from carrybook.base.numerics import Floats
from carrybook.player.learn.gibbs import MOST_VALUES, sample
from carrybook.player.learn.pooling import Side, sweep
from carrybook.player.learn.problem import (
    FREEDOM,
    ODD_PRIOR,
    Answer,
    Group,
    Matrix,
    Problem,
    log_core,
)

__all__ = ["solve"]

_ROUNDS = 60
_START_ROUNDS = 12  # where that is only where the chain begins
_SETTLED = 1e-5  # of the largest step, in standard deviations of the prior
_UNSURE_ROUNDS = (2, 6, 12)  # when the line's own error is worked out anew
_CHUNK = 5000
_BURN_IN = 60


def solve(problem: Problem, rng: np.random.Generator, *, draws: int = 400) -> Answer:
    """Answer a problem approximately.

    Parameters
    ----------
    problem : Problem
        The question.
    rng : Generator
        For the draws.
    draws : int
        How many.

    Returns
    -------
    answer : Answer
        Draws from the approximate posterior.
    """
    line = _start(problem.design, problem.groups)
    scale = _start(problem.scale_design, problem.scale_groups)
    share = np.full(problem.kinds, ODD_PRIOR[0] / sum(ODD_PRIOR))
    kind = problem.kind.astype(int)
    count = np.bincount(kind, minlength=problem.kinds)
    unsure = np.zeros(len(problem.values))
    few = len(problem.values) <= MOST_VALUES
    for t in range(_START_ROUNDS if few else _ROUNDS):
        odd = _look(problem, line, scale, share, unsure)
        odd_count = np.bincount(kind, weights=odd, minlength=problem.kinds)
        share = (ODD_PRIOR[0] + odd_count) / (sum(ODD_PRIOR) + count)
        settled = max(_step(line), _step(scale)) < _SETTLED
        if settled and t > _UNSURE_ROUNDS[-1]:
            break
        if t in _UNSURE_ROUNDS:
            unsure = _fitted_variance(line)
    if few and len(problem.values):
        chain = sample(problem, line, scale, share, rng, draws)
        return Answer(
            _by_group(problem.places(), chain.line),
            _by_group(problem.places(scale=True), chain.scale),
            chain.sds,
            chain.odd,
        )
    odd = _look(problem, line, scale, share, unsure)
    beta, sds = _chain(line, rng, draws)
    zeta, scale_sds = _chain(scale, rng, draws)
    return Answer(
        _by_group(problem.places(), beta),
        _by_group(problem.places(scale=True), zeta),
        sds | scale_sds,
        _odd_shares(share, odd, kind, rng, draws),
    )


def _start(design: Matrix, groups: tuple[Group, ...]) -> Side:
    centre = np.repeat([g.centre for g in groups], [g.size for g in groups]).astype(float)
    q = len(centre)
    sd = [0.7 * g.sd if g.pooled else g.sd for g in groups]
    return Side(design, groups, centre.copy(), centre, sd, np.zeros((q, q)), np.zeros(q))


def _look(problem: Problem, line: Side, scale: Side, share: Floats, unsure: Floats) -> Floats:
    """Write score and information at the present place; give each value's chance to be odd.

    The score of the scale is averaged over what the line itself is unsure of (`unsure`, a variance
    for each value), to second order: otherwise few values make the scale too small.
    """
    nu, kind = FREEDOM, problem.kind.astype(int)
    miss = problem.values - line.design @ line.at
    log_scale = np.clip(scale.design @ scale.at, -12.0, 5.0)
    core = log_core(miss, log_scale) + np.log1p(-share[kind])
    odd = -0.5 * (miss / problem.odd_sd) ** 2 - np.log(problem.odd_sd * np.sqrt(2.0 * np.pi))
    own = 1.0 / (1.0 + np.exp(np.clip(odd + np.log(share[kind]) - core, -700.0, 700.0)))
    tight, wide = np.exp(-2.0 * log_scale), problem.odd_sd**-2.0
    u2 = miss**2 * tight
    pull = own * (nu + 1.0) / (nu + u2) * tight + (1.0 - own) * wide
    known = own * (nu + 1.0) / (nu + 3.0) * tight + (1.0 - own) * wide
    left = np.maximum(1.0 - unsure * known, 0.05)  # of a value, once the line has had its share
    line.score = np.asarray(line.design.T @ (pull * miss))
    line.information = _gram(line.design, known)
    more = unsure * tight * nu * (nu - 3.0 * u2) / (nu + u2) ** 2  # half its second derivative
    stretch = (nu + 1.0) * (u2 + more) / (nu + u2) - 1.0
    scale.score = np.asarray(scale.design.T @ (own * stretch))
    scale.information = _gram(scale.design, left * own * 2.0 * nu / (nu + 3.0))
    return np.asarray(1.0 - own)


def _fitted_variance(line: Side) -> Floats:
    """Variance of every fitted value, a few thousand rows at a time."""
    covariance = np.linalg.inv(line.information + np.diag(line.precision()))
    n, parts = line.design.shape[0], []
    for start in range(0, n, _CHUNK):
        rows = line.design[start : start + _CHUNK]
        parts.append(np.asarray(rows.multiply(rows @ covariance).sum(axis=1)).ravel())
    return np.concatenate(parts) if parts else np.zeros(0)


def _gram(design: Matrix, weights: Floats) -> Floats:
    weighted = sparse.diags_array(np.sqrt(weights)) @ design
    return np.asarray((weighted.T @ weighted).todense(), dtype=np.float64)


def _step(side: Side) -> float:
    """One scoring step of the coefficients, and of the standard deviations of pooled groups."""
    precision = side.precision()
    if not len(precision):
        return 0.0
    covariance = np.linalg.inv(side.information + np.diag(precision))
    move = covariance @ (side.score - precision * (side.at - side.centre))
    side.at = side.at + move
    moment = (side.at - side.centre) ** 2 + np.diag(covariance)
    start = 0
    for k, g in enumerate(side.groups):
        if g.pooled and g.size:
            side.sd[k] = _likely_sd(float(moment[start : start + g.size].sum()), g)
        start += g.size
    return float(np.abs(move * np.sqrt(precision)).max())


def _likely_sd(total: float, group: Group) -> float:
    """Mode, in its logarithm, of a standard deviation with a half-normal prior."""
    s2, m = group.sd**2, group.size - 1.0
    return float(np.sqrt(max(s2 * (np.sqrt(m * m + 4.0 * total / s2) - m) / 2.0, 1e-12)))


def _chain(side: Side, rng: np.random.Generator, draws: int) -> tuple[Floats, dict[str, Floats]]:
    """Draw coefficients and standard deviations in turn, given the quadratic."""
    target = side.information @ side.at + side.score
    kept, middle = np.empty((draws, len(side.at))), np.zeros(len(side.at))
    sds = {side.groups[k].name: np.empty(draws) for k in side.pooled()}
    for t in range(-_BURN_IN, draws):
        beta, mean = sweep(side, target, rng)
        if t >= 0:
            kept[t] = beta
            middle += mean / draws
            for k in side.pooled():
                sds[side.groups[k].name][t] = side.sd[k]
    return kept + (middle - kept.mean(axis=0)), sds


def _odd_shares(
    share: Floats, odd: Floats, kind: Floats, rng: np.random.Generator, draws: int
) -> Floats:
    """Draws of the share of odd values: a beta with as much information as the values gave."""
    slope = odd / share[kind] - (1.0 - odd) / (1.0 - share[kind])
    information = np.bincount(kind, weights=slope**2, minlength=len(share))
    worth = sum(ODD_PRIOR) + share * (1.0 - share) * information
    return rng.beta(share * worth, (1.0 - share) * worth, size=(draws, len(share)))


def _by_group(places: dict[str, slice], draws: Floats) -> dict[str, Floats]:
    return {name: draws[:, place] for name, place in places.items()}
