"""What each club costs from each place that is faced: one batch of balls, then only reading.

On level ground in an even wind a shot ends where it ends, however far away the hole is. So every
swing of every club is flown once under shared chance, turned so that its middle ball lands on the
line, and what it leaves is read for each distance. Half of the draws choose the swing of each club;
the other half judge it, and are bounced and rolled only for what some bag plays.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, fields, replace
from functools import partial

import numpy as np

from carrybook.base.numerics import Flags, Floats, Ints
from carrybook.decision.bag_fit.greens import Greens
from carrybook.decision.bag_fit.narrow import Aimed, Tries, narrowed, play, tries_from
from carrybook.decision.bag_fit.swings import Flown, Rows, bounces_of, fly_all, rows_of
from carrybook.decision.bag_fit.wedges import Wedge
from carrybook.decision.demand import Demand
from carrybook.outcomes.draws import Draws, draw
from carrybook.outcomes.simulate import World
from carrybook.outcomes.value_map import ValueMap
from carrybook.world.lie import Lie, Moisture

__all__ = ["Chosen", "Table", "WedgesOf", "build_table", "choose_swings"]

# About the share of the time off one lie that flights take; of all, until swings are chosen.
_FLYING, _CHOOSING = 0.2, 0.9

WedgesOf = Callable[[Lie, Moisture], Sequence[Wedge]]
Progress = Callable[[str, float], None]
Told = Callable[[float], None]
Bags = Sequence[Sequence[int]]


@dataclass(frozen=True, slots=True)
class Table:
    """Strokes of each club from each place.

    Parameters
    ----------
    wedges : tuple of Wedge, length c
        The clubs.
    demand : Demand
        The places.
    first : ndarray, shape (c, places)
        Mean strokes of the best swing of a club, over the draws that it was chosen by; infinite
        where the club is far behind in every bag. [1]
    strokes : ndarray, shape (c, places, n)
        Of that swing under fresh draws; nan where no bag plays it. [1]
    shot : ndarray of int64, shape (c, places)
        Which of the club's shots it is.
    feel_m : ndarray, shape (c, places)
        What to feel. [m]
    draws : Draws, length n
        Those fresh draws.
    """

    wedges: tuple[Wedge, ...]
    demand: Demand
    first: Floats
    strokes: Floats
    shot: Ints
    feel_m: Floats
    draws: Draws


@dataclass(frozen=True, slots=True)
class Chosen:
    """The swing of each club from each place, chosen by one half of the draws.

    Parameters
    ----------
    wedges, demand, first, shot, feel_m, draws
        As in :class:`Table`.
    swing : ndarray of int64, shape (c, places)
        Its number among the swings off its lie.
    away_m, aside_m : ndarray, shape (c, places)
        How it is aimed, as in :class:`carrybook.decision.bag_fit.narrow.Tries`. [m]
    held : tuple
        What it takes to play it under fresh draws.
    """

    wedges: tuple[Wedge, ...]
    demand: Demand
    first: Floats
    shot: Ints
    feel_m: Floats
    draws: Draws
    swing: Ints
    away_m: Floats
    aside_m: Floats
    held: "tuple[_Held, ...]"

    def judged(self, bags: Bags | None = None) -> Table:
        """Play what some bags take under fresh draws.

        Parameters
        ----------
        bags : sequence of sequences of int, optional
            Clubs of each; every club for itself if not given.
        """
        asked = np.zeros(self.first.shape, dtype=bool)
        for bag in bags or _alone(self.wedges):
            clubs = np.array(bag)
            asked[clubs[self.first[clubs].argmin(axis=0)], np.arange(len(self.demand.shots))] = True
        strokes = np.full((*asked.shape, len(self.draws)), np.nan)
        for held in self.held:
            _judge(self, held, asked, strokes)
        return Table(
            self.wedges, self.demand, self.first, strokes, self.shot, self.feel_m, self.draws
        )


def build_table(
    wedges_of: WedgesOf,
    demand: Demand,
    greens: Greens,
    *,
    count: int = 1024,
    seed: int = 1,
    bags: Bags | None = None,
    progress: Progress | None = None,
) -> Table:
    """Choose the swing of every club from every place, and judge what some bags take.

    Parameters are those of :func:`choose_swings`, for one kind of green.
    """
    tell = progress or (lambda _what, _share: None)
    (chosen,) = choose_swings(
        wedges_of, demand, (greens,), count=count, seed=seed, bags=bags,
        progress=lambda what, share: tell(what, _CHOOSING * share),
    )  # fmt: skip
    table = chosen.judged(bags)
    tell("done", 1.0)
    return table


def choose_swings(
    wedges_of: WedgesOf,
    demand: Demand,
    greens: Sequence[Greens],
    *,
    count: int = 1024,
    seed: int = 1,
    bags: Bags | None = None,
    progress: Progress | None = None,
) -> tuple[Chosen, ...]:
    """Play every swing of every club, and choose the best of each club from every place.

    Parameters
    ----------
    wedges_of : callable
        Gives the clubs off a lie and moisture, always the same in the same order.
    demand : Demand
        The places.
    greens : sequence of Greens
        Of one day; they differ in what happens after the first touch only.
    count : int, default 1024
        Draws to choose swings by, and as many fresh ones to judge them by.
    seed : int, default 1
        The same seed gives the same answer.
    bags : sequence of sequences of int, optional
        Clubs that are held against each other, every bag that matters or a part of it; what is far
        behind in all of them is given up early. Every club for itself if not given.
    progress : callable, optional
        Told what is being done and the share that is done, 0 to 1.
    """
    tell = progress or (lambda _what, _share: None)
    draws = draw(np.random.default_rng([seed, 8]), 2 * count)
    wedges = tuple(wedges_of(Lie.FAIRWAY, Moisture.DRY))
    lies: dict[tuple[Lie, Moisture], list[int]] = {}
    for k, place in enumerate(demand.shots):
        lies.setdefault((place.lie, place.moisture), []).append(k)
    together = bags or _alone(wedges)
    tables = [_unfilled(wedges, demand, _some(draws, count, 2 * count)) for _ in greens]
    held: list[list[_Held]] = [[] for _ in greens]
    for done, ((lie, moisture), where) in enumerate(lies.items()):
        tell(f"flying every swing off {lie}, {moisture}", done / len(lies))
        rows = rows_of(wedges_of(lie, moisture))
        flown, carry_m = fly_all(
            greens[0].world(lie, moisture, greens[0].firmness_g), rows.swings, draws
        )
        off = _Off(lie, moisture, rows, flown, carry_m, _some(draws, 0, count))
        for number, here in enumerate(greens):
            begun = (done + _FLYING + number * (1.0 - _FLYING) / len(greens)) / len(lies)
            part = (1.0 - _FLYING) / len(greens) / len(lies)
            told = _part(partial(tell, f"choosing swings off {lie}, {moisture}"), begun, part)
            held[number] += _choose(tables[number], where, off, here, together, told)
    tell("done", 1.0)
    return tuple(replace(t, held=tuple(h)) for t, h in zip(tables, held, strict=True))


@dataclass(frozen=True, slots=True)
class _Off:
    """Every swing off one lie: flown under all draws, chosen by some of them."""

    lie: Lie
    moisture: Moisture
    rows: Rows
    flown: Flown
    carry_m: Floats
    draws: Draws


@dataclass(frozen=True, slots=True)
class _Held:
    """Swings that were chosen from some places, flown under fresh draws but not bounced."""

    where: list[int]
    swings: Ints
    flown: Flown
    world: World
    maps: list[list[ValueMap]]


def _unfilled(wedges: tuple[Wedge, ...], demand: Demand, fresh: Draws) -> Chosen:
    shape = (len(wedges), len(demand.shots))
    shot, swing = (np.zeros(shape, dtype=np.int64) for _ in range(2))
    feel, away, aside = (np.full(shape, np.nan) for _ in range(3))
    first = np.full(shape, np.inf)
    return Chosen(wedges, demand, first, shot, feel, fresh, swing, away, aside, ())


def _some(draws: Draws, first: int, last: int) -> Draws:
    return Draws(**{f.name: getattr(draws, f.name)[first:last] for f in fields(Draws)})


def _alone(wedges: Sequence[Wedge]) -> Bags:
    return [(k,) for k in range(len(wedges))]


def _part(told: Told, begun: float, part: float) -> Told:
    """What tells the share of a part, as a share of the whole."""
    return lambda share: told(begun + part * share)


def _choose(
    table: Chosen,
    where: list[int],
    off: _Off,
    greens: Greens,
    together: Bags,
    told: Told,
) -> list[_Held]:
    """Fill the columns of some places off one lie; give what judges them, by firmness."""
    maps, shots = greens.maps(), table.demand.shots
    by_firmness: dict[float, list[int]] = {}
    for k in where:
        by_firmness.setdefault(shots[k].firmness_g or greens.firmness_g, []).append(k)
    held = []
    for done, (firmness, some) in enumerate(by_firmness.items()):
        world = greens.world(off.lie, off.moisture, firmness)
        aimed = {
            k: Aimed(
                tries_from(shots[k].distance_m, off.rows, off.carry_m, greens.asides_m),
                maps[shots[k].green],
            )
            for k in some
        }
        early = off.flown.part(slice(None), slice(0, len(off.draws)))
        best = narrowed(
            bounces_of(early, world, off.draws), aimed, len(off.draws), together,
            told=_part(told, done / len(by_firmness), 1.0 / len(by_firmness)),
        )  # fmt: skip
        for k, (found, means) in best.items():
            _fill(table, k, found, means, off.rows)
        swings = np.unique([s for found, _ in best.values() for s in found.swing])
        late = off.flown.part(swings, slice(len(off.draws), None))
        held.append(_Held(some, swings, late, world, maps))
    return held


def _fill(table: Chosen, k: int, found: Tries, means: Floats, rows: Rows) -> None:
    clubs = found.club
    table.first[clubs, k], table.shot[clubs, k] = means, rows.shot[found.swing]
    table.feel_m[clubs, k], table.swing[clubs, k] = found.feel_m, found.swing
    table.away_m[clubs, k], table.aside_m[clubs, k] = found.away_m, found.aside_m


def _judge(table: Chosen, held: _Held, asked: Flags, strokes: Floats) -> None:
    """Play what is asked for of some places, and read what it costs under fresh draws."""
    bounces = bounces_of(held.flown, held.world, table.draws)
    aimed = {}
    for k in held.where:
        clubs = np.flatnonzero(asked[:, k])
        swing = np.searchsorted(held.swings, table.swing[clubs, k])
        away, aside = table.away_m[clubs, k], table.aside_m[clubs, k]
        some = Tries(swing, clubs, away, aside, table.feel_m[clubs, k])
        aimed[k] = Aimed(some, held.maps[table.demand.shots[k].green])
    play(bounces, aimed.values(), 0, len(table.draws))
    for k, each in aimed.items():
        strokes[each.tries.club, k] = each.read(bounces, len(table.draws))
