"""Drifting sensors: found where they are, seldom where they are not, and never by one wild ball."""

from dataclasses import replace
from datetime import datetime, timedelta
from math import radians

import numpy as np
import pytest

from carrybook.player.bag import Club, Flight, Shape, Shot
from carrybook.player.balls import Ball
from carrybook.player.drift import _bridge_chance, _running, _scores, sensor_drifts

SHOT = Shot(Club("54", radians(54.0)), Flight.STOCK, Shape.STRAIGHT, 75.0, 40.0, 75.0)
SHOTS = {"54": SHOT}


def session(
    rng: np.random.Generator, *, n: int = 30, step: float = 0.0, slope: float = 0.0, day: int = 0
) -> list[Ball]:
    """Balls of one session; launch steps in its middle, or slopes through it. [deg]"""
    launch = 30.0 + 1.5 * rng.standard_t(5, n) + step * (np.arange(n) >= n // 2)
    launch += slope * np.arange(n) / n
    return [
        Ball(
            shot="54",
            at=datetime(2026, 3, 1) + timedelta(days=day),
            carry_m=70.0 * float(np.exp(0.05 * rng.normal())),
            ball_speed_mps=30.0 * float(np.exp(0.02 * rng.normal())),
            launch_rad=radians(float(np.clip(one, 5.0, 60.0))),
            spin_rad_s=900.0 + 40.0 * float(rng.normal()),
        )
        for one in launch
    ]


def log(rng: np.random.Generator, odd: list[Ball] | None = None) -> list[tuple[str, list[Ball]]]:
    groups = [(f"day {day}", session(rng, day=day)) for day in range(6)]
    return groups if odd is None else [*groups[:5], ("odd", odd)]


def test_level_logs_are_seldom_named() -> None:
    rng = np.random.default_rng(1)
    named = sum(bool(sensor_drifts(log(rng), SHOTS)) for _ in range(100))
    assert named <= 5  # one in a hundred is meant


def test_a_step_is_found_with_its_size_and_place() -> None:
    rng = np.random.default_rng(2)
    (drift,) = sensor_drifts(log(rng, session(rng, n=40, step=6.0)), SHOTS)
    assert (drift.where, drift.shape, drift.unit) == ("odd", "step", "deg")
    assert drift.what == "loft that launch and spin imply"
    assert abs(drift.change - 6.0) < 3.0 * drift.change_se
    assert abs(drift.after - 20) <= 4
    assert drift.chance < 0.01


def test_a_slope_is_told_from_a_step() -> None:
    rng = np.random.default_rng(3)
    (drift,) = sensor_drifts(log(rng, session(rng, n=60, slope=10.0)), SHOTS)
    assert (drift.where, drift.shape) == ("odd", "slope")
    assert abs(drift.change - 10.0) < 3.0 * drift.change_se


def test_a_drift_over_weeks_is_found_by_days() -> None:
    rng = np.random.default_rng(4)
    groups = [(f"day {d}", session(rng, n=10, slope=0.0, step=0.0, day=d)) for d in range(30)]
    tilted = [
        (name, [ball if k < 15 else _tilted(ball, 5.0) for ball in balls])
        for k, (name, balls) in enumerate(groups)
    ]
    drifts = sensor_drifts(tilted, SHOTS)
    assert [(d.where, d.shape) for d in drifts] == [("all days", "step")]
    assert drifts[0].after == pytest.approx(15, abs=2)


def _tilted(ball: Ball, degrees: float) -> Ball:
    return replace(ball, launch_rad=(ball.launch_rad or 0.0) + radians(degrees))


def test_one_wild_ball_is_no_drift() -> None:
    rng = np.random.default_rng(5)
    balls = session(rng)
    balls[20] = _tilted(balls[20], 25.0)
    assert sensor_drifts([("wild", balls)], SHOTS) == ()


def test_more_looks_make_one_less_sure() -> None:
    rng = np.random.default_rng(6)
    odd = session(rng, n=40, step=6.0)
    alone = sensor_drifts([("odd", odd)], SHOTS)[0].chance
    among = sensor_drifts(log(rng, odd), SHOTS)[0].chance
    assert alone < among


def test_few_balls_other_shots_and_bare_carries_are_not_looked_at() -> None:
    rng = np.random.default_rng(7)
    assert sensor_drifts([("few", session(rng, n=19, step=20.0))], SHOTS) == ()
    assert sensor_drifts([("x", session(rng, n=40, step=20.0))], {}) == ()
    assert sensor_drifts([("bare", [Ball(shot="54", carry_m=70.0)] * 40)], SHOTS) == ()


@pytest.mark.parametrize(("far", "chance"), [(1.224, 0.10), (1.358, 0.05), (1.628, 0.01)])
def test_bridge_against_kolmogorovs_table(far: float, chance: float) -> None:
    assert _bridge_chance(np.array([0.0, far, 0.0])) == pytest.approx(chance, abs=5e-4)


def test_scores_and_their_running_sum() -> None:
    values = np.array([3.0, 1.0, 2.0, 2.0, 1e9])
    scores = _scores(values)
    assert scores.mean() == pytest.approx(0.0, abs=0.2)
    assert scores.std() == pytest.approx(1.0)
    assert scores[2] == scores[3]
    assert _scores(-values) == pytest.approx(-scores)
    assert _running(np.arange(50.0))[-1] == pytest.approx(0.0, abs=1e-9)
    assert (_scores(np.ones(5)) == 0.0).all()
