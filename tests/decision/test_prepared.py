"""What is prepared beside single choices: nine zones, tables that are whole."""

from dataclasses import FrozenInstanceError

import pytest

from carrybook.base.errors import BadInputError
from carrybook.decision.prepared import LayUp, Zone, ZonePlan


def test_nine_zones_front_to_back_and_left_to_right() -> None:
    assert [zone.value for zone in Zone] == [
        f"{depth} {side}"
        for depth in ("front", "middle", "back")
        for side in ("left", "centre", "right")
    ]


def test_a_plan_is_a_value() -> None:
    plan = ZonePlan("4", Zone.BACK_LEFT, 84.0, "54", 80.0, 5.0, -1.0)
    assert plan == ZonePlan("4", Zone.BACK_LEFT, 84.0, "54", 80.0, 5.0, -1.0, None, False)
    with pytest.raises(FrozenInstanceError):
        plan.shot = "56"  # type: ignore[misc]


@pytest.mark.parametrize(
    ("left", "strokes", "errors", "said"),
    [
        ((50.0, 60.0), (2.8,), (0.01, 0.01), "2 distances, 1 strokes and 2 standard errors"),
        ((), (), (), "0 distances, 0 strokes and 0 standard errors"),
    ],
)
def test_a_table_has_as_many_of_each(
    left: tuple[float, ...], strokes: tuple[float, ...], errors: tuple[float, ...], said: str
) -> None:
    with pytest.raises(BadInputError, match=f"lay-up table of hole 9: {said}"):
        LayUp("9", left, strokes, errors, 50.0, 60.0)
