"""Shots whose summaries are made up."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from math import radians

import pytest

from carrybook.base.constants import YARD
from carrybook.player.bag import Club, Flight, Shape, Shot
from carrybook.player.summary import ShotSummary, summarise

MakeSummary = Callable[..., ShotSummary]


@pytest.fixture(scope="session")
def summary() -> MakeSummary:
    def make(
        club: str = "54",
        *,
        loft: float = 54.0,
        carry: float = 85.0,
        spread: float = 0.05,
        side: float = 0.035,
        balls: int = 50,
        bias_se: float = 0.01,
        flight: Flight = Flight.STOCK,
        cue: str = "",
    ) -> ShotSummary:
        stock = carry * YARD
        shot = Shot(Club(club, radians(loft)), flight, Shape.STRAIGHT, stock, 0.6 * stock,
                    1.03 * stock, cue=cue)  # fmt: skip
        (plain,) = summarise([shot], [])
        return replace(plain, spread=spread, side_rad=side, balls=balls, bias_se=bias_se)

    return make


@pytest.fixture(scope="session")
def bag(summary: MakeSummary) -> Sequence[ShotSummary]:
    """Three wedges and a low one; the 50 scatters most."""
    return (
        summary("60", loft=60.0, carry=70.0, spread=0.04, side=0.03, cue="chest turns"),
        summary("55", loft=55.0, carry=90.0, spread=0.05, side=0.035),
        summary("50", loft=50.0, carry=108.0, spread=0.07, side=0.05, balls=15),
        summary("55", loft=55.0, carry=74.0, spread=0.045, side=0.032, flight=Flight.LOW),
    )
