"""What would change a shot: signs of common practice, ranges, mirror, the stock shot untouched."""

from dataclasses import fields
from math import radians

import pytest

from carrybook.base.constants import YARD
from carrybook.base.errors import NoSolutionError, OutOfRangeError
from carrybook.player.bag import Club, Flight, Shape, Shot
from carrybook.player.summary import ShotSummary, summarise
from carrybook.player.whatif import Effect, Explained, Question, Sizes, WhatIf, explain
from carrybook.world.air import Air


def summary(loft: float, carry_yd: float) -> ShotSummary:
    carry = carry_yd * YARD
    club = Club(f"{loft:.0f}", radians(loft))
    return summarise([Shot(club, Flight.STOCK, Shape.STRAIGHT, carry, 0.6 * carry, carry)], [])[0]


SHOTS = [summary(60, 70), summary(54, 82), summary(48, 115)]
ALL = [explain(s) for s in SHOTS]
EFFECTS = [f.name for f in fields(WhatIf) if f.name not in ("name", "question")]


def row(explained: Explained, start: str) -> WhatIf:
    (found,) = (r for r in explained.rows if r.name.startswith(start))
    return found


@pytest.mark.parametrize("explained", ALL)
def test_the_stock_shot_is_the_players_own(explained: Explained) -> None:
    stock = explained.stock
    assert stock.carry_m.value == pytest.approx(explained.summary.stock_m, abs=2e-3)
    assert stock.launch_rad.value == explained.summary.launch_rad
    assert all(getattr(stock, name).change == 0.0 for name in EFFECTS)
    assert stock.release_m.low < 0.0 < stock.release_m.high  # what lift and drag leave open


@pytest.mark.parametrize("explained", ALL)
def test_every_change_lies_within_its_range(explained: Explained) -> None:
    assert [r.question for r in explained.rows] == (
        4 * [Question.LIE] + 3 * [Question.DELIVERY] + 2 * [Question.SHAPE]
    )
    for r in explained.rows:
        for name in EFFECTS:
            effect: Effect = getattr(r, name)
            assert effect.low <= effect.change <= effect.high
            stock: Effect = getattr(explained.stock, name)
            assert effect.value - stock.value == pytest.approx(effect.change, abs=1e-9)
        assert r.carry_m.low < r.carry_m.high  # never a bare number


# Signs below are common practice, no source; sizes are ours.


@pytest.mark.parametrize("explained", ALL)
def test_wet_and_rough_launch_higher_with_less_spin_and_release_more(explained: Explained) -> None:
    for name in ("dew", "wet", "light rough", "deep rough"):
        r = row(explained, name)
        assert r.launch_rad.low > 0.0 > r.spin_rad_s.high
        assert r.release_m.change > 0.0
        assert r.release_m.low > -0.1  # less spin, but steeper too: with little dew they cancel
        assert r.curve_right_m == Effect(0.0, 0.0, 0.0, 0.0)
    dew, wet = row(explained, "dew"), row(explained, "wet")
    assert wet.spin_rad_s.change < dew.spin_rad_s.change
    assert wet.release_m.change > dew.release_m.change


@pytest.mark.parametrize("explained", ALL)
def test_ball_back_flies_lower_and_runs_and_an_open_face_does_the_opposite(
    explained: Explained,
) -> None:
    back, opened = row(explained, "back"), row(explained, "forward")
    for less, more in ((back, opened), (row(explained, "turned"), row(explained, "slid"))):
        assert less.launch_rad.high < 0.0 < more.launch_rad.low
        assert less.spin_rad_s.high < 0.0 < more.spin_rad_s.low
        assert less.carry_m.low > 0.0 > more.carry_m.high
        assert less.descent_rad.change < 0.0 < more.descent_rad.change
        assert less.release_m.low > 0.0 > more.release_m.high


@pytest.mark.parametrize("explained", ALL)
def test_a_shorter_finish_carries_less_with_less_spin(explained: Explained) -> None:
    r = row(explained, "shorter")
    assert r.carry_m.high < 0.0
    assert r.spin_rad_s.high < 0.0
    assert r.apex_m.high < 0.0


@pytest.mark.parametrize("explained", ALL)
def test_a_draw_starts_right_curves_left_and_runs_a_cut_is_soft(explained: Explained) -> None:
    draw, cut = row(explained, "turned"), row(explained, "slid")
    assert draw.start_right_rad.low > 0.0 > draw.curve_right_m.high
    assert cut.start_right_rad.high < 0.0 < cut.curve_right_m.low
    assert draw.release_m.value > explained.stock.release_m.value > cut.release_m.value


@pytest.mark.parametrize("shot", SHOTS)
def test_a_left_hander_is_the_exact_mirror(shot: ShotSummary) -> None:
    right, left = explain(shot), explain(shot, left_handed=True)
    for here, there in zip(right.rows, left.rows, strict=True):
        for name in EFFECTS:
            a, b = getattr(here, name), getattr(there, name)
            if name in ("start_right_rad", "curve_right_m"):
                b = Effect(-b.value, -b.change, -b.high, -b.low)
            for part in ("value", "change", "low", "high"):
                assert getattr(a, part) == pytest.approx(getattr(b, part), abs=1e-9)


def test_sizes_are_the_callers_to_choose() -> None:
    nothing = (0.0, 0.0, 0.0)
    still = explain(SHOTS[1], sizes=Sizes(nothing, nothing, (1.0, 1.0, 1.0), nothing, nothing))
    for start in ("back", "forward", "shorter", "turned"):
        for name in EFFECTS:
            assert getattr(row(still, start), name).change == pytest.approx(0.0, abs=1e-6)
    harder = explain(SHOTS[1], sizes=Sizes(ball_back_rad=(radians(-6.0),) * 3))
    assert row(harder, "back").launch_rad.change < row(ALL[1], "back").launch_rad.change


def test_thin_air_moves_the_stock_shot_and_firm_greens_release_more() -> None:
    high = explain(SHOTS[2], Air(293.15, 84_000.0, 0.3))
    assert high.stock.carry_m.value > SHOTS[2].stock_m + 1.0
    firm = explain(SHOTS[2], firmness_g=120.0)
    assert row(firm, "wet").release_m.value > row(ALL[2], "wet").release_m.value


def test_a_change_that_no_strike_makes_is_left_out_and_named() -> None:
    explained = explain(summary(7, 150))
    assert "back, hands ahead" in explained.left_out
    assert row(explained, "wet").carry_m.value > 0.0


def test_bad_input_is_one_clear_line() -> None:
    with pytest.raises(OutOfRangeError, match=r"^change of loft, ball back, = -20 deg is outside"):
        Sizes(ball_back_rad=(0.0, 0.0, radians(-20.0)))
    with pytest.raises(OutOfRangeError, match=r"^club speed of a shorter finish = 1.2 is outside"):
        Sizes(shorter=(0.9, 0.8, 1.2))
    with pytest.raises(OutOfRangeError, match=r"^firmness = 900 g"):
        explain(SHOTS[0], firmness_g=900.0)
    with pytest.raises(NoSolutionError, match=r"^no flight carries 60 its 200 yd"):
        explain(summary(60, 200))
