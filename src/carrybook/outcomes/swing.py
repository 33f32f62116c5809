"""A swing: the reference-day carry it is meant to have, and what it takes to get it.

Its speed is the one that gives its reference carry under each set of lift and drag, so that only
*differences* between today and that day depend on the set.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from carrybook.base.numerics import Floats, Ints
from carrybook.physics.flight import body_row, fly_batch, level_net, wind_row
from carrybook.physics.solve import solve_landings
from carrybook.player.ball_fit import BallFit
from carrybook.player.summary import ShotSummary
from carrybook.world.air import REFERENCE_DAY
from carrybook.world.wind import CALM

__all__ = ["SETS", "SETS_ROW", "Swing", "swings_of"]

SETS_ROW = ("speed", "per_speed", "per_launch", "per_spin")
SETS = 9  # of lift and drag: low, middle, high, each with less, its own and more drag
_STEP = 0.01  # of the differences: 1 % in speed and spin, 0.01 rad in launch
_NODES = 25  # of the table of a shot
_ROOM = 1.03  # how far it reaches beyond the partials
_Shape = tuple[BallFit, float, float, float]  # how the ball flies; launch, spin over speed, axis


@dataclass(frozen=True, slots=True)
class Swing:
    """One shot, the reference-day carry it is meant to have, and its start line.

    Parameters
    ----------
    summary : ShotSummary
        The shot and its scatter.
    playing_m : float
        Carry on the reference day from a clean dry lie. [m]
    start_right_rad : float
        Start line, right of the x axis. [rad]
    sets : ndarray, shape (4, 9)
        Rows :data:`SETS_ROW` for each set of lift and drag that the ball played may fly with,
        :meth:`carrybook.player.ball_fit.BallFit.drawn`: ball speed [m/s], nan where none carries
        that far, and the change of ln carry per ln speed with its spin, per radian of launch, per
        ln spin.
    """

    summary: ShotSummary
    playing_m: float
    start_right_rad: float
    sets: Floats

    @property
    def spread(self) -> float:
        """Half-width that holds 68 % of balls of this partial, relative to carry. [1]"""
        return self.summary.spread_at(float(self.summary.felt_for(np.array(self.playing_m))))


def swings_of(summary: ShotSummary, playing_m: Floats, start_right_rad: Floats) -> list[Swing]:
    """Swings of one shot with these reference carries and start lines.

    Parameters
    ----------
    summary : ShotSummary
        The shot.
    playing_m : ndarray, shape (n,)
        Carries on the reference day. [m]
    start_right_rad : ndarray, shape (n,)
        Start lines, right of the x axis. [rad]

    Notes
    -----
    Read off a table of the shot over its partials, straight lines between 25 carries in ratio,
    which miss a solved speed by less than 2e-4; carries beyond the table are solved.
    """
    felt = np.array([summary.shot.shortest_m, summary.shot.longest_m])
    nodes, table = _table(_flown_like(summary), *map(float, summary.reference_for(felt)))
    inside = (playing_m >= nodes[0]) & (playing_m <= nodes[-1])
    if inside.all():
        place = np.interp(np.log(playing_m), np.log(nodes), np.arange(len(nodes)))
        low = np.minimum(place.astype(np.int64), len(nodes) - 2)
        share = (place - low)[:, None, None]
        sets = (1.0 - share) * table[low] + share * table[low + 1]
    else:
        sets = _solved(_flown_like(summary), playing_m)
    return [
        Swing(summary, float(p), float(r), s)
        for p, r, s in zip(playing_m, start_right_rad, sets, strict=True)
    ]


def _flown_like(summary: ShotSummary) -> _Shape:
    return summary.ball, summary.launch_rad, summary.spin_per_speed, summary.curve.axis_rad


@lru_cache(maxsize=1024)
def _table(shape: _Shape, low_m: float, high_m: float) -> tuple[Floats, Floats]:
    """Reference carries over the partials of a shot, and what each takes, shape (25, 4, 9)."""
    nodes = np.geomspace(low_m / _ROOM, high_m * _ROOM, _NODES)
    return nodes, _solved(shape, nodes)


def _solved(like: _Shape, playing_m: Floats) -> Floats:
    """Rows :data:`SETS_ROW` of each carry under each set, shape (n, 4, 9); all in one batch."""
    ball, shape = like[0], np.array(like[1:])
    fitted, n = ball.drawn()[0], len(playing_m)
    aero, which = np.array([a.row() for a in fitted]), np.tile(np.arange(len(fitted)), n)
    targets = np.zeros((n * len(fitted), 3))
    targets[:, 0] = np.repeat(playing_m, len(fitted))
    solved = solve_landings(
        targets, np.tile(shape, (len(targets), 1)), body_row(REFERENCE_DAY), aero, which,
        wind_row(CALM),
    )  # fmt: skip
    speed = np.where(solved[:, 7] > 0.0, solved[:, 0], np.nan)
    rows = np.column_stack([speed, _sensitivities(speed, shape, aero, which)])
    return rows.reshape(n, len(fitted), -1).transpose(0, 2, 1).copy()


def _sensitivities(speed: Floats, shape: Floats, aero: Floats, which: Ints) -> Floats:
    """Change of ln carry per ln speed with its spin, per radian of launch, per ln spin: (n, 3)."""
    changes = _STEP * np.kron(np.eye(3), np.array([[1.0], [-1.0]]))  # of ln speed, launch, ln spin
    faster, higher, spinning = (np.repeat(c, len(speed)) for c in changes.T)
    many = np.tile(speed, len(changes)) * np.exp(faster)
    ratio = shape[1] * np.exp(spinning)
    level = np.full_like(many, shape[2])
    landed = fly_batch(
        np.column_stack([many, shape[0] + higher, ratio * many, level, np.zeros_like(many)]),
        body_row(REFERENCE_DAY), aero, np.tile(which, len(changes)),
        np.tile(wind_row(CALM), (len(many), 1)), level_net(), np.zeros(3),
    )  # fmt: skip
    carried = np.where(landed[:, 9] > 0.0, np.hypot(landed[:, 0], landed[:, 1]), np.nan)
    logs = np.log(carried).reshape(3, 2, -1)
    return np.asarray((logs[:, 0] - logs[:, 1]).T / (2.0 * _STEP))
