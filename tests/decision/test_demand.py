"""What is faced: recorded shots one by one, those alike put together, shares."""

import numpy as np
import pytest

from carrybook.base.constants import YARD
from carrybook.decision.bag_fit.demand import demand_of_shots
from carrybook.decision.demand import Demand, count_alike, recorded_shots
from carrybook.decision.practise.demand import demand_of_rounds
from carrybook.player.round_shots import Facts, PlayedRound, Rest, RoundShot
from carrybook.player.rounds import Round
from carrybook.world.faced import FacedShot
from carrybook.world.lie import Lie, Moisture


def played(*shots: tuple[float, Lie, Moisture | None]) -> PlayedRound:
    rows = tuple(
        RoundShot(
            hole=1, known=Facts(number_m=yards * YARD, lie=lie, moisture=wet), shot="54",
            finish=Rest.GREEN, finish_m=4.0, putts=2,
        )
        for yards, lie, wet in shots
    )  # fmt: skip
    return PlayedRound(1, Round("2026-05-01T10:00", "2026-05-01T10:00"), rows)


def test_recorded_shots_come_one_by_one_without_those_from_sand() -> None:
    found = recorded_shots(
        [
            played((80.0, Lie.FAIRWAY, None), (30.0, Lie.SAND, None)),
            played((81.0, Lie.LIGHT_ROUGH, Moisture.DEW)),
        ]
    )
    assert found == [
        FacedShot(80.0 * YARD, Lie.FAIRWAY, Moisture.DRY),
        FacedShot(81.0 * YARD, Lie.LIGHT_ROUGH, Moisture.DEW),
    ]


def test_those_alike_are_put_together_and_nothing_is_lost() -> None:
    shots = [FacedShot(74.0, times=2.0), FacedShot(90.0, times=0.5), FacedShot(76.0, times=3.0)]
    assert count_alike(shots, 5.0) == [FacedShot(75.0, times=5.0), FacedShot(90.0, times=0.5)]
    assert count_alike(shots) == shots  # no steps: only what is equal
    assert sum(s.times for s in count_alike(shots, 100.0)) == pytest.approx(5.5)


@pytest.mark.parametrize(
    "other",
    [
        FacedShot(75.0, Lie.LIGHT_ROUGH),
        FacedShot(75.0, moisture=Moisture.DEW),
        FacedShot(75.0, firmness_g=110.0),
        FacedShot(75.0, green=1),
    ],
)
def test_whatever_makes_a_shot_another_keeps_it_apart(other: FacedShot) -> None:
    assert count_alike([FacedShot(75.0), other], 5.0) == [FacedShot(75.0), other]


def test_shares_add_up_to_one() -> None:
    found = Demand((FacedShot(60.0, times=1.0), FacedShot(70.0, times=3.0)), "said").shares
    np.testing.assert_allclose(found, [0.25, 0.75])


def test_the_same_rounds_give_the_bag_shares_and_practice_times_a_round() -> None:
    """Ten rounds of three shots: 52 and 79 yd off a dry lie, 81 yd in the dew."""
    each = [(52.0, Lie.FAIRWAY, None), (79.0, Lie.FAIRWAY, None), (81.0, Lie.FAIRWAY, Moisture.DEW)]
    rounds = [played(*each) for _ in range(10)]
    bag = demand_of_shots(recorded_shots(rounds))
    assert [(round(s.distance_m / YARD), s.moisture) for s in bag.shots] == [
        (80, Moisture.DEW), (50, Moisture.DRY), (80, Moisture.DRY),
    ]  # fmt: skip
    np.testing.assert_allclose(bag.shares, 1.0 / 3.0)
    practice = demand_of_rounds(rounds)
    assert practice is not None
    found = [(round(s.distance_m / YARD), s.times) for s in practice.shots]
    assert found == [(50, 1.0), (80, 2.0)]  # wherever the dew lies
