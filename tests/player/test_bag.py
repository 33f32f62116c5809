"""Clubs and shots refuse what no bag holds; labels read like the trade writes them."""

from math import radians

import pytest

from carrybook.base.constants import YARD
from carrybook.base.errors import BadInputError, OutOfRangeError
from carrybook.player.bag import Club, Flight, Shape, Shot
from carrybook.player.balls import Ball

CLUB = Club("54", radians(54.0))


def shot(carry: float = 85.0, short: float = 50.0, long: float = 87.0, cue: str = "") -> Shot:
    return Shot(CLUB, Flight.LOW, Shape.CUT, carry * YARD, short * YARD, long * YARD, cue)


def test_labels() -> None:
    assert shot().label == "54 low cut"
    assert Shot(CLUB, Flight.STOCK, Shape.STRAIGHT, 70.0, 50.0, 70.0).label == "54"


def test_what_no_bag_holds_is_refused() -> None:
    with pytest.raises(OutOfRangeError, match=r"loft of club 54 = 5 deg is outside 7 to 70 deg"):
        Club("54", radians(5.0))
    with pytest.raises(BadInputError, match="a club needs a name"):
        Club("  ", radians(50.0))
    with pytest.raises(OutOfRangeError, match=r"stock carry of 54 low cut = 900 yd"):
        shot(900.0, 50.0, 950.0)
    with pytest.raises(BadInputError, match="do not hold its stock carry 85 yd"):
        shot(85.0, 50.0, 80.0)
    with pytest.raises(BadInputError, match="at most 200"):
        shot(cue="x" * 201)


@pytest.mark.parametrize(
    ("field", "value", "message"),
    [
        ("carry_m", -3.0, "carry = "),
        ("carry_m", float("nan"), "carry = nan yd is outside 0.5 to 380 yd"),
        ("spin_rad_s", 9000.0, "spin = 85943.7 rpm is outside 0 to 16000 rpm"),
        ("launch_rad", 2.0, "launch angle = 114.592 deg is outside -5 to 75 deg"),
    ],
)
def test_balls_that_nobody_struck_are_refused(field: str, value: float, message: str) -> None:
    with pytest.raises(OutOfRangeError, match=message):
        Ball(shot="54", **{field: value})


def test_a_ball_knows_what_was_measured() -> None:
    ball = Ball(shot="54", carry_m=70.0, spin_rad_s=900.0)
    assert ball.measured() == {"carry_m": 70.0, "spin_rad_s": 900.0}
