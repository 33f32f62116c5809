"""Scores of balls against closed forms and what was to be expected."""

import numpy as np
import pytest

from carrybook.decision.practise.scoring import score, summarise
from carrybook.outcomes.plain_green import misses, strokes_after
from carrybook.player.level import Scatter

OWN, BASE = Scatter(0.05, 0.035), Scatter(0.04, 0.03)


def test_a_miss_is_depth_and_side_together() -> None:
    ball = score(80.0, 77.0, 4.0, own=OWN, base=BASE, called_m=79.0)
    assert ball.percent == pytest.approx(100.0 * 5.0 / 80.0)
    assert ball.long_m == pytest.approx(-3.0)
    assert ball.strokes == pytest.approx(1.0 + float(strokes_after(np.array(5.0))))
    assert ball.called_off_m == pytest.approx(2.0)


def test_without_a_side_what_is_expected_has_none_either() -> None:
    both, depth = (score(80.0, 77.0, side, own=OWN, base=BASE) for side in (0.0, None))
    assert both.percent == depth.percent
    assert depth.own_percent < both.own_percent
    assert depth.base_strokes < both.base_strokes
    assert depth.called_off_m is None


def test_balls_as_expected_are_neither_better_nor_worse() -> None:
    """Carry errors that stand for all of a player leave no strokes over the player's own book."""
    errors = misses(80.0, OWN, side=False)
    balls = [score(80.0, 80.0 + e, None, own=OWN, base=BASE) for e in errors[::7]]
    found = summarise(balls)
    assert found is not None
    assert found.over_own.mean == pytest.approx(0.0, abs=3.0 * (found.over_own.se or 0.0))
    assert found.percent.mean == pytest.approx(found.own_percent, rel=0.1)
    assert found.over_base.mean > found.over_own.mean


def test_a_summary_counts_and_has_errors_where_it_can() -> None:
    one = summarise([score(80.0, 84.0, None, own=OWN, base=BASE)])
    assert one is not None
    assert (one.balls, one.with_side, one.calls, one.called) == (1, 0, 0, None)
    assert one.percent.se is None
    assert one.long.mean == pytest.approx(5.0)
    two = summarise([score(80.0, c, 1.0, own=OWN, base=BASE, called_m=80.0) for c in (76.0, 84.0)])
    assert two is not None
    assert two.called is not None
    assert two.called.mean == pytest.approx(0.0)
    assert two.called.se == pytest.approx(4.0)
    assert (two.with_side, two.calls) == (2, 2)
    assert summarise([]) is None
