"""Whether what was measured drifts while balls are struck: a sensor that slips, or a swing.

A number that should stay level is followed through a session, and by days through the whole log.
Its running sum is compared with what chance alone does, wherever in the session the step may be;
and with how many such looks were taken.
"""

from collections import defaultdict
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from math import asin, degrees, exp, inf, log, sqrt
from statistics import NormalDist

import numpy as np

from carrybook.base import constants as c
from carrybook.base.numerics import Floats
from carrybook.player.bag import Shot
from carrybook.player.balls import Ball

__all__ = ["Drift", "sensor_drifts"]

# Ours: fewest balls of a session and days of a log worth a look; a chance of being wrong once in a
# hundred whole logs.
_LEAST_BALLS = 20
_LEAST_DAYS = 10
_WRONG = 0.01
_LEAST_NOISE = 0.3  # of the whole deviation; keeps few smooth numbers from looking sure
_LEAST_OF_A_SHOT = 5  # balls of a shot before its own level is known


@dataclass(frozen=True, slots=True)
class Drift:
    """A number that does not stay level.

    Parameters
    ----------
    where : str
        The session or file, or "all days".
    what : str
        What drifts.
    unit : str
        Of `change`: "deg" or "%".
    shape : str
        "step" or "slope", whichever fits better.
    change : float
        How much it changed from before to after the step, or from first to last. [unit]
    change_se : float
        Its standard error. [unit]
    after : int
        Balls (or days) before the step; of a slope, all of them. [1]
    chance : float
        How often chance alone would show as much in a log looked at as often. [1]
    """

    where: str
    what: str
    unit: str
    shape: str
    change: float
    change_se: float
    after: int
    chance: float


def sensor_drifts(
    groups: Sequence[tuple[str, Sequence[Ball]]], shots: Mapping[str, Shot]
) -> tuple[Drift, ...]:
    """Find numbers that drift within sessions, or over the days of the log.

    Parameters
    ----------
    groups : sequence of (str, sequence of Ball)
        Sessions or files by name, balls in the order struck.
    shots : mapping of str to Shot
        The shots by label; balls of other shots are passed over.

    Returns
    -------
    drifts : tuple of Drift
        Those that chance explains less than once in a hundred such logs, by Holm's rule over all
        looks (holm-1979).

    Notes
    -----
    Followed are the loft that launch and spin imply, launch + asin(0.4 r w / v), and the natural
    logarithm of ball speed over what the shot's balls need for their carry; each less the middle of
    its shot. Days are taken by their middles, so that one odd day is not many odd balls. Values are
    replaced by normal scores of their ranks, which no wild ball moves; the greatest distance of
    their running sum from the straight line has the distribution of Kolmogorov's bridge
    (brown-durbin-evans-1975). A swing that changes looks the same as a sensor that does.
    """
    looks = [look for name, balls in groups for look in _looks(name, balls, shots)]
    looks += _looks_by_day([ball for _, balls in groups for ball in balls], shots)
    chances = [_bridge_chance(_running(values)) for _, _, _, values in looks]
    order = np.argsort(chances, kind="stable")
    found, worst = [], 0.0
    for rank, k in enumerate(order):
        worst = max(worst, min(1.0, chances[k] * (len(looks) - rank)))
        if worst >= _WRONG:
            break
        found.append(_described(looks[k], worst))
    return tuple(found)


_Look = tuple[str, str, str, Floats]  # where, what, unit, values in order


def _looks(name: str, balls: Sequence[Ball], shots: Mapping[str, Shot]) -> list[_Look]:
    """Numbers of one session, in the order struck."""
    looks = []
    for what, unit, measure in _MEASURES:
        values = [value for _, value in _levelled(balls, shots, measure)]
        if len(values) >= _LEAST_BALLS:
            looks.append((name, what, unit, np.array(values)))
    return looks


def _looks_by_day(balls: Sequence[Ball], shots: Mapping[str, Shot]) -> list[_Look]:
    """Numbers of the whole log, the middle of each day."""
    looks = []
    for what, unit, measure in _MEASURES:
        days: dict[str, list[float]] = defaultdict(list)
        for ball, value in _levelled(balls, shots, measure):
            if ball.at is not None:
                days[ball.at.date().isoformat()].append(value)
        if len(days) >= _LEAST_DAYS:
            middles = [float(np.median(days[day])) for day in sorted(days)]
            looks.append(("all days", what, unit, np.array(middles)))
    return looks


def _levelled(
    balls: Sequence[Ball], shots: Mapping[str, Shot], measure: Callable[[Ball], float | None]
) -> list[tuple[Ball, float]]:
    """Each ball's number less the middle of its shot."""
    by_shot: dict[str, list[float]] = defaultdict(list)
    known = [(b, v) for b in balls if b.shot in shots and (v := measure(b)) is not None]
    for ball, value in known:
        by_shot[ball.shot].append(value)
    level = {s: float(np.median(vs)) for s, vs in by_shot.items() if len(vs) >= _LEAST_OF_A_SHOT}
    return [(ball, value - level[ball.shot]) for ball, value in known if ball.shot in level]


def _implied_loft(ball: Ball) -> float | None:
    """Loft that launch and spin imply, whatever the friction. [deg]"""
    v, launch, spin = ball.ball_speed_mps, ball.launch_rad, ball.spin_rad_s
    if v is None or launch is None or spin is None:
        return None
    return degrees(launch + asin(min(0.4 * c.BALL_RADIUS * spin / v, 1.0)))


def _speed_for_its_carry(ball: Ball) -> float | None:
    """Ball speed against carry, relative. [%]

    In vacuum carry grows with the square of speed; ours: with drag about as speed to the 1.5, so
    that what is left of it is small beside the scatter.
    """
    if ball.ball_speed_mps is None or ball.carry_m is None:
        return None
    return 100.0 * (log(ball.ball_speed_mps) - log(ball.carry_m) / 1.5)


_MEASURES: tuple[tuple[str, str, Callable[[Ball], float | None]], ...] = (
    ("loft that launch and spin imply", "deg", _implied_loft),
    ("ball speed against carry", "%", _speed_for_its_carry),
)


def _scores(values: Floats) -> Floats:
    """Normal scores of the ranks, of unit variance; equal values share theirs."""
    n = len(values)
    order = np.argsort(values, kind="stable")
    ranks = np.empty(n)
    ranks[order] = np.arange(1, n + 1)
    _, group = np.unique(values, return_inverse=True)
    ranks = (np.bincount(group, ranks) / np.bincount(group))[group]
    inverse = NormalDist().inv_cdf
    scores = np.array([inverse((rank - 0.5) / n) for rank in ranks])
    deviation = float(scores.std())
    return np.asarray(scores / deviation if deviation > 0.0 else scores)


def _running(values: Floats) -> Floats:
    """Running sum of the scores over their noise, as a bridge from 0 to 0. [1]

    The noise is that from one to the next, which a step or a slope does not raise; half a
    standard error of it, sqrt(3 / n) / 4, is added so that few values do not look sure by luck
    (ours: then one log in a hundred without drift is named, in trials).
    """
    scores, few = _scores(values), sqrt(3.0 / len(values)) / 4.0
    noise = (1.0 + few) * sqrt(float((np.diff(scores) ** 2).mean()) / 2.0)
    return np.asarray(np.cumsum(scores) / sqrt(len(values)) / max(noise, _LEAST_NOISE))


def _bridge_chance(bridge: Floats) -> float:
    """How often a Brownian bridge goes as far from zero somewhere."""
    far = float(np.abs(bridge).max())
    if far < 0.3:  # the series does not settle there, and the chance is one
        return 1.0
    terms = ((-1.0) ** (k - 1) * exp(-2.0 * (k * far) ** 2) for k in range(1, 101))
    return min(max(2.0 * sum(terms), 0.0), 1.0)


def _described(look: _Look, chance: float) -> Drift:
    """Say whether it stepped or sloped, and by how much."""
    where, what, unit, values = look
    n, scores = len(values), _scores(values)
    after = int(np.abs(_running(values))[: n - 1].argmax()) + 1
    line = np.arange(n) - (n - 1) / 2.0
    stepped = np.where(np.arange(n) < after, scores[:after].mean(), scores[after:].mean())
    sloped = line * float(line @ scores / (line @ line))
    if float(((scores - stepped) ** 2).sum()) <= float(((scores - sloped) ** 2).sum()):
        parts = (values[:after], values[after:])
        change = float(np.median(parts[1]) - np.median(parts[0]))
        error = sqrt(sum(_median_se(part) ** 2 for part in parts))
        return Drift(where, what, unit, "step", change, error, after, chance)
    slope = float(line @ values / (line @ line))
    left = values - values.mean() - slope * line
    error = 1.4826 * float(np.median(np.abs(left))) / sqrt(float(line @ line))
    return Drift(where, what, unit, "slope", slope * (n - 1), error * (n - 1), n, chance)


def _median_se(values: Floats) -> float:
    """Standard error of a median, near enough."""
    if len(values) < 2:
        return inf
    deviation = 1.4826 * float(np.median(np.abs(values - np.median(values))))
    return 1.2533 * deviation / sqrt(len(values))
