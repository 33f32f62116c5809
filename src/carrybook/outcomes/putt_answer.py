"""One putt: what to aim at, how hard, what comes of it, and how sure that is."""

from dataclasses import dataclass, replace

import numpy as np

from carrybook.base.constants import FOOT
from carrybook.base.errors import BadInputError, NoSolutionError
from carrybook.base.numerics import Floats
from carrybook.outcomes.putt_solve import Nets
from carrybook.outcomes.putting_map import PuttingMap, Solved, solve_points
from carrybook.physics.putt import path_of_putt, roll_putt
from carrybook.physics.terrain import height
from carrybook.world.ground import Surface

__all__ = ["PuttAnswer", "answer_putt"]

_STIMP_UNSURE = 0.07  # stimp-release: sources differ by 7 % on what a reading means
_SKILL_UNSURE = 0.10  # ours: nobody knows a player's errors better than a tenth
_NEAREST = 0.02  # m
_RUNS_AWAY = 20.0  # m past the hole beyond the putt's own length: no ball stops there; ours
_STEEPEST_AIM = np.radians(80.0)  # a line further off the hole has no point abreast of it


@dataclass(frozen=True, slots=True)
class PuttAnswer:
    """The best putt from one point.

    Parameters
    ----------
    chart : PuttingMap
        Ground, hole, green speed and player it is for.
    x, y : float
        Where the ball lies. [m]
    distance_m : float
        To the hole, over the ground. [m]
    rise_m : float
        Height of the hole above the ball: positive is uphill. [m]
    make, make_low, make_high : float
        Chance of holing; with errors of line and pace a tenth larger, and a tenth smaller. [1]
    putts : float
        Expected putts. [1]
    three : float
        Chance of needing three putts or more. [1]
    line_rad : float
        Start line, counter-clockwise from the x axis. [rad]
    start_right_rad : float
        Start line, right of the straight line to the hole. [rad]
    aim_right_m : float
        Where the start line passes the hole, right of its centre. [m]
    aim_low_m, aim_high_m : float
        The least and greatest of that, for a green 7 % slower or faster than said. [m]
    past_m : float
        How far past the hole it would finish; negative is short of it. [m]
    reach_m : float
        How far it would roll on the level. [m]
    leave_50_m, leave_90_m : float
        Distance to the hole that half and nine in ten of the misses are left within. [m]
    short, low : float
        Shares of the misses: short of the hole; on the low side of it. [1]
    path : ndarray, shape (n, 2)
        Points along the putt, over the hole as if it were not there. [m]
    """

    chart: PuttingMap
    x: float
    y: float
    distance_m: float
    rise_m: float
    make: float
    make_low: float
    make_high: float
    putts: float
    three: float
    line_rad: float
    start_right_rad: float
    aim_right_m: float
    aim_low_m: float
    aim_high_m: float
    past_m: float
    reach_m: float
    leave_50_m: float
    leave_90_m: float
    short: float
    low: float
    path: Floats


def answer_putt(chart: PuttingMap, x: float, y: float) -> PuttAnswer:
    """Find the best putt from a point of the green, and say what comes of it.

    Parameters
    ----------
    chart : PuttingMap
        The map of this hole location.
    x, y : float
        Where the ball lies. [m]

    Raises
    ------
    BadInputError
        The ball is off green and fringe, or at the hole already.
    NoSolutionError
        No putt from there comes near the hole.
    """
    _require_on_green(chart, x, y)
    best = _solve(chart, x, y)
    line, reach = float(best.aims.line[0]), float(best.aims.reach[0])
    rolled = roll_putt(
        chart.ground, (x, y), chart.hole, direction_rad=line, reach_m=reach, stimp_m=chart.stimp_m
    )
    dx, dy = chart.hole[0] - x, chart.hole[1] - y
    far = float(np.hypot(dx, dy))
    over = (rolled.x - chart.hole[0]) * dx + (rolled.y - chart.hole[1]) * dy
    past = float(np.hypot(rolled.x - chart.hole[0], rolled.y - chart.hole[1]))
    if past > far and over < 0.0:
        raise NoSolutionError("no putt from there comes near the hole: the ground is too steep")
    if past > far + _RUNS_AWAY:
        raise NoSolutionError(
            f"no putt from there stops near the hole: at this green speed the best ends"
            f" {past / FOOT:.0f} ft past it, the ground is too steep"
        )
    make_low, make_high = (_make(chart, x, y, 1.0 + s * _SKILL_UNSURE) for s in (1.0, -1.0))
    aims = [_aim(_solve(_faster(chart, s), x, y), dx, dy) for s in (-1.0, 0.0, 1.0)]
    path = path_of_putt(
        chart.ground, (x, y), direction_rad=line, reach_m=reach, stimp_m=chart.stimp_m
    )
    leave_50, leave_90, short, low = _misses(chart, best.nets, best.aims.missed[0], x, y)
    return PuttAnswer(
        chart=chart,
        x=x,
        y=y,
        distance_m=far,
        rise_m=height(chart.ground, *chart.hole) - height(chart.ground, x, y),
        make=float(best.aims.make[0]),
        make_low=make_low,
        make_high=make_high,
        putts=float(best.aims.putts[0]),
        three=_three(chart, best),
        line_rad=line,
        start_right_rad=-_off_line(line, dx, dy),
        aim_right_m=aims[1],
        aim_low_m=min(aims),
        aim_high_m=max(aims),
        past_m=past if over >= 0.0 else -past,
        reach_m=reach,
        leave_50_m=leave_50,
        leave_90_m=leave_90,
        short=short,
        low=low,
        path=path,
    )


def _require_on_green(chart: PuttingMap, x: float, y: float) -> None:
    surface = chart.ground.surface_at(x, y)
    if surface not in (Surface.GREEN, Surface.FRINGE):
        raise BadInputError(f"the ball lies on {surface.name.lower()}: not on green or fringe")
    if np.hypot(x - chart.hole[0], y - chart.hole[1]) < _NEAREST:
        raise BadInputError("the ball lies at the hole already")


def _solve(chart: PuttingMap, x: float, y: float) -> Solved:
    return solve_points(chart, np.array([x]), np.array([y]))


def _make(chart: PuttingMap, x: float, y: float, factor: float) -> float:
    """Chance of holing with errors so many times as large."""
    p = chart.putter
    other = replace(p, direction_rad=factor * p.direction_rad, pace=factor * p.pace)
    return float(_solve(replace(chart, putter=other), x, y).aims.make[0])


def _faster(chart: PuttingMap, sign: float) -> PuttingMap:
    return replace(chart, stimp_m=chart.stimp_m * (1.0 + sign * _STIMP_UNSURE))


def _off_line(line: float, dx: float, dy: float) -> float:
    """Start line left of the straight one."""
    turn = line - np.arctan2(dy, dx)
    return float(turn - 2.0 * np.pi * np.floor(turn / (2.0 * np.pi) + 0.5))


def _aim(solved: Solved, dx: float, dy: float) -> float:
    """Where a start line passes abreast of the hole, right of it."""
    left = _off_line(float(solved.aims.line[0]), dx, dy)
    left = float(np.clip(left, -_STEEPEST_AIM, _STEEPEST_AIM))
    return -float(np.hypot(dx, dy) * np.tan(left))


def _three(chart: PuttingMap, best: Solved) -> float:
    made = chart.make_at(best.nets.stop_x, best.nets.stop_y)
    return float((best.aims.missed * (1.0 - made)).sum())


def _misses(
    chart: PuttingMap, nets: Nets, missed: Floats, x: float, y: float
) -> tuple[float, float, float, float]:
    """Half and nine in ten of the misses; shares short and low."""
    hx, hy = chart.hole
    sx, sy, weight = nets.stop_x[0].ravel(), nets.stop_y[0].ravel(), missed.ravel()
    weight = weight / max(weight.sum(), 1e-12)
    away = np.hypot(sx - hx, sy - hy)
    order = np.argsort(away)
    reached = np.cumsum(weight[order]) - 0.5 * weight[order]
    half, nine = np.interp([0.5, 0.9], reached, away[order])
    short = weight[(sx - hx) * (hx - x) + (sy - hy) * (hy - y) < 0.0].sum()
    at_hole = height(chart.ground, hx, hy)
    below = [
        height(chart.ground, float(a), float(b)) < at_hole for a, b in zip(sx, sy, strict=True)
    ]
    return float(half), float(nine), float(short), float(weight[np.array(below)].sum())
