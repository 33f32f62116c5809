"""The bag that costs fewest strokes over what is faced, against the one that is carried."""

from collections.abc import Callable, Sequence

import numpy as np

from carrybook.base.errors import BadInputError
from carrybook.base.numerics import Floats, Ints
from carrybook.decision.bag_fit.bags import (
    Bag,
    Costs,
    all_bags,
    choices,
    mean_costs,
    played,
    saved,
    saving,
)
from carrybook.decision.bag_fit.doubt import Chance, doubt_of
from carrybook.decision.bag_fit.greens import Greens
from carrybook.decision.bag_fit.options import BagFit, BagOption, Taken
from carrybook.decision.bag_fit.table import Table, WedgesOf, choose_swings
from carrybook.decision.bag_fit.wedges import Wedge, unknowns
from carrybook.decision.demand import Demand
from carrybook.decision.select import WORTH_SAYING
from carrybook.world.lie import Lie, Moisture

__all__ = ["fit_bag", "reaching", "taken_from"]

_LEAST_GAIN = 0.002  # strokes; ours: one more club that is new must save that much to be listed

Progress = Callable[[str, float], None]


def fit_bag(
    wedges_of: WedgesOf,
    demand: Demand,
    greens: Greens,
    *,
    sizes: Sequence[int],
    keep: Sequence[str] = (),
    chance: Chance | None = None,
    progress: Progress | None = None,
) -> BagFit:
    """Find the bag that costs fewest strokes.

    Parameters
    ----------
    wedges_of : callable
        Gives all clubs off a lie and moisture: the wedges to choose from, and clubs with less loft
        that stay in the bag.
    demand, greens : Demand, Greens
        What is faced.
    sizes : sequence of int
        How many wedges, 1 to 5.
    keep : sequence of str
        Labels of wedges that must be among them.
    chance : Chance, optional
        How much is played.
    progress : callable, optional
        Told what is being done and the share that is done, 0 to 1.

    Raises
    ------
    BadInputError
        A club to keep that is not there, or more than may be chosen.

    Notes
    -----
    Every bag is looked at. Each place is played with the club that costs fewest there, chosen by
    half the draws and judged by the other half, so that being picked does not flatter a figure;
    bags meet the same chance.
    """
    chance = chance or Chance()
    tell = progress or (lambda _what, _share: None)
    wedges = tuple(wedges_of(Lie.FAIRWAY, Moisture.DRY))
    kept = tuple(k for k, w in enumerate(wedges) if not w.replaceable)
    always = [_named(wedges, label) for label in keep]
    mine = tuple(k for k, w in enumerate(wedges) if w.owned)
    least = [tuple(dict.fromkeys((*kept, *always, k))) for k in range(len(wedges))]
    (chosen,) = choose_swings(
        wedges_of, demand, (greens,), count=chance.count, seed=chance.seed, bags=least,
        progress=lambda what, share: tell(what, 0.6 * share),
    )  # fmt: skip
    found, count, alike = _search(chosen, sizes, always, kept)
    tell("judging the best bags", 0.6)
    table = chosen.judged([*found, mine])
    doubts = doubt_of(
        wedges_of, found, unknowns(wedges), demand, greens, chance.fewer(),
        progress=lambda share: tell("asking what is not known of new clubs", 0.65 + 0.35 * share),
    )  # fmt: skip
    has = len(mine) > len(kept)
    pairs = zip(found, doubts, strict=True)
    options = tuple(_option(table, bag, kept, mine if has else None, d) for bag, d in pairs)
    carried = _option(table, mine, kept, None, 0.0) if has else None
    best = min(range(len(options)), key=lambda k: mean_costs(table, [found[k]])[0])
    tell("done", 1.0)
    return BagFit(
        demand, greens, carried, options, best, count, alike[options[best].size], chance.count,
        chance.seed,
    )  # fmt: skip


def taken_from(table: Table, bag: Bag, against: Bag | None = None) -> tuple[Taken, ...]:
    """What a bag plays from each place.

    Parameters
    ----------
    table : Table
        What each club costs.
    bag : tuple of int
        The clubs.
    against : tuple of int, optional
        The bag that it is held against.
    """
    taken = choices(table, bag)
    usual = taken if against is None else choices(table, against)
    return tuple(_taken(table, int(taken[k]), int(usual[k]), k) for k in range(len(taken)))


def _taken(table: Table, club: int, usual: int, place: int) -> Taken:
    wedge, strokes = table.wedges[club], table.strokes[club, place]
    shot = wedge.shots[int(table.shot[club, place])].shot
    differs = saved(strokes - table.strokes[usual, place], table)
    feel = float(table.feel_m[club, place])
    return Taken(wedge.label, shot.label, feel, float(strokes.mean()), differs.unsure)


def _named(wedges: Sequence[Wedge], label: str) -> int:
    for k, wedge in enumerate(wedges):
        if wedge.owned and wedge.label.lower() == label.strip().lower():
            return k
    known = ", ".join(w.label for w in wedges if w.owned)
    raise BadInputError(f"club {label!r} has no trusted shot in the book; to keep are: {known}")


def _search(
    table: Costs, sizes: Sequence[int], always: Sequence[int], kept: Bag
) -> tuple[list[Bag], int, dict[int, tuple[tuple[float, float], ...]]]:
    """The best bag of every size by number of new clubs; how many there were; lofts alike."""
    found, count, alike = [], 0, {}
    always = [k for k in dict.fromkeys(always) if k not in kept]
    choice = len(table.wedges) - len(kept)
    for size in sizes:
        if not len(always) <= size <= choice:
            raise BadInputError(
                f"{size} wedges cannot be chosen: {len(always)} are to be kept, and there are"
                f" {choice} to choose from"
            )
        bags = all_bags(table, size, always, kept)
        costs = mean_costs(table, bags)
        count += len(bags)
        new = np.array([sum(not table.wedges[k].owned for k in bag) for bag in bags])
        found += _worth_listing(bags, costs, new)
        alike[size] = _alike(table, bags, costs, kept)
    return found, count, alike


def _worth_listing(bags: Sequence[Bag], costs: Floats, new: Ints) -> list[Bag]:
    """The best bag with no new club, and with more of them as long as that saves something."""
    listed, least = [], np.inf
    for changes in np.unique(new):
        which = np.flatnonzero(new == changes)
        first = int(which[costs[which].argmin()])
        if costs[first] < least - _LEAST_GAIN:
            listed.append(bags[first])
            least = costs[first]
    return listed


def _alike(
    table: Costs, bags: Sequence[Bag], costs: Floats, kept: Bag
) -> tuple[tuple[float, float], ...]:
    """By slot, the lofts of bags that cost hardly more than the best. [rad]"""
    near = [bags[int(k)] for k in np.flatnonzero(costs <= costs.min() + WORTH_SAYING)]
    lofts = np.array([[table.wedges[k].loft_rad for k in bag if k not in kept] for bag in near])
    low, high = np.sort(lofts, axis=1).min(axis=0), np.sort(lofts, axis=1).max(axis=0)
    return tuple(zip(low.tolist(), high.tolist(), strict=True))


def _option(table: Table, bag: Bag, kept: Bag, mine: Bag | None, doubt: float) -> BagOption:
    wedges = tuple(table.wedges[k] for k in bag if k not in kept)
    held = None if mine is None or mine == bag else saving(table, bag, mine, clubs=doubt)
    return BagOption(
        tuple(sorted(wedges, key=lambda w: w.loft_rad)),
        sum(not w.owned for w in wedges),
        float(played(table, bag).mean()),
        held,
        taken_from(table, bag, mine),
    )


def reaching(wedges: Sequence[Wedge]) -> tuple[float, float]:
    """Shortest and longest carry that any of the clubs is used for. [m]"""
    shots = [s for w in wedges for s in w.shots]
    felt = [(s, np.array([s.shot.shortest_m, s.shot.longest_m])) for s in shots]
    ends = np.array([s.reference_for(both) for s, both in felt])
    return float(ends[:, 0].min()), float(ends[:, 1].max())
