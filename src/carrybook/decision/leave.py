"""What distance to leave: expected strokes against it, from this player's shots, on this ground.

The lay-up stroke scatters; where it ends says what the next shot is played from. Distances meet
the same lay-ups and the same chance, so their differences are smoother than each of them.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from math import hypot
from statistics import NormalDist

import numpy as np

from carrybook.base.constants import YARD
from carrybook.base.errors import BadInputError, NoSolutionError, require_range
from carrybook.base.numerics import Floats
from carrybook.decision.advice import Situation, Trouble
from carrybook.decision.look import Looked, Pains, look, shared_draws, unsure
from carrybook.decision.prepared import LayUp
from carrybook.outcomes.baseline import strokes_from
from carrybook.outcomes.draws import Draws
from carrybook.player.summary import ShotSummary
from carrybook.world.ground import Surface
from carrybook.world.lie import Lie
from carrybook.world.locate import ball_behind

__all__ = [
    "NO_DIFFERENCE",
    "Against",
    "Distance",
    "LayUpScatter",
    "LeaveAsked",
    "LeaveTable",
    "lay_up_of",
    "leave",
    "scatter_of",
]

NO_DIFFERENCE = 0.02  # strokes; ours: less is not worth a thought
_DEEP, _WIDE = 21, 11  # ours: lay-ups that stand for all, in depth and in side
_NEAREST, _FURTHEST = 15.0 * YARD, 200.0 * YARD  # where a ball may lie
_SAME = 6  # digits of a metre: the favourite may be one of those asked for
_SURE = 2.0  # standard deviations by which a difference must separate
_LOST = 0.95  # ours: where more lay-ups than that are out of bounds, nobody lays up
_LIE_ON = {Surface.ROUGH: Lie.LIGHT_ROUGH}  # any other grass is a fairway
_TROUBLE_ON = {
    Surface.WATER: Trouble.WATER,
    Surface.BUNKER: Trouble.BUNKER,
    Surface.OUT_OF_BOUNDS: Trouble.OUT_OF_BOUNDS,
    Surface.ROUGH: Trouble.ROUGH,
}

Progress = Callable[[str, float], None]
_Spots = Sequence[tuple[float, Surface]]  # distance to the hole, and what is there
_Worth = dict[tuple[Lie, float], Looked | None]


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


@dataclass(frozen=True, slots=True)
class Against:
    """One distance against another.

    Parameters
    ----------
    left_m, other_m : float
        The two. [m]
    saves, unsure : float
        Expected strokes the first saves, and how unsure that is (draws and what is not known). [1]
    """

    left_m: float
    other_m: float
    saves: float
    unsure: float

    @property
    def matters(self) -> bool:
        """Whether it separates from a difference that is not worth a thought."""
        return abs(self.saves) - _SURE * self.unsure > NO_DIFFERENCE


@dataclass(frozen=True, slots=True)
class Distance:
    """One distance to leave.

    Parameters
    ----------
    left_m : float
        To the hole. [m]
    surface : Surface
        What the map has there.
    shot, cue : str
        Best shot from there, and the player's cue; empty where there is none.
    feel_m : float
        What to feel; 0 without a shot. [m]
    strokes, strokes_se : float
        Expected strokes from there to hole out, the lay-up's scatter averaged, and standard error
        of the draws; nan where nobody lays up. [1]
    behind, behind_unsure : float
        Strokes more than from the best distance, and how unsure that is. [1]
    flat : bool
        It belongs to the part around the best where the choice does not matter.
    troubles : dict of Trouble to float
        Share of the lay-ups that end in each kind. [1]
    """

    left_m: float
    surface: Surface
    shot: str
    cue: str
    feel_m: float
    strokes: float
    strokes_se: float
    behind: float
    behind_unsure: float
    flat: bool
    troubles: dict[Trouble, float]


@dataclass(frozen=True, slots=True)
class LeaveTable:
    """Expected strokes against the distance left.

    Parameters
    ----------
    situation : Situation
        Hole, hole location and day; where its ball lies does not matter.
    asked : LeaveAsked
        What was asked.
    distances : tuple of Distance
        As asked for, rising.
    best : int
        Which of them costs fewest.
    closer : Against, optional
        The closer distance that costs fewest against the favourite.
    closest : Against, optional
        The closest against the favourite.
    draws, seed : int
        Draws behind each figure, and where they come from.
    doubts : tuple of str
        What the answer rests on that is not well known.
    """

    situation: Situation
    asked: LeaveAsked
    distances: tuple[Distance, ...]
    best: int
    closer: Against | None
    closest: Against | None
    draws: int
    seed: int
    doubts: tuple[str, ...]

    @property
    def flat_m(self) -> tuple[float, float]:
        """Ends of the part where the choice does not matter. [m]"""
        flat = [d.left_m for d in self.distances if d.flat]
        return flat[0], flat[-1]


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
        f"as your {longest.shot.label} scatters at {carry / YARD:.0f} yd",
    )


def leave(
    situation: Situation,
    summaries: Sequence[ShotSummary],
    asked: LeaveAsked,
    *,
    seed: int = 1,
    pains: Pains | None = None,
    progress: Progress | None = None,
) -> LeaveTable:
    """Find what each distance costs.

    Parameters
    ----------
    situation : Situation
        Hole, hole location and day; its ball and lie are not used.
    summaries : sequence of ShotSummary
        The shots the player owns.
    asked : LeaveAsked
        Distances, line, lie and scatter of the lay-up.
    seed : int, default 1
        The same seed gives the same answer.
    pains : Pains, optional
        How much work.
    progress : callable, optional
        Told what is being done and the share that is done, 0 to 1.

    Raises
    ------
    BadInputError
        A lie that is not modelled.
    NoSolutionError
        No owned shot lands a ball near the hole from any of the distances.

    Notes
    -----
    The best shot is looked for at each distance on the line, from each lie that occurs; between
    two distances the strokes of one draw are taken on a straight line. A lay-up that ends beside
    the line counts with its distance and with the lie the map has there, but is played as from the
    line (ours). Sand: the tour baseline. Water: one stroke, and a drop at that distance in rough.
    Out of bounds: one stroke, and the lay-up again. Where no owned shot reaches: tour baseline.
    """
    pains = pains or Pains()
    tell = progress or (lambda _what, _share: None)
    draws = shared_draws(seed, pains)
    spots = [list(_lay_ups(situation, asked, d)) for d in asked.all_m]
    nodes = _nodes(asked, spots)
    wanted = _wanted(asked, spots, nodes)
    worth: _Worth = {}
    for k, (lie, node) in enumerate(wanted):
        tell(f"{node / YARD:.0f} yd, {lie}", k / len(wanted))
        placed = _placed(situation, asked, node, lie)
        worth[lie, node] = look(placed, summaries, draws, seed=seed, pains=pains)
    if not any(worth.values()):
        raise NoSolutionError(
            "none of your shots lands a ball near the hole from any of these distances;"
            " ask for others, like --from 60yd --to 120yd"
        )
    strokes = np.array([_cost(asked, nodes, worth, s, pains.final) for s in spots])
    tell("done", 1.0)
    return _table(situation, asked, strokes, worth, spots, draws_of=(draws, seed))


def lay_up_of(table: LeaveTable) -> LayUp:
    """Give the part of a table that fits on a card."""
    shown = [d for d in table.distances if np.isfinite(d.strokes)]
    low, high = table.flat_m
    wet = [d.left_m for d in shown if d.troubles.get(Trouble.WATER, 0.0) > NO_DIFFERENCE]
    note = f"water about {min(wet) / YARD:.0f} to {max(wet) / YARD:.0f} yd" if wet else ""
    return LayUp(
        table.situation.hole.ref,
        tuple(d.left_m for d in shown),
        tuple(d.strokes for d in shown),
        tuple(d.strokes_se for d in shown),
        low,
        high,
        note,
    )


def _lay_ups(
    situation: Situation, asked: LeaveAsked, left_m: float
) -> Iterator[tuple[float, Surface]]:
    """Where lay-ups meant for one distance end: how far from the hole, and on what."""
    ground, at, turn = situation.hole.ground, situation.location, asked.off_line_rad
    for deep in asked.scatter.depth_m * _normal(_DEEP if asked.scatter.depth_m else 1):
        for aside in asked.scatter.side_m * _normal(_WIDE if asked.scatter.side_m else 1):
            along = left_m + deep
            dx = -along * np.cos(turn) + aside * np.sin(turn)
            dy = -along * np.sin(turn) - aside * np.cos(turn)
            yield hypot(dx, dy), ground.surface_at(at.x + dx, at.y + dy)


def _normal(count: int) -> Floats:
    """So many equally likely values of a normal distribution, with its mean and spread."""
    middles = (np.arange(count) + 0.5) / count
    values = np.array([NormalDist().inv_cdf(float(m)) for m in middles])
    return values / (values.std() or 1.0)


def _nodes(asked: LeaveAsked, spots: Sequence[_Spots]) -> tuple[float, ...]:
    """Distances at which shots are looked for: those asked for, and on as far as lay-ups end."""
    given = asked.all_m
    step = max(YARD, min(np.diff(given), default=5.0 * YARD))
    away = [distance for each in spots for distance, _ in each]
    down = given[0] - step * np.arange(1, 1 + np.ceil((given[0] - min(away)) / step))
    up = given[-1] + step * np.arange(1, 1 + np.ceil((max(away) - given[-1]) / step))
    fits = (v for v in (*down, *up) if _NEAREST <= v <= _FURTHEST)
    return tuple(sorted({*given, *map(float, fits)}))


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


def _wanted(
    asked: LeaveAsked, spots: Sequence[_Spots], nodes: Sequence[float]
) -> list[tuple[Lie, float]]:
    """Lies and distances whose worth is needed, in a fixed order."""
    found = {
        (lie, node)
        for distance, surface in (spot for each in spots for spot in each)
        if (lie := _lie_at(asked, surface)) is not None
        for node, _ in _between(nodes, distance)
    }
    return sorted(found)


def _placed(situation: Situation, asked: LeaveAsked, left_m: float, lie: Lie) -> Situation:
    """The situation with the ball at a distance on the line."""
    turn = asked.off_line_rad
    x, y = ball_behind(situation.hole, situation.location, left_m, off_line_rad=turn)
    return replace(situation, ball_x=x, ball_y=y, lie=lie)


def _cost(
    asked: LeaveAsked, nodes: Sequence[float], worth: _Worth, spots: _Spots, count: int
) -> Floats:
    """Strokes from where lay-ups end, averaged over them, under every draw."""
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


def _strokes(looked: Looked | None, lie: Lie, left_m: float) -> Floats | float:
    """Strokes of the best shot by draw; where none reaches, a tour player's average."""
    if looked is not None:
        return looked.strokes
    return float(strokes_from(lie, np.array([left_m]))[0])


def _table(
    situation: Situation,
    asked: LeaveAsked,
    strokes: Floats,
    worth: _Worth,
    spots: Sequence[_Spots],
    *,
    draws_of: tuple[Draws, int],
) -> LeaveTable:
    draws, seed = draws_of
    at_aim = [_at_aim(situation, asked, d) for d in asked.all_m]
    for row, (_, place) in enumerate(at_aim):
        if place is not None and worth.get(place) is None:
            strokes[row] = np.nan  # no shot of the player's from there
    means = strokes.mean(axis=1)
    if not np.isfinite(means).any():
        raise NoSolutionError("nobody lays up to any of these distances here; ask for others")
    best = int(np.nanargmin(means))
    flat = _flat(means, best)
    distances = tuple(
        _distance(
            left, at_aim[row], worth, spots[row], strokes[row], strokes[best], flat[row], draws
        )
        for row, left in enumerate(asked.all_m)
    )
    closer, closest = _against(asked, strokes, draws)
    return LeaveTable(
        situation, asked, distances, best, closer, closest, len(draws), seed,
        tuple(_doubts(asked, worth, spots)),
    )  # fmt: skip


def _at_aim(
    situation: Situation, asked: LeaveAsked, left_m: float
) -> tuple[Surface, tuple[Lie, float] | None]:
    """What is where the lay-up is meant to end, and what is played from there."""
    x, y = ball_behind(situation.hole, situation.location, left_m, off_line_rad=asked.off_line_rad)
    surface = situation.hole.ground.surface_at(x, y)
    lie = _lie_at(asked, surface)
    return surface, None if lie is None else (lie, left_m)


def _flat(means: Floats, best: int) -> list[bool]:
    """The unbroken part around the best that costs hardly more."""
    near = [bool(m - means[best] <= NO_DIFFERENCE) for m in means]  # nan is not near
    low = high = best
    while low > 0 and near[low - 1]:
        low -= 1
    while high < len(means) - 1 and near[high + 1]:
        high += 1
    return [low <= row <= high for row in range(len(near))]


def _distance(
    left_m: float,
    at_aim: tuple[Surface, tuple[Lie, float] | None],
    worth: _Worth,
    spots: _Spots,
    strokes: Floats,
    fewest: Floats,
    flat: bool,
    draws: Draws,
) -> Distance:
    surface, place = at_aim
    looked = None if place is None else worth.get(place)
    behind = strokes - fewest
    known = bool(np.isfinite(strokes).all())
    ended = [_TROUBLE_ON[on] for _, on in spots if on in _TROUBLE_ON]
    shot = None if looked is None else looked.best[0].summary.shot
    return Distance(
        left_m=left_m,
        surface=surface,
        shot=shot.label if shot else "",
        cue=shot.cue if shot else "",
        feel_m=looked.best[0].feel_m if looked else 0.0,
        strokes=float(strokes.mean()),
        strokes_se=float(strokes.std(ddof=1) / np.sqrt(len(strokes))),
        behind=float(behind.mean()),
        behind_unsure=unsure(behind, draws) if known else float("nan"),
        flat=flat,
        troubles={kind: ended.count(kind) / len(spots) for kind in Trouble if kind in ended},
    )


def _against(
    asked: LeaveAsked, strokes: Floats, draws: Draws
) -> tuple[Against | None, Against | None]:
    """The best closer distance and the closest one, against the favourite."""
    liked = asked.favourite_m
    if liked is None:
        return None, None
    row = asked.all_m.index(round(liked, _SAME))
    nearer = [k for k in range(row) if np.isfinite(strokes[k]).all()]
    if not np.isfinite(strokes[row]).all() or not nearer:
        return None, None

    def compared(k: int) -> Against:
        saved = strokes[row] - strokes[k]
        return Against(asked.all_m[k], liked, float(saved.mean()), unsure(saved, draws))

    return compared(min(nearer, key=lambda k: float(strokes[k].mean()))), compared(nearer[0])


def _doubts(asked: LeaveAsked, worth: _Worth, spots: Sequence[_Spots]) -> Iterator[str]:
    if asked.scatter.depth_m or asked.scatter.side_m:
        yield f"the lay-up scatters {asked.scatter.source}"
    if not all(worth.values()):
        yield "where none of your shots reaches, lay-ups that end there count as a tour player's"
    if any(on is Surface.BUNKER for each in spots for _, on in each):
        yield "strokes from sand are a tour player's, not yours"
    if asked.lie is None:
        yield "the lie is what the map says of each spot; a bare, wet or sloping one is not on it"
    yield "putts, and strokes off the green, are a tour player's, not yours"
