"""What the log says of each shot: carry on the reference day, scatter, launch; and how sure.

Every ball is first carried to the reference day.
"""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from carrybook.base.numerics import Floats
from carrybook.player.bag import Shot
from carrybook.player.ball_fit import NO_FIT, BallFit, BallFits, fit_balls
from carrybook.player.balls import Ball
from carrybook.player.level import Player, Scatter, scatter_prior
from carrybook.player.reference import is_clean, reference_carries
from carrybook.player.robust import student_fit
from carrybook.player.shape import STRAIGHT, Curve, stock_curve, usual_launch
from carrybook.world.lie import Lie

__all__ = ["DayShift", "ShotSummary", "summarise"]

# Priors. Spread and direction of a player who did not say how well they play: from the box of 11
# by 14 yd that holds two thirds of a scratch player's shots from 90 yd (course-rating-accuracy):
# 5.2 to 5.8 % in depth, 2.35 to 2.62 deg.
_SCRATCH = Scatter(spread=0.055, side_rad=float(np.radians(2.5)))
# Ours: balls those are worth; how far a player's stated carry may be off; how far a partial may
# stray from feel, per unit of ln(felt / stock); how much one day differs from the next; and the
# balls against which a correlation, or a measured launch, is shrunk.
_PRIOR_BALLS = 6.0
_PRIOR_BIAS_SE = 0.04
_PRIOR_SLOPE_SE = 0.15
_DAY_TO_DAY = 0.02
_PRIOR_CORRELATION_BALLS = 20.0
_PRIOR_LAUNCH_BALLS = 3.0
# Ours: a measured launch outside these is a fault of the reading, not of the swing.
_LAUNCHES = (float(np.radians(8.0)), float(np.radians(60.0)))
_SPIN_PER_SPEED = (2.0, 45.0)  # rad/m


@dataclass(frozen=True, slots=True)
class DayShift:
    """What a day does to the swing, beyond air and the physics of the lie; already in the bias.

    Parameters
    ----------
    ball : float
        Change of ln carry from the temperature of the ball. [1]
    body : float
        From the player's own body in the cold. [1]
    lie : float
        The player's own response to lie and moisture, beyond that of the strike. [1]
    competition : float
        From playing for a score. [1]
    """

    ball: float = 0.0
    body: float = 0.0
    lie: float = 0.0
    competition: float = 0.0

    @property
    def total(self) -> float:
        """All of it."""
        return self.ball + self.body + self.lie + self.competition


_NO_SHIFT = DayShift()


@dataclass(frozen=True, slots=True)
class ShotSummary:
    """One owned shot as its logged balls show it.

    Parameters
    ----------
    shot : Shot
        The shot.
    balls : int
        Logged balls it rests on; 0 means the player's own word and a prior only.
    stock_m : float
        Carry on the reference day when the player feels the stock carry: robust centre, without
        any shift of the day. [m]
    stock_se_m : float
        Standard error of that centre. [m]
    bias, bias_se : float
        Natural logarithm of reference-day carry over felt carry at stock feel, and its standard
        error, with the shift of the day. [1]
    spread : float
        Half-width that holds 68 % of balls, relative to carry. [1]
    side_rad : float
        Half-width that holds 68 % of directions. [rad]
    side_bias_rad : float
        Robust centre of direction, right positive. [rad]
    correlation : float
        Between relative carry error and direction error (long and right positive). [1]
    launch_rad : float
        Launch angle of the shot. [rad]
    spin_per_speed : float
        Spin over ball speed from a clean dry lie. [rad/m]
    launch_measured : int
        Balls with measured launch and spin behind the last two; 0 means from loft.
    bias_slope : float
        How the bias changes with ln(felt carry / stock carry). [1]
    not_flown : int
        Logged carries that no flight of this shot explains; they do not count. [1]
    days : int
        Different days among the balls.
    curve : Curve
        How it curves.
    ball : BallFit
        How the ball flies that it is now played with.
    spread_growth : float
        How ln spread grows with ln(stock carry / felt carry). [1]
    shift : DayShift
        What the day asked about adds to the bias; nothing on the reference day.
    learnt : str
        Which learning it rests on: "quick", "full", or "" for the log as it stands.
    """

    shot: Shot
    balls: int
    stock_m: float
    stock_se_m: float
    bias: float
    bias_se: float
    spread: float
    side_rad: float
    side_bias_rad: float
    correlation: float
    launch_rad: float
    spin_per_speed: float
    launch_measured: int
    bias_slope: float = 0.0
    not_flown: int = 0
    days: int = 0
    curve: Curve = STRAIGHT
    ball: BallFit = NO_FIT
    spread_growth: float = 0.0
    shift: DayShift = _NO_SHIFT
    learnt: str = ""

    def spread_at(self, felt_m: float) -> float:
        """Spread, relative to carry, of a partial that is felt as `felt_m`. [1]"""
        return self.spread * float((self.shot.stock_carry_m / felt_m) ** self.spread_growth)

    def felt_for(self, reference_m: Floats) -> Floats:
        """What to feel for a carry on the reference day. [m]"""
        stock = np.log(self.shot.stock_carry_m)
        felt = (np.log(reference_m) - self.bias + self.bias_slope * stock) / (1.0 + self.bias_slope)
        return np.asarray(np.exp(felt))

    def reference_for(self, felt_m: Floats) -> Floats:
        """Carry on the reference day of what is felt. [m]"""
        partial = np.log(felt_m / self.shot.stock_carry_m)
        return np.asarray(felt_m * np.exp(self.bias + self.bias_slope * partial))


def summarise(
    shots: Sequence[Shot],
    balls: Sequence[Ball],
    *,
    ball_model: str | None = None,
    left_handed: bool = False,
    player: Player | None = None,
) -> tuple[ShotSummary, ...]:
    """Summarise the log, shot by shot.

    Parameters
    ----------
    shots : sequence of Shot
        The shots the player owns.
    balls : sequence of Ball
        The log; balls of other shots are passed over.
    ball_model : str, optional
        Model of ball that is now played, as the log names it; the usual one if not given.
    left_handed : bool
        Whose draw and cut they are, where the log does not show their curve.
    player : Player, optional
        How well they play, which is what spread and direction are shrunk toward.

    Returns
    -------
    summaries : tuple of ShotSummary
        In the order of `shots`.

    Raises
    ------
    BadInputError
        A model of ball that the log does not know well enough.

    Notes
    -----
    Carry: the logarithm of reference-day carry over intended carry (the stock carry where no
    intention was logged), a robust line against how far from stock it was, with a prior of 4 % on
    the player's own word; days differ by 2 %, which more days average out. Spread and direction:
    robust, shrunk toward what is usual for the player's handicap (scratch, where none is given)
    with the weight of six balls. Sand shots and balls
    without a carry do not count. Each ball flies with the drag of its own model, and on the
    reference day with that of the model now played.
    """
    fits = fit_balls(balls)
    by_shot: dict[str, list[Ball]] = defaultdict(list)
    for ball in balls:
        by_shot[ball.shot].append(ball)
    asked = _Asked(fits, fits.named(ball_model), left_handed, player)
    return tuple(_summarise_one(shot, by_shot[shot.label], asked) for shot in shots)


@dataclass(frozen=True, slots=True)
class _Asked:
    fits: BallFits
    played: BallFit
    left_handed: bool
    player: Player | None

    def prior(self, shot: Shot) -> Scatter:
        return scatter_prior(self.player, shot.stock_carry_m) if self.player else _SCRATCH


def _summarise_one(shot: Shot, logged: list[Ball], asked: _Asked) -> ShotSummary:
    played, prior = asked.played, asked.prior(shot)
    launch, ratio, measured = _measured_launch(logged, *usual_launch(shot))
    curve = stock_curve(
        shot, logged, launch, ratio, aerodynamics=played.best, left_handed=asked.left_handed
    )
    usable = [b for b in logged if b.carry_m is not None and b.lie is not Lie.SAND]
    carries = reference_carries(
        usable, launch, ratio, axis_rad=curve.axis_rad, fits=asked.fits, played=played
    )
    known = np.isfinite(carries)
    flown = [b for b, ok in zip(usable, known, strict=True) if ok]
    felt = np.array([b.intended_m or shot.stock_carry_m for b in flown])
    partial = np.log(felt / shot.stock_carry_m)
    fit = student_fit(
        np.log(carries[known] / felt),
        np.column_stack([np.ones(len(felt)), partial]),
        np.array([_PRIOR_BIAS_SE, _PRIOR_SLOPE_SE]),
        prior_spread=prior.spread,
        prior_count=_PRIOR_BALLS,
        least_spread=prior.spread * float(np.sqrt(_PRIOR_BALLS / (_PRIOR_BALLS + len(felt)))),
    )
    bias, slope = (float(b) for b in fit.coefficients)
    days = len({b.at.date() for b in flown if b.at})
    bias_se = float(np.hypot(fit.standard_error, _DAY_TO_DAY / np.sqrt(max(days, 1))))
    sides = np.array(
        [np.nan if b.side_m is None else np.arctan2(b.side_m, b.carry_m or 1.0) for b in flown]
    )
    side, side_bias = _direction_of(sides[np.isfinite(sides)], prior.side_rad)
    stock = shot.stock_carry_m * float(np.exp(bias))
    return ShotSummary(
        shot=shot,
        balls=len(flown),
        stock_m=stock,
        stock_se_m=stock * bias_se,
        bias=bias,
        bias_se=bias_se,
        spread=fit.spread,
        side_rad=side,
        side_bias_rad=side_bias,
        correlation=_correlation(np.log(carries[known] / felt) - slope * partial, sides),
        launch_rad=launch,
        spin_per_speed=ratio,
        launch_measured=measured,
        bias_slope=slope,
        not_flown=len(usable) - len(flown),
        days=days,
        curve=curve,
        ball=played,
    )


def _measured_launch(logged: list[Ball], launch: float, ratio: float) -> tuple[float, float, int]:
    """Medians of clean dry balls, shrunk toward a launch angle and a spin over speed."""
    rows = np.array(
        [
            (b.launch_rad, b.spin_rad_s / b.ball_speed_mps)
            for b in logged
            if b.launch_rad is not None
            and b.spin_rad_s is not None
            and b.ball_speed_mps is not None
            and is_clean(b)
        ]
    )
    rows = rows.reshape(-1, 2)
    low, high = np.array([_LAUNCHES, _SPIN_PER_SPEED]).T
    rows = rows[np.all((rows >= low) & (rows <= high), axis=1)]
    if not len(rows):
        return launch, ratio, 0
    own = len(rows) / (len(rows) + _PRIOR_LAUNCH_BALLS)
    middle = np.median(rows, axis=0)
    return (
        float(own * middle[0] + (1.0 - own) * launch),
        float(own * middle[1] + (1.0 - own) * ratio),
        len(rows),
    )


def _direction_of(sides: Floats, prior_rad: float) -> tuple[float, float]:
    """Spread and centre of direction, with their priors."""
    if len(sides) < 2:
        return prior_rad, 0.0
    n = len(sides)
    fit = student_fit(
        sides,
        np.ones((n, 1)),
        np.array([np.inf]),
        prior_spread=prior_rad,
        prior_count=_PRIOR_BALLS,
    )
    return fit.spread, fit.centre * n / (n + _PRIOR_BALLS)


def _correlation(logs: Floats, sides: Floats) -> float:
    """Rank correlation of long with right, shrunk toward none with the weight of twenty balls."""
    both = np.isfinite(sides)
    n = int(both.sum())
    if n < 5:
        return 0.0
    ranks = [np.argsort(np.argsort(v[both])) for v in (logs, sides)]
    rho = float(np.corrcoef(ranks[0], ranks[1])[0, 1])
    return 2.0 * float(np.sin(np.pi * rho / 6.0)) * n / (n + _PRIOR_CORRELATION_BALLS)
