"""Bags of clubs over a table: which costs least, and how sure a difference between two is."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Protocol

import numpy as np

from carrybook.base.numerics import Floats, Ints
from carrybook.decision.bag_fit.table import Table
from carrybook.decision.bag_fit.wedges import Wedge
from carrybook.decision.demand import Demand
from carrybook.decision.look import unsure
from carrybook.decision.select import WORTH_SAYING

__all__ = [
    "SURE",
    "Bag",
    "Saving",
    "all_bags",
    "choices",
    "mean_costs",
    "played",
    "saved",
    "saving",
]

SURE = 2.0  # standard deviations that an interval reaches to both sides
_CHUNK = 4096  # bags in hand at once

Bag = tuple[int, ...]  # numbers of clubs in a table, rising


class Costs(Protocol):
    """What each club costs by the draws its swings were chosen by; as in :class:`Table`."""

    @property
    def wedges(self) -> tuple[Wedge, ...]:
        """The clubs."""

    @property
    def demand(self) -> Demand:
        """The places."""

    @property
    def first(self) -> Floats:
        """Mean strokes, shape (clubs, places)."""


@dataclass(frozen=True, slots=True)
class Saving:
    """Strokes that one way saves against another, for each shot faced.

    Parameters
    ----------
    strokes : float
        Expected, above 0 where the first costs less. [1]
    noise : float
        Standard error of the draws. [1]
    unsure : float
        Standard deviation in all: draws, what is not known of player and green, what is not known
        of clubs that were never hit. [1]
    clubs : float
        Of that, what is not known of clubs that were never hit. [1]
    """

    strokes: float
    noise: float
    unsure: float
    clubs: float = 0.0

    @property
    def interval(self) -> tuple[float, float]:
        """Two standard deviations to both sides."""
        return self.strokes - SURE * self.unsure, self.strokes + SURE * self.unsure

    @property
    def is_real(self) -> bool:
        """Whether it separates from nothing, and is worth a thought."""
        sure = abs(self.strokes) > SURE * self.unsure
        return sure and abs(self.strokes) >= WORTH_SAYING


def all_bags(table: Costs, size: int, always: Sequence[int] = (), kept: Bag = ()) -> list[Bag]:
    """Every set of so many clubs that holds some of them.

    Parameters
    ----------
    table : Table
        The clubs.
    size : int
        How many may be chosen, those of `always` among them.
    always : sequence of int
        Clubs that must be among them.
    kept : tuple of int
        Clubs that are in every bag, and do not count.
    """
    free = [k for k in range(len(table.wedges)) if k not in always and k not in kept]
    rest = combinations(free, size - len(always))
    return [tuple(sorted((*kept, *always, *some))) for some in rest]


def mean_costs(table: Costs, bags: Sequence[Bag]) -> Floats:
    """Expected strokes of every bag, the best club taken from every place, shape (bags,).

    Parameters
    ----------
    table : Table
        What each club costs.
    bags : sequence of tuple of int
        Alike in size.

    Notes
    -----
    By the draws that swings were chosen by; good to rank by, not to quote.
    """
    shares, out = table.demand.shares, np.empty(len(bags))
    for start in range(0, len(bags), _CHUNK):
        some = np.array(bags[start : start + _CHUNK])
        out[start : start + _CHUNK] = table.first[some].min(axis=1) @ shares
    return out


def choices(table: Costs, bag: Bag) -> Ints:
    """Which club a bag takes from every place, shape (places,).

    Parameters
    ----------
    table : Table
        What each club costs.
    bag : tuple of int
        The clubs.
    """
    clubs = np.array(bag)
    return np.asarray(clubs[table.first[clubs].argmin(axis=0)])


def played(table: Table, bag: Bag) -> Floats:
    """Strokes of a bag over all places under every fresh draw, shape (n,).

    Parameters
    ----------
    table : Table
        What each club costs.
    bag : tuple of int
        The clubs.
    """
    taken = choices(table, bag)
    strokes = table.strokes[taken, np.arange(len(taken))]
    return np.asarray(table.demand.shares @ strokes)


def saving(table: Table, bag: Bag, other: Bag, *, clubs: float = 0.0) -> Saving:
    """What one bag saves against another, under the same chance.

    Parameters
    ----------
    table : Table
        What each club costs.
    bag, other : tuple of int
        The two.
    clubs : float
        What is not known of clubs that were never hit, from
        :func:`carrybook.decision.bag_fit.doubt.doubt_of`. [1]
    """
    return saved(played(table, other) - played(table, bag), table, clubs=clubs)


def saved(difference: Floats, table: Table, *, clubs: float = 0.0) -> Saving:
    """Sum up a paired difference in strokes under the draws of a table.

    Parameters
    ----------
    difference : ndarray, shape (n,)
        Under every draw. [1]
    table : Table
        Whose draws they are.
    clubs : float
        What is not known of clubs that were never hit. [1]
    """
    n = len(difference)
    shared = unsure(difference, table.draws) if difference.any() else 0.0
    return Saving(
        float(difference.mean()),
        float(difference.std(ddof=1) / np.sqrt(n)),
        float(np.hypot(shared, clubs)),
        clubs,
    )
