"""The standing test: the same distances every month, in a random order; and luck told from change.

Score: mean of the miss over the distance, in per cent, of one ball to one target.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import exp, hypot, log, sqrt
from statistics import NormalDist

import numpy as np

from carrybook.base.constants import YARD
from carrybook.base.errors import BadInputError, NoSolutionError, require_range
from carrybook.player.bag import Shot

__all__ = [
    "FEWEST",
    "FORM",
    "Change",
    "Result",
    "StandingTest",
    "change_between",
    "ln_error",
    "result_of",
    "smallest_change",
    "standing_test",
]

FEWEST = 27  # robertson-2013: nine targets, each three times
_TARGETS = 9
_MOST = 90
_NEAREST, _FURTHEST = 20.0, 150.0  # yd
_STEP = 5.0  # yd; targets are told in these
FORM = 0.05  # ours: a player's day, standard deviation of ln score beyond the balls of the test
_TRUE_CHANGE = 0.15  # ours: what may have changed between two tests, of ln score
_SURE = NormalDist().inv_cdf(0.975)  # two-sided 95 %
# Standard deviation of one ball's miss over its mean, with the side and of carry alone: of a t with
# four degrees of freedom in both directions sqrt(16 / pi^2 - 1), and of the size of one such t 1.
_ONE_BALL = {True: 0.788, False: 1.0}


@dataclass(frozen=True, slots=True)
class StandingTest:
    """A test that is the same each time.

    Parameters
    ----------
    targets_m : tuple of float
        Its distances, rising. [m]
    each : int
        Balls to each; 27 balls at least in all.

    Raises
    ------
    BadInputError
        No targets, or some that do not rise.
    OutOfRangeError
        Too few or too many balls.
    """

    targets_m: tuple[float, ...]
    each: int

    def __post_init__(self) -> None:
        if len(self.targets_m) < 2 or any(b <= a for a, b in pairwise(self.targets_m)):
            raise BadInputError("a standing test needs two targets or more, rising")
        require_range("balls of the test", self.balls, FEWEST, _MOST, "balls")

    @property
    def balls(self) -> int:
        """Balls in all."""
        return self.each * len(self.targets_m)

    def order(self, rng: np.random.Generator) -> tuple[float, ...]:
        """Targets in a random order, none twice in a row. [m]"""
        left = dict.fromkeys(self.targets_m, self.each)
        order: list[float] = []
        while any(left.values()):
            open_ = [t for t, n in left.items() if n and (not order or t != order[-1])]
            rest = sum(left.values())
            must = [t for t in open_ if 2 * left[t] > rest]  # or it could not be kept apart
            chosen = must or open_
            weights = np.array([left[t] for t in chosen], dtype=float)
            order.append(chosen[int(rng.choice(len(chosen), p=weights / weights.sum()))])
            left[order[-1]] -= 1
        return tuple(order)


@dataclass(frozen=True, slots=True)
class Result:
    """What a standing test came to.

    Parameters
    ----------
    percent : float
        Mean miss over distance. [%]
    low, high : float
        95 % interval of what it would be on average. [%]
    balls : int
        Balls that count.
    side : bool
        Whether the side was measured; else it is carry alone, and no match for one that was.
    """

    percent: float
    low: float
    high: float
    balls: int
    side: bool


@dataclass(frozen=True, slots=True)
class Change:
    """One test against another.

    Parameters
    ----------
    ratio, low, high : float
        Later score over earlier, and its 95 % interval; below 1 is closer. [1]
    smallest : float
        The smallest real change: a fall by less than this share may well be luck. [1]
    chance : float
        That the player truly is closer, with what is usual between two tests as prior. [1]
    """

    ratio: float
    low: float
    high: float
    smallest: float
    chance: float

    @property
    def real(self) -> bool:
        """Whether it is beyond luck, in either direction."""
        return not self.low <= 1.0 <= self.high


def standing_test(shots: Sequence[Shot], balls: int = FEWEST) -> StandingTest:
    """Choose the distances of a test: nine, evenly over what the shots are used for.

    Parameters
    ----------
    shots : sequence of Shot
        Shots of the book.
    balls : int, default 27
        Balls in all, 27 to 90; made up to the same number for each distance.

    Raises
    ------
    NoSolutionError
        No shot between 20 and 150 yd.
    OutOfRangeError
        Too few or too many balls.
    """
    require_range("balls of the test", balls, FEWEST, _MOST, "balls")
    reach = [(s.shortest_m / YARD, min(s.longest_m, s.stock_carry_m) / YARD) for s in shots]
    low = max(_NEAREST, min((a for a, _ in reach), default=_FURTHEST))
    high = min(_FURTHEST, max((b for _, b in reach), default=_NEAREST))
    inside = np.linspace(low + 0.04 * (high - low), high - 0.04 * (high - low), _TARGETS)
    step = _STEP if high - low > _STEP * (_TARGETS + 1) else 1.0
    targets = sorted({float(step * round(v / step)) for v in inside})
    if high <= low or len(targets) < 2:
        raise NoSolutionError(
            "no shot of the book is for 20 to 150 yd, so there is nothing to test; add one:"
            " carrybook shots add"
        )
    each = -(-balls // len(targets))
    return StandingTest(tuple(t * YARD for t in targets), each)


def result_of(percents: Sequence[float], *, side: bool) -> Result:
    """Score a test.

    Parameters
    ----------
    percents : sequence of float
        Miss over distance of each ball, two at least. [%]
    side : bool
        Whether they hold the side.

    Raises
    ------
    NoSolutionError
        Fewer than two balls.
    """
    if len(percents) < 2:
        raise NoSolutionError(
            "a score needs two measured balls; strike some, and say what they were"
        )
    mean, wide = float(np.mean(percents)), _SURE * ln_error(len(percents), side=side)
    return Result(mean, mean * exp(-wide), mean * exp(wide), len(percents), side)


def change_between(earlier: Result, later: Result) -> Change:
    """Tell change from luck.

    Parameters
    ----------
    earlier, later : Result
        Two tests of the same player.

    Raises
    ------
    BadInputError
        One with the side and one without.

    Notes
    -----
    The logarithm of a score has standard error `ln_error`; the difference of two the root of both
    squares, which with equal errors is the usual smallest real change, 1.96 sqrt(2) SEM. The
    chance that the player is closer takes 15 % as usual between two tests, either way (ours).
    """
    if earlier.side != later.side:
        raise BadInputError("one test has sides and the other not: they cannot be compared")
    moved = log(later.percent / earlier.percent)
    se = hypot(*(ln_error(r.balls, side=r.side) for r in (earlier, later)))
    shrunk = _TRUE_CHANGE / sqrt(_TRUE_CHANGE**2 + se**2)
    return Change(
        ratio=exp(moved),
        low=exp(moved - _SURE * se),
        high=exp(moved + _SURE * se),
        smallest=1.0 - exp(-_SURE * se),
        chance=NormalDist().cdf(-moved / se * shrunk),
    )


def ln_error(balls: int, *, side: bool = True) -> float:
    """Standard error of ln score: of the balls of a t with four degrees of freedom, and of the day.

    Parameters
    ----------
    balls : int
        Balls of the test.
    side : bool, default True
        Whether the side counts.
    """
    return hypot(_ONE_BALL[side] / sqrt(balls), FORM)


def smallest_change(balls: int, *, side: bool = True) -> float:
    """Smallest real fall of a score between two tests of so many balls, as a share; `ln_error`."""
    return 1.0 - exp(-_SURE * sqrt(2.0) * ln_error(balls, side=side))
