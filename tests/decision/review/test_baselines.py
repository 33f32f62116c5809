"""Baselines: the published rows, a rival's own table, and what cannot be one."""

import numpy as np
import pytest

from carrybook.base.constants import FOOT, YARD
from carrybook.base.errors import BadInputError
from carrybook.decision.review.baselines import TOUR_BASELINE, Baseline
from carrybook.outcomes.off_green import FROM_FRINGE
from carrybook.player.round_shots import Rest
from carrybook.world.ground import Surface
from carrybook.world.lie import Lie

# broadie-2014: average strokes by lie and yards; those of fairway 160, rough 80 and rough 180 are
# quoted on public pages too.
ROWS = [
    (Lie.FAIRWAY, 160, 2.98),
    (Lie.FAIRWAY, 100, 2.80),
    (Lie.FAIRWAY, 50, 2.66),
    (Lie.LIGHT_ROUGH, 80, 2.96),
    (Lie.LIGHT_ROUGH, 180, 3.31),
    (Lie.SAND, 20, 2.53),
]
# broadie-2014: average putts by feet, read with half a tenth for our fit of chance and pace.
PUTTS = [(3, 1.04), (8, 1.50), (15, 1.78), (30, 1.98), (60, 2.21)]


@pytest.mark.parametrize(("lie", "yards", "strokes"), ROWS)
def test_tour_rows_off_the_green(lie: Lie, yards: int, strokes: float) -> None:
    assert float(TOUR_BASELINE.from_lie(lie, np.array(yards * YARD))) == pytest.approx(
        strokes, abs=0.005
    )


@pytest.mark.parametrize(("feet", "putts"), PUTTS)
def test_tour_rows_on_the_green(feet: int, putts: float) -> None:
    found = TOUR_BASELINE.from_rest(Rest.GREEN, feet * FOOT)
    assert found == pytest.approx(putts, abs=0.05)


def test_where_a_ball_rests_counts() -> None:
    def at(rest: Rest) -> float:
        return TOUR_BASELINE.from_rest(rest, 15.0)

    assert at(Rest.HOLED) == 0.0
    assert at(Rest.FRINGE) == pytest.approx(at(Rest.GREEN) + FROM_FRINGE)
    assert at(Rest.GREEN) < at(Rest.FAIRWAY) < at(Rest.ROUGH)
    assert at(Rest.WATER) == at(Rest.OUT_OF_BOUNDS) == pytest.approx(at(Rest.ROUGH) + 1.0)


def test_a_rival_has_its_own_rows_and_a_tour_players_elsewhere() -> None:
    table = np.array([[50.0, 3.0], [100.0, 3.5]])
    rival = Baseline("rival", {Lie.FAIRWAY: table, "green": np.array([[1.0, 1.1], [9.0, 2.1]])})
    assert rival.from_lie(Lie.FAIRWAY, np.array([75.0, 20.0, 150.0])) == pytest.approx(
        [3.25, 3.0, 3.5]
    )
    assert rival.putts(np.array([0.0, 0.5, 5.0])) == pytest.approx([1.0, 1.05, 1.6])
    rough = np.array([80.0])
    assert rival.from_lie(Lie.LIGHT_ROUGH, rough) == TOUR_BASELINE.from_lie(Lie.LIGHT_ROUGH, rough)
    assert float(rival.on_surface(Surface.FAIRWAY, np.array(75.0))) == pytest.approx(3.25)


@pytest.mark.parametrize(
    ("tables", "message"),
    [
        ({"fairway": np.array([[50.0, 3.0]])}, "rival, fairway: one distance is not enough"),
        ({"fairway": np.array([[50.0, 3.0], [50.0, 3.1]])}, "a distance is there twice"),
        ({"fairway": np.array([[50.0, 0.5], [60.0, 3.1]])}, "average strokes are 1 to 10"),
        ({"heather": np.array([[50.0, 3.0], [60.0, 3.1]])}, "a lie is one of: tee, fairway"),
    ],
)
def test_what_is_no_baseline_is_named(tables: dict[str, np.ndarray], message: str) -> None:
    with pytest.raises(BadInputError, match=message):
        Baseline("rival", tables)
