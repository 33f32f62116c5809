"""Where remembered shots come down: many at once, each in its own wind, air and lie."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from carrybook.base.numerics import Floats, Ints
from carrybook.physics.flight import body_row, fly_batch, level_net, wind_row
from carrybook.physics.solve import carry_speeds
from carrybook.physics.strike import lie_effect, off_this_lie
from carrybook.player.robust import HALF_WIDTH_68
from carrybook.player.summary import ShotSummary
from carrybook.world.air import REFERENCE_DAY
from carrybook.world.lie import Lie, Moisture
from carrybook.world.wind import Wind

__all__ = ["ARRIVAL_ROW", "Asked", "fly_asked", "lie_factors", "scatter_of", "wind_rows"]

ARRIVAL_ROW = ("carry", "right", "speed", "descent", "spin")
_NODES = 48  # ours: of a table of ball speeds over what may be felt
_BELOW, _ABOVE = 0.5, 1.25  # ours: how far beyond its partials a shot may have been meant to go


@dataclass(frozen=True, slots=True)
class Asked:
    """Shots whose landing is asked for.

    Parameters
    ----------
    shot : ndarray of int64, shape (n,)
        Which of the player's shots.
    felt : ndarray, shape (n,)
        What is felt. [m]
    winds : ndarray, shape (n, 5)
        Rows of :func:`carrybook.physics.flight.wind_row`.
    lie_spin, lie_speed : ndarray, shape (n,)
        What the lie leaves of spin and ball speed. [1]
    temperature : ndarray, shape (n,)
        Of the air. [K]
    """

    shot: Ints
    felt: Floats
    winds: Floats
    lie_spin: Floats
    lie_speed: Floats
    temperature: Floats


def fly_asked(summaries: Sequence[ShotSummary], asked: Asked) -> Floats:
    """Fly shots as the book says they go.

    Parameters
    ----------
    summaries : sequence of ShotSummary
        The player's shots on the reference day.
    asked : Asked, length n
        What is asked.

    Returns
    -------
    arrivals : ndarray, shape (n, 5)
        Columns :data:`ARRIVAL_ROW`: carry along the start line and right of it [m], speed [m/s],
        angle of descent [rad] and spin [rad/s]; nan where a ball does not come down.

    Notes
    -----
    Level ground; pressure and humidity of the reference day. Of the temperature the air alone
    counts.
    """
    launches = np.empty((len(asked.felt), 5))
    aero = np.array([s.ball.best.row() for s in summaries])
    for k, summary in enumerate(summaries):
        rows = np.flatnonzero(asked.shot == k)
        launches[rows] = _launches(summary, asked, rows)
    landed = np.empty((len(launches), 10))
    degrees = np.rint(asked.temperature)  # of one degree more or less nobody tells
    for degree in np.unique(degrees):
        rows = np.flatnonzero(degrees == degree)
        body = body_row(replace(REFERENCE_DAY, temperature_k=float(degree)))
        landed[rows] = fly_batch(
            launches[rows], body, aero, asked.shot[rows], asked.winds[rows], level_net(),
            np.zeros(3),
        )  # fmt: skip
    x, y, _, vx, vy, vz, spin = landed.T[:7]
    level = np.hypot(vx, vy)
    arrivals = np.column_stack([x, -y, np.hypot(level, vz), np.arctan2(-vz, level), spin])
    return np.where(landed[:, 9:] > 0.0, arrivals, np.nan)


def wind_rows(speeds: Floats, directions: Floats) -> Floats:
    """Winds for the flights, each relative to its own line, shape (n, 5)."""
    rows = [wind_row(Wind(float(s), float(d))) for s, d in zip(speeds, directions, strict=True)]
    return np.array(rows).reshape(-1, 5)


def scatter_of(summaries: Sequence[ShotSummary], shot: Ints, felt: Floats, carry: Floats) -> Floats:
    """Scatter of shots: scale in depth, to the side, what is unsure in depth, correlation: (n, 4).

    Parameters
    ----------
    summaries : sequence of ShotSummary
        The player's shots.
    shot : ndarray of int64, shape (n,)
        Which of them.
    felt, carry : ndarray, shape (n,)
        What is felt, and the carry that comes of it. [m]
    """
    out = np.empty((len(felt), 4))
    for k, s in enumerate(summaries):
        on = shot == k
        spread = s.spread * (s.shot.stock_carry_m / felt[on]) ** s.spread_growth
        out[on, 0] = spread / HALF_WIDTH_68 * carry[on]
        out[on, 1] = s.side_rad / HALF_WIDTH_68 * carry[on]
        out[on, 2] = s.bias_se * carry[on]
        out[on, 3] = s.correlation
    return out


def _launches(summary: ShotSummary, asked: Asked, rows: Ints) -> Floats:
    nodes, speeds = _speeds(summary)
    speed = np.exp(np.interp(np.log(asked.felt[rows]), nodes, speeds)) * asked.lie_speed[rows]
    launch, ratio = off_this_lie(
        np.full(len(rows), summary.launch_rad),
        np.full(len(rows), summary.spin_per_speed),
        asked.lie_spin[rows],
    )
    tilt = np.full(len(rows), summary.curve.axis_rad)
    return np.column_stack([speed, launch, ratio * speed, tilt, np.zeros(len(rows))])


@lru_cache(maxsize=64)
def _speeds(summary: ShotSummary) -> tuple[Floats, Floats]:
    """Logarithms of felt carry and of the ball speed that it takes on the reference day."""
    shot = summary.shot
    felt = np.geomspace(_BELOW * shot.shortest_m, _ABOVE * shot.longest_m, _NODES)
    speeds = carry_speeds(
        summary.reference_for(felt),
        np.full(_NODES, summary.launch_rad),
        np.full(_NODES, summary.spin_per_speed),
        REFERENCE_DAY,
        aerodynamics=summary.ball.best,
        axis_rad=summary.curve.axis_rad,
    )
    known = np.isfinite(speeds)
    return np.log(felt[known]), np.log(speeds[known])


def lie_factors(lies: Sequence[Lie], moistures: Sequence[Moisture]) -> Floats:
    """What lies leave of spin and speed, shape (n, 2); a clean one stands in for sand."""
    effects = {
        pair: (lie_effect(*pair).spin[1], lie_effect(*pair).speed[1])
        for pair in set(zip(lies, moistures, strict=True))
        if pair[0] is not Lie.SAND
    }
    return np.array(
        [effects.get(pair, (1.0, 1.0)) for pair in zip(lies, moistures, strict=True)]
    ).reshape(-1, 2)
