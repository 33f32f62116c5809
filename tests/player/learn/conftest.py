"""Invented players whose truth is known."""

from dataclasses import replace

import numpy as np
import pytest

from carrybook.player.bag import Shot
from carrybook.player.balls import Ball
from carrybook.player.learn.invented import Truth, bag_of, book_of, drawn_truth
from carrybook.player.learn.learn import learn_quick
from carrybook.player.learn.result import Learnt

SHOTS = bag_of(4)


@pytest.fixture(scope="session")
def shots() -> tuple[Shot, ...]:
    return SHOTS


@pytest.fixture(scope="session")
def truth() -> Truth:
    drawn = drawn_truth(SHOTS, np.random.default_rng(3))
    return replace(drawn, cold=-0.03, wet=0.02, day_sd=0.01, odd=0.02, growth=0.5)


@pytest.fixture(scope="session")
def balls(truth: Truth) -> tuple[Ball, ...]:
    return book_of(SHOTS, truth, 240, np.random.default_rng(4))


@pytest.fixture(scope="session")
def learnt(balls: tuple[Ball, ...]) -> Learnt:
    return learn_quick(SHOTS, balls, np.random.default_rng(5))
