"""What a strong professional's book leads to: sanity bands of the trade, never fitted to.

All of it is common practice, no source: a full 60 carries 90 to 92 yd in mild air; 77 yd is played
flighted a little and felt about 75; 88 yd to a back hole is flown about 84 and runs the rest where
the green lets it; on a soft green a back hole from 105 yd is not for the wedge that comes back; on
firm ground one lands short and lets it run.
"""

from collections.abc import Callable
from dataclasses import replace
from math import radians

import pytest

from carrybook.base.constants import FOOT, YARD
from carrybook.decision.advice import Advice, Option, Situation
from carrybook.decision.choose import choose
from carrybook.player.bag import Club, Flight, Shape, Shot
from carrybook.player.summary import ShotSummary, summarise
from carrybook.world.air import Air
from carrybook.world.described_hole import described_hole
from carrybook.world.locate import ball_behind, locate

GREEN = "30 deep, 26 wide; tilt back to front 2 %"
BACK, MIDDLE, FRONT = (f"{on} on, 13 from the right" for on in (25, 15, 5))
BAG = (
    (60, 91, "stock"), (60, 80, "low"), (56, 104, "stock"), (56, 90, "low"),
    (51, 118, "stock"), (51, 104, "low"), (47, 132, "stock"), (43, 144, "stock"), (43, 112, "low"),
)  # fmt: skip
Ask = Callable[..., Advice]


def shot(loft: int, yards: int, flight: str) -> Shot:
    carry = yards * YARD
    club = Club(str(loft), radians(loft))
    return Shot(club, Flight(flight), Shape.STRAIGHT, carry, 0.55 * carry, carry)


@pytest.fixture(scope="module")
def book() -> tuple[ShotSummary, ...]:
    """Scatter of a tour player: four per cent long and short, 1.6 degrees to the side."""
    tight = {"spread": 0.04, "side_rad": radians(1.6), "bias_se": 0.01}
    return tuple(replace(s, **tight) for s in summarise([shot(*row) for row in BAG], []))


@pytest.fixture(scope="module")
def ask(book: tuple[ShotSummary, ...]) -> Ask:
    """Ask for a number to a hole location on a green of some firmness."""

    def asked(number_yd: float, location: str, firmness_g: float, green: str = GREEN) -> Advice:
        hole = described_hole(green, "green")
        at = locate(hole, location)
        x, y = ball_behind(hole, at, number_yd * YARD)
        mild = Air(294.15, 101_325.0, 0.5)
        situation = Situation(
            hole, at, x, y, air=mild, firmness_g=firmness_g, firmness_sd_g=5.0, stimp_m=11.0 * FOOT
        )
        return choose(situation, book, facts=False)

    return asked


def as_good(advice: Advice) -> list[Option]:
    """The first option and all that do as well."""
    return [advice.options[0], *(o for o in advice.options[1:] if o.close_call)]


def test_77_yards_is_flighted_a_little_and_felt_short_of_it(ask: Ask) -> None:
    best = ask(77.0, MIDDLE, 90.0).options[0]
    assert best.summary.shot.label == "60 low"
    assert 73.0 <= best.feel_m / YARD <= 77.0


def test_88_yards_to_a_back_hole_is_flown_short_and_runs_the_rest(ask: Ask) -> None:
    for option in as_good(ask(88.0, BACK, 90.0)):
        assert 81.0 <= option.landing_m / YARD <= 88.0
        assert option.run_m > 0.0


def test_firm_ground_is_landed_on_shorter(ask: Ask) -> None:
    medium, firm = (ask(88.0, BACK, g).options[0] for g in (90.0, 118.0))
    assert firm.landing_to_hole_m > medium.landing_to_hole_m
    assert firm.landing_to_hole_m > 2.0 * YARD
    assert firm.run_m > medium.run_m


def test_a_soft_green_and_a_back_hole_take_more_club_than_the_wedge_that_comes_back(
    ask: Ask,
) -> None:
    best = ask(105.0, BACK, 70.0).options[0]
    assert best.summary.shot.club.loft_rad < radians(52.0)
    assert best.run_low_m > -1.5 * YARD


def test_a_front_hole_over_sand_is_carried_with_height(ask: Ask) -> None:
    sand = "; bunker front, 1 off, 16 by 6"
    best = ask(70.0, FRONT, 90.0, GREEN + sand).options[0]
    assert best.landing_to_hole_m < 4.0 * YARD
    assert best.descent_rad > radians(42.0)


def test_a_wedge_finishes_where_a_good_player_expects(ask: Ask) -> None:
    near = ask(70.0, MIDDLE, 80.0).options[0].near_m
    assert 6.0 <= near / FOOT <= 15.0  # 10 ft from 70 yd is a good one
