"""Which wedges: what the table of costs takes, beside playing everything; the search over bags."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from math import radians
from time import perf_counter

import numpy as np

from benchmarks.timing import best_of
from carrybook.base.constants import YARD
from carrybook.decision.bag_fit.bags import all_bags, mean_costs
from carrybook.decision.bag_fit.demand import bag_demand, demand_over
from carrybook.decision.bag_fit.greens import Greens
from carrybook.decision.bag_fit.swings import endless, rows_of
from carrybook.decision.bag_fit.table import build_table, choose_swings
from carrybook.decision.bag_fit.wedges import Wedge, candidates, own_wedges
from carrybook.decision.bag_fit.whatif import bag_whatif, usual_changes
from carrybook.outcomes.draws import draw
from carrybook.outcomes.simulate import simulate
from carrybook.player.bag import Club, Flight, Shape, Shot
from carrybook.player.summary import summarise
from carrybook.world.ground import Surface
from carrybook.world.lie import Lie, Moisture

RANGE = demand_over(40.0 * YARD, 120.0 * YARD)
LIES = (Lie.FAIRWAY, Lie.LIGHT_ROUGH, Lie.DEEP_ROUGH)
SEASON = bag_demand([replace(s, lie=lie) for lie in LIES for s in RANGE.shots], "three lies")
GREENS, FIRMNESSES = Greens(), (70.0, 90.0, 110.0, 130.0)
COUNT = 256


def lines() -> Iterator[str]:
    """Measure and say."""
    summaries = summarise([_shot(*club) for club in ((60, 78), (56, 92), (52, 105), (48, 118))], [])
    wedges, owned = candidates(summaries, radians(46), radians(64)), own_wedges(summaries)
    build_table(lambda _lie, _wet: wedges, RANGE, GREENS, count=32)  # compiled from here on
    whole = _timed(lambda: _play_everything(wedges))
    alone = _timed(lambda: _table(wedges, None))
    bag = _timed(lambda: _table(wedges, [tuple(range(len(wedges)))]))
    one = _timed(lambda: _chosen(wedges, FIRMNESSES[:1]))
    four = _timed(lambda: _chosen(wedges, FIRMNESSES))
    yield f"{len(wedges)} clubs, {len(SEASON.shots)} places off three lies, 2 x {COUNT} draws:"
    yield f"  every ball played on green and on fairway {whole:.1f} s;"
    yield f"  the table, each club for itself, {alone:.1f} s: {whole / alone:.1f} times less;"
    yield f"  the table of one bag of them all {bag:.1f} s: {whole / bag:.1f} times less;"
    yield f"  swings chosen for four firmnesses take {four / one:.1f} times as long as for one"
    changes = usual_changes(owned)
    worth = _timed(lambda: bag_whatif(lambda _l, _w: owned, changes, RANGE, GREENS, FIRMNESSES))
    yield f"what if, {len(changes)} changes, four firmnesses, one lie: {worth:.1f} s"
    table = build_table(lambda _l, _w: wedges, RANGE, GREENS, count=64)
    bags = all_bags(table, 4)
    search = 1000.0 * best_of(lambda: mean_costs(table, bags), 3)
    yield f"all {len(bags)} bags of four in {search:.0f} ms"


def _timed(work: Callable[[], object]) -> float:
    began = perf_counter()
    work()
    return perf_counter() - began


def _table(wedges: Sequence[Wedge], bags: Sequence[tuple[int, ...]] | None) -> object:
    return build_table(lambda _l, _w: wedges, SEASON, GREENS, count=COUNT, bags=bags)


def _chosen(wedges: Sequence[Wedge], firmnesses: Sequence[float]) -> object:
    greens = [replace(GREENS, firmness_g=each) for each in firmnesses]
    return choose_swings(lambda _l, _w: wedges, SEASON, greens, count=COUNT)


def _play_everything(wedges: Sequence[Wedge]) -> None:
    """Every swing off every lie under every draw, on green and on fairway; nothing is read."""
    draws, rows = draw(np.random.default_rng(1), 2 * COUNT), rows_of(wedges)
    for lie in LIES:
        world = GREENS.world(lie, Moisture.DRY, 90.0)
        _, landings = simulate(world, rows.swings, draws)
        elsewhere = replace(world, ground=endless(Surface.FAIRWAY))
        simulate(elsewhere, rows.swings, draws, landings=landings)


def _shot(loft: int, yards: int) -> Shot:
    carry = yards * YARD
    club = Club(str(loft), radians(loft))
    return Shot(club, Flight.STOCK, Shape.STRAIGHT, carry, 0.5 * carry, 1.03 * carry)


if __name__ == "__main__":
    for line in lines():
        print(line, flush=True)
