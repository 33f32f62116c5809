"""A small bag, and greens made for one question each."""

from collections.abc import Callable
from math import radians

import numpy as np
import pytest

from carrybook.base.constants import YARD
from carrybook.decision.advice import Situation
from carrybook.player.bag import Club, Flight, Shape, Shot
from carrybook.player.summary import ShotSummary, summarise
from carrybook.world.ground import Ground, Surface
from carrybook.world.hole import Hole, HoleLocation


@pytest.fixture(scope="session")
def bag() -> tuple[ShotSummary, ...]:
    """Three wedges, one of them with a low flight too."""
    made = []
    for loft, flight, yards in (
        (60, "stock", 80),
        (54, "stock", 98),
        (54, "low", 82),
        (48, "stock", 118),
    ):
        club = Club(str(loft), radians(loft))
        carry = yards * YARD
        made.append(Shot(club, Flight(flight), Shape.STRAIGHT, carry, 0.6 * carry, 1.02 * carry))
    return summarise(made, [])


MakeSituation = Callable[..., Situation]


@pytest.fixture(scope="session")
def situation() -> MakeSituation:
    """Make a 30 by 24 m green in fairway, with water or sand where asked, hole where asked."""

    def make(
        number_yd: float = 85.0,
        hole: tuple[float, float] = (15.0, 0.0),
        *,
        water_left_of: float | None = None,
        water_right_of: float | None = None,
        bunker_short: bool = False,
        **day: object,
    ) -> Situation:
        x = np.arange(-130.0, 70.5, 0.5)
        y = np.arange(-50.0, 50.5, 0.5)
        px, py = np.meshgrid(x, y, indexing="ij")
        surfaces = np.full(px.shape, int(Surface.FAIRWAY), dtype=np.int64)
        surfaces[((px - 15.0) / 15.0) ** 2 + (py / 12.0) ** 2 <= 1.0] = int(Surface.GREEN)
        if water_left_of is not None:
            surfaces[py > water_left_of] = int(Surface.WATER)
        if water_right_of is not None:
            surfaces[py < -water_right_of] = int(Surface.WATER)
        if bunker_short:
            surfaces[(px > -9.0) & (px < -0.5) & (np.abs(py) < 12.0)] = int(Surface.BUNKER)
        turn = np.linspace(0.0, 2.0 * np.pi, 60, endpoint=False)
        green = np.column_stack([15.0 + 15.0 * np.cos(turn), 12.0 * np.sin(turn)])
        ground = Ground(-130.0, -50.0, 0.5, np.zeros(px.shape), surfaces)
        made = Hole("Testing", "1", 4, ground, green, (), 0.0)
        location = HoleLocation(*hole, hole[0], 12.0 - hole[1], 12.0 + hole[1], 30.0 - hole[0])
        return Situation(made, location, hole[0] - number_yd * YARD, hole[1], **day)  # type: ignore[arg-type]

    return make
