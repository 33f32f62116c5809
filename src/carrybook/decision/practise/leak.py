"""Where strokes leak: what a player's shots cost over a baseline's, how often, and how unsure.

The leak is the expected loss counted where there is one, times how often it is faced: it grows
with the loss, and with what is not known of it, because a loss may be there unseen. Whether
practice brings a player to the baseline, or to a part of their own scatter, nobody knows; so what a
tenth less scatter would save counts beside it (docs/practice.md: what the leak alone costs).
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache

import numpy as np

from carrybook.base.errors import BadInputError, NoSolutionError
from carrybook.base.numerics import Floats
from carrybook.decision.demand import Demand
from carrybook.decision.practise.levels import Baseline, own_scatter
from carrybook.outcomes.plain_green import expected_strokes, strokes_after, swing_net
from carrybook.player.level import Scatter
from carrybook.player.numbers import ForDistance, shots_for
from carrybook.player.robust import DEGREES_OF_FREEDOM, HALF_WIDTH_68
from carrybook.player.summary import ShotSummary
from carrybook.world.air import REFERENCE_DAY, Air
from carrybook.world.faced import FacedShot

__all__ = ["Leak", "Leaks", "Play", "closer_by", "leaks", "loss_of"]

_PRIOR_BALLS = 6.0  # as in carrybook.player.summary: what the prior of a spread weighs
_CLOSER = 0.9  # ours: what may be left of the own scatter; 0.75 to 0.9 do alike (docs/practice.md)
_LEAST_M = 5.0  # ours: no partial is shorter
_MOST_OTHERS = 2  # ours: shots beside the best that are practised for a distance


@dataclass(frozen=True, slots=True)
class Play:
    """A shot for a target: whose it is, what to feel, how its balls scatter.

    Parameters
    ----------
    shot, cue : str
        The shot, and the player's own words for it.
    feel_m : float
        What to feel. [m]
    own : Scatter
        The player's scatter with it there.
    """

    shot: str
    cue: str
    feel_m: float
    own: Scatter


@dataclass(frozen=True, slots=True)
class Leak:
    """What one kind of shot costs.

    Parameters
    ----------
    faced : FacedShot
        Distance, lie, how often.
    play : Play
        Best of the player's shots there.
    others : tuple of Play
        Other shots whose partials hold it.
    balls : int
        Logged balls behind it. [1]
    base : Scatter
        Scatter of the baseline there.
    strokes, base_strokes : float
        Expected strokes of the player and of the baseline, on the plain green. [1]
    loss, unsure : float
        The difference, over what is known of the player, and its standard deviation. [1]
    hidden : float
        Expected loss counted only where there is one; at least `loss`. [1]
    closer : float
        What a tenth less scatter of the player's own would save. [1]
    """

    faced: FacedShot
    play: Play
    others: tuple[Play, ...]
    balls: int
    base: Scatter
    strokes: float
    base_strokes: float
    loss: float
    unsure: float
    hidden: float
    closer: float

    @property
    def leaked(self) -> float:
        """What is lost here in a round. [strokes]"""
        return self.faced.times * self.hidden

    @property
    def worth(self) -> float:
        """What practice may win here in a round: the leak, and a tenth less scatter. [strokes]"""
        return self.faced.times * (self.hidden + self.closer)

    @property
    def told(self) -> float:
        """What measuring can tell here, over a round. [strokes]"""
        return self.faced.times * self.unsure


@dataclass(frozen=True, slots=True)
class Leaks:
    """Every kind of shot that is faced, the one where practice is worth most first.

    Parameters
    ----------
    demand : Demand
        What is faced.
    baseline : Baseline
        Whom it is measured against.
    rows : tuple of Leak
        One for each kind of shot that some owned shot reaches.
    unreached : tuple of FacedShot
        Those that none does.
    """

    demand: Demand
    baseline: Baseline
    rows: tuple[Leak, ...]
    unreached: tuple[FacedShot, ...]


def leaks(
    summaries: Sequence[ShotSummary],
    demand: Demand,
    baseline: Baseline,
    *,
    air: Air = REFERENCE_DAY,
    room: float = 0.0,
) -> Leaks:
    """Find where strokes leak.

    Parameters
    ----------
    summaries : sequence of ShotSummary
        What is known of each owned shot.
    demand : Demand
        What is faced.
    baseline : Baseline
        Whom it is measured against.
    air : Air
        What to feel is for this air; the loss does not depend on it.
    room : float, default 0
        By which share a shot may be asked for more or less than its partials: the distances of a
        standing test stay although the shots move. [1]

    Raises
    ------
    BadInputError
        A shot that is not owned.
    NoSolutionError
        No owned shot reaches any of it.

    Notes
    -----
    Strokes of :mod:`carrybook.outcomes.plain_green`: the carry error is the finish error. What is
    not known: the centre of the shot by its standard error; the sizes of depth and side, each with
    variance (v + 3) / (2 v n) of its logarithm for n balls and v degrees of freedom
    (lange-1989), the prior counted as six balls.
    """
    owned = [s for s in summaries if demand.played_with in ("", s.shot.label)]
    if not owned:
        raise BadInputError(f"shot {demand.played_with!r} is not in the book")
    owned = [_with_room(s, room) for s in owned] if room else owned
    found = [(faced, _leak(owned, faced, baseline, air)) for faced in demand.shots]
    rows = sorted((leak for _, leak in found if leak), key=lambda k: k.worth, reverse=True)
    if not rows:
        raise NoSolutionError(
            "none of your shots reaches any of these distances; see carrybook numbers for what each"
            " carries, and name others: --focus 60yd-100yd"
        )
    missing = tuple(faced for faced, leak in found if leak is None)
    return Leaks(demand, baseline, tuple(rows), missing)


def loss_of(
    target_m: float, own: Scatter, base_strokes: float, *, balls: int, bias_se: float
) -> tuple[float, float, float]:
    """Strokes lost on a baseline, how unsure that is, and the loss counted only where there is one.

    Parameters
    ----------
    target_m : float
        Distance of the target. [m]
    own : Scatter
        Scatter of the player, as it is known.
    base_strokes : float
        Expected strokes of the baseline. [1]
    balls : int
        Logged balls behind the scatter.
    bias_se : float
        Standard error of the centre, of ln carry. [1]

    Returns
    -------
    loss, unsure, hidden : float
        As in :class:`Leak`. [1]
    """
    depth, aside = swing_net()
    (centre, deep, wide), weights = _unknowns()
    n, nu = balls + _PRIOR_BALLS, DEGREES_OF_FREEDOM
    size = np.sqrt((nu + 3.0) / (2.0 * nu * n))
    spread = own.spread / HALF_WIDTH_68 * np.exp(size * deep)
    angle = own.side_rad / HALF_WIDTH_68 * np.exp(size * wide)
    along = np.expm1((bias_se * centre)[:, None] + spread[:, None] * depth)
    miss = target_m * np.hypot(along, angle[:, None] * aside)
    loss: Floats = 1.0 + strokes_after(miss).mean(axis=1) - base_strokes
    mean = float(weights @ loss)
    unsure = float(np.sqrt(weights @ (loss - mean) ** 2))
    return mean, unsure, float(weights @ np.maximum(loss, 0.0))


def closer_by(target_m: float, own: Scatter) -> float:
    """Strokes that a tenth less scatter saves.

    Parameters
    ----------
    target_m : float
        Distance of the target. [m]
    own : Scatter
        Scatter of the player.
    """
    less = Scatter(own.spread * _CLOSER, own.side_rad * _CLOSER)
    return expected_strokes(target_m, own) - expected_strokes(target_m, less)


def _with_room(summary: ShotSummary, room: float) -> ShotSummary:
    shot = summary.shot
    low, high = max(_LEAST_M, shot.shortest_m * (1.0 - room)), shot.longest_m * (1.0 + room)
    return replace(summary, shot=replace(shot, shortest_m=low, longest_m=high))


def _leak(
    owned: Sequence[ShotSummary], faced: FacedShot, baseline: Baseline, air: Air
) -> Leak | None:
    try:
        options = shots_for(owned, faced.distance_m, air, lie=faced.lie)
    except NoSolutionError:
        return None
    best, base = options[0], baseline.scatter(faced.distance_m, faced.lie)
    base_strokes = expected_strokes(faced.distance_m, base)
    plays = tuple(_play(option, faced) for option in options[: 1 + _MOST_OTHERS])
    known = best.summary
    loss, unsure, hidden = loss_of(
        faced.distance_m, plays[0].own, base_strokes, balls=known.balls, bias_se=known.bias_se
    )
    return Leak(
        faced=faced,
        play=plays[0],
        others=plays[1:],
        balls=known.balls,
        base=base,
        strokes=base_strokes + loss,
        base_strokes=base_strokes,
        loss=loss,
        unsure=unsure,
        hidden=hidden,
        closer=closer_by(faced.distance_m, plays[0].own),
    )


def _play(option: ForDistance, faced: FacedShot) -> Play:
    shot = option.summary.shot
    own = own_scatter(option.summary, option.feel_m, faced.lie)
    return Play(shot.label, shot.cue, option.feel_m, own)


@cache
def _unknowns() -> tuple[tuple[Floats, Floats, Floats], Floats]:
    """Nodes of three independent standard normals, and their weights."""
    x5, w5 = np.polynomial.hermite_e.hermegauss(5)
    x3, w3 = np.polynomial.hermite_e.hermegauss(3)
    nodes = np.meshgrid(x5, x3, x3, indexing="ij")
    weights = np.einsum("i,j,k->ijk", w5, w3, w3).ravel()
    centre, deep, wide = (node.ravel() for node in nodes)
    return (centre, deep, wide), weights / weights.sum()
