"""Intervals hold the truth as often as they say: the study of docs/learning.md."""

from dataclasses import replace

import numpy as np
import pytest
from benchmarks.learning_study import MANY, ONE, SHOTS, found_in
from scipy.stats import binom

from carrybook.player.bag import Shot
from carrybook.player.balls import Ball
from carrybook.player.learn.invented import bag_of, book_of, drawn_truth
from carrybook.player.learn.learn import learn_quick
from carrybook.player.learn.result import Learnt

LOW, HIGH = 0.85, 0.95
BOOKS = 100
QUANTITIES = (*ONE, *MANY, "log_scale", "side_log_scale")


def allowed(books: int) -> tuple[float, float]:
    """Shares of books outside which 85 to 95 % is refuted, with one chance in twenty to err."""
    low, high = binom.ppf([0.05, 0.95], books, [LOW, HIGH])
    return float(low) / books, float(high) / books


@pytest.mark.slow
@pytest.mark.parametrize("size", [30, 150, 600, 3000])
def test_ninety_per_cent_intervals_hold_the_truth_in_85_to_95(size: int) -> None:
    found, (low, high) = found_in(size, BOOKS, learn_quick), allowed(BOOKS)
    assert set(found) == set(QUANTITIES)
    for name, (ranks, misses) in found.items():
        inside = np.mean((ranks > 0.05) & (ranks < 0.95), axis=1)  # a share of shots in each book
        assert low <= inside.mean() <= high, (name, inside.mean())
        assert abs(misses.mean()) < 0.5, (name, misses.mean())  # far inside two posterior sds


def test_what_is_allowed_for_so_few_books() -> None:
    assert allowed(100) == (0.79, 0.98)
    assert allowed(10_000) == pytest.approx((LOW, HIGH), abs=0.007)
    # Ours: intervals that hold 90 % fail by chance once in a thousand quantities.
    assert binom.cdf(78, 100, 0.9) + binom.sf(98, 100, 0.9) < 0.001


def test_the_study_reads_ranks_of_the_truth() -> None:
    found = found_in(30, 3, learn_quick)
    ranks, misses = found["bias"]
    assert ranks.shape == misses.shape == (3, SHOTS)
    assert np.all((ranks >= 0.0) & (ranks <= 1.0))
    assert np.mean((misses < 0.0) == (ranks > 0.5)) > 0.9  # a middle below the truth ranks it high
    assert found["cold"][0].shape == (3, 1)


def test_a_learner_that_knows_too_much_is_found_out() -> None:
    def sure(shots: tuple[Shot, ...], balls: tuple[Ball, ...], rng: np.random.Generator) -> Learnt:
        learnt = learn_quick(shots, balls, rng)
        draws = {k: v.mean(axis=0) + 0.2 * (v - v.mean(axis=0)) for k, v in learnt.draws.items()}
        return replace(learnt, draws=draws)

    (ranks, misses), (honest, _) = (found_in(30, 3, x)["bias"] for x in (sure, learn_quick))
    assert np.mean((ranks > 0.05) & (ranks < 0.95)) < 0.6
    assert np.mean((honest > 0.05) & (honest < 0.95)) > 0.6
    assert np.abs(misses).max() > 3.0


def test_days_do_not_run_past_midnight() -> None:
    shots, rng = bag_of(2), np.random.default_rng(1)
    balls = book_of(shots, drawn_truth(shots, rng), 3000, rng)
    assert len({b.at.date() for b in balls if b.at}) == 6
    times = [b.at for b in balls if b.at]
    assert times == sorted(times)
