"""How firm a green is, learnt from balls seen to land: Bayes on a grid, likelihood by simulation.

What is learnt is the firmness as balls find it, on the scale of the hammer; a hammer itself may
read otherwise. What is unknown of the green: that, and how far its friction lies from what it
promises. What is unknown of a ball: how it came down, how this spot took it, and how well its run
was seen. A ball is played under each cell of the grid with the same draws.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import radians

import numpy as np

from carrybook.base import constants as c
from carrybook.base.errors import NoSolutionError, require_range
from carrybook.base.numerics import Floats
from carrybook.outcomes.landing import STIMP_SD, Arrival, Patch, drop_many
from carrybook.outcomes.turf import drawn_turf
from carrybook.physics.roll import rolling_resistance

__all__ = ["MARKS", "SEEN", "TYPICAL", "FirmnessUpdate", "Seen", "update_firmness"]

# What golfers say a ball did: run from the pitch mark between these, in paces; common practice for
# the words, ours for the numbers.
SEEN: dict[str, tuple[float, float]] = {
    "spun back": (-8.0, -1.5),
    "came back": (-8.0, -1.0),
    "one hop and stopped": (-1.0, 1.5),
    "hop and stop": (-1.0, 1.5),
    "stopped dead": (-1.0, 0.7),
    "checked": (0.7, 3.0),
    "released": (3.0, 8.0),
    "ran out": (8.0, 25.0),
}
# Pitch marks, as the firmness that usually makes them. [g] Hardness explained half of the size of a
# ball mark (linde-2009), so a mark is as unsure as greens differ.
MARKS: dict[str, float] = {
    "plugged": 50.0,
    "deep": 70.0,
    "usual": 90.0,
    "shallow": 110.0,
    "none": 130.0,
}
_MARK_SD = 20.0
# Ours: a full wedge, when nobody says how the ball came down; and how unsure that is, relative for
# speed and spin, in rad for the angle; when it was stated, these parts of it.
TYPICAL = Arrival(18.5, radians(50.0), 8000.0 * c.RPM)
_ARRIVAL_SD = (0.08, radians(3.0), 0.15)
_STATED = 0.4
# Ours: how well a run is seen: half a pace, and a tenth of it.
_EYE_M, _EYE_SHARE = 0.5 * c.YARD, 0.10

# Ours: the grid. Friction of the green in standard deviations of what firmness leaves open, and the
# ball's own share beside it.
_GRID_G = np.arange(40.0, 161.0, 2.5)
_NODES = np.linspace(-2.1, 2.1, 7)
_WEIGHTS = np.exp(-0.5 * _NODES**2) / np.exp(-0.5 * _NODES**2).sum()
_BALL_SHARE = 0.5
_DRAWS = 192
_ODD = 1e-3  # likelihood a pace under which nothing we believe explains what was seen


@dataclass(frozen=True, slots=True)
class Seen:
    """One ball seen to land.

    Parameters
    ----------
    words : str
        What was said of it.
    low_m, high_m : float
        Its run from the pitch mark lay between these; equal where a run was paced. [m]
    mark_g : float, optional
        Firmness that usually makes its pitch mark; none where nobody looked. [Clegg gravities]
    arrival : Arrival, optional
        How it came down; none where nobody knows.
    """

    words: str
    low_m: float
    high_m: float
    mark_g: float | None = None
    arrival: Arrival | None = None


@dataclass(frozen=True, slots=True)
class FirmnessUpdate:
    """What balls seen to land make of a firmness.

    Parameters
    ----------
    seen : tuple of Seen
        The balls.
    grid_g : ndarray, shape (n,)
        Firmnesses looked at. [Clegg gravities]
    prior, posterior : ndarray, shape (n,)
        Share of belief in each, before and after. [1]
    friction : tuple of float
        Friction of a landing at the new firmness: 16, 50 and 84 %. [1]
    odd : tuple of str
        Balls that nothing we believe of greens explains.
    """

    seen: tuple[Seen, ...]
    grid_g: Floats
    prior: Floats
    posterior: Floats
    friction: tuple[float, float, float]
    odd: tuple[str, ...]

    @property
    def before_g(self) -> tuple[float, float]:
        """Mean and standard deviation before. [Clegg gravities]"""
        return _moments(self.grid_g, self.prior)

    @property
    def after_g(self) -> tuple[float, float]:
        """Mean and standard deviation now. [Clegg gravities]"""
        return _moments(self.grid_g, self.posterior)


def update_firmness(
    prior_g: tuple[float, float], seen: Sequence[Seen], patch: Patch, rng: np.random.Generator
) -> FirmnessUpdate:
    """Learn the firmness of a green from balls seen to land on it.

    Parameters
    ----------
    prior_g : tuple of float
        Firmness and its standard deviation before. [Clegg gravities]
    seen : sequence of Seen
        The balls; at least one.
    patch : Patch
        Green speed, slope and kind where they landed; its own firmness is not used.
    rng : numpy.random.Generator
        Where chance comes from.

    Raises
    ------
    NoSolutionError
        No ball was seen.
    OutOfRangeError
        A prior that no green has.

    Notes
    -----
    P(firmness | runs) ~ P(firmness) sum over friction of P(friction) prod over balls of
    P(run | firmness, friction); the last is the share of simulated runs, each blurred by how well
    a run is seen, that agrees. Balls of one green share its friction.
    """
    require_range("firmness", prior_g[0], 40.0, 160.0, "g")
    require_range("uncertainty of the firmness", prior_g[1], 1.0, 60.0, "g")
    if not seen:
        raise NoSolutionError("no ball was seen to land; say at least one thing that was seen")
    prior = np.exp(-0.5 * ((_GRID_G - prior_g[0]) / prior_g[1]) ** 2)
    prior /= prior.sum()
    belief = prior[:, None] * _WEIGHTS[None, :]
    odd = []
    for ball in seen:
        likelihood = _likelihood(ball, patch, rng)
        if float((belief * likelihood).sum() / belief.sum()) < _ODD:
            odd.append(ball.words)
        belief = belief * (likelihood + 1e-9)
    posterior = belief.sum(axis=1) / belief.sum()
    friction = _frictions(belief, patch)
    return FirmnessUpdate(tuple(seen), _GRID_G, prior, posterior, friction, tuple(odd))


def _likelihood(ball: Seen, patch: Patch, rng: np.random.Generator) -> Floats:
    """How well each cell of firmness and friction explains one ball."""
    shape = (len(_GRID_G), len(_NODES), _DRAWS)
    z = rng.standard_normal((7, _DRAWS))
    firm, grip = np.meshgrid(_GRID_G, _NODES, indexing="ij")
    rows = drawn_turf(
        np.broadcast_to(firm[..., None], shape).ravel(),
        np.broadcast_to(z[0], shape).ravel(),
        np.broadcast_to(z[1], shape).ravel(),
        (grip[..., None] + _BALL_SHARE * z[2]).ravel(),
        patch.kind,
    )
    resistance = rolling_resistance(patch.stimp_m) * np.exp(STIMP_SD * z[3])
    rows[:, 3] = np.broadcast_to(resistance, shape).ravel()
    arrivals = _arrivals(ball.arrival, z[4:])
    runs = drop_many(np.tile(arrivals, (len(rows) // _DRAWS, 1)), rows, patch)[:, 0].reshape(shape)
    share = _agreement(runs, ball).mean(axis=-1)
    if ball.mark_g is None:
        return np.asarray(share)
    return np.asarray(share * np.exp(-0.5 * ((firm - ball.mark_g) / _MARK_SD) ** 2))


def _arrivals(stated: Arrival | None, z: Floats) -> Floats:
    """How a ball may have come down, rows of :meth:`Arrival.row`."""
    middle, part = stated or TYPICAL, 1.0 if stated is None else _STATED
    speed, angle, spin = (part * sd for sd in _ARRIVAL_SD)
    rows = np.tile(middle.row(), (z.shape[1], 1))
    rows[:, 0] *= np.exp(speed * z[0])
    rows[:, 1] = np.clip(rows[:, 1] + angle * z[1], -radians(90.0), -radians(1.0))
    rows[:, 2] *= np.exp(spin * z[2])
    return rows


def _agreement(runs: Floats, ball: Seen) -> Floats:
    """Chance that each run would have been told as this one was."""
    eye = _EYE_M + _EYE_SHARE * np.abs(runs)
    if ball.low_m == ball.high_m:  # paced: the density of what was told, a pace wide
        return np.asarray(np.exp(-0.5 * ((runs - ball.low_m) / eye) ** 2) * 0.4 * c.YARD / eye)
    over, under = (ball.high_m - runs) / eye, (ball.low_m - runs) / eye
    return np.asarray(1.0 / (1.0 + np.exp(-1.7 * over)) - 1.0 / (1.0 + np.exp(-1.7 * under)))


def _frictions(belief: Floats, patch: Patch) -> tuple[float, float, float]:
    """16, 50 and 84 % of the friction of a landing, from belief in firmness and friction."""
    firm, grip = np.meshgrid(_GRID_G, _NODES, indexing="ij")
    nothing = np.zeros(firm.size)
    values = drawn_turf(firm.ravel(), nothing, nothing, grip.ravel(), patch.kind)[:, 2]
    order = np.argsort(values)
    share = np.cumsum(belief.ravel()[order]) / belief.sum()
    low, middle, high = (float(v) for v in np.interp((0.16, 0.5, 0.84), share, values[order]))
    return low, middle, high


def _moments(grid: Floats, share: Floats) -> tuple[float, float]:
    mean = float(share @ grid)
    return mean, float(np.sqrt(share @ (grid - mean) ** 2))
