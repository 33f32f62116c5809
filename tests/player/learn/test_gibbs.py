"""The exact engine for small books against integration on a grid, and against what was put in."""

import numpy as np
import pytest

from carrybook.base.numerics import Floats
from carrybook.player.learn.gibbs import MOST_VALUES
from carrybook.player.learn.problem import Answer, Group, Problem, columns, log_core
from carrybook.player.learn.quick import solve

VALUES = np.array([0.02, -0.03, 0.09, 0.01, -0.05, 0.04])
CENTRE_SD, SCATTER, SCATTER_SD = 0.05, np.log(0.06), 0.5


def one_sample(values: Floats) -> Problem:
    n = len(values)
    first, one = np.zeros(n, dtype=np.int64), np.ones(n)
    line, groups = columns(n, [(Group("centre", 1, CENTRE_SD), first, one)])
    parts = [(Group("scatter", 1, SCATTER_SD, SCATTER), first, one)]
    scale, scale_groups = columns(n, parts)
    return Problem(values, line, groups, scale, scale_groups, np.full(n, 0.5), np.zeros(n))


def by_shot(which: Floats, values: Floats) -> Problem:
    n = len(values)
    first, one = np.zeros(n, dtype=np.int64), np.ones(n)
    line, groups = columns(n, [(Group("centre", 3, 0.05), which, one)])
    parts = [
        (Group("scatter", 1, 0.3, np.log(0.05)), first, one),
        (Group("scatter of shot", 3, 0.3, pooled=True), which, one),
    ]
    scale, scale_groups = columns(n, parts)
    return Problem(values, line, groups, scale, scale_groups, np.full(n, 0.5), np.zeros(n))


def answered(problem: Problem, seed: int = 1, draws: int = 3000) -> Answer:
    return solve(problem, np.random.default_rng(seed), draws=draws)


def on_a_grid(values: Floats) -> dict[str, tuple[float, float]]:
    """Mean and standard deviation of centre, ln scale and share of odd values, by brute force."""
    centre = np.linspace(-0.2, 0.2, 81)[:, None, None]
    scatter = np.linspace(SCATTER - 2.5, SCATTER + 2.0, 81)[None, :, None]
    share = (np.arange(120) + 0.5)[None, None, :] / 240.0
    logs = -0.5 * (centre / CENTRE_SD) ** 2 - 0.5 * ((scatter - SCATTER) / SCATTER_SD) ** 2
    logs = logs + 39.0 * np.log1p(-share)
    for y in values:
        core = np.log1p(-share) + log_core(y - centre, scatter)
        wide = np.log(share) - 0.5 * ((y - centre) / 0.5) ** 2 - np.log(0.5 * np.sqrt(2.0 * np.pi))
        logs = logs + np.logaddexp(core, wide)
    weight = np.exp(logs - logs.max())
    weight /= weight.sum()
    found = {}
    for name, x in (("centre", centre), ("scatter", scatter), ("odd", share)):
        mean = float((weight * x).sum())
        found[name] = mean, float(np.sqrt((weight * (x - mean) ** 2).sum()))
    return found


@pytest.mark.parametrize("last", [0.04, 0.6])  # the second is a value that looks odd
def test_six_values_give_what_integration_gives(last: float) -> None:
    values = np.append(VALUES[:-1], last)
    answer, wanted = answered(one_sample(values)), on_a_grid(values)
    drawn = {
        "centre": answer.line["centre"][:, 0],
        "scatter": answer.scale["scatter"][:, 0],
        "odd": answer.odd[:, 0],
    }
    for name, (mean, sd) in wanted.items():
        assert drawn[name].mean() == pytest.approx(mean, abs=0.12 * sd), name
        assert drawn[name].std() == pytest.approx(sd, rel=0.12), name


def test_draws_of_the_scale_do_not_stick() -> None:
    d = answered(one_sample(VALUES)).scale["scatter"][:, 0]
    assert np.corrcoef(d[1:], d[:-1])[0, 1] < 0.8
    assert len(np.unique(d)) > 0.8 * len(d)


def test_scatter_of_few_values_is_held_by_its_intervals() -> None:
    inside = 0
    for k in range(30):
        rng = np.random.default_rng([11, k])
        which = np.repeat(np.arange(3), 4)
        own = rng.normal(np.log(0.05), 0.3) + rng.normal(0.0, abs(rng.normal(0.0, 0.3)), 3)
        true = rng.normal(0.0, 0.05, 3)
        values = true[which] + np.exp(own)[which] * rng.standard_t(4, 12)
        answer = answered(by_shot(which, values), seed=k, draws=150)
        drawn = answer.scale["scatter"] + answer.scale["scatter of shot"]
        share = (drawn < own).mean(axis=0)
        inside += int(((share > 0.05) & (share < 0.95)).sum())
    assert 0.80 <= inside / 90 <= 0.98


def test_where_the_engines_meet_they_agree() -> None:
    rng = np.random.default_rng(5)
    values = 0.01 + 0.05 * rng.standard_t(4, MOST_VALUES + 1)
    small, large = (answered(one_sample(v), draws=800) for v in (values[:-1], values))
    for name, part in (("centre", "line"), ("scatter", "scale")):
        a, b = (getattr(each, part)[name][:, 0] for each in (small, large))
        assert a.mean() == pytest.approx(b.mean(), abs=0.2 * b.std()), name
        assert a.std() == pytest.approx(b.std(), rel=0.15), name
    assert small.odd.mean() < 0.01


def test_values_that_are_all_alike_are_answered() -> None:
    answer = answered(by_shot(np.repeat(np.arange(3), 20), np.full(60, 0.03)), draws=100)
    assert answer.line["centre"].mean(axis=0) == pytest.approx([0.03] * 3, abs=1e-3)
    assert answer.scale["scatter"].mean() < np.log(0.05)
