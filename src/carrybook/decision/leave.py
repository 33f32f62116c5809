"""What distance to leave: expected strokes against it, from this player's shots, on this ground.

The lay-up stroke scatters; where it ends says what the next shot is played from. Distances meet
the same lay-ups and the same chance, so their differences are smoother than each of them.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from carrybook.base.constants import YARD
from carrybook.base.errors import NoSolutionError
from carrybook.base.numerics import Floats
from carrybook.decision.advice import Situation, Trouble
from carrybook.decision.lay_ups import (
    LeaveAsked,
    Spots,
    Worth,
    at_aim,
    cost,
    lay_ups,
    nodes_of,
    placed,
    wanted,
)
from carrybook.decision.look import Pains, look, shared_draws, unsure
from carrybook.decision.prepared import LayUp
from carrybook.decision.select import WORTH_SAYING
from carrybook.outcomes.draws import Draws
from carrybook.player.summary import ShotSummary
from carrybook.world.ground import Surface
from carrybook.world.lie import Lie

__all__ = [
    "Against",
    "Distance",
    "LeaveTable",
    "lay_up_of",
    "leave",
]

_WET_WORTH_TELLING = 0.02  # share of lay-ups; ours
_SURE = 2.0  # standard deviations by which a difference must separate
_TROUBLE_ON = {
    Surface.WATER: Trouble.WATER,
    Surface.BUNKER: Trouble.BUNKER,
    Surface.OUT_OF_BOUNDS: Trouble.OUT_OF_BOUNDS,
    Surface.ROUGH: Trouble.ROUGH,
}

Progress = Callable[[str, float], None]


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
        return abs(self.saves) - _SURE * self.unsure > WORTH_SAYING


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
    spots = [list(lay_ups(situation, asked, d)) for d in asked.all_m]
    nodes = nodes_of(asked, spots)
    needed = wanted(asked, spots, nodes)
    worth: Worth = {}
    for k, (lie, node) in enumerate(needed):
        tell(f"{node / YARD:.0f} yd, {lie}", k / len(needed))
        place = placed(situation, asked, node, lie)
        worth[lie, node] = look(place, summaries, draws, seed=seed, pains=pains)
    if not any(worth.values()):
        raise NoSolutionError(
            "none of your shots lands a ball near the hole from any of these distances;"
            " ask for others, like --from 60yd --to 120yd"
        )
    strokes = np.array([cost(asked, nodes, worth, s, pains.final) for s in spots])
    tell("done", 1.0)
    return _table(situation, asked, strokes, worth, spots, draws_of=(draws, seed))


def lay_up_of(table: LeaveTable) -> LayUp:
    """Give the part of a table that fits on a card."""
    shown = [d for d in table.distances if np.isfinite(d.strokes)]
    low, high = table.flat_m
    wet = max(d.troubles.get(Trouble.WATER, 0.0) for d in shown)
    note = f"Water: up to {100.0 * wet:.0f} % of them." if wet > _WET_WORTH_TELLING else ""
    return LayUp(
        table.situation.hole.ref,
        tuple(d.left_m for d in shown),
        tuple(d.strokes for d in shown),
        tuple(d.strokes_se for d in shown),
        low,
        high,
        note,
    )


def _table(
    situation: Situation,
    asked: LeaveAsked,
    strokes: Floats,
    worth: Worth,
    spots: Sequence[Spots],
    *,
    draws_of: tuple[Draws, int],
) -> LeaveTable:
    draws, seed = draws_of
    aims = [at_aim(situation, asked, d) for d in asked.all_m]
    for row, (_, place) in enumerate(aims):
        if place is not None and worth.get(place) is None:
            strokes[row] = np.nan  # no shot of the player's from there
    means = strokes.mean(axis=1)
    if not np.isfinite(means).any():
        raise NoSolutionError("nobody lays up to any of these distances here; ask for others")
    best = int(np.nanargmin(means))
    flat = _flat(means, best)
    distances = tuple(
        _distance(left, aims[row], worth, spots[row], strokes[row], strokes[best], flat[row], draws)
        for row, left in enumerate(asked.all_m)
    )
    closer, closest = _against(asked, strokes, draws)
    return LeaveTable(
        situation, asked, distances, best, closer, closest, len(draws), seed,
        tuple(_doubts(asked, worth, spots)),
    )  # fmt: skip


def _flat(means: Floats, best: int) -> list[bool]:
    """The unbroken part around the best that costs hardly more."""
    near = [bool(m - means[best] <= WORTH_SAYING) for m in means]  # nan is not near
    low = high = best
    while low > 0 and near[low - 1]:
        low -= 1
    while high < len(means) - 1 and near[high + 1]:
        high += 1
    return [low <= row <= high for row in range(len(near))]


def _distance(
    left_m: float,
    aim: tuple[Surface, tuple[Lie, float] | None],
    worth: Worth,
    spots: Spots,
    strokes: Floats,
    fewest: Floats,
    flat: bool,
    draws: Draws,
) -> Distance:
    surface, place = aim
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
    row = min(range(len(asked.all_m)), key=lambda k: abs(asked.all_m[k] - liked))
    nearer = [k for k in range(row) if np.isfinite(strokes[k]).all()]
    if not np.isfinite(strokes[row]).all() or not nearer:
        return None, None

    def compared(k: int) -> Against:
        saved = strokes[row] - strokes[k]
        return Against(asked.all_m[k], liked, float(saved.mean()), unsure(saved, draws))

    return compared(min(nearer, key=lambda k: float(strokes[k].mean()))), compared(nearer[0])


def _doubts(asked: LeaveAsked, worth: Worth, spots: Sequence[Spots]) -> Iterator[str]:
    if asked.scatter.depth_m or asked.scatter.side_m:
        yield f"the lay-up scatters {asked.scatter.source}"
    if not all(worth.values()):
        yield "where none of your shots reaches, lay-ups that end there count as a tour player's"
    if any(on is Surface.BUNKER for each in spots for _, on in each):
        yield "strokes from sand are a tour player's, not yours"
    if asked.lie is None:
        yield "the lie is what the map says of each spot; a bare, wet or sloping one is not on it"
    yield "putts, and strokes off the green, are a tour player's, not yours"
