"""An invented player, and seasons of theirs, made once."""

from collections.abc import Callable
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from benchmarks.invented_seasons import Habits, invented_bag, invented_rounds

from carrybook.base.constants import YARD
from carrybook.decision.review.review import Review, review
from carrybook.player.round_shots import Facts, PlayedRound, Rest, RoundShot
from carrybook.player.rounds import Round
from carrybook.player.summary import ShotSummary
from carrybook.world.lie import Lie

MakeRounds = Callable[..., tuple[PlayedRound, ...]]
MakeShot = Callable[..., RoundShot]
BEGUN = "2026-05-30T08:10:00+02:00"


@pytest.fixture(scope="session")
def bag() -> tuple[ShotSummary, ...]:
    return invented_bag()


@pytest.fixture(scope="session")
def played(bag: tuple[ShotSummary, ...]) -> MakeRounds:
    """Play a season with some habits; the same one only once."""

    @cache
    def make(
        habits: Habits | None = None, seed: int = 1, rounds: int = 12
    ) -> tuple[PlayedRound, ...]:
        rng = np.random.default_rng(seed)
        return invented_rounds(bag, rng, rounds=rounds, habits=habits)

    return make


@pytest.fixture(scope="session")
def told(bag: tuple[ShotSummary, ...], played: MakeRounds) -> Callable[..., Review]:
    """Review such a season; the same one only once."""

    @cache
    def make(habits: Habits | None = None, seed: int = 1, rounds: int = 30) -> Review:
        return review(played(habits, seed, rounds), bag, seed=1)

    return make


@pytest.fixture
def shot() -> MakeShot:
    """Make a shot of 88 yd in calm air that was fully recorded, or as changed."""
    full = RoundShot(
        hole=4,
        known=Facts(number_m=88 * YARD, wind_mps=0.0, wind_from_rad=0.0, lie=Lie.FAIRWAY),
        shot="56", finish=Rest.GREEN, finish_m=4.0, putts=2, hole_location="middle centre",
        intended_m=82 * YARD, aim_right_m=0.0, landing_past_m=-4.0, landing_right_m=1.0,
    )  # fmt: skip

    def make(**change: object) -> RoundShot:
        known = {k: v for k, v in change.items() if k in Facts.__dataclass_fields__}
        rest = {k: v for k, v in change.items() if k not in known}
        return replace(full, known=replace(full.known, **known), **rest)  # type: ignore[arg-type]

    return make


@pytest.fixture
def one_round() -> Callable[..., tuple[PlayedRound, ...]]:
    """Put shots into one round."""

    def make(*shots: RoundShot, setting: str = "") -> tuple[PlayedRound, ...]:
        return (PlayedRound(1, Round(BEGUN, BEGUN, "", setting), shots),)

    return make
