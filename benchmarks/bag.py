"""Which wedges: what the table of costs takes, what the search over bags takes, and their ratio."""

from collections.abc import Iterator
from math import radians
from time import perf_counter

from benchmarks.timing import best_of
from carrybook.base.constants import YARD
from carrybook.decision.bag_fit.bags import all_bags, mean_costs
from carrybook.decision.bag_fit.demand import demand_over
from carrybook.decision.bag_fit.greens import Greens
from carrybook.decision.bag_fit.table import build_table
from carrybook.decision.bag_fit.wedges import candidates
from carrybook.player.bag import Club, Flight, Shape, Shot
from carrybook.player.summary import summarise

DEMAND = demand_over(40.0 * YARD, 120.0 * YARD)


def lines() -> Iterator[str]:
    """Measure and say."""
    summaries = summarise([_shot(*club) for club in ((60, 78), (56, 92), (52, 105), (48, 118))], [])
    wedges = candidates(summaries, radians(46), radians(64))

    def table_of(count: int) -> object:
        return build_table(lambda _lie, _wet: wedges, DEMAND, Greens(), count=count)

    table_of(32)  # compiled from here on
    began = perf_counter()
    table = build_table(lambda _lie, _wet: wedges, DEMAND, Greens(), count=512)
    full = perf_counter() - began
    began = perf_counter()
    table_of(256)
    half = perf_counter() - began
    bags = all_bags(table, 4)
    search = best_of(lambda: mean_costs(table, bags), 3)
    places, found = len(DEMAND.places), 1000.0 * search
    yield f"bag fit, {len(wedges)} clubs, {places} distances, 2 x 512 draws: {full:.1f} s"
    yield f"  twice the draws take {full / half:.1f} times as long;"
    yield f"  all {len(bags)} bags of four in {found:.0f} ms, {full / search:.0f} times less"


def _shot(loft: int, yards: int) -> Shot:
    carry = yards * YARD
    club = Club(str(loft), radians(loft))
    return Shot(club, Flight.STOCK, Shape.STRAIGHT, carry, 0.5 * carry, 1.03 * carry)


if __name__ == "__main__":
    for line in lines():
        print(line, flush=True)
