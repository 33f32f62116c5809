"""Feel against real: what was called against what was measured, and what was meant against called.

Gaps are relative: 0.02 is two per cent. Both kinds are kept apart: the first says how well the
player reads a strike, the second how far the strike that they feel is from the one they meant.
"""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from math import atanh, log, tanh

import numpy as np

from carrybook.base.constants import YARD
from carrybook.base.numerics import Flags, Floats, Ints
from carrybook.player.bag import Shot
from carrybook.player.balls import Ball
from carrybook.player.learn.problem import Group, Problem, columns
from carrybook.player.learn.quick import solve
from carrybook.player.robust import student_fit
from carrybook.world.lie import Lie

__all__ = ["Feel", "FeelGap", "Trust", "Week", "feel_of"]

# Ours: priors of a gap, in all and by shot; how it goes with ln(carry / stock); its scatter.
_CENTRE, _CENTRE_SHOT, _SLOPE = 0.05, 0.02, 0.15
_SCATTER = log(0.03)
_ODD = 0.4
_BAND_M = 20.0 * YARD
_LEAST = 5  # balls of a band, a week or a shot below which nothing is said
_Z90 = 1.645


@dataclass(frozen=True, slots=True)
class FeelGap:
    """One gap with its interval.

    Parameters
    ----------
    label : str
        The shot, or "all".
    from_m, to_m : float
        Meant carries it holds for (the measured ones would sort balls by their luck); 0 and inf
        where all. [m]
    balls : int
        What it rests on.
    middle, low, high : float
        Relative gap, and the interval that holds it with 90 % probability. [1]
    """

    label: str
    from_m: float
    to_m: float
    balls: int
    middle: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Trust:
    """How much a call at impact is worth.

    Parameters
    ----------
    label : str
        The shot, or "all".
    balls : int
        With meant, called and measured carry.
    explained, low, high : float
        Share of the variance of measured carry around what was meant that the call explains, and
        its interval of 90 %. [1]
    weight : float
        Of a called miss so much is real: call one 5 long and expect `weight` times 5. [1]
    """

    label: str
    balls: int
    explained: float
    low: float
    high: float
    weight: float


@dataclass(frozen=True, slots=True)
class Week:
    """Called less measured in one week; parameters as :class:`FeelGap`, `monday` its first day."""

    monday: date
    balls: int
    middle: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Feel:
    """Feel against real.

    Parameters
    ----------
    called : tuple of FeelGap
        Called less measured, over measured: all, then by shot. Positive: called too long.
    intended : tuple of FeelGap
        Meant less called, over called: all, then by shot. Positive: felt shorter than meant.
    called_bands, intended_bands : tuple of FeelGap
        The same by distance.
    trust : tuple of Trust
        All, then by shot.
    weeks : tuple of Week
        Called less measured, the oldest first.
    """

    called: tuple[FeelGap, ...]
    intended: tuple[FeelGap, ...]
    called_bands: tuple[FeelGap, ...]
    intended_bands: tuple[FeelGap, ...]
    trust: tuple[Trust, ...]
    weeks: tuple[Week, ...]


@dataclass(frozen=True, slots=True)
class _Calls:
    shots: tuple[Shot, ...]
    shot: Ints
    intended: Floats
    called: Floats
    carry: Floats
    days: tuple[date | None, ...]


def feel_of(shots: Sequence[Shot], balls: Sequence[Ball], rng: np.random.Generator) -> Feel:
    """Compare what was meant, called and measured.

    Parameters
    ----------
    shots, balls : sequence of Shot, sequence of Ball
        The bag and the log; balls that were not called do not count, nor do those from sand.
    rng : Generator
        For the draws.
    """
    calls = _calls_of(shots, balls)
    read = np.log(calls.called / calls.carry)
    felt = np.log(calls.intended / calls.called)
    meant = np.where(np.isfinite(calls.intended), calls.intended, _stock(calls))
    called, called_bands = _gaps(calls, read, meant, rng)
    intended, intended_bands = _gaps(calls, felt, meant, rng)
    return Feel(called, intended, called_bands, intended_bands, _trusts(calls), _weeks(calls, read))


def _calls_of(shots: Sequence[Shot], balls: Sequence[Ball]) -> _Calls:
    number = {s.label: k for k, s in enumerate(shots)}
    rows = [b for b in balls if b.called_m and b.shot in number and b.lie is not Lie.SAND]
    table = [(b.intended_m or np.nan, b.called_m, b.carry_m or np.nan) for b in rows]
    intended, called, carry = np.array(table, dtype=float).reshape(-1, 3).T
    shot = np.array([number[b.shot] for b in rows], dtype=np.int64)
    days = tuple(b.at.date() if b.at else None for b in rows)
    return _Calls(tuple(shots), shot, intended, called, carry, days)


def _stock(calls: _Calls) -> Floats:
    return np.array([s.stock_carry_m for s in calls.shots])[calls.shot]


def _gaps(
    calls: _Calls, gap: Floats, at: Floats, rng: np.random.Generator
) -> tuple[tuple[FeelGap, ...], tuple[FeelGap, ...]]:
    """A gap in all and by shot, from one pooled fit; and by distance."""
    keep = np.isfinite(gap)
    shots, shot, y, x = len(calls.shots), calls.shot[keep], gap[keep], at[keep]
    n = len(y)
    if not n:
        return (), ()
    one, first = np.ones(n), np.zeros(n, dtype=np.int64)
    partial = np.log(x / _stock(calls)[keep])
    pooled = Group("shot", shots, _CENTRE_SHOT, pooled=True)
    line, groups = columns(
        n,
        [
            (Group("centre", 1, _CENTRE), first, one),
            (pooled, shot, one),
            (Group("slope", 1, _SLOPE), first, partial),
        ],
    )
    scale, scale_groups = columns(n, [(Group("scatter", 1, 0.5, _SCATTER), first, one)])
    odd = np.full(n, _ODD)
    answer = solve(Problem(y, line, groups, scale, scale_groups, odd, np.zeros(n)), rng)
    found = np.column_stack([answer.line[g.name] for g in groups])
    shown = []
    for k in np.unique(shot):
        own = found[:, 0] + found[:, 1 + k] + found[:, -1] * partial[shot == k].mean()
        shown.append(_gap(calls.shots[k].label, 0.0, np.inf, int((shot == k).sum()), own))
    everything = found @ np.asarray(line.mean(axis=0)).ravel()
    bands = tuple(_band(y, x, start) for start in np.arange(0.0, x.max(), _BAND_M))
    return (_gap("all", 0.0, np.inf, n, everything), *shown), tuple(b for b in bands if b)


def _gap(label: str, start: float, end: float, balls: int, draws: Floats) -> FeelGap:
    low, middle, high = np.expm1(np.quantile(draws, (0.05, 0.5, 0.95)))
    return FeelGap(label, start, end, balls, float(middle), float(low), float(high))


def _band(gap: Floats, at: Floats, start: float) -> FeelGap | None:
    own = gap[(at >= start) & (at < start + _BAND_M)]
    if len(own) < _LEAST:
        return None
    middle, low, high = _robust(own)
    return FeelGap("all", float(start), float(start + _BAND_M), len(own), middle, low, high)


def _robust(values: Floats) -> tuple[float, float, float]:
    """Middle and 90 % interval of a sample of logarithms, as relative gaps."""
    fit = student_fit(values, np.ones((len(values), 1)), np.array([np.inf]))
    reach = _Z90 * fit.standard_error * np.sqrt(len(values) / (len(values) - 1.0))
    ends = np.expm1([fit.centre, fit.centre - reach, fit.centre + reach])
    return float(ends[0]), float(ends[1]), float(ends[2])


def _trusts(calls: _Calls) -> tuple[Trust, ...]:
    known = np.isfinite(calls.intended) & np.isfinite(calls.carry)
    rows = [_trust("all", calls, known)]
    rows += [_trust(s.label, calls, known & (calls.shot == k)) for k, s in enumerate(calls.shots)]
    return tuple(r for r in rows if r)


def _trust(label: str, calls: _Calls, keep: Flags) -> Trust | None:
    """Regress the measured miss on the called miss, robustly, each shot around its own middle."""
    shot = calls.shot[keep]
    n, owned = len(shot), len(np.unique(shot))
    if n < _LEAST + 3 + owned:
        return None
    real = _around(np.log(calls.carry[keep] / calls.intended[keep]), shot)
    said = _around(np.log(calls.called[keep] / calls.intended[keep]), shot)
    if not said.std():
        return None
    fit = student_fit(real, np.column_stack([np.ones(n), said]), np.array([np.inf, np.inf]))
    alone = student_fit(real, np.ones((n, 1)), np.array([np.inf]))
    share = float(np.clip(1.0 - (fit.spread / alone.spread) ** 2, 0.0, 0.999))
    z, reach = atanh(share**0.5), _Z90 / (n - owned - 2.0) ** 0.5
    low, high = tanh(max(z - reach, 0.0)) ** 2, tanh(z + reach) ** 2
    return Trust(label, n, share, low, high, float(fit.coefficients[1]))


def _around(values: Floats, shot: Ints) -> Floats:
    out = values.copy()
    for k in np.unique(shot):
        out[shot == k] -= np.median(values[shot == k])
    return out


def _weeks(calls: _Calls, read: Floats) -> tuple[Week, ...]:
    weeks: dict[date, list[float]] = defaultdict(list)
    for day, gap in zip(calls.days, read, strict=True):
        if day and np.isfinite(gap):
            weeks[day - timedelta(days=day.weekday())].append(float(gap))
    kept = ((monday, np.array(v)) for monday, v in sorted(weeks.items()) if len(v) >= _LEAST)
    return tuple(Week(monday, len(v), *_robust(v)) for monday, v in kept)
