"""The player's axes, and heights between the nodes of the net."""

from dataclasses import replace

import numpy as np
import pytest

from carrybook.artefacts.view import View, front_height, height_at
from carrybook.artefacts.words import METRES, YARDS
from carrybook.base.constants import YARD
from carrybook.decision.advice import Situation
from carrybook.world.ground import flat_ground


def test_the_hole_is_straight_ahead(situation: Situation) -> None:
    view = View(situation, YARDS)
    right, along = view.seen(np.array([situation.location.x]), np.array([situation.location.y]))
    assert right[0] == pytest.approx(0.0, abs=1e-9)
    assert along[0] == pytest.approx(112.0)
    assert view.number == pytest.approx(112.0)


def test_right_is_right(situation: Situation) -> None:
    """With the ball on the axis and y to the left, a point at negative y is on the right."""
    straight = replace(
        situation, ball_x=-50.0, ball_y=0.0, location=replace(situation.location, x=10.0, y=0.0)
    )
    right, along = View(straight, METRES).seen(np.array([10.0]), np.array([-3.0]))
    assert (right[0], along[0]) == pytest.approx((3.0, 60.0))


def test_turning_keeps_lengths(situation: Situation) -> None:
    points = np.random.default_rng(1).normal(size=(20, 2)) * 30.0
    seen = View(situation, YARDS).outline(points) * YARD
    apart, seen_apart = np.diff(points, axis=0), np.diff(seen, axis=0)
    assert np.hypot(*seen_apart.T) == pytest.approx(np.hypot(*apart.T))


def test_heights_of_a_plane_are_exact_and_end_at_the_net() -> None:
    ground = flat_ground(slope_x=0.02, slope_y=-0.01, extent_m=20.0)
    x, y = np.array([0.0, 3.3, -7.25, 500.0]), np.array([0.0, 1.7, 19.99, 0.0])
    exact = 0.02 * np.minimum(x, 20.0) - 0.01 * y
    assert height_at(ground, x, y) == pytest.approx(exact)
    assert front_height(ground) == pytest.approx(0.0)


def test_profile_runs_from_the_ball_to_the_hole(situation: Situation) -> None:
    view = View(situation, YARDS)
    s = situation
    ends = view.profile(np.array([0.0, 112.0]))
    x, y = np.array([s.ball_x, s.location.x]), np.array([s.ball_y, s.location.y])
    assert ends == pytest.approx(height_at(s.hole.ground, x, y))
