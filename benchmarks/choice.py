"""A warm choice on the demo course: seconds, and how the time goes with candidates and draws."""

from collections.abc import Iterator
from dataclasses import replace
from math import radians
from pathlib import Path

import carrybook.app
from benchmarks.timing import best_of
from carrybook.base.constants import YARD
from carrybook.decision.advice import Situation
from carrybook.decision.choose import FULL, choose
from carrybook.player.bag import Club, Flight, Shape, Shot
from carrybook.player.summary import summarise
from carrybook.world.hole_map import read_hole
from carrybook.world.locate import ball_behind, locate

DATA = Path(carrybook.app.__file__).parent / "demo_data"


def lines() -> Iterator[str]:
    """Measure and say."""
    shots = [_shot(loft, yards) for loft, yards in ((60, 78), (56, 92), (52, 105), (48, 118))]
    summaries = summarise(shots, [])
    reading = best_of(lambda: read_hole(DATA / "venue.geojson", "4", DATA / "heights.csv"))
    hole = read_hole(DATA / "venue.geojson", "4", DATA / "heights.csv")
    location = locate(hole, "20 on, centre")
    x, y = ball_behind(hole, location, 88.0 * YARD)
    situation = Situation(hole, location, x, y)
    whole = best_of(lambda: choose(situation, summaries), 3)
    half = best_of(lambda: choose(situation, summaries[:2]), 3)
    many, few = (choose(situation, s).candidates for s in (summaries, summaries[:2]))
    draws = (FULL.final_draws, 2 * FULL.final_draws, 4 * FULL.final_draws)
    by_draws = [
        best_of(
            lambda n=n: choose(
                situation, summaries, facts=False, effort=replace(FULL, final_draws=n)
            ),
            3,
        )
        for n in draws
    ]
    yield f"read a hole with its heights: {reading:.2f} s"
    yield f"choose, warm: {whole:.2f} s for {many} candidates, {half:.2f} s for {few};"
    yield f"  {many / few:.1f} times the candidates take {whole / half:.1f} times as long"
    told = ", ".join(f"{n}: {t:.2f} s" for n, t in zip(draws, by_draws, strict=True))
    yield f"  without its facts, by draws behind each finalist: {told}"


def _shot(loft: int, yards: int) -> Shot:
    carry = yards * YARD
    club = Club(str(loft), radians(loft))
    return Shot(club, Flight.STOCK, Shape.STRAIGHT, carry, 0.65 * carry, 1.03 * carry)
