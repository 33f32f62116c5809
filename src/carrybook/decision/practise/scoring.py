"""What struck balls were worth: percent error, strokes against book and baseline, the call."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot, sqrt

import numpy as np

from carrybook.outcomes.plain_green import expected_miss, expected_strokes, strokes_after
from carrybook.player.level import Scatter

__all__ = ["Mean", "Scored", "Summary", "score", "summarise"]


@dataclass(frozen=True, slots=True)
class Scored:
    """One measured ball against its target.

    Parameters
    ----------
    target_m, long_m : float
        Distance of the target; carry beyond it, short negative. [m]
    side_m : float, optional
        Right of the line; none where it was not measured. [m]
    percent : float
        Miss over distance; of carry alone without a side. [%]
    strokes : float
        To hole out from where it was struck, from where it finished, on the plain green. [1]
    own_percent, own_strokes, base_percent, base_strokes : float
        The same as expected from the own book, before this session, and from the baseline. [%], [1]
    called_off_m : float, optional
        Called carry less measured carry; none without a call. [m]
    """

    target_m: float
    long_m: float
    side_m: float | None
    percent: float
    strokes: float
    own_percent: float
    own_strokes: float
    base_percent: float
    base_strokes: float
    called_off_m: float | None


@dataclass(frozen=True, slots=True)
class Mean:
    """A mean over balls and its standard error; none where there is one ball."""

    mean: float
    se: float | None


@dataclass(frozen=True, slots=True)
class Summary:
    """Balls of one kind together.

    Parameters
    ----------
    balls, with_side : int
        Measured balls, and those of them with a side.
    percent, own_percent, base_percent : Mean, float, float
        Miss over distance; as expected. [%]
    over_own, over_base : Mean
        Strokes more than expected a ball, against own book and baseline. [1]
    long : Mean
        Carry beyond the target over its distance. [%]
    called : Mean, optional
        Called less measured carry; none without calls. [m]
    calls : int
        Calls behind it.
    """

    balls: int
    with_side: int
    percent: Mean
    own_percent: float
    base_percent: float
    over_own: Mean
    over_base: Mean
    long: Mean
    called: Mean | None
    calls: int


def score(
    target_m: float,
    carry_m: float,
    side_m: float | None,
    *,
    own: Scatter,
    base: Scatter,
    called_m: float | None = None,
) -> Scored:
    """Score one ball.

    Parameters
    ----------
    target_m, carry_m : float
        Distance of the target, and what it carried. [m]
    side_m : float, optional
        Where it landed beside the line. [m]
    own, base : Scatter
        What was to be expected of the player, and of the baseline.
    called_m : float, optional
        What the player called. [m]

    Notes
    -----
    Without a side, what was expected is that of the carry error alone, too.
    """
    side = side_m is not None
    miss = hypot(carry_m - target_m, side_m or 0.0)
    return Scored(
        target_m=target_m,
        long_m=carry_m - target_m,
        side_m=side_m,
        percent=100.0 * miss / target_m,
        strokes=1.0 + float(strokes_after(np.array(miss))),
        own_percent=100.0 * expected_miss(target_m, own, side=side),
        own_strokes=expected_strokes(target_m, own, side=side),
        base_percent=100.0 * expected_miss(target_m, base, side=side),
        base_strokes=expected_strokes(target_m, base, side=side),
        called_off_m=None if called_m is None else called_m - carry_m,
    )


def summarise(balls: Sequence[Scored]) -> Summary | None:
    """Take balls of one kind together; none where there is no ball.

    Parameters
    ----------
    balls : sequence of Scored
        Of one order of targets: blocks flatter, so they are not taken with random ones.
    """
    if not balls:
        return None
    called = [b.called_off_m for b in balls if b.called_off_m is not None]
    return Summary(
        balls=len(balls),
        with_side=sum(b.side_m is not None for b in balls),
        percent=_mean([b.percent for b in balls]),
        own_percent=float(np.mean([b.own_percent for b in balls])),
        base_percent=float(np.mean([b.base_percent for b in balls])),
        over_own=_mean([b.strokes - b.own_strokes for b in balls]),
        over_base=_mean([b.strokes - b.base_strokes for b in balls]),
        long=_mean([100.0 * b.long_m / b.target_m for b in balls]),
        called=_mean(called) if called else None,
        calls=len(called),
    )


def _mean(values: Sequence[float]) -> Mean:
    n = len(values)
    se = float(np.std(values, ddof=1)) / sqrt(n) if n > 1 else None
    return Mean(float(np.mean(values)), se)
