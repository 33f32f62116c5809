"""A plan of the demo course: seconds a cell alone and on two, and what a venue would take."""

from collections.abc import Iterator
from math import radians
from pathlib import Path
from time import perf_counter, process_time

import carrybook.app
from carrybook.app.sweep import Hands, sweep
from carrybook.base.constants import YARD
from carrybook.decision.advice import Situation
from carrybook.decision.lay_ups import scatter_of
from carrybook.decision.plan import Brief, Piece, Planned, plan_piece
from carrybook.decision.zones import zone_locations
from carrybook.player.bag import Club, Flight, Shape, Shot
from carrybook.player.summary import summarise
from carrybook.world.hole_map import read_hole

DATA = Path(carrybook.app.__file__).parent / "demo_data"
HOLES = ("4", "11", "16")
NUMBERS = tuple(yards * YARD for yards in (60.0, 75.0, 90.0, 105.0))
VENUE = 18 * 9 * 4


def lines() -> Iterator[str]:
    """Measure and say."""
    briefs, pieces = _work()
    plan_piece(briefs[0], pieces[0][1])  # compiled from here on
    cpu, began = process_time(), perf_counter()
    here = dict(sweep(plan_piece, briefs, pieces, Hands(1)))
    cpu, alone = process_time() - cpu, perf_counter() - began
    began = perf_counter()
    both = dict(sweep(plan_piece, briefs, pieces, Hands(2)))
    shared = perf_counter() - began
    cells = _cells(here)
    assert both == here
    yield f"plan, {cells} cells of {len(pieces)} zones, four shots: one process {alone:.0f} s"
    yield f"  ({1000.0 * alone / cells:.0f} ms a cell, {1000.0 * cpu / cells:.0f} ms of a core);"
    yield f"  two {shared:.0f} s with their start, {alone / shared:.2f} times as quick, all alike"
    yield f"  18 greens x 9 zones x 4 distances: about {shared / cells * VENUE:.0f} s on two"


def _work() -> tuple[list[Brief], list[tuple[int, Piece]]]:
    shots = [shot(loft, yards) for loft, yards in ((60, 78), (56, 92), (52, 105), (48, 118))]
    summaries = tuple(summarise(shots, []))
    briefs, pieces = [], []
    for k, ref in enumerate(HOLES):
        hole = read_hole(DATA / "venue.geojson", ref, DATA / "heights.csv")
        places = zone_locations(hole, 3.0)
        first = next(iter(places.values()))
        situation = Situation(hole, first, first.x, first.y)
        briefs.append(Brief(situation, summaries, NUMBERS, scatter_of(summaries)))
        pieces += [(k, Piece(at, zone)) for zone, at in places.items()]
    return briefs, pieces


def _cells(found: dict[int, Planned]) -> int:
    return sum(len(planned.cells) for planned in found.values())


def shot(loft: int, yards: int) -> Shot:
    """Give a stock shot of a made-up bag."""
    carry = yards * YARD
    club = Club(str(loft), radians(loft))
    return Shot(club, Flight.STOCK, Shape.STRAIGHT, carry, 0.5 * carry, 1.03 * carry)


if __name__ == "__main__":
    for line in lines():
        print(line, flush=True)
