"""Odd balls: good ones pass, each kind of fault is named, and a big log is looked over quickly."""

from dataclasses import replace
from math import radians
from time import perf_counter

import numpy as np
import pytest

from carrybook.base.constants import RPM, YARD
from carrybook.physics.flight import Launch, fly
from carrybook.physics.strike import launch_from_loft
from carrybook.player.bag import Club, Flight, Shape, Shot
from carrybook.player.balls import Ball
from carrybook.player.quality import odd_balls, suspicious, unit_slips
from carrybook.world.air import REFERENCE_DAY, Air
from carrybook.world.lie import Lie

SHOT = Shot(Club("54", radians(54.0)), Flight.STOCK, Shape.STRAIGHT, 75.0, 45.0, 76.0)
SHOTS = {SHOT.label: SHOT}


def good(speed: float = 33.0, air: Air = REFERENCE_DAY, loft: float = 54.0) -> Ball:
    """A ball with the launch of its loft and the carry of its flight."""
    launch, ratio = launch_from_loft(radians(loft), "stock")
    landing = fly(Launch(speed, launch, ratio * speed), air)
    return Ball(
        shot="54",
        intended_m=landing.carry_m,
        carry_m=landing.carry_m,
        ball_speed_mps=speed,
        launch_rad=launch,
        spin_rad_s=ratio * speed,
        air=air,
    )


@pytest.mark.parametrize("speed", [12.0, 20.0, 33.0, 40.0])
def test_a_ball_that_flew_as_struck_is_not_odd(speed: float) -> None:
    assert suspicious(good(speed), SHOT) == ()
    assert suspicious(good(speed, Air(268.0, 80_000.0, 0.3)), SHOT) == ()


def test_a_ball_of_which_little_was_measured_is_not_odd() -> None:
    assert suspicious(Ball(shot="54"), SHOT) == ()
    assert suspicious(Ball(shot="54", carry_m=70.0, side_m=1.0), SHOT) == ()
    assert suspicious(Ball(shot="54", launch_rad=0.5, spin_rad_s=900.0), SHOT) == ()


def test_a_thin_ball_has_not_the_loft_of_the_club() -> None:
    thin = replace(good(), launch_rad=radians(8.0), spin_rad_s=2500 * RPM, carry_m=None)
    (reason,) = suspicious(thin, SHOT)
    # Delivered 0.78 of 54 deg, 15 deg either way.
    assert reason.endswith("54 delivers 27 to 57 deg")
    assert suspicious(replace(thin, lie=Lie.SAND), SHOT) == ()


def test_a_carry_far_beyond_the_shot_is_a_slip_of_the_pen() -> None:
    assert suspicious(Ball(shot="54", carry_m=171.0), SHOT) == (
        "carries 2.2 times as far as 54 at its longest",  # 171 of 76 m
    )
    assert suspicious(Ball(shot="54", carry_m=115.0), SHOT) == ()  # caught thin: half as far again


def test_spin_that_no_strike_gives_is_named() -> None:
    slow = replace(good(), ball_speed_mps=10.0, spin_rad_s=15_000 * RPM, carry_m=None)
    assert suspicious(slow, SHOT) == ("no strike gives that launch and spin at that ball speed",)


@pytest.mark.parametrize(
    ("factor", "odd"), [(0.7, True), (0.95, False), (1.05, False), (1.4, True)]
)
def test_carry_against_ball_speed(factor: float, odd: bool) -> None:
    ball = good()
    assert ball.carry_m is not None
    reasons = suspicious(replace(ball, carry_m=factor * ball.carry_m), SHOT)
    assert any("than its ball speed allows" in reason for reason in reasons) is odd
    assert not odd or ("more" in reasons[0]) is (factor > 1.0)


def test_a_guessed_launch_leaves_more_room() -> None:
    ball = good()
    assert ball.carry_m is not None
    short = replace(ball, carry_m=0.75 * ball.carry_m)
    assert suspicious(short, SHOT)
    assert suspicious(replace(short, spin_rad_s=None), SHOT) == ()
    half = replace(short, carry_m=0.4 * ball.carry_m, launch_rad=None, spin_rad_s=None)
    assert suspicious(half, SHOT)


def test_air_is_taken_into_account() -> None:
    far = replace(good(), carry_m=1.22 * (good().carry_m or 0.0))
    assert suspicious(far, SHOT)
    assert suspicious(replace(far, air=Air(300.0, 65_000.0, 0.2)), SHOT) == ()


def test_copies_are_named_but_not_the_first() -> None:
    ball = good()
    again = replace(ball, note="again", intended_m=50.0)
    odd = odd_balls([ball, good(30.0), again], SHOTS)
    assert [o.ball for o in odd] == [again]
    assert odd[0].reasons == ("every measured number is that of an earlier ball",)


def test_a_few_numbers_can_be_alike_by_chance() -> None:
    few = Ball(shot="54", carry_m=70.0, side_m=1.0)
    assert odd_balls([few, few], SHOTS) == ()


def test_balls_of_other_shots_are_passed_over() -> None:
    assert odd_balls([replace(good(), shot="7", carry_m=300.0)], SHOTS) == ()


def meant(ratio: float, count: int = 6, shot: str = "54") -> list[Ball]:
    return [Ball(shot=shot, intended_m=70.0 + k, carry_m=ratio * (70.0 + k)) for k in range(count)]


def test_yards_and_metres_mistaken() -> None:
    (line,) = unit_slips(meant(1.0 / YARD) + meant(1.1, shot="60"))
    assert line.startswith("most balls of 54, 60 carry about 1.09")
    assert line.endswith("yards read as metres?")
    (line,) = unit_slips(meant(0.93) + meant(1.0, shot="60"))
    assert line == "most balls of 54 carry about 0.91 of what was meant: metres read as yards?"


def test_no_slip_where_carries_fit_or_balls_are_few() -> None:
    assert unit_slips([]) == ()
    assert unit_slips(meant(1.0)) == ()
    assert unit_slips(meant(YARD, 4)) == ()
    assert unit_slips(meant(YARD, 5) + meant(1.0, 5)) == ()  # half is not most


def test_six_hundred_balls_take_less_than_half_a_second() -> None:
    rng = np.random.default_rng(3)
    balls = [
        replace(good(), air=Air(k, p, 0.5), side_m=float(s))
        for k, p, s in zip(
            rng.uniform(270, 310, 600),
            rng.uniform(80e3, 103e3, 600),
            rng.normal(size=600),
            strict=True,
        )
    ]
    odd_balls(balls[:1], SHOTS)  # compiled, or read from the cache
    before = perf_counter()
    odd_balls(balls, SHOTS)
    assert perf_counter() - before < 0.5
