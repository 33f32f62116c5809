"""The quick engine against closed forms, small-sample theory, statsmodels, and itself."""

import numpy as np
import pytest
from scipy.stats import norm
from scipy.stats import t as student

from carrybook.base.numerics import Floats
from carrybook.player.learn.problem import Answer, Group, Problem, columns, log_core
from carrybook.player.learn.quick import solve


def one_sample(values: Floats, *, sd: float = 10.0, odd: float = 1e3) -> Problem:
    """A centre and a scale, with priors that say nothing unless `sd` does."""
    n = len(values)
    first, one = np.zeros(n, dtype=np.int64), np.ones(n)
    line, groups = columns(n, [(Group("centre", 1, sd), first, one)])
    scale, scale_groups = columns(n, [(Group("scatter", 1, 3.0, np.log(0.04)), first, one)])
    return Problem(values, line, groups, scale, scale_groups, np.full(n, odd), np.zeros(n))


def pooled(which: Floats, values: Floats) -> Problem:
    n, size = len(values), int(which.max()) + 1
    first, one = np.zeros(n, dtype=np.int64), np.ones(n)
    parts = [
        (Group("centre", 1, 10.0), first, one),
        (Group("group", size, 2.0, pooled=True), which, one),
    ]
    line, groups = columns(n, parts)
    scale, scale_groups = columns(n, [(Group("scatter", 1, 3.0), first, one)])
    return Problem(values, line, groups, scale, scale_groups, np.full(n, 1e3), np.zeros(n))


def answered(problem: Problem, seed: int = 1, draws: int = 2000) -> Answer:
    return solve(problem, np.random.default_rng(seed), draws=draws)


def test_the_core_is_students_t() -> None:
    miss, log_scale = np.array([-2.0, 0.0, 0.3]), np.array([0.1, -0.7, 0.0])
    wanted = student.logpdf(miss, 4.0, scale=np.exp(log_scale))
    assert log_core(miss, log_scale) == pytest.approx(wanted)


def test_without_values_the_prior_comes_back() -> None:
    answer = answered(one_sample(np.empty(0), sd=0.5))
    assert answer.line["centre"].mean() == pytest.approx(0.0, abs=0.05)
    assert answer.line["centre"].std() == pytest.approx(0.5, rel=0.07)
    assert answer.scale["scatter"].std() == pytest.approx(3.0, rel=0.07)
    assert answer.odd.mean() == pytest.approx(1.0 / 41.0, rel=0.1)


def test_without_values_a_pooled_sd_keeps_its_half_normal() -> None:
    problem = pooled(np.arange(3), np.zeros(3))
    empty = Problem(
        np.empty(0), problem.design[:0], problem.groups, problem.scale_design[:0],
        problem.scale_groups, np.empty(0), np.empty(0),
    )  # fmt: skip
    sds = answered(empty, draws=4000).sds["group"]
    assert np.mean(sds) == pytest.approx(2.0 * np.sqrt(2.0 / np.pi), rel=0.06)
    assert np.median(sds) == pytest.approx(2.0 * 0.6745, rel=0.08)


@pytest.mark.parametrize("n", [10, 30, 100])
def test_errors_are_those_of_small_sample_theory(n: int) -> None:
    # The mean to sigma / sqrt(n), sigma to 1 / sqrt(2 (n - 1)) of itself (standard theory, for a
    # normal). Student's t with 4 df: sqrt(7 / 5) and sqrt(7 / 8 * 2) times as much. Where sigma is
    # not known the mean has a t of n - 1 df, whose sd is sqrt((n - 1) / (n - 3)) times as much.
    values = 0.04 * student.ppf((np.arange(n) + 0.5) / n, 4.0)
    answer = answered(one_sample(values))
    centre, scatter = answer.line["centre"].std(), answer.scale["scatter"].std()
    unknown = np.sqrt((n - 1.0) / (n - 3.0))
    assert centre == pytest.approx(0.04 * np.sqrt(7.0 / 5.0) / np.sqrt(n) * unknown, rel=0.12)
    assert scatter == pytest.approx(np.sqrt(7.0 / 4.0) / np.sqrt(2.0 * (n - 1.0)), rel=0.15)


def test_it_agrees_with_the_mixed_model_of_statsmodels() -> None:
    # A balanced case that both can fit: a random intercept, and around it the same symmetric
    # values in every group, so that a robust centre is the mean. Student's t with 4 df fitted to
    # them has another scale, so only the line is compared.
    smf = pytest.importorskip("statsmodels.regression.mixed_linear_model")
    rng = np.random.default_rng(2)
    which = np.repeat(np.arange(12), 40)
    values = rng.normal(0.0, 0.5, 12)[which] + np.tile(norm.ppf((np.arange(40) + 0.5) / 40.0), 12)
    fit = smf.MixedLM(values, np.ones((len(values), 1)), groups=which).fit()
    answer = answered(pooled(which, values))
    own = (answer.line["centre"] + answer.line["group"]).mean(axis=0)
    theirs = np.array([fit.fe_params[0] + float(fit.random_effects[k].iloc[0]) for k in range(12)])
    assert np.abs(own - theirs).max() < 0.03  # 0.16 is one standard error of a group of forty
    assert answer.sds["group"].mean() == pytest.approx(float(np.sqrt(fit.cov_re[0, 0])), rel=0.25)


def test_five_per_cent_gross_errors_hardly_move_a_centre() -> None:
    values = 0.04 * np.random.default_rng(3).standard_t(4, 200)
    wrong = values.copy()
    wrong[:10] += 0.7  # all to one side: twice as far as it was
    clean, spoilt = (answered(one_sample(v, odd=0.5)) for v in (values, wrong))
    moved = abs(spoilt.line["centre"].mean() - clean.line["centre"].mean())
    assert moved < clean.line["centre"].std() / 3.0
    assert spoilt.odd.mean() == pytest.approx(0.05, abs=0.02)


def test_a_group_with_few_values_leans_on_the_others() -> None:
    rng = np.random.default_rng(4)
    which = np.array([0] * 60 + [1] * 60 + [2] * 2)
    values = 0.2 * rng.standard_normal(122) + np.array([0.3, 0.3, 0.9])[which]
    answer = answered(pooled(which, values))
    own = (answer.line["centre"] + answer.line["group"]).mean(axis=0)
    assert 0.3 < own[2] < values[which == 2].mean()
    errors = (answer.line["centre"] + answer.line["group"]).std(axis=0)
    assert errors[2] > 2.0 * errors[0]


def test_the_same_start_gives_the_same_draws() -> None:
    problem = one_sample(np.array([0.01, -0.02, 0.03]))
    first, second = (answered(problem, seed=9, draws=20) for _ in range(2))
    assert np.array_equal(first.line["centre"], second.line["centre"])
    assert not np.array_equal(first.odd, answered(problem, seed=8, draws=20).odd)


def test_intervals_hold_the_truth_as_often_as_they_say() -> None:
    inside = 0
    for k in range(60):
        rng = np.random.default_rng([7, k])
        which = rng.integers(0, 5, 60)
        sd, centre = abs(rng.normal(0.0, 2.0)), rng.normal(0.0, 3.0)
        true = centre + rng.normal(0.0, sd, 5)
        values = true[which] + np.exp(rng.normal()) * rng.standard_t(4, 60)
        answer = answered(pooled(which, values), seed=k, draws=200)
        own = answer.line["centre"] + answer.line["group"]
        share = (own < true).mean(axis=0)
        inside += int(((share > 0.05) & (share < 0.95)).sum())
    assert 0.84 <= inside / 300 <= 0.96
