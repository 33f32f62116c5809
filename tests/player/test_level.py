"""Scatter before any ball is logged, against the accuracy table it comes from."""

from math import degrees

import numpy as np
import pytest

from carrybook.base.constants import YARD
from carrybook.base.errors import OutOfRangeError
from carrybook.player.level import BOGEY_HANDICAP, AccuracyTable, Player, scatter_prior

MEN, WOMEN = AccuracyTable.MEN, AccuracyTable.WOMEN


# One standard deviation, read as an ellipse and as a box (course-rating-accuracy, worked by us):
# sideways in degrees, depth in per cent of the distance.
@pytest.mark.parametrize(
    ("yards", "table", "bogey", "side", "depth"),
    [
        (90, MEN, False, (2.35, 2.62), (5.2, 5.8)),
        (110, MEN, False, (2.10, 2.34), (4.6, 5.1)),
        (150, MEN, False, (1.92, 2.14), (3.6, 4.0)),
        (90, WOMEN, False, (2.56, 2.86), (5.6, 6.2)),
        (90, MEN, True, (3.42, 3.81), (7.1, 7.9)),
        (110, MEN, True, (2.97, 3.31), (6.4, 7.1)),
        (90, WOMEN, True, (3.63, 4.04), (8.2, 9.1)),
        (150, WOMEN, True, (3.08, 3.43), (6.7, 7.5)),
    ],
)
def test_between_both_readings_of_the_table(
    yards: int,
    table: AccuracyTable,
    bogey: bool,
    side: tuple[float, float],
    depth: tuple[float, float],
) -> None:
    player = Player(BOGEY_HANDICAP[table] if bogey else 0.0, table)
    scatter = scatter_prior(player, yards * YARD)
    assert side[0] < degrees(scatter.side_rad) < side[1]
    assert depth[0] < 100.0 * scatter.spread < depth[1]


@pytest.mark.parametrize("yards", [30.0, 90.0, 120.0, 200.0])
def test_a_higher_handicap_scatters_more(yards: float) -> None:
    spreads = [scatter_prior(Player(h), yards * YARD).spread for h in (0, 5, 12, 20, 30)]
    assert (np.diff(spreads) > 0.0).all()


def test_nobody_is_better_than_the_table_and_nothing_is_made_up_outside_it() -> None:
    assert scatter_prior(Player(-4.0), 90 * YARD) == scatter_prior(Player(0.0), 90 * YARD)
    assert scatter_prior(Player(54.0), 90 * YARD) == scatter_prior(Player(36.0), 90 * YARD)
    assert scatter_prior(Player(9.0), 40 * YARD) == scatter_prior(Player(9.0), 90 * YARD)


def test_what_nobody_plays_to_is_refused() -> None:
    with pytest.raises(OutOfRangeError, match="handicap = 60 strokes is outside -8 to 54 strokes"):
        Player(60.0)
    with pytest.raises(OutOfRangeError, match="carry = 0 yd"):
        scatter_prior(Player(0.0), 0.0)
