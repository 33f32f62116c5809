"""The log as the questions of a model: launch and spin first, then carry and direction.

Priors are ours unless a comment names a source. Relative numbers are logarithms of carry.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from math import log, radians

import numpy as np

from carrybook.base.constants import YARD
from carrybook.base.numerics import Flags, Floats, Ints
from carrybook.player.bag import Flight, Shot
from carrybook.player.ball_fit import BallFits, fit_balls
from carrybook.player.balls import Ball
from carrybook.player.learn.effects import LIES, cold
from carrybook.player.learn.problem import Group, Problem, columns
from carrybook.player.level import Player, scatter_prior
from carrybook.player.reference import reference_carries
from carrybook.player.robust import HALF_WIDTH_68
from carrybook.player.shape import Curve, stock_curve, usual_launch
from carrybook.world.air import REFERENCE_DAY
from carrybook.world.lie import Lie, Moisture

__all__ = [
    "LIES",
    "SCATTER_AT",
    "Log",
    "carry_problem",
    "launch_problems",
    "log_of",
    "side_problem",
]

# How far a player's word on a stock carry may be off, in all, by club, by flight and by shot.
_LEVEL = Group("level", 1, 0.03)
_CLUB, _FLIGHT, _SHOT = 0.02, 0.015, 0.025
# How a partial strays from feel, per unit of ln(felt / stock): in all, and shot by shot.
_SLOPE, _SLOPE_SHOT = 0.12, 0.06
# Own body: per 10 K below 20 C. Weak evidence says about 1 % per 11 K beyond physics; we start at
# nothing and let a player be far from it. A warm body is a warm body: nothing above 20 C.
_COLD = Group("cold", 1, 0.04)
_COMPETITION = Group("competition", 1, 0.03)
# From day to day; from one stretch of weeks to the next; a shot by itself, per year.
_DAY, _STRETCH, _DRIFT = 0.02, 0.01, 0.02
_STRETCH_DAYS = 56.0
_MOST_STRETCHES = 12
# Scatter. Course-rating-accuracy: depth 5.2 to 5.8 % for a scratch man and 7.1 to 7.9 % for a bogey
# man at 90 yd, falling like the -0.6 power of carry; if ball speed strays by the same amount in any
# swing, carry (about its square) strays relatively like its -0.5 power. Sideways 2.35 to 2.62 deg.
SCATTER_AT = 90.0 * YARD
_SPREAD = Group("scatter", 1, 0.3, log(0.058 / HALF_WIDTH_68))
_SPREAD_GROWTH = Group("growth", 1, 0.25, 0.5)
_SPREAD_SHOT = 0.15
_SIDE = Group("scatter", 1, 0.3, log(radians(2.7) / HALF_WIDTH_68))
_SIDE_GROWTH = Group("growth", 1, 0.25, 0.2)
_SIDE_CENTRE = Group("centre", 1, radians(0.7))
_SIDE_CENTRE_SHOT = radians(0.5)
_WITH_CARRY, _WITH_CARRY_SHOT = radians(0.5), radians(0.3)  # direction per unit of carry error
_MOST_CARRY_ERROR = 3.0  # scales; a mishit does not tell how long goes with right
# Launch against what the loft suggests, and its scatter; ln spin the same.
_LAUNCH = (Group("centre", 1, radians(3.0)), radians(2.0), log(radians(1.2)), radians(20.0))
_SPIN = (Group("centre", 1, 0.25), 0.12, log(0.07), 1.0)
_ODD_CARRY, _ODD_SIDE = 0.5, radians(20.0)
# As carrybook.player.summary: outside these a launch is a fault of the reading.
_LAUNCHES = (radians(8.0), radians(60.0))
_SPINS = (2.0, 45.0)  # rad/m


@dataclass(frozen=True, slots=True)
class Log:
    """The balls that count, as columns.

    Parameters
    ----------
    shots : tuple of Shot
        The shots.
    balls : tuple of Ball
        Those with a carry that some flight gives, none from sand.
    shot : ndarray of int, shape (n,)
        Which shot each was.
    felt : ndarray, shape (n,)
        Carry the player meant to feel, or the stock carry. [m]
    reference : ndarray, shape (n,)
        Carry on the reference day. [m]
    day : ndarray of int, shape (n,)
        Number of its day, the oldest first; balls without a time share one.
    age_days : ndarray, shape (n,)
        Before the newest ball; 0 without a time.
    not_flown : ndarray of int, shape (shots,)
        Carries that no flight of the shot explains.
    launch, spin : ndarray, shape (shots,)
        Launch [rad] and spin over speed [rad/m] with which they were carried there.
    fits : BallFits
        How the model of each ball flies; on the reference day all are of the usual one.
    curves : tuple of (Curve, Curve)
        How each shot curves, of a right-hander and of a left-hander.
    player : Player, optional
        How well they play.
    """

    shots: tuple[Shot, ...]
    balls: tuple[Ball, ...]
    shot: Ints
    felt: Floats
    reference: Floats
    day: Ints
    age_days: Floats
    not_flown: Ints
    launch: Floats
    spin: Floats
    fits: BallFits
    curves: tuple[tuple[Curve, Curve], ...]
    player: Player | None = None


def launch_problems(shots: Sequence[Shot], balls: Sequence[Ball]) -> dict[str, Problem]:
    """Launch and spin of clean dry balls against what lofts and shapes suggest."""
    usual = np.array([usual_launch(s) for s in shots])
    number = {s.label: k for k, s in enumerate(shots)}
    rows = [
        (number[b.shot], b.launch_rad, b.spin_rad_s / b.ball_speed_mps)
        for b in balls
        if b.shot in number
        and b.launch_rad is not None
        and b.spin_rad_s is not None
        and b.ball_speed_mps is not None
        and b.moisture is Moisture.DRY
        and b.lie in (Lie.FAIRWAY, Lie.TEE)
    ]
    table = np.array(rows, dtype=float).reshape(-1, 3)
    low, high = np.array([_LAUNCHES, _SPINS]).T
    table = table[np.all((table[:, 1:] >= low) & (table[:, 1:] <= high), axis=1)]
    shot = table[:, 0].astype(np.int64)
    launch = table[:, 1] - usual[shot, 0]
    spin = np.log(table[:, 2] / usual[shot, 1])
    return {
        "launch": _by_shot(launch, shot, len(shots), *_LAUNCH),
        "spin": _by_shot(spin, shot, len(shots), *_SPIN),
    }


def log_of(
    shots: Sequence[Shot],
    balls: Sequence[Ball],
    launch: Floats,
    spin: Floats,
    *,
    player: Player | None = None,
) -> Log:
    """Carry the balls to the reference day and lay them out as columns.

    Parameters
    ----------
    shots, balls : sequence of Shot, sequence of Ball
        The bag and the log.
    launch, spin : ndarray, shape (shots,)
        Launch angle and spin over speed of each shot. [rad], [rad/m]
    player : Player, optional
        How well they play; none is a scratch player.
    """
    fits = fit_balls(balls)
    curves = tuple(
        _curves(s, balls, x, y, fits) for s, x, y in zip(shots, launch, spin, strict=True)
    )
    number = {s.label: k for k, s in enumerate(shots)}
    usable = [b for b in balls if b.shot in number and b.carry_m and b.lie is not Lie.SAND]
    which = np.array([number[b.shot] for b in usable], dtype=np.int64)
    axis = np.array([right.axis_rad for right, _ in curves])
    carries = reference_carries(
        usable, launch[which], spin[which], axis_rad=axis[which], fits=fits, played=fits.usual
    )
    flown = np.isfinite(carries)
    kept = tuple(b for b, ok in zip(usable, flown, strict=True) if ok)
    day, age = _times(kept)
    shot = which[flown]
    felt = [b.intended_m or shots[k].stock_carry_m for b, k in zip(kept, shot, strict=True)]
    lost = np.bincount(which[~flown], minlength=len(shots))
    return Log(
        tuple(shots), kept, shot, np.array(felt), carries[flown], day, age, lost, launch, spin,
        fits, curves, player,
    )  # fmt: skip


def _curves(
    shot: Shot, balls: Sequence[Ball], launch: float, spin: float, fits: BallFits
) -> tuple[Curve, Curve]:
    """How a shot curves, of either hand."""
    own = [b for b in balls if b.shot == shot.label]
    right, left = (
        stock_curve(
            shot, own, float(launch), float(spin),
            aerodynamics=fits.usual.best, left_handed=hand,
        )
        for hand in (False, True)
    )  # fmt: skip
    return right, left


def carry_problem(log_: Log) -> Problem:
    """Reference-day carry over felt carry, and everything it may depend on."""
    n, shots, shot = len(log_.balls), len(log_.shots), log_.shot
    one, first = np.ones(n), np.zeros(n, dtype=np.int64)
    partial = np.log(log_.felt / np.array([s.stock_carry_m for s in log_.shots])[shot])
    clubs = sorted({s.club.label for s in log_.shots})
    club = np.array([clubs.index(s.club.label) for s in log_.shots])[shot]
    flight = np.array([list(Flight).index(s.flight) for s in log_.shots])[shot]
    kelvin = np.array([(b.air or REFERENCE_DAY).temperature_k for b in log_.balls])
    stretches = _stretches(log_.age_days)
    design, groups = columns(
        n,
        [
            (_LEVEL, first, one),
            (Group("club", len(clubs), _CLUB, pooled=True), club, one),
            (Group("flight", len(Flight), _FLIGHT, pooled=True), flight, one),
            (Group("shot", shots, _SHOT, pooled=True), shot, one),
            (Group("slope", 1, _SLOPE), first, partial),
            (Group("slope of shot", shots, _SLOPE_SHOT, pooled=True), shot, partial),
            (_COLD, first, cold(kelvin)),
            *((Group(word, 1, sd), first, _is(log_, word)) for word, sd in LIES),
            (
                _COMPETITION,
                first,
                np.array([float(b.setting == "competition") for b in log_.balls]),
            ),
            (Group("day", int(log_.day.max(initial=-1)) + 1, _DAY, pooled=True), log_.day, one),
            (Group("stretch", stretches.shape[1], _STRETCH, pooled=True), first, stretches),
            (Group("drift", shots, _DRIFT, pooled=True), shot, -log_.age_days / 365.25),
        ],
    )
    scale, scale_groups = columns(
        n,
        [
            (_scatters(log_.player)[0], first, one),
            (_SPREAD_GROWTH, first, -np.log(log_.felt / SCATTER_AT)),
            (Group("scatter of shot", shots, _SPREAD_SHOT, pooled=True), shot, one),
        ],
    )
    values = np.log(log_.reference / log_.felt)
    odd = np.full(n, _ODD_CARRY)
    return Problem(values, design, groups, scale, scale_groups, odd, np.zeros(n))


def side_problem(log_: Log, error: Floats) -> Problem:
    """Direction, and how it goes with the error of the carry.

    Parameters
    ----------
    log_ : Log
        The balls.
    error : ndarray, shape (n,)
        Error of each carry in units of its scale.
    """
    seen = np.array([b.side_m is not None for b in log_.balls], dtype=bool)
    values = np.array(
        [np.arctan2(b.side_m or 0.0, b.carry_m or np.nan) for b in _only(log_.balls, seen)]
    )
    n, shots, shot = int(seen.sum()), len(log_.shots), log_.shot[seen]
    one, first = np.ones(n), np.zeros(n, dtype=np.int64)
    long = np.clip(error[seen], -_MOST_CARRY_ERROR, _MOST_CARRY_ERROR)
    design, groups = columns(
        n,
        [
            (_SIDE_CENTRE, first, one),
            (Group("centre of shot", shots, _SIDE_CENTRE_SHOT, pooled=True), shot, one),
            (Group("long", 1, _WITH_CARRY), first, long),
            (Group("long of shot", shots, _WITH_CARRY_SHOT, pooled=True), shot, long),
        ],
    )
    scale, scale_groups = columns(
        n,
        [
            (_scatters(log_.player)[1], first, one),
            (_SIDE_GROWTH, first, -np.log(log_.felt[seen] / SCATTER_AT)),
            (Group("scatter of shot", shots, _SPREAD_SHOT, pooled=True), shot, one),
        ],
    )
    odd = np.full(n, _ODD_SIDE)
    return Problem(values, design, groups, scale, scale_groups, odd, np.zeros(n))


def _scatters(player: Player | None) -> tuple[Group, Group]:
    """Scatter of carry and of direction at 90 yd, as is usual for how well they play."""
    if player is None:
        return _SPREAD, _SIDE
    usual = scatter_prior(player, SCATTER_AT)
    return (
        replace(_SPREAD, centre=log(usual.spread / HALF_WIDTH_68)),
        replace(_SIDE, centre=log(usual.side_rad / HALF_WIDTH_68)),
    )


def _by_shot(
    values: Floats,
    shot: Ints,
    shots: int,
    centre: Group,
    of_shot: float,
    scatter: float,
    odd: float,
) -> Problem:
    """One centre and one scatter for all shots, and how each shot is off them."""
    n = len(values)
    one, first = np.ones(n), np.zeros(n, dtype=np.int64)
    pooled = Group("centre of shot", shots, of_shot, pooled=True)
    design, groups = columns(n, [(centre, first, one), (pooled, shot, one)])
    parts = [
        (Group("scatter", 1, 0.4, scatter), first, one),
        (Group("scatter of shot", shots, 0.2, pooled=True), shot, one),
    ]
    scale, scale_groups = columns(n, parts)
    return Problem(values, design, groups, scale, scale_groups, np.full(n, odd), np.zeros(n))


def _times(balls: Sequence[Ball]) -> tuple[Ints, Floats]:
    """Number of the day, and age in days, of each ball."""
    dates = [b.at.date() if b.at else None for b in balls]
    known = sorted({d for d in dates if d})
    number = {d: k for k, d in enumerate(known)}
    undated = len(known)
    day = np.array([number[d] if d else undated for d in dates], dtype=np.int64)
    newest = datetime.combine(known[-1], datetime.min.time()) if known else None
    age = [(newest.date() - d).days if d and newest else 0 for d in dates]
    return day, np.array(age, dtype=float)


def _stretches(age_days: Floats) -> Floats:
    """Columns of steps from one stretch of weeks to the next; the newest stretch has none."""
    oldest = float(age_days.max(initial=0.0))
    length = max(_STRETCH_DAYS, oldest / _MOST_STRETCHES)
    back = np.floor(age_days / length)
    return -(back[:, None] > np.arange(int(oldest // length))[None, :]).astype(float)


def _is(log_: Log, word: str) -> Floats:
    return np.array([float(word in (b.moisture.value, b.lie.value)) for b in log_.balls])


def _only(balls: Sequence[Ball], keep: Flags) -> list[Ball]:
    return [b for b, ok in zip(balls, keep, strict=True) if ok]
