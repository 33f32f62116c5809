"""Another loft from those that are owned: exact where owned, physics beyond, what is refused."""

from dataclasses import replace
from math import degrees, log, radians

import pytest

from carrybook.base.constants import YARD
from carrybook.base.errors import BadInputError, NoSolutionError
from carrybook.physics.strike import slip_angle
from carrybook.player.bag import Club, Flight, Shape, Shot
from carrybook.player.loft_pattern import LoftPattern, patterns_of, with_spin
from carrybook.player.summary import ShotSummary, summarise


def shot(loft: float, yards: float, flight: Flight = Flight.STOCK) -> Shot:
    carry = yards * YARD
    club = Club(f"{loft:g}", radians(loft))
    return Shot(club, flight, Shape.STRAIGHT, carry, 0.6 * carry, 1.02 * carry)


@pytest.fixture(scope="module")
def owned() -> tuple[ShotSummary, ...]:
    low = shot(56, 76, Flight.LOW)
    made = [shot(60, 78), shot(48, 118), shot(54, 98), low]
    return summarise(made, [])


@pytest.fixture(scope="module")
def stock(owned: tuple[ShotSummary, ...]) -> LoftPattern:
    return patterns_of(owned)[0]


def test_kinds_are_sorted_and_kept_apart(owned: tuple[ShotSummary, ...]) -> None:
    stock, low = patterns_of(owned)
    assert [s.shot.label for s in stock.owned] == ["48", "54", "60"]
    assert [s.shot.label for s in low.owned] == ["56 low"]


def test_of_two_shots_of_one_loft_the_first_counts(owned: tuple[ShotSummary, ...]) -> None:
    again = replace(owned[0], stock_m=50.0)
    (first,) = patterns_of([owned[0], again])
    assert first.owned == (owned[0],)


@pytest.mark.parametrize("loft", [48.0, 54.0, 60.0])
def test_a_loft_that_is_owned_is_that_shot(stock: LoftPattern, loft: float) -> None:
    made = stock.at(radians(loft), "new")
    (mine,) = (s for s in stock.owned if degrees(s.shot.club.loft_rad) == pytest.approx(loft))
    for name in (
        "stock_m",
        "launch_rad",
        "spin_per_speed",
        "spread",
        "side_rad",
        "bias",
        "bias_se",
    ):
        assert getattr(made, name) == pytest.approx(getattr(mine, name), rel=1e-12), name
    assert made.shot.stock_carry_m == pytest.approx(mine.shot.stock_carry_m, rel=1e-12)
    assert made.shot.shortest_m == pytest.approx(mine.shot.shortest_m, rel=1e-12)
    assert made.shot.longest_m == pytest.approx(mine.shot.longest_m, rel=1e-12)
    assert (made.shot.club.label, made.balls, made.shot.cue) == ("new", 0, "")


def test_between_two_it_lies_on_the_line(stock: LoftPattern) -> None:
    made = stock.at(radians(51.0), "51")
    low, high = stock.owned[0], stock.owned[1]
    assert log(made.stock_m) == pytest.approx(0.5 * (log(low.stock_m) + log(high.stock_m)))
    assert made.launch_rad == pytest.approx(0.5 * (low.launch_rad + high.launch_rad))


def test_more_loft_carries_less_flies_higher_and_spins_more(stock: LoftPattern) -> None:
    made = [stock.at(radians(loft), "x") for loft in range(42, 68, 2)]
    carries = [s.stock_m for s in made]
    assert carries == sorted(carries, reverse=True)
    assert [s.launch_rad for s in made] == sorted(s.launch_rad for s in made)
    assert [s.spin_per_speed for s in made] == sorted(s.spin_per_speed for s in made)


def test_beyond_the_ends_it_goes_on_from_the_end(stock: LoftPattern) -> None:
    """Two degrees beyond, common practice has 2 to 4 yd a degree for full wedges; no source."""
    end, beyond = stock.at(radians(60.0), "x"), stock.at(radians(62.0), "x")
    lost = (end.stock_m - beyond.stock_m) / YARD
    assert 2.0 < lost < 8.0
    near = stock.at(radians(60.0 + 1e-6), "x")
    assert near.stock_m == pytest.approx(end.stock_m, rel=1e-5)
    assert near.launch_rad == pytest.approx(end.launch_rad, abs=1e-5)


def test_too_far_from_what_is_owned_is_refused(owned: tuple[ShotSummary, ...]) -> None:
    stock, low = patterns_of(owned)
    with pytest.raises(BadInputError, match=r"loft = 69 deg is too far .* 40 to 68 deg can be"):
        stock.at(radians(69.0), "69")
    with pytest.raises(BadInputError, match="52 to 60 deg can be"):
        low.at(radians(61.0), "61")


def test_a_launch_that_no_strike_gives_is_said(stock: LoftPattern) -> None:
    odd = replace(stock.owned[2], stock_m=20.0, launch_rad=1.03, spin_per_speed=40.0)
    with pytest.raises(NoSolutionError, match="no strike explains launch and spin of 60"):
        LoftPattern((odd,)).at(radians(62.0), "62")


def test_more_spin_starts_lower_from_the_same_face(stock: LoftPattern) -> None:
    """The face stays: launch and slip angle add up to the same (identity of the strike)."""
    mine = stock.owned[1]
    more, less = with_spin(mine, 1.1), with_spin(mine, 0.9)
    for s in (more, less):
        face = s.launch_rad + slip_angle(s.spin_per_speed)
        assert face == pytest.approx(mine.launch_rad + slip_angle(mine.spin_per_speed), abs=1e-12)
    assert more.launch_rad < mine.launch_rad < less.launch_rad
    assert more.stock_m < mine.stock_m < less.stock_m
    assert more.stock_m == pytest.approx(mine.stock_m, rel=0.05)


def test_the_same_spin_is_the_same_shot(stock: LoftPattern) -> None:
    mine = stock.owned[1]
    same = with_spin(mine, 1.0)
    assert same.stock_m == pytest.approx(mine.stock_m, rel=1e-6)
    assert same.shot.longest_m == pytest.approx(mine.shot.longest_m, rel=1e-6)
