"""What is faced: the usual round, the log, a stretch, a shot."""

from datetime import UTC, datetime, timedelta

import pytest

from carrybook.base.constants import YARD
from carrybook.base.errors import BadInputError, OutOfRangeError
from carrybook.decision.practise.demand import (
    between,
    demand_of_balls,
    demand_of_rounds,
    of_shot,
    practice_demand,
    usual_demand,
)
from carrybook.player.balls import Ball
from carrybook.player.round_shots import Facts, PlayedRound, Rest, RoundShot
from carrybook.player.rounds import Round
from carrybook.world.faced import FacedShot
from carrybook.world.lie import Lie

DAY = datetime(2026, 5, 1, 10, tzinfo=UTC)


def struck(
    count: int, *, days: int = 5, setting: str = "course", yards: float = 80.0
) -> list[Ball]:
    return [
        Ball(shot="54", at=DAY + timedelta(days=k % days), intended_m=yards * YARD, setting=setting)
        for k in range(count)
    ]


def test_the_usual_round_has_five_shots_a_third_from_rough() -> None:
    usual = usual_demand()
    times = sum(f.times for f in usual.shots)
    rough = sum(f.times for f in usual.shots if f.lie is Lie.LIGHT_ROUGH)
    assert times == pytest.approx(5.1)
    assert rough / times == pytest.approx(1.0 / 3.0)
    near = sum(f.times for f in usual.shots if 60.0 <= f.distance_m / YARD <= 100.0)
    assert 1.5 <= near <= 3.2  # tour, recreational (broadie-2014, quoted)


def played(number: int, *yards: float, lie: Lie = Lie.FAIRWAY) -> PlayedRound:
    shots = tuple(
        RoundShot(
            hole=1, known=Facts(number_m=far * YARD, lie=lie), shot="54", finish=Rest.GREEN,
            finish_m=4.0, putts=2,
        )
        for far in yards
    )  # fmt: skip
    return PlayedRound(number, Round(DAY.isoformat(), DAY.isoformat()), shots)


def test_rounds_speak_once_they_hold_thirty_shots_and_sand_is_passed_over() -> None:
    assert demand_of_rounds([played(1, *[80.0] * 29)]) is None
    rounds = [played(k, 81.0, 79.0, 52.0) for k in range(10)]
    found = demand_of_rounds([*rounds, played(11), played(12, *[60.0] * 8, lie=Lie.SAND)])
    assert found is not None
    near, far = [(round(f.distance_m / YARD), f.times) for f in found.shots]
    assert near == (50, pytest.approx(10 / 11))
    assert far == (80, pytest.approx(20 / 11))
    assert found.source == "your rounds: 30 shots in 11 of them"


def test_the_log_speaks_once_it_holds_thirty_balls_of_the_course() -> None:
    assert demand_of_balls(struck(29)) is None
    assert demand_of_balls(struck(40, setting="range")) is None
    found = demand_of_balls(struck(30) + struck(15, yards=52.0, setting="competition"))
    assert found is not None
    assert [(round(f.distance_m / YARD), f.times) for f in found.shots] == [(50, 3.0), (80, 6.0)]
    assert "45 shots on the course in 5 days" in found.source


def test_a_stretch_keeps_what_is_faced_in_it() -> None:
    found = between(70.0 * YARD, 90.0 * YARD, usual_demand())
    assert {round(f.distance_m / YARD) for f in found.shots} == {75, 85}


def test_a_stretch_where_nothing_is_faced_has_each_distance_once() -> None:
    found = between(140.0 * YARD, 160.0 * YARD, usual_demand())
    assert [round(f.distance_m / YARD, 1) for f in found.shots] == [142.5, 147.5, 152.5, 157.5]
    assert {f.times for f in found.shots} == {1.0}
    assert len(between(140.0 * YARD, 140.0 * YARD, usual_demand()).shots) == 1


def test_a_stretch_must_rise() -> None:
    with pytest.raises(BadInputError, match="focus = 90 to 70 yd ends before it starts"):
        between(90.0 * YARD, 70.0 * YARD, usual_demand())


def test_a_shot_is_faced_over_its_partials(bag: list[object]) -> None:
    shot = bag[1].shot  # type: ignore[attr-defined]
    found = of_shot(shot)
    assert found.played_with == "55"
    assert all(shot.shortest_m < f.distance_m < shot.longest_m for f in found.shots)


def test_bad_rows() -> None:
    with pytest.raises(OutOfRangeError, match="distance faced = 5 yd is outside 15 to 200 yd"):
        practice_demand([FacedShot(5.0 * YARD)], "")
    with pytest.raises(OutOfRangeError, match="times a round = 0"):
        practice_demand([FacedShot(50.0, times=0.0)], "")
    with pytest.raises(BadInputError, match="sand"):
        practice_demand([FacedShot(50.0, Lie.SAND)], "")
    with pytest.raises(BadInputError, match="1 to 60 rows, not 0"):
        practice_demand([], "")
