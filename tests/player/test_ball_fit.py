"""Drag and sets from a log: known truth comes back, and little evidence moves little."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from math import log

import numpy as np
import pytest

from carrybook.base.errors import BadInputError
from carrybook.physics.aerodynamics import BAND, HIGH, LOW, MID, Aerodynamics
from carrybook.physics.flight import level_carries
from carrybook.player.ball_fit import NO_FIT, BallFits, fit_balls
from carrybook.player.balls import Ball
from carrybook.world.air import REFERENCE_DAY, Air
from carrybook.world.lie import Lie

# Speed [m/s], launch [rad], spin over speed [rad/m] of four shots.
SWINGS = ((40.0, 0.42, 23.0), (34.0, 0.50, 25.0), (29.0, 0.54, 26.0), (24.0, 0.56, 27.0))


def logged(
    truth: Aerodynamics,
    count: int,
    *,
    seed: int,
    days: int = 5,
    day_sd: float = 0.01,
    noise: float = 0.015,
    model: str = "",
    air: Air | None = None,
) -> list[Ball]:
    """Invented balls of four shots, flown with a true set."""
    rng = np.random.default_rng(seed)
    swings = np.array([SWINGS[k % 4] for k in range(count)]) * np.exp(
        rng.normal(0.0, 0.05, (count, 3))
    )
    carries = level_carries(*swings.T, air or REFERENCE_DAY, aerodynamics=truth)
    carries = carries * np.exp(noise * rng.normal(size=count))
    off = np.exp(rng.normal(0.0, day_sd, days))
    return [
        Ball(
            shot=f"shot {k % 4}",
            at=datetime(2026, 5, 1, tzinfo=UTC) + timedelta(days=k % days),
            carry_m=float(carry * off[k % days]),
            ball_speed_mps=float(speed),
            launch_rad=float(launch),
            spin_rad_s=float(ratio * speed),
            ball_model=model,
            air=air,
        )
        for k, (carry, (speed, launch, ratio)) in enumerate(zip(carries, swings, strict=True))
    ]


@pytest.mark.parametrize("factor", [0.9, 1.0, 1.12])
@pytest.mark.parametrize("truth", BAND)
def test_set_and_drag_come_back_from_a_good_log(truth: Aerodynamics, factor: float) -> None:
    fit = fit_balls(logged(truth.with_drag(factor), 240, seed=3)).usual
    k = BAND.index(truth)
    assert fit.likeliest == k
    assert fit.weights[k] > 0.7
    assert abs(log(fit.factors[k] / factor)) < 2.5 * fit.drag_errors[k]
    assert fit.drag_errors[k] < 0.04
    assert fit.best == truth.with_drag(fit.drag_factor)


def test_the_stated_error_covers_the_truth_as_often_as_it_says() -> None:
    inside = 0
    for seed in range(40):
        fit = fit_balls(logged(MID.with_drag(1.08), 40, seed=seed, day_sd=0.02, days=3)).usual
        inside += abs(log(fit.factors[1] / 1.08)) < 1.645 * fit.drag_errors[1]
    assert inside >= 34  # says 90 %


def test_nothing_is_learnt_from_no_ball() -> None:
    for log_ in ([], [Ball(shot="56", carry_m=70.0)], [Ball(shot="56", ball_speed_mps=30.0)]):
        fits = fit_balls(log_)
        assert fits == BallFits()
        assert fits.usual is NO_FIT
    assert NO_FIT.weights == (0.25, 0.50, 0.25)
    assert NO_FIT.best == MID
    assert 0.05 < NO_FIT.drag_se < 0.10


def test_few_balls_move_the_factor_less_than_many() -> None:
    truth = MID.with_drag(1.15)
    moved, errors = [], []
    for count in (2, 12, 200):
        found = [fit_balls(logged(truth, count, seed=s, days=1)).usual for s in range(6)]
        moved.append(np.mean([log(fit.factors[1]) for fit in found]))
        errors.append(np.mean([fit.drag_errors[1] for fit in found]))
    assert 0.0 < moved[0] < moved[1] < moved[2] < 1.2 * log(1.15)
    assert NO_FIT.drag_se > errors[0] > errors[1] > errors[2]


def test_a_few_bad_rows_do_not_move_it() -> None:
    balls = logged(MID.with_drag(1.05), 120, seed=5)
    wrong = [0.5, 0.9144, 1.6, 2.0] * 2
    bad = [replace(b, carry_m=f * b.carry_m) for b, f in zip(balls[:8], wrong, strict=True)]
    clean, spoilt = (fit_balls(some).usual for some in (balls, [*bad, *balls[8:]]))
    assert spoilt.likeliest == clean.likeliest
    assert abs(spoilt.drag_factor - clean.drag_factor) < 1.5 * clean.drag_se


def test_a_set_that_fits_badly_is_not_ruled_out() -> None:
    fit = fit_balls(logged(HIGH, 600, seed=6)).usual
    assert sum(fit.weights) == pytest.approx(1.0)
    assert min(fit.weights) >= 0.05 * 0.25
    assert [k for k, _ in fit.likely()] == [2]
    assert len(fit.possible()) == 3  # the likeliest, and its drag one error either way


def test_each_model_of_ball_has_its_own_drag() -> None:
    soft = logged(MID.with_drag(1.10), 80, seed=7, model="soft two")
    hard = logged(MID.with_drag(0.97), 60, seed=8, model="hard one")
    fits = fit_balls([*hard, *soft])
    assert [fit.model for fit in fits.models] == ["soft two", "hard one"]
    assert [fit.balls for fit in fits.models] == [80, 60]
    assert fits.usual is fits.named("soft two") is fits.of("soft two")
    high, low = (fits.named(m).factors[1] for m in ("soft two", "hard one"))
    assert high / low == pytest.approx(1.10 / 0.97, rel=0.04)
    assert fits.unknown.drag_se > fits.usual.drag_se
    assert low < fits.unknown.factors[1] < high


def test_a_model_with_few_balls_leans_on_the_others() -> None:
    many = logged(MID.with_drag(1.12), 150, seed=9, model="usual")
    few = logged(MID.with_drag(1.12), 3, seed=10, model="new", days=1)
    fits = fit_balls([*many, *few])
    assert 1.02 < fits.named("new").factors[1] < 1.20
    assert fits.named("new").drag_se > fits.named("usual").drag_se


def test_a_model_that_the_log_does_not_know_is_refused_by_name() -> None:
    fits = fit_balls(logged(MID, 20, seed=1, model="usual"))
    with pytest.raises(BadInputError, match=r"ball model = 'other' has no ball .*have: usual"):
        fits.named("other")
    with pytest.raises(BadInputError, match="models that have: none"):
        fit_balls(logged(MID, 20, seed=1)).named("other")


def test_the_air_of_each_ball_counts() -> None:
    thin = Air(300.0, 80_000.0, 0.2)
    there = fit_balls(logged(MID, 120, seed=2, air=thin)).usual
    assert abs(log(there.factors[1])) < 2.5 * there.drag_errors[1]
    mistaken = [replace(b, air=None) for b in logged(MID, 120, seed=2, air=thin)]
    assert fit_balls(mistaken).usual.factors[1] < 0.95  # less air looks like less drag


def test_sand_unbelievable_readings_and_the_oldest_of_very_many_do_not_count() -> None:
    balls = logged(LOW, 30, seed=3)
    sand = [replace(b, lie=Lie.SAND, carry_m=20.0) for b in balls]
    steep = [replace(b, launch_rad=1.25, carry_m=20.0) for b in balls]
    still = [replace(b, spin_rad_s=0.0, carry_m=20.0) for b in balls]
    assert fit_balls([*balls, *sand, *steep, *still]) == fit_balls(balls)
    old = [replace(b, at=datetime(2001, 1, 1, tzinfo=UTC), carry_m=9.0) for b in balls] * 5
    new = balls * 67
    assert fit_balls([*new, *old]).usual.balls == 2000
    assert fit_balls([*new, *old]) == fit_balls(new)


def test_what_is_drawn_has_the_mean_and_the_error_of_the_fit() -> None:
    fit = fit_balls(logged(MID.with_drag(1.05), 60, seed=2, days=2)).usual
    sets, weights = fit.drawn()
    assert len(sets) == len(weights) == 9
    assert sum(weights) == pytest.approx(1.0)
    for k in range(3):
        assert sets[3 * k + 1] == fit.sets[k]
        assert sum(weights[3 * k : 3 * k + 3]) == pytest.approx(fit.weights[k])
        logs = np.log([a.drag_base / BAND[k].drag_base for a in sets[3 * k : 3 * k + 3]])
        share = np.array(weights[3 * k : 3 * k + 3]) / fit.weights[k]
        mean = share @ logs
        assert mean == pytest.approx(log(fit.factors[k]))
        assert np.sqrt(share @ (logs - mean) ** 2) == pytest.approx(fit.drag_errors[k])
