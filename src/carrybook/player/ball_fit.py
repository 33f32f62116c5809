"""How the player's balls fly: their drag, and which set of lift and drag they favour.

Where ball speed, launch, spin and carry of a ball were all measured, its carry says how it flew.
One factor on the drag of each set is fitted to all such balls, with a part of its own for each
model of ball that the log names; how well the fitted sets then do gives them their weights.
"""

from collections import Counter, defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from math import exp, lgamma, log, pi, sqrt

import numpy as np

from carrybook.base.errors import BadInputError
from carrybook.base.numerics import Floats
from carrybook.physics.aerodynamics import BAND, MID, Aerodynamics
from carrybook.physics.flight import level_carries
from carrybook.player.balls import Ball
from carrybook.player.robust import DEGREES_OF_FREEDOM, HALF_WIDTH_68, Fit, student_fit
from carrybook.world.air import REFERENCE_DAY, Air
from carrybook.world.lie import Lie

__all__ = ["NO_FIT", "SET_NAMES", "BallFit", "BallFits", "fit_balls"]

SET_NAMES = ("low", "middle", "high")
# Priors, relative. Drag of 13 balls differs by 0.05 in about 0.2 above Re 1e5 (lyu-2018): a spread
# of 7 %, half of which (in square) is put on balls as a whole and half on each model.
_PRIOR_DRAG = 0.05
# Ours: odds of the low, middle and high set before any ball; how far all carries of one day, and
# all of one shot, may be off together (wind nobody logged, a device's own error); how far single
# ones are, and the balls that is worth; how often a log misleads, so that no set
# is ever ruled out.
_PRIOR_ODDS = (0.25, 0.50, 0.25)
_DAY_SD = 0.02
_SHOT_SD = 0.02
_PRIOR_SPREAD = 0.03
_PRIOR_BALLS = 6.0
_MISLED = 0.05
# Ours: factors on drag at which every ball is flown, how many balls are looked at (the newest), and
# the rounds of the fit. A launch outside these is a fault of the reading, as in the summary.
_NODES = np.linspace(-0.5, 0.5, 5)  # of the logarithm
_MOST_BALLS = 2000
_ROUNDS = 3
_FARTHEST = 0.5  # of the logarithm: factors 0.61 to 1.65
_LAUNCHES = (0.14, 1.05)  # rad
_SPIN_PER_SPEED = (2.0, 45.0)  # rad/m
_HERMITE = ((-(3.0**0.5), 1.0 / 6.0), (0.0, 2.0 / 3.0), (3.0**0.5, 1.0 / 6.0))
_UNLIKELY = 0.05  # ours: a set of less weight than this no longer widens a band


@dataclass(frozen=True, slots=True)
class BallFit:
    """How one model of ball flies, by what the log says.

    Parameters
    ----------
    model : str
        As the log names it; empty for balls without a name.
    balls : int
        Balls of this model with all that the fit needs; 0 means prior only.
    factors : tuple of float
        Its drag over that of the low, middle and high set. [1]
    drag_errors : tuple of float
        Standard error of the logarithm of each factor. [1]
    weights : tuple of float
        How likely each set is, factor and all; they sum to 1. [1]
    """

    model: str = ""
    balls: int = 0
    factors: tuple[float, ...] = (1.0, 1.0, 1.0)
    drag_errors: tuple[float, ...] = (_PRIOR_DRAG * 2.0**0.5,) * 3
    weights: tuple[float, ...] = _PRIOR_ODDS

    @property
    def sets(self) -> tuple[Aerodynamics, ...]:
        """The low, middle and high set, each with this ball's drag."""
        return tuple(a.with_drag(f) for a, f in zip(BAND, self.factors, strict=True))

    @property
    def likeliest(self) -> int:
        """Number of the set with the most weight; the middle one where it is a tie."""
        middle = BAND.index(MID)
        best = max(range(len(BAND)), key=lambda k: self.weights[k])
        return best if self.weights[best] > self.weights[middle] else middle

    @property
    def best(self) -> Aerodynamics:
        """The likeliest set, with this ball's drag: what single numbers are computed with."""
        return self.sets[self.likeliest]

    @property
    def drag_factor(self) -> float:
        """Drag over that of the likeliest set. [1]"""
        return self.factors[self.likeliest]

    @property
    def drag_se(self) -> float:
        """Standard error of that factor. [1]"""
        return self.drag_factor * self.drag_errors[self.likeliest]

    def possible(self) -> tuple[Aerodynamics, ...]:
        """Give the sets that the log leaves open, and the likeliest with its drag one error off."""
        error = self.drag_errors[self.likeliest]
        ends = tuple(self.best.with_drag(exp(way * error)) for way in (-1.0, 1.0))
        return (*(a for _, a in self.likely()), *ends)

    def drawn(self) -> tuple[tuple[Aerodynamics, ...], tuple[float, ...]]:
        """Nine sets to draw from, with their weights: each set with less, its own and more drag.

        The factors of a set stand for a normal error by Gauss and Hermite's three points; those of
        set k are numbers 3 k to 3 k + 2.
        """
        sets, weights = [], []
        for a, error, weight in zip(self.sets, self.drag_errors, self.weights, strict=True):
            for way, share in _HERMITE:
                sets.append(a.with_drag(exp(way * error)))
                weights.append(share * weight)
        return tuple(sets), tuple(weights)

    def likely(self) -> list[tuple[int, Aerodynamics]]:
        """Number and set of each that the log leaves open, with this ball's drag."""
        numbered = enumerate(zip(self.sets, self.weights, strict=True))
        return [(k, a) for k, (a, w) in numbered if w >= _UNLIKELY]


NO_FIT = BallFit()


@dataclass(frozen=True, slots=True)
class BallFits:
    """Every model of ball in the log.

    Parameters
    ----------
    models : tuple of BallFit
        By how many balls they rest on, most first; empty where no ball can be used.
    unknown : BallFit
        What to take for a ball of no model in the log.
    """

    models: tuple[BallFit, ...] = ()
    unknown: BallFit = NO_FIT

    @property
    def usual(self) -> BallFit:
        """The model that most balls are of."""
        return self.models[0] if self.models else self.unknown

    def of(self, model: str) -> BallFit:
        """Give the fit of a model, or what is known of balls as a whole."""
        return next((fit for fit in self.models if fit.model == model), self.unknown)

    def named(self, model: str | None) -> BallFit:
        """Give the fit of the model that is asked for; the usual one where none is.

        Raises
        ------
        BadInputError
            No ball of that model has all that a fit needs.
        """
        if model is None:
            return self.usual
        found = self.of(" ".join(model.split()))
        if not model.strip() or found is self.unknown:
            names = ", ".join(fit.model for fit in self.models if fit.model) or "none"
            raise BadInputError(
                f"ball model = {model!r} has no ball in the log with ball speed, launch, spin and"
                f" carry; models that have: {names}"
            )
        return found


def fit_balls(balls: Sequence[Ball]) -> BallFits:
    """Fit the drag of the player's balls, and weigh the sets of lift and drag.

    Parameters
    ----------
    balls : sequence of Ball
        The log. Only balls with ball speed, launch, spin and carry count, none from sand, and of
        those the newest two thousand; one without air counts as flown on the reference day.

    Returns
    -------
    fits : BallFits
        By model of ball.

    Notes
    -----
    For each set, ln(measured carry) = ln(carry flown, level and calm, with f times the drag) +
    what the day adds + what the shot adds + Student t errors of four degrees of freedom; ln f is
    one part for all balls and one for the model, both with a prior of 5 % around none. So a factor
    stays near 1 where balls are few, or all of one day. Weights: prior odds 25/50/25 times the
    evidence of each fit, by Laplace's method; one part in twenty keeps the prior odds. No wind is
    logged: it counts as part of the day. A carry that a device computed instead of seeing the ball
    land tells of the device's model, not of the ball.
    """
    usable = _usable(balls)
    tables = [_flown(usable, a) for a in BAND]
    known = np.all([np.isfinite(t).all(axis=0) for t in tables], axis=0)
    usable = [ball for ball, ok in zip(usable, known, strict=True) if ok]
    if not usable:
        return BallFits()
    counts = Counter(ball.ball_model for ball in usable)
    models = sorted(counts, key=lambda m: (-counts[m], m))
    design = _design(usable, [m for m in models if m])
    measured = np.log([ball.carry_m or np.nan for ball in usable])
    fitted = [_fit(measured, table[:, known], *design) for table in tables]
    weights = _weights([evidence for _, evidence in fitted])
    found = [_of_model(m, models, counts[m], fitted, weights) for m in models]
    return BallFits(tuple(found), _of_model(None, models, 0, fitted, weights))


def _usable(balls: Sequence[Ball]) -> list[Ball]:
    found = [ball for ball in balls if _can_be_used(ball)]
    if len(found) > _MOST_BALLS:
        found.sort(key=lambda b: _when(b.at))
    return found[-_MOST_BALLS:]


def _when(at: datetime | None) -> float:
    return at.timestamp() if at else -np.inf


def _can_be_used(ball: Ball) -> bool:
    v, launch, spin = ball.ball_speed_mps, ball.launch_rad, ball.spin_rad_s
    if v is None or launch is None or spin is None or ball.carry_m is None:
        return False
    return (
        ball.lie is not Lie.SAND
        and _LAUNCHES[0] <= launch <= _LAUNCHES[1]
        and _SPIN_PER_SPEED[0] <= spin / v <= _SPIN_PER_SPEED[1]
    )


def _flown(balls: Sequence[Ball], aerodynamics: Aerodynamics) -> Floats:
    """Logarithm of each carry as computed, shape (nodes, n); nan where a ball does not land."""
    rows = np.array([(b.ball_speed_mps, b.launch_rad, b.spin_rad_s) for b in balls], dtype=float)
    rows = rows.reshape(-1, 3)
    out = np.full((len(_NODES), len(balls)), np.nan)
    airs: dict[Air, list[int]] = defaultdict(list)
    for k, ball in enumerate(balls):
        airs[ball.air or REFERENCE_DAY].append(k)
    for air, where in airs.items():
        speed, launch, spin = rows[where].T
        for node, x in enumerate(_NODES):
            a = aerodynamics.with_drag(exp(x))
            out[node, where] = np.log(
                level_carries(speed, launch, spin / speed, air, aerodynamics=a)
            )
    return out


def _design(balls: Sequence[Ball], models: Sequence[str]) -> tuple[Floats, Floats, Floats]:
    """Which models each ball has (with one column for all), which nuisances, and their priors."""
    days = sorted({str(b.at and b.at.date()) for b in balls})
    shots = sorted({b.shot for b in balls})
    own = [[1.0, *(float(b.ball_model == m) for m in models)] for b in balls]
    shared = [
        [float(str(b.at and b.at.date()) == d) for d in days] + [float(b.shot == s) for s in shots]
        for b in balls
    ]
    priors = [_PRIOR_DRAG] * (1 + len(models)) + [_DAY_SD] * len(days) + [_SHOT_SD] * len(shots)
    return np.array(own), np.array(shared), np.array(priors)


def _fit(
    measured: Floats, table: Floats, own: Floats, shared: Floats, priors: Floats
) -> tuple[Fit, float]:
    """Fit one set; the curve of each ball's carry over drag is a cubic through its nodes."""
    cubic = np.polynomial.polynomial.polyfit(_NODES, table, 3)
    slopes = cubic[1:] * np.arange(1.0, 4.0)[:, None]
    x = np.zeros(len(measured))
    least = _PRIOR_SPREAD * sqrt(_PRIOR_BALLS / (_PRIOR_BALLS + len(measured)))
    for _ in range(_ROUNDS):
        powers = x ** np.arange(4)[:, None]
        slope = (slopes * powers[:3]).sum(axis=0)
        left = measured - (cubic * powers).sum(axis=0)
        design = np.hstack([own * slope[:, None], shared])
        fit = student_fit(
            left + slope * x, design, priors,
            prior_spread=_PRIOR_SPREAD, prior_count=_PRIOR_BALLS, least_spread=least,
        )  # fmt: skip
        x = np.clip(own @ fit.coefficients[: own.shape[1]], -_FARTHEST, _FARTHEST)
    return fit, _evidence(left + slope * x - design @ fit.coefficients, fit, priors)


def _evidence(left: Floats, fit: Fit, priors: Floats) -> float:
    """Logarithm of the evidence by Laplace's method, all coefficients integrated out."""
    nu, scale = DEGREES_OF_FREEDOM, fit.spread / HALF_WIDTH_68
    start = lgamma((nu + 1.0) / 2.0) - lgamma(nu / 2.0) - 0.5 * log(nu * pi)
    likelihood = start - log(scale) - (nu + 1.0) / 2.0 * np.log1p((left / scale) ** 2 / nu)
    prior = -0.5 * (fit.coefficients / priors) ** 2 - np.log(priors)
    spread = float(np.linalg.slogdet(fit.covariance)[1])
    return float(likelihood.sum() + prior.sum()) + 0.5 * spread


def _weights(evidence: Sequence[float]) -> tuple[float, ...]:
    logs = np.log(_PRIOR_ODDS) + np.array(evidence)
    odds = np.exp(logs - logs.max())
    found = (1.0 - _MISLED) * odds / odds.sum() + _MISLED * np.array(_PRIOR_ODDS)
    return tuple(float(w) for w in found)


def _of_model(
    model: str | None,
    models: Sequence[str],
    count: int,
    fitted: Sequence[tuple[Fit, float]],
    weights: tuple[float, ...],
) -> BallFit:
    """Factor and error of one model under every set; None is a ball of no model in the log."""
    named = [m for m in models if m]
    factors, errors = [], []
    for fit, _ in fitted:
        size = len(fit.coefficients)
        pick = np.zeros(size)
        pick[0] = 1.0
        extra = _PRIOR_DRAG**2 if model is None else 0.0
        if model:
            pick[1 + named.index(model)] = 1.0
        x = float(np.clip(pick @ fit.coefficients, -_FARTHEST, _FARTHEST))
        factors.append(exp(x))
        errors.append(float(np.sqrt(pick @ fit.covariance @ pick + extra)))
    return BallFit(model or "", count, tuple(factors), tuple(errors), weights)
