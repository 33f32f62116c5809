"""Full sampling: its refusals always; its agreement with the quick way where packages are there."""

from dataclasses import replace

import numpy as np
import pytest

from carrybook.base.errors import NoSolutionError
from carrybook.player.bag import Shot
from carrybook.player.balls import Ball
from carrybook.player.learn.full import MOST_VALUES, refusal, sample_all
from carrybook.player.learn.learn import learn_full, questions_of
from carrybook.player.learn.result import Diagnostics, Learnt

GOOD = Diagnostics(4, 500, 1.005, 900.0, 0, "line level")


def test_good_chains_are_believed() -> None:
    assert refusal(GOOD) == ""


@pytest.mark.parametrize(
    ("bad", "why"),
    [
        (replace(GOOD, r_hat=1.2, worst="sd day"), "do not agree (R-hat 1.20 of sd day)"),
        (replace(GOOD, r_hat=float("nan")), "do not agree"),
        (replace(GOOD, effective=50.0), "worth only 50 independent"),
        (replace(GOOD, divergences=100), "astray in 5 % of its steps"),
    ],
)
def test_bad_chains_are_refused_in_plain_words(bad: Diagnostics, why: str) -> None:
    assert why in refusal(bad)


def test_too_many_values_are_refused(shots: tuple[Shot, ...], balls: tuple[Ball, ...]) -> None:
    problem = questions_of(shots, balls[:5], np.random.default_rng(1)).problems["carry"]
    many = replace(problem, values=np.zeros(MOST_VALUES + 1))
    with pytest.raises(NoSolutionError, match=r"leave out --full"):
        sample_all({"carry": many}, np.random.default_rng(1))


@pytest.mark.slow
def test_full_sampling_agrees_with_the_quick_way(
    shots: tuple[Shot, ...], balls: tuple[Ball, ...], learnt: Learnt
) -> None:
    pytest.importorskip("nutpie")
    full = learn_full(shots, balls, np.random.default_rng(6))
    assert full.diagnostics is not None
    assert refusal(full.diagnostics) == ""
    for name in ("bias", "slope", "log_scale", "side", "side_log_scale", "growth", "cold", "wet"):
        f, q = full.draws[name], learnt.draws[name]
        assert np.all(np.abs(f.mean(axis=0) - q.mean(axis=0)) < 0.35 * f.std(axis=0)), name
        assert q.std(axis=0) == pytest.approx(f.std(axis=0), rel=0.25), name
