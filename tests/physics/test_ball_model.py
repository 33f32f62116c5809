"""The ball as a body: what mass, size and drag do to a flight."""

from math import radians

import pytest

from carrybook.base import constants as c
from carrybook.base.errors import OutOfRangeError
from carrybook.physics.aerodynamics import BAND, MID, lift_and_drag
from carrybook.physics.ball_model import STANDARD_BALL, BallModel
from carrybook.physics.band import fly_band
from carrybook.physics.flight import Launch, body_row, fly, fly_path
from carrybook.world.air import REFERENCE_DAY

LAUNCH = Launch(30.0, radians(30.0), 9000 * c.RPM)


def test_twice_the_mass_is_half_the_gain() -> None:
    one = body_row(REFERENCE_DAY)
    two = body_row(REFERENCE_DAY, mass=2.0 * c.BALL_MASS)
    assert two[0] == one[0] / 2.0
    assert list(two[1:]) == list(one[1:])


def test_the_gain_grows_with_the_square_of_the_diameter() -> None:
    wide = body_row(REFERENCE_DAY, diameter=1.1 * c.BALL_DIAMETER)
    assert wide[0] == pytest.approx(1.21 * body_row(REFERENCE_DAY)[0])


@pytest.mark.parametrize("aerodynamics", BAND)
def test_a_factor_of_one_changes_nothing(aerodynamics) -> None:  # noqa: ANN001
    assert aerodynamics.with_drag(1.0) == aerodynamics


def test_the_factor_scales_drag_and_leaves_lift() -> None:
    lift, drag = lift_and_drag(0.4, 7e4)
    assert lift_and_drag(0.4, 7e4, MID.with_drag(1.2)) == pytest.approx((lift, 1.2 * drag))


def test_the_usual_ball_is_the_one_flown_when_none_is_named() -> None:
    assert fly(LAUNCH, ball=STANDARD_BALL) == fly(LAUNCH)
    assert fly_band(LAUNCH, ball=BallModel()).landings == fly_band(LAUNCH).landings


def test_more_drag_carries_less_and_more_mass_further() -> None:
    drags = [fly(LAUNCH, ball=BallModel(drag_factor=f)).carry_m for f in (0.8, 1.0, 1.05, 1.5)]
    assert drags == sorted(drags, reverse=True)
    masses = [fly(LAUNCH, ball=BallModel(mass_kg=m)).carry_m for m in (0.042, 0.045, 0.0459)]
    assert masses == sorted(masses)


def test_the_path_is_that_of_the_same_ball() -> None:
    ball = BallModel(0.0455, 0.0428, 1.1)
    path = fly_path(LAUNCH, ball=ball)
    assert path[-1, 0] == pytest.approx(fly(LAUNCH, ball=ball).carry_m, abs=0.02)


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"mass_kg": 0.06}, "ball mass = 60 g is outside 40 to 50 g"),
        ({"diameter_m": 0.05}, "ball diameter = 50 mm is outside 40 to 45 mm"),
        ({"drag_factor": float("nan")}, "drag factor = nan times is outside 0.5 to 2 times"),
    ],
)
def test_what_is_no_golf_ball_is_refused(change: dict[str, float], said: str) -> None:
    with pytest.raises(OutOfRangeError, match=said):
        BallModel(**change)
