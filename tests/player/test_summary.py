"""The log summarised: known truth comes back, days and lies come out, few balls stay unsure."""

from dataclasses import replace
from math import atan, radians, tan

import numpy as np
import pytest

from carrybook.base.constants import YARD
from carrybook.base.errors import BadInputError
from carrybook.physics.aerodynamics import MID
from carrybook.physics.ball_temperature import speed_when_at
from carrybook.physics.flight import Launch, fly, level_carries
from carrybook.physics.solve import carry_speeds, speed_for_carry
from carrybook.physics.strike import launch_from_loft, lie_effect, off_this_lie
from carrybook.player.bag import Club, Flight, Shape, Shot
from carrybook.player.ball_fit import BallFit, BallFits
from carrybook.player.balls import Ball
from carrybook.player.level import Player, scatter_prior
from carrybook.player.reference import reference_carries
from carrybook.player.robust import HALF_WIDTH_68
from carrybook.player.summary import summarise
from carrybook.world.air import REFERENCE_DAY, Air
from carrybook.world.lie import Lie, Moisture

COLD = Air(278.15, 99_500.0, 0.9)
WARM = Air(305.15, 90_000.0, 0.3)
CLUB = Club("56", radians(56.0))
SHOT = Shot(CLUB, Flight.STOCK, Shape.STRAIGHT, 90 * YARD, 55 * YARD, 92 * YARD)
LAUNCH, RATIO = launch_from_loft(CLUB.loft_rad, "stock")


def struck(
    reference_m: float, air: Air, lie: Lie = Lie.FAIRWAY, moisture: Moisture = Moisture.DRY
) -> float:
    """Carry in some air and lie of the swing that carries `reference_m` on the reference day."""
    effect = lie_effect(lie, moisture)
    speed = speed_for_carry(reference_m, LAUNCH, RATIO, REFERENCE_DAY) * effect.speed[1]
    speed *= speed_when_at(air.temperature_k)
    launch, ratio = off_this_lie(LAUNCH, RATIO, effect.spin[1])
    return fly(Launch(speed, launch, ratio * speed), air).carry_m


def logged(count: int, *, seed: int, true_yd: float = 88.0, air: Air = COLD) -> list[Ball]:
    rng = np.random.default_rng(seed)
    balls = []
    for _ in range(count):
        felt = rng.uniform(60.0, 92.0)
        swing = felt * true_yd / 90.0 * np.exp(0.045 / HALF_WIDTH_68 * rng.standard_t(4))
        carry = struck(float(np.clip(swing, 20.0, 130.0)) * YARD, air)
        side = carry * tan(radians(2.0) / HALF_WIDTH_68 * np.clip(rng.standard_t(4), -9, 9))
        balls.append(
            Ball(shot="56", intended_m=felt * YARD, carry_m=carry, side_m=float(side), air=air)
        )
    return balls


@pytest.mark.parametrize("felt_yd", [70.0, 90.0])
def test_one_ball_moves_a_carry_by_half_the_way_at_most(felt_yd: float) -> None:
    ball = Ball(shot="56", intended_m=felt_yd * YARD, carry_m=0.9 * felt_yd * YARD)
    (one,) = summarise([SHOT], [ball])
    (twice,) = summarise([SHOT], [ball, ball])
    assert 0.5 * np.log(0.9) < one.bias < 0.1 * np.log(0.9)
    assert twice.bias < one.bias
    assert one.spread > 0.5 * scatter_prior(Player(0.0), SHOT.stock_carry_m).spread


@pytest.mark.parametrize("air", [COLD, WARM])
@pytest.mark.parametrize("lie", [(Lie.FAIRWAY, Moisture.DRY), (Lie.LIGHT_ROUGH, Moisture.WET)])
def test_a_carry_goes_to_the_reference_day_and_back(air: Air, lie: tuple[Lie, Moisture]) -> None:
    carry = struck(70.0, air, *lie)
    ball = Ball(shot="56", carry_m=carry, air=air, lie=lie[0], moisture=lie[1])
    assert reference_carries([ball], LAUNCH, RATIO) == pytest.approx([70.0], abs=0.01)


@pytest.mark.parametrize("tilt", [0.0, -0.12])
def test_hundreds_of_balls_of_two_models_go_to_the_reference_day_and_back(tilt: float) -> None:
    soft = BallFit("soft", 50, (1.1,) * 3, (0.02,) * 3, (0.0, 1.0, 0.0))
    hard = BallFit("hard", 40, (0.95,) * 3, (0.02,) * 3, (0.0, 1.0, 0.0))
    rng, true = np.random.default_rng(6), np.linspace(30.0, 100.0, 300)
    speeds = carry_speeds(
        true, np.full(300, LAUNCH), np.full(300, RATIO), REFERENCE_DAY,
        aerodynamics=hard.best, axis_rad=tilt,
    )  # fmt: skip
    balls = []
    for speed in speeds:
        air, ball = (COLD, WARM)[rng.integers(2)], (soft, hard)[rng.integers(2)]
        (carry,) = level_carries(
            np.array([speed * speed_when_at(air.temperature_k)]), LAUNCH, RATIO, air,
            aerodynamics=ball.best, axis_rad=tilt,
        )  # fmt: skip
        balls.append(Ball(shot="56", carry_m=float(carry), air=air, ball_model=ball.model))
    found = reference_carries(
        balls, LAUNCH, RATIO, axis_rad=tilt, fits=BallFits((soft, hard)), played=hard
    )
    np.testing.assert_allclose(found, true, atol=0.01)


def test_balls_of_several_shots_fly_together_as_they_do_alone() -> None:
    low = launch_from_loft(CLUB.loft_rad, "low")
    launch, ratio = np.array([[LAUNCH, RATIO], low, [LAUNCH, RATIO], low]).T
    axis = np.array([0.0, 0.0, 0.1, -0.1])
    carry = (60.0, 80.0, 75.0, 40.0)
    airs = (COLD, COLD, WARM, COLD)
    balls = [Ball(shot="any", carry_m=x, air=a) for x, a in zip(carry, airs, strict=True)]
    together = reference_carries(balls, launch, ratio, axis_rad=axis)
    alone = [
        reference_carries([b], float(x), float(r), axis_rad=float(t))[0]
        for b, x, r, t in zip(balls, launch, ratio, axis, strict=True)
    ]
    assert together == pytest.approx(alone, abs=1e-3)
    assert together[2] < carry[2] < together[2] + 10.0  # thin air carried it further


def test_the_ball_that_is_played_is_the_usual_one_unless_another_is_named() -> None:
    def of(model: str, count: int, factor: float) -> list[Ball]:
        rng = np.random.default_rng(count)
        speeds = rng.uniform(24.0, 36.0, count)
        carries = level_carries(speeds, LAUNCH, RATIO, aerodynamics=MID.with_drag(factor))
        return [
            Ball(
                shot="56", carry_m=float(d), ball_speed_mps=float(v), launch_rad=LAUNCH,
                spin_rad_s=float(RATIO * v), ball_model=model,
            )
            for v, d in zip(speeds, carries, strict=True)
        ]  # fmt: skip

    balls = [*of("soft", 60, 1.12), *of("hard", 40, 0.97)]
    usual, named = (summarise([SHOT], balls, ball_model=m)[0] for m in (None, "hard"))
    assert (usual.ball.model, named.ball.model) == ("soft", "hard")
    assert usual.ball.drag_factor > named.ball.drag_factor
    assert usual.stock_m < named.stock_m  # the same swings carry less with more drag
    with pytest.raises(BadInputError, match="ball model = 'round'"):
        summarise([SHOT], balls, ball_model="round")


def test_known_truth_comes_back_from_the_log() -> None:
    (summary,) = summarise([SHOT], logged(150, seed=1))
    assert summary.balls == 150
    assert abs(summary.stock_m - 88.0 * YARD) < 2.0 * summary.stock_se_m
    assert summary.spread == pytest.approx(0.045, rel=0.2)
    assert summary.side_rad == pytest.approx(radians(2.0), rel=0.2)
    assert abs(summary.side_bias_rad) < radians(0.5)


def test_the_stated_error_covers_the_truth_as_often_as_it_says() -> None:
    inside = 0
    for seed in range(60):
        (summary,) = summarise([SHOT], logged(25, seed=100 + seed))
        inside += abs(summary.stock_m - 88.0 * YARD) < 1.645 * summary.stock_se_m
    assert 0.82 <= inside / 60 <= 1.0  # says 90 %; the day-to-day part is not in this log


def test_two_days_of_the_same_swing_agree_on_the_reference_day() -> None:
    cold, warm = (summarise([SHOT], logged(120, seed=5, air=a))[0] for a in (COLD, WARM))
    assert cold.stock_m == pytest.approx(warm.stock_m, rel=2e-3)


def test_with_no_balls_the_players_word_stands_with_a_wide_error() -> None:
    (summary,) = summarise([SHOT], [])
    assert (summary.balls, summary.launch_measured) == (0, 0)
    assert summary.stock_m == SHOT.stock_carry_m
    assert 0.03 < summary.stock_se_m / summary.stock_m < 0.06


def test_more_balls_know_more() -> None:
    errors = [summarise([SHOT], logged(n, seed=9))[0].stock_se_m for n in (0, 5, 20, 80)]
    assert errors == sorted(errors, reverse=True)
    assert errors[1] > 1.2 * errors[3]  # one day stays one day, however many balls


def test_mishits_stay_in_the_log_and_do_not_drag_the_centre() -> None:
    balls = logged(60, seed=2)
    fat = [replace(b, carry_m=0.45 * b.carry_m) for b in balls[:3]]
    clean, spoilt = (summarise([SHOT], log)[0] for log in (balls, [*fat, *balls[3:]]))
    assert abs(spoilt.stock_m - clean.stock_m) < clean.stock_se_m
    assert spoilt.spread > clean.spread


def test_measured_launch_replaces_the_one_from_loft() -> None:
    speed = 34.0
    balls = [
        replace(b, ball_speed_mps=speed, launch_rad=radians(27.0), spin_rad_s=24.0 * speed)
        for b in logged(60, seed=4)
    ]
    wet = [replace(b, moisture=Moisture.WET, spin_rad_s=10.0 * speed) for b in balls[:10]]
    (summary,) = summarise([SHOT], [*wet, *balls[10:]])
    assert summary.launch_measured == 50
    assert summary.launch_rad == pytest.approx(radians(27.0), abs=radians(0.3))
    assert summary.spin_per_speed == pytest.approx(24.0, rel=0.02)


def test_sand_and_unmeasured_balls_and_other_shots_do_not_count() -> None:
    balls = [
        Ball(shot="56", called_m=80.0),
        Ball(shot="56", carry_m=60.0, lie=Lie.SAND),
        Ball(shot="60", carry_m=60.0),
    ]
    assert summarise([SHOT], balls)[0].balls == 0


def test_a_long_right_pattern_shows_as_correlation() -> None:
    balls = logged(200, seed=8)
    tilted = [
        replace(b, side_m=b.carry_m * tan(atan(b.side_m / b.carry_m) + 0.4 * long))
        for b in balls
        if (long := b.carry_m / b.intended_m - 0.97)
    ]
    assert abs(summarise([SHOT], balls)[0].correlation) < 0.2
    assert summarise([SHOT], tilted)[0].correlation > 0.2


def test_a_players_level_is_what_scatter_is_shrunk_toward() -> None:
    levels = (None, Player(0.0), Player(20.0))
    unsaid, scratch, bogey = (summarise([SHOT], [], player=p)[0] for p in levels)
    usual = scatter_prior(Player(20.0), SHOT.stock_carry_m)
    assert (bogey.spread, bogey.side_rad) == pytest.approx((usual.spread, usual.side_rad))
    assert bogey.spread > 1.3 * scratch.spread
    assert scratch.spread == pytest.approx(unsaid.spread, rel=0.05)
    balls = logged(200, seed=4)
    few, many = (
        summarise([SHOT], log, player=Player(20.0))[0].spread - summarise([SHOT], log)[0].spread
        for log in (balls[:6], balls)
    )
    assert few > 3.0 * many > 0.0
