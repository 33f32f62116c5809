"""What is faced: ranges, recorded shots, shares, and what is refused."""

import numpy as np
import pytest

from carrybook.base.constants import YARD
from carrybook.base.errors import BadInputError, OutOfRangeError
from carrybook.decision.bag_fit.demand import bag_demand, demand_of_shots, demand_over
from carrybook.decision.demand import Demand
from carrybook.world.faced import FacedShot
from carrybook.world.lie import Lie, Moisture

ROUGH = (Lie.LIGHT_ROUGH, Moisture.DRY)


def test_a_range_has_both_its_ends_and_equal_shares() -> None:
    found = demand_over(60.0 * YARD, 80.0 * YARD, lie=Lie.LIGHT_ROUGH)
    assert [p.distance_m / YARD for p in found.shots] == pytest.approx([60, 65, 70, 75, 80])
    assert found.shares == pytest.approx(np.full(5, 0.2))
    assert {p.lie for p in found.shots} == {Lie.LIGHT_ROUGH}
    assert found.source == "every distance from 60 to 80 yd alike, light rough, dry"


def test_one_distance_is_a_range_too() -> None:
    assert len(demand_over(60.0, 60.0).shots) == 1


def test_recorded_shots_are_counted_in_steps() -> None:
    yards = [(81.0, *ROUGH), (79.0, *ROUGH), (83.0, *ROUGH), (80.0, Lie.SAND, Moisture.DRY)]
    far = (300.0, *ROUGH)
    found = demand_of_shots(FacedShot(d * YARD, lie, wet) for d, lie, wet in [*yards, far])
    assert found.shots == (
        FacedShot(80.0 * YARD, *ROUGH, times=2.0), FacedShot(85.0 * YARD, *ROUGH, times=1.0),
    )  # fmt: skip
    assert (found.recorded, found.source) == (3, "3 shots of your recorded rounds")


def test_only_ratios_of_weights_count() -> None:
    one, other = (
        Demand((FacedShot(60.0, times=w), FacedShot(70.0, times=3.0 * w)), "") for w in (1.0, 10.0)
    )
    assert one.shares == pytest.approx(other.shares)


def test_says_what_is_wrong() -> None:
    with pytest.raises(BadInputError, match="from = 90 yd is beyond to = 60 yd"):
        demand_over(90.0 * YARD, 60.0 * YARD)
    with pytest.raises(OutOfRangeError, match=r"distance = 5 yd is outside 10 to 200 yd"):
        bag_demand([FacedShot(5.0 * YARD)], "")
    with pytest.raises(BadInputError, match="sand' is not modelled"):
        bag_demand([FacedShot(60.0, Lie.SAND)], "")
    with pytest.raises(BadInputError, match="a demand of 0 places; 1 to 800 are needed"):
        bag_demand([], "")
    with pytest.raises(OutOfRangeError, match="weight = 0"):
        bag_demand([FacedShot(60.0, times=0.0)], "")
    with pytest.raises(OutOfRangeError, match="step"):
        demand_over(60.0, 80.0, 0.1)
    with pytest.raises(BadInputError, match="no recorded shot from 10 to 200 yd"):
        demand_of_shots([])
