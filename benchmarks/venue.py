"""A whole venue planned: 18 greens, nine ninths each, four distances; one worker, two, and Dask.

It takes minutes, so it is not among what `python -m benchmarks` runs: python -m benchmarks.venue
"""

import os
from collections.abc import Iterator
from dataclasses import replace
from math import pi
from pathlib import Path
from time import perf_counter

import carrybook.app
from benchmarks.plan import NUMBERS, shot
from carrybook.app.sweep import Hands, sweep
from carrybook.decision.advice import Situation
from carrybook.decision.lay_ups import scatter_of
from carrybook.decision.plan import Brief, Piece, Planned, plan_piece
from carrybook.decision.zones import zone_locations
from carrybook.player.summary import summarise
from carrybook.world.hole import Hole
from carrybook.world.hole_map import read_hole
from carrybook.world.wind import Wind

DATA = Path(carrybook.app.__file__).parent / "demo_data"
DEMO = ("4", "11", "16")
GREENS = 18
WAYS = (("one worker", Hands(1)), ("two workers", Hands(2)), ("Dask, two", Hands(2, cluster=True)))


def lines() -> Iterator[str]:
    """Measure and say."""
    briefs, pieces = _work()
    plan_piece(briefs[0], pieces[0][1])  # compiled from here on
    first: dict[int, Planned] = {}
    alone = 0.0
    for name, hands in WAYS:
        load, began, busy = os.getloadavg()[0], perf_counter(), _busy_s()
        found = dict(sweep(plan_piece, briefs, pieces, hands))
        took, cores = perf_counter() - began, _busy_s() - busy
        first, alone = first or found, alone or took
        cells = sum(len(planned.cells) for planned in found.values())
        yield f"{name:<12} {cells} cells of {len(pieces)} zones: {took:.0f} s, {cores:.0f} s of"
        yield f"  cores, {1000.0 * cores / cells:.0f} ms a cell, {alone / took:.2f} times one"
        yield f"  worker; results alike: {found == first}; load of the machine before: {load:.1f}"


def _work() -> tuple[list[Brief], list[tuple[int, Piece]]]:
    shots = [shot(loft, yards) for loft, yards in ((60, 78), (56, 92), (52, 105), (48, 118))]
    summaries = tuple(summarise(shots, []))
    briefs, pieces = [], []
    for k, hole in enumerate(_greens()):
        places = zone_locations(hole, 3.0)
        at = next(iter(places.values()))
        wind = Wind(4.0, 2.0 * pi * k / GREENS)
        situation = replace(Situation(hole, at, at.x, at.y), wind=wind)
        briefs.append(Brief(situation, summaries, NUMBERS, scatter_of(summaries)))
        pieces += [(k, Piece(place, zone)) for zone, place in places.items()]
    return briefs, pieces


def _greens() -> Iterator[Hole]:
    """Eighteen holes: those of the demo six times, each in another wind."""
    holes = [read_hole(DATA / "venue.geojson", ref, DATA / "heights.csv") for ref in DEMO]
    for k in range(GREENS):
        yield replace(holes[k % len(holes)], ref=str(k + 1))


def _busy_s() -> float:
    """Time of cores that this process and its ended children took. [s]"""
    times = os.times()
    return times.user + times.system + times.children_user + times.children_system


if __name__ == "__main__":
    for line in lines():
        print(line, flush=True)
