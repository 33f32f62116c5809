"""Players made for one question each, and a table of costs that is known."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from math import radians

import numpy as np
import pytest

from carrybook.base.constants import YARD
from carrybook.base.numerics import Floats
from carrybook.decision.bag_fit.table import Table
from carrybook.decision.bag_fit.wedges import Wedge
from carrybook.decision.demand import Demand
from carrybook.outcomes.draws import draw
from carrybook.player.bag import Club, Flight, Shape, Shot
from carrybook.player.summary import ShotSummary, summarise
from carrybook.world.faced import FacedShot

MakeShots = Callable[..., tuple[ShotSummary, ...]]
MakeTable = Callable[..., Table]


@pytest.fixture(scope="session")
def shots_of() -> MakeShots:
    """Make stock shots of (loft, full carry in yards), with partials down to a share of it."""

    def make(
        *clubs: tuple[float, float],
        shortest: float = 0.6,
        scatter: float | None = None,
        trusted: bool = True,
    ) -> tuple[ShotSummary, ...]:
        shots = [
            Shot(
                Club(f"{loft:g}", radians(loft)), Flight.STOCK, Shape.STRAIGHT, yards * YARD,
                shortest * yards * YARD, yards * YARD, trusted=trusted,
            )
            for loft, yards in clubs
        ]  # fmt: skip
        found = [replace(s, bias_se=0.01) for s in summarise(shots, [])]
        if scatter is not None:
            found = [
                replace(s, spread=scatter * s.spread, side_rad=scatter * s.side_rad) for s in found
            ]
        return tuple(found)

    return make


@pytest.fixture(scope="session")
def known_table(shots_of: MakeShots) -> MakeTable:
    """Make a table of stated costs, shape (clubs, places); each ball costs that and some noise."""

    def make(
        costs: Sequence[Sequence[float]],
        *,
        noise: float = 0.0,
        weights: Sequence[float] | None = None,
    ) -> Table:
        first: Floats = np.array(costs, dtype=float)
        clubs, places = first.shape
        rng = np.random.default_rng(5)
        draws = draw(rng, 64)
        shared = noise * rng.standard_normal((places, 64))
        wedges = tuple(
            Wedge(s.shot.club.label, s.shot.club.loft_rad, (s,))
            for s in shots_of(*((46.0 + 2.0 * k, 120.0 - 8.0 * k) for k in range(clubs)))
        )
        shares: Sequence[float] = (1.0,) * places if weights is None else weights
        demand = Demand(
            tuple(FacedShot((60.0 + 10.0 * k) * YARD, times=n) for k, n in enumerate(shares)),
            "known",
        )
        strokes = first[:, :, None] + shared[None]
        zero = np.zeros(first.shape)
        return Table(wedges, demand, first, strokes, zero.astype(np.int64), zero, draws)

    return make
