"""What not knowing a club is worth: the same bags with clubs as they might turn out."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from carrybook.decision.bag_fit.bags import Bag, played
from carrybook.decision.bag_fit.greens import Greens
from carrybook.decision.bag_fit.table import Table, WedgesOf, build_table
from carrybook.decision.bag_fit.wedges import Unknown, Wedge, otherwise
from carrybook.decision.demand import Demand

__all__ = ["Chance", "doubt_of"]

_KINDS = 4  # things that are not known of a club


@dataclass(frozen=True, slots=True)
class Chance:
    """How much is played, and from which chance.

    Parameters
    ----------
    count : int
        Draws to choose swings by, and as many fresh ones to judge them by.
    seed : int
        The same seed gives the same answer.
    """

    count: int = 512
    seed: int = 1

    def fewer(self) -> "Chance":
        """Half of it, for what needs to be known only roughly."""
        return replace(self, count=max(32, self.count // 2))


def doubt_of(
    wedges_of: WedgesOf,
    bags: Sequence[Bag],
    unknown: dict[int, Unknown],
    demand: Demand,
    greens: Greens,
    chance: Chance,
    *,
    progress: Callable[[float], None] | None = None,
) -> list[float]:
    """How far the worth of bags may be off for what is not known of some of their clubs.

    Parameters
    ----------
    wedges_of : callable
        Gives all clubs off a lie and moisture.
    bags : sequence of tuple of int
        The bags.
    unknown : dict of int to Unknown
        By number of a club, what is not known of it.
    demand, greens : Demand, Greens
        What is faced.
    chance : Chance
        How much is played.
    progress : callable, optional
        Told the share that is done, 0 to 1.

    Returns
    -------
    doubts : list of float
        One standard deviation of the strokes of each bag. [1]

    Notes
    -----
    Each thing that is not known is moved by one standard deviation, in all unknown clubs of a bag
    together (a player who hits one loft high hits the next one high, ours), and the best swings are
    chosen anew: the player is taken to learn the club. The squares add up. Bags of known clubs are
    not played.
    """
    unsure = [bag for bag in bags if any(k in unknown for k in bag)]
    strange = sorted({k for bag in unsure for k in bag if k in unknown})
    needed = sorted({k for bag in unsure for k in bag})
    if not strange:
        return [0.0] * len(bags)

    def clubs(*place: object) -> list[Wedge]:
        all_of_them = wedges_of(*place)  # type: ignore[arg-type]
        turned = [otherwise(all_of_them[k], unknown[k]) for k in strange]
        return [all_of_them[k] for k in needed] + [w for some in turned for w in some]

    known = [tuple(needed.index(k) for k in bag) for bag in unsure]
    turned = [[_turned(bag, kind, needed, strange) for kind in range(_KINDS)] for bag in unsure]
    table = build_table(
        clubs, demand, greens, count=chance.count, seed=chance.seed,
        bags=[*known, *(bag for four in turned for bag in four)],
        progress=None if progress is None else lambda _what, share: progress(share),
    )  # fmt: skip
    rows = zip(unsure, known, turned, strict=True)
    doubts = {bag: _doubt(table, mine, four) for bag, mine, four in rows}
    return [doubts.get(bag, 0.0) for bag in bags]


def _turned(bag: Bag, kind: int, needed: list[int], strange: list[int]) -> Bag:
    """The bag with one thing moved in all of its clubs that are not known."""
    return tuple(
        len(needed) + _KINDS * strange.index(k) + kind if k in strange else needed.index(k)
        for k in bag
    )


def _doubt(table: Table, known: Bag, turned: Sequence[Bag]) -> float:
    usual = played(table, known).mean()
    moved = [played(table, bag).mean() - usual for bag in turned]
    return float(np.sqrt(np.square(moved).sum()))
