"""Where lay-ups end, and what that costs: the ground a lay-up stroke may find.

A lay-up meant for one distance scatters; each spot it may end at has a distance to the hole and a
surface, and the surface says what the next shot is played from.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import hypot
from statistics import NormalDist

import numpy as np

from carrybook.base.constants import YARD
from carrybook.base.errors import BadInputError, require_range
from carrybook.base.numerics import Floats
from carrybook.decision.advice import Situation
from carrybook.decision.look import Looked
from carrybook.outcomes.baseline import strokes_from
from carrybook.player.summary import ShotSummary
from carrybook.world.ground import Surface
from carrybook.world.lie import Lie
from carrybook.world.locate import ball_behind

__all__ = [
    "LayUpScatter",
    "LeaveAsked",
    "Spots",
    "Worth",
    "at_aim",
    "cost",
    "lay_ups",
    "nodes_of",
    "placed",
    "scatter_of",
    "wanted",
]

_DEEP, _WIDE = 21, 11  # ours: lay-ups that stand for all, in depth and in side
_NEAREST, _FURTHEST = 15.0 * YARD, 200.0 * YARD  # where a ball may lie
_SAME = 6  # digits of a metre: the favourite may be one of those asked for
_LOST = 0.95  # ours: where more lay-ups than that are out of bounds, nobody lays up
_LIE_ON = {Surface.ROUGH: Lie.LIGHT_ROUGH}  # any other grass is a fairway

Spots = Sequence[tuple[float, Surface]]  # distance to the hole, and what is there
Worth = dict[tuple[Lie, float], Looked | None]  # by lie and distance on the line


@dataclass(frozen=True, slots=True)
class LayUpScatter:
    """How far a lay-up ends from where it was meant to: standard deviations.

    Parameters
    ----------
    depth_m, side_m : float
        Along the line to the hole, and across it; 0 to 40 yd. [m]
    source : str
        Where that comes from.

    Raises
    ------
    OutOfRangeError
        Outside those ranges.
    """

    depth_m: float
    side_m: float
    source: str = "as you said"

    def __post_init__(self) -> None:
        require_range("scatter of the lay-up in depth", self.depth_m / YARD, 0.0, 40.0, "yd")
        require_range("scatter of the lay-up in side", self.side_m / YARD, 0.0, 40.0, "yd")


@dataclass(frozen=True, slots=True)
class LeaveAsked:
    """Which distances, from which line, off which lie.

    Parameters
    ----------
    distances_m : tuple of float
        Distances to the hole, 15 to 200 yd, rising. [m]
    scatter : LayUpScatter
        Of the lay-up stroke.
    lie : Lie, optional
        What the ball sits on wherever it is not in trouble; none: as the map has it.
    off_line_rad : float, default 0
        Line of the lay-up, right of the approach as seen at the hole positive. [rad]
    favourite_m : float, optional
        A distance the player likes. [m]

    Raises
    ------
    BadInputError
        No distance, or two that are the same.
    OutOfRangeError
        A distance outside its range.
    """

    distances_m: tuple[float, ...]
    scatter: LayUpScatter
    lie: Lie | None = None
    off_line_rad: float = 0.0
    favourite_m: float | None = None

    def __post_init__(self) -> None:
        asked = np.array(self.distances_m)
        if not len(asked) or (np.diff(asked) <= 0.0).any():
            raise BadInputError("distances to leave must rise, and there must be one at least")
        named = [*asked, *([] if self.favourite_m is None else [self.favourite_m])]
        low, high = _NEAREST / YARD, _FURTHEST / YARD
        require_range("distance left", np.array(named) / YARD, low, high, "yd")

    @property
    def all_m(self) -> tuple[float, ...]:
        """Distances asked for, the favourite among them. [m]"""
        liked = () if self.favourite_m is None else (self.favourite_m,)
        return tuple(sorted({round(d, _SAME) for d in (*self.distances_m, *liked)}))


def scatter_of(summaries: Sequence[ShotSummary]) -> LayUpScatter:
    """Take a lay-up to scatter as the player's longest shot does at its stock carry.

    Parameters
    ----------
    summaries : sequence of ShotSummary
        The shots the player owns, at least one.

    Notes
    -----
    A lay-up is longer than any of them and a full one may scatter more; say so where it is known.
    """
    longest = max(summaries, key=lambda s: s.shot.stock_carry_m)
    carry = longest.shot.stock_carry_m
    return LayUpScatter(
        carry * longest.spread,
        carry * longest.side_rad,
        f"as your {longest.shot.label} does at its stock carry",
    )


def lay_ups(
    situation: Situation, asked: LeaveAsked, left_m: float
) -> Iterator[tuple[float, Surface]]:
    """Where lay-ups meant for one distance end: how far from the hole, and on what.

    Parameters
    ----------
    situation : Situation
        Hole and hole location.
    asked : LeaveAsked
        Line and scatter.
    left_m : float
        The distance. [m]
    """
    ground, at, turn = situation.hole.ground, situation.location, asked.off_line_rad
    for deep in asked.scatter.depth_m * _normal(_DEEP if asked.scatter.depth_m else 1):
        for aside in asked.scatter.side_m * _normal(_WIDE if asked.scatter.side_m else 1):
            along = left_m + deep
            dx = -along * np.cos(turn) + aside * np.sin(turn)
            dy = -along * np.sin(turn) - aside * np.cos(turn)
            yield hypot(dx, dy), ground.surface_at(at.x + dx, at.y + dy)


def nodes_of(asked: LeaveAsked, spots: Sequence[Spots]) -> tuple[float, ...]:
    """Distances at which shots are looked for: those asked for, and on as far as lay-ups end.

    Parameters
    ----------
    asked : LeaveAsked
        Distances asked for.
    spots : sequence of Spots
        Where lay-ups meant for each end.
    """
    given = asked.all_m
    step = max(YARD, min(np.diff(given), default=5.0 * YARD))
    away = [distance for each in spots for distance, _ in each]
    down = given[0] - step * np.arange(1, 1 + np.ceil((given[0] - min(away)) / step))
    up = given[-1] + step * np.arange(1, 1 + np.ceil((max(away) - given[-1]) / step))
    fits = (v for v in (*down, *up) if _NEAREST <= v <= _FURTHEST)
    return tuple(sorted({*given, *map(float, fits)}))


def wanted(
    asked: LeaveAsked, spots: Sequence[Spots], nodes: Sequence[float]
) -> list[tuple[Lie, float]]:
    """Lies and distances whose worth is needed, in a fixed order.

    Parameters
    ----------
    asked : LeaveAsked
        The lie, where one was said.
    spots : sequence of Spots
        Where lay-ups end.
    nodes : sequence of float
        From :func:`nodes_of`. [m]
    """
    found = {
        (lie, node)
        for distance, surface in (spot for each in spots for spot in each)
        if (lie := _lie_at(asked, surface)) is not None
        for node, _ in _between(nodes, distance)
    }
    return sorted(found)


def placed(situation: Situation, asked: LeaveAsked, left_m: float, lie: Lie) -> Situation:
    """The situation with the ball at a distance on the line.

    Parameters
    ----------
    situation : Situation
        Hole and day.
    asked : LeaveAsked
        The line.
    left_m : float
        The distance. [m]
    lie : Lie
        What the ball sits on.
    """
    turn = asked.off_line_rad
    x, y = ball_behind(situation.hole, situation.location, left_m, off_line_rad=turn)
    return replace(situation, ball_x=x, ball_y=y, lie=lie)


def at_aim(
    situation: Situation, asked: LeaveAsked, left_m: float
) -> tuple[Surface, tuple[Lie, float] | None]:
    """What is where the lay-up is meant to end, and what is played from there: lie and distance.

    Parameters
    ----------
    situation : Situation
        Hole and hole location.
    asked : LeaveAsked
        The line, and the lie where one was said.
    left_m : float
        The distance. [m]
    """
    x, y = ball_behind(situation.hole, situation.location, left_m, off_line_rad=asked.off_line_rad)
    surface = situation.hole.ground.surface_at(x, y)
    lie = _lie_at(asked, surface)
    return surface, None if lie is None else (lie, left_m)


def cost(
    asked: LeaveAsked, nodes: Sequence[float], worth: Worth, spots: Spots, count: int
) -> Floats:
    """Strokes from where lay-ups end, averaged over them, under every draw.

    Parameters
    ----------
    asked : LeaveAsked
        The lie, where one was said.
    nodes : sequence of float
        From :func:`nodes_of`. [m]
    worth : dict of (Lie, float) to Looked
        Best shots by lie and distance.
    spots : Spots
        Where lay-ups end.
    count : int
        Draws.

    Returns
    -------
    strokes : ndarray, shape (count,)
        nan where nearly all are out of bounds. [1]
    """
    total, lost = np.zeros(count), 0.0
    weights: dict[tuple[Lie, float], float] = {}
    for distance, surface in spots:
        lie = _lie_at(asked, surface)
        if surface is Surface.OUT_OF_BOUNDS:
            lost += 1.0 / len(spots)
        elif lie is None:
            total += float(strokes_from(Lie.SAND, np.array([distance]))[0]) / len(spots)
        else:
            total += (surface is Surface.WATER) / len(spots)
            for node, share in _between(nodes, distance):
                weights[lie, node] = weights.get((lie, node), 0.0) + share / len(spots)
    if lost > _LOST:
        return np.full(count, np.nan)
    for (lie, node), weight in weights.items():
        total += weight * _strokes(worth[lie, node], lie, node)
    again: Floats = (total + 2.0 * lost) / (1.0 - lost)  # a stroke, and the lay-up once more
    return again


def _normal(count: int) -> Floats:
    """So many equally likely values of a normal distribution, with its mean and spread."""
    middles = (np.arange(count) + 0.5) / count
    values = np.array([NormalDist().inv_cdf(float(m)) for m in middles])
    return values / (values.std() or 1.0)


def _lie_at(asked: LeaveAsked, surface: Surface) -> Lie | None:
    """What the next shot is played from; none from sand and from out of bounds."""
    if surface in (Surface.BUNKER, Surface.OUT_OF_BOUNDS):
        return None
    on_map = Lie.LIGHT_ROUGH if surface is Surface.WATER else _LIE_ON.get(surface, Lie.FAIRWAY)
    return asked.lie or on_map


def _between(nodes: Sequence[float], distance: float) -> tuple[tuple[float, float], ...]:
    """Nodes on both sides of a distance with their weights; beyond the last only that."""
    above = int(np.searchsorted(nodes, distance))
    if above == 0 or above == len(nodes) or nodes[above] == distance:
        return ((nodes[min(above, len(nodes) - 1)], 1.0),)
    low, high = nodes[above - 1], nodes[above]
    share = (distance - low) / (high - low)
    return (low, 1.0 - share), (high, share)


def _strokes(looked: Looked | None, lie: Lie, left_m: float) -> Floats | float:
    """Strokes of the best shot by draw; where none reaches, a tour player's average."""
    if looked is not None:
        return looked.strokes
    return float(strokes_from(lie, np.array([left_m]))[0])
