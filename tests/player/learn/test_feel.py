"""Feel against real: known gaps come back, both kinds apart, with what a call is worth."""

from datetime import UTC, date, datetime, timedelta

import numpy as np
import pytest

from carrybook.player.bag import Shot
from carrybook.player.balls import Ball
from carrybook.player.learn.feel import Feel, feel_of
from carrybook.world.lie import Lie

START = datetime(2026, 6, 1, 9, 0, tzinfo=UTC)  # a Monday


def called_book(
    shots: tuple[Shot, ...], count: int, *, read: float, felt: float, noise: float, seed: int = 1
) -> list[Ball]:
    """Balls called `read` too long on average; called `felt` under what was meant."""
    rng = np.random.default_rng(seed)
    balls = []
    for k in range(count):
        shot = shots[k % len(shots)]
        meant = shot.stock_carry_m * rng.uniform(0.7, 1.0)
        miss = 0.04 * rng.standard_normal()
        called = meant * np.exp(-felt + miss)
        carry = called * np.exp(-read + noise * rng.standard_normal())
        balls.append(
            Ball(
                shot=shot.label,
                at=START + timedelta(days=k // 10),
                intended_m=meant,
                called_m=float(called),
                carry_m=float(carry),
            )
        )
    return balls


def felt(shots: tuple[Shot, ...], balls: list[Ball]) -> Feel:
    return feel_of(shots, balls, np.random.default_rng(2))


def test_both_gaps_come_back_and_are_kept_apart(shots: tuple[Shot, ...]) -> None:
    feel = felt(shots, called_book(shots, 200, read=0.03, felt=0.02, noise=0.02))
    read, meant = feel.called[0], feel.intended[0]
    assert (read.label, read.balls) == ("all", 200)
    assert read.low < np.expm1(0.03) < read.high
    assert meant.low < np.expm1(0.02) < meant.high
    assert read.high - read.low < 0.012
    assert [g.label for g in feel.called[1:]] == [s.label for s in shots]


def test_a_gap_that_grows_with_distance_shows_in_the_bands(shots: tuple[Shot, ...]) -> None:
    balls = called_book(shots, 300, read=0.0, felt=0.0, noise=0.01)
    longer = [
        Ball(
            shot=b.shot, intended_m=b.intended_m, carry_m=b.carry_m,
            called_m=b.called_m * (1.0 + (b.intended_m - 65.0) / 400.0),
        )
        for b in balls
        if b.called_m and b.intended_m
    ]  # fmt: skip
    bands = felt(shots, longer).called_bands
    assert [b.from_m for b in bands] == sorted(b.from_m for b in bands)
    assert bands[0].high < bands[-1].low


@pytest.mark.parametrize(("noise", "least", "most"), [(0.01, 0.85, 1.0), (0.08, 0.05, 0.4)])
def test_a_good_caller_is_trusted(
    shots: tuple[Shot, ...], noise: float, least: float, most: float
) -> None:
    # Called misses of 4 %, then noise: the call explains 0.04^2 / (0.04^2 + noise^2).
    trust = felt(shots, called_book(shots, 300, read=0.0, felt=0.0, noise=noise)).trust[0]
    true = 0.04**2 / (0.04**2 + noise**2)
    assert least < trust.explained < most
    assert trust.low - 0.05 < true < trust.high + 0.05
    assert trust.weight == pytest.approx(1.0, abs=0.25)


def test_a_call_that_knows_nothing_is_worth_nothing(shots: tuple[Shot, ...]) -> None:
    rng = np.random.default_rng(3)
    balls = [
        Ball(
            shot=shots[0].label, intended_m=70.0,
            called_m=70.0 * np.exp(0.05 * rng.standard_normal()),
            carry_m=70.0 * np.exp(0.05 * rng.standard_normal()),
        )
        for _ in range(100)
    ]  # fmt: skip
    trust = felt(shots, balls).trust[0]
    assert trust.explained < 0.1
    assert trust.low == 0.0
    assert abs(trust.weight) < 0.35


def test_weeks_stand_in_order_with_their_mondays(shots: tuple[Shot, ...]) -> None:
    weeks = felt(shots, called_book(shots, 150, read=0.02, felt=0.0, noise=0.02)).weeks
    assert [w.monday for w in weeks] == [date(2026, 6, 1), date(2026, 6, 8), date(2026, 6, 15)]
    assert [w.balls for w in weeks] == [70, 70, 10]
    assert all(w.low < w.middle < w.high for w in weeks)


def test_few_or_no_calls_say_little_and_break_nothing(shots: tuple[Shot, ...]) -> None:
    nothing = felt(shots, [Ball(shot=shots[0].label, carry_m=60.0)])
    assert nothing == Feel((), (), (), (), (), ())
    sand = Ball(shot=shots[0].label, carry_m=60.0, called_m=50.0, lie=Lie.SAND)
    assert felt(shots, [sand]).called == ()
    three = felt(shots, called_book(shots, 3, read=0.0, felt=0.0, noise=0.02))
    assert three.called[0].high - three.called[0].low > 0.02
    assert (three.trust, three.weeks, three.called_bands) == ((), (), ())
