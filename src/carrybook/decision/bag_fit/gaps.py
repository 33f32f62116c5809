"""Gaps and overlaps of the bag that is carried, in yards and in strokes."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

import numpy as np

from carrybook.base.errors import NoSolutionError
from carrybook.decision.bag_fit.bags import Saving, choices, saved, saving
from carrybook.decision.bag_fit.doubt import Chance
from carrybook.decision.bag_fit.fit import taken_from
from carrybook.decision.bag_fit.greens import Greens
from carrybook.decision.bag_fit.options import Taken
from carrybook.decision.bag_fit.table import WedgesOf, build_table
from carrybook.decision.bag_fit.wedges import Wedge
from carrybook.decision.demand import Demand
from carrybook.world.faced import FacedShot
from carrybook.world.lie import Lie, Moisture

__all__ = ["BagGaps", "ClubWorth", "PlaceGap", "gaps_of"]

Progress = Callable[[str, float], None]


@dataclass(frozen=True, slots=True)
class ClubWorth:
    """One club of the bag, and what it is worth.

    Parameters
    ----------
    wedge : Wedge
        The club.
    full_m, full_se_m : float
        Carry of its longest shot on the reference day at stock feel, and standard error. [m]
    gap_m, gap_se_m : float, optional
        Full carry less that of the club below it; none for the last. [m]
    share : float
        Of what is faced, the part that it is played from. [1]
    saves : Saving
        Against the bag without it.
    """

    wedge: Wedge
    full_m: float
    full_se_m: float
    gap_m: float | None
    gap_se_m: float | None
    share: float
    saves: Saving


@dataclass(frozen=True, slots=True)
class PlaceGap:
    """One place, and how far the bag is behind a club made for it.

    Parameters
    ----------
    place : FacedShot
        Distance, lie and green.
    taken : Taken
        What the bag plays.
    next_club : str
        The club next in line; empty where there is one only.
    next_behind : float
        Strokes more that this costs. [1]
    behind : Saving
        What the loft that costs fewest there would save.
    made_for : str
        That loft.
    """

    place: FacedShot
    taken: Taken
    next_club: str
    next_behind: float
    behind: Saving
    made_for: str


@dataclass(frozen=True, slots=True)
class BagGaps:
    """The bag that is carried.

    Parameters
    ----------
    demand, greens : Demand, Greens
        What is faced.
    clubs : tuple of ClubWorth
        From the longest to the shortest.
    places : tuple of PlaceGap
        In the order of the demand.
    draws, seed : int
        Draws behind each figure, and where they come from.
    doubts : tuple of str
        What the answer rests on that is not well known.
    """

    demand: Demand
    greens: Greens
    clubs: tuple[ClubWorth, ...]
    places: tuple[PlaceGap, ...]
    draws: int
    seed: int
    doubts: tuple[str, ...] = field(default=())


def gaps_of(
    wedges_of: WedgesOf,
    demand: Demand,
    greens: Greens,
    *,
    chance: Chance | None = None,
    progress: Progress | None = None,
) -> BagGaps:
    """Say where the bag that is carried has gaps, and what each club is worth.

    Parameters
    ----------
    wedges_of : callable
        Gives all clubs off a lie and moisture: owned ones, and lofts to hold them against.
    demand, greens : Demand, Greens
        What is faced.
    chance : Chance, optional
        How much is played.
    progress : callable, optional
        Told what is being done and the share that is done, 0 to 1.

    Raises
    ------
    NoSolutionError
        Fewer than two clubs are owned.

    Notes
    -----
    A club that was never hit counts here as it is guessed: a gap is what would be there to gain.
    """
    chance = chance or Chance()
    clubs_here = wedges_of(Lie.FAIRWAY, Moisture.DRY)
    mine = tuple(k for k, w in enumerate(clubs_here) if w.owned)
    if len(mine) < 2:
        raise NoSolutionError("gaps need two clubs with trusted shots in the book at least")
    every = tuple(range(len(clubs_here)))
    without = [tuple(c for c in mine if c != k) for k in mine]
    table = build_table(
        wedges_of, demand, greens, count=chance.count, seed=chance.seed,
        bags=[every, mine, *without], progress=progress,
    )  # fmt: skip
    taken = choices(table, mine)
    ideal, said = choices(table, every), taken_from(table, mine)
    places = []
    for k, place in enumerate(demand.shots):
        rest = [c for c in mine if c != taken[k]]
        after = min(rest, key=lambda c: float(table.first[c, k]))
        more = float((table.strokes[after, k] - table.strokes[taken[k], k]).mean())
        behind = saved(table.strokes[taken[k], k] - table.strokes[ideal[k], k], table)
        label = table.wedges[ideal[k]].label
        places.append(PlaceGap(place, said[k], table.wedges[after].label, more, behind, label))
    shares = [float(demand.shares[taken == k].sum()) for k in mine]
    saves = [saving(table, mine, rest) for rest in without]
    clubs = _worths([table.wedges[k] for k in mine], shares, saves)
    return BagGaps(demand, greens, clubs, tuple(places), chance.count, chance.seed)


def _worths(
    wedges: Sequence[Wedge], shares: Sequence[float], saves: Sequence[Saving]
) -> tuple[ClubWorth, ...]:
    ordered = sorted(range(len(wedges)), key=lambda k: -wedges[k].full_m)
    longest = [max(wedges[k].shots, key=lambda s: s.stock_m) for k in ordered]
    rows = []
    for place, k in enumerate(ordered):
        own = longest[place]
        below = longest[place + 1] if place + 1 < len(longest) else None
        gap = None if below is None else own.stock_m - below.stock_m
        se = None if below is None else float(np.hypot(own.stock_se_m, below.stock_se_m))
        rows.append(ClubWorth(wedges[k], own.stock_m, own.stock_se_m, gap, se, shares[k], saves[k]))
    return tuple(rows)
