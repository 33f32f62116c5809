"""A shot on trial: one that must earn its place, one that cannot, and how many balls would tell."""

from collections.abc import Callable
from dataclasses import replace
from math import radians, sqrt

import pytest

from carrybook.base.constants import YARD
from carrybook.base.errors import NoSolutionError
from carrybook.decision.bag_fit.bags import Saving
from carrybook.decision.bag_fit.demand import demand_over
from carrybook.decision.bag_fit.doubt import Chance
from carrybook.decision.bag_fit.greens import Greens
from carrybook.decision.bag_fit.tryout import (
    TryOut,
    Verdict,
    known_of,
    more_balls,
    try_out,
    verdict_of,
)
from carrybook.player.summary import ShotSummary

Shots = tuple[ShotSummary, ...]
MakeShots = Callable[..., Shots]


def tried(shots: Shots, label: str, low: float, high: float) -> TryOut:
    demand = demand_over(low * YARD, high * YARD)
    return try_out(lambda _lie, _wet: shots, label, demand, Greens(), chance=Chance(256))


def logged(shots: Shots, balls: int) -> Shots:
    return tuple(replace(s, balls=balls, launch_measured=balls) for s in shots)


def test_a_shot_where_none_goes_earns_its_place(shots_of: MakeShots) -> None:
    trusted = shots_of((50, 110), (60, 72), shortest=0.95)
    found = tried((*trusted, *logged(shots_of((56, 90), trusted=False), 40)), "56", 82, 88)
    assert found.verdict is Verdict.EARNS
    assert found.share == 1.0
    assert set(found.instead_of) <= {"50", "60"}
    assert found.without - found.with_it == pytest.approx(found.saves.strokes)
    assert found.more_balls is None
    assert [s.shot.label for s in found.beside] == ["50", "60"]


def test_a_wild_shot_where_a_good_one_goes_does_not(shots_of: MakeShots) -> None:
    trusted = shots_of((54, 98), (60, 78))
    wild = logged(shots_of((56, 90), trusted=False, scatter=3.0), 40)
    found = tried((*trusted, *wild), "56", 70, 85)
    assert found.verdict is Verdict.DOES_NOT
    assert found.share < 0.5
    assert found.saves.strokes == pytest.approx(0.0, abs=0.02)


def test_the_twin_of_a_trusted_shot_does_not(shots_of: MakeShots) -> None:
    trusted = logged(shots_of((54, 98)), 100)
    club = replace(trusted[0].shot.club, label="twin")
    twin = replace(trusted[0], shot=replace(trusted[0].shot, club=club, trusted=False))
    found = tried((*trusted, twin), "twin", 70, 90)
    assert found.saves.strokes == pytest.approx(0.0, abs=1e-9)
    assert found.verdict is not Verdict.EARNS


def test_other_shots_that_are_not_trusted_do_not_count(shots_of: MakeShots) -> None:
    doubtful = shots_of((54, 98), (56, 90), trusted=False)
    with pytest.raises(NoSolutionError, match="no shot but 56 is trusted"):
        tried(doubtful, "56", 70, 85)


def test_the_more_balls_the_better_it_is_known(shots_of: MakeShots) -> None:
    (shot,) = shots_of((56, 90))
    none, some, many = (known_of(replace(shot, balls=n, launch_measured=n)) for n in (0, 20, 200))
    for name in ("scatter", "launch_rad", "spin"):
        assert getattr(none, name) > getattr(some, name) > getattr(many, name)
    assert many.launch_rad == pytest.approx(radians(1.5) / sqrt(200.0), rel=0.01)
    assert none.carry == shot.bias_se


@pytest.mark.parametrize(
    ("strokes", "unsure", "verdict"),
    [
        (0.10, 0.03, Verdict.EARNS),
        (0.10, 0.08, Verdict.FEELING),
        (0.01, 0.01, Verdict.FEELING),
        (0.00, 0.004, Verdict.DOES_NOT),
        (-0.10, 0.03, Verdict.DOES_NOT),
    ],
)
def test_verdicts(strokes: float, unsure: float, verdict: Verdict) -> None:
    assert verdict_of(Saving(strokes, 0.0, unsure)) is verdict


def test_balls_that_would_settle_it_by_hand() -> None:
    """All of it from the shot: an interval half as wide takes four times as many balls."""
    found = more_balls(Saving(0.10, 0.0, 0.10, clubs=0.10), 14)
    assert found == 60  # (14 + 6) * 4 - 20
    settled = 0.10 * sqrt(20.0 / 80.0)
    assert verdict_of(Saving(0.10, 0.0, 0.999 * settled)) is Verdict.EARNS


def test_where_the_rest_is_too_unsure_balls_do_not_settle_it() -> None:
    assert more_balls(Saving(0.10, 0.0, 0.10, clubs=0.05), 14) is None
    assert more_balls(Saving(0.02, 0.0, 0.30, clubs=0.30), 14) is None  # thousands
