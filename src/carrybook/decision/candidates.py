"""What could be played: every shot the player owns, over partials, landing spots and aims."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import atan2, cos, hypot, sin

import numpy as np

from carrybook.base.constants import YARD
from carrybook.base.numerics import Floats
from carrybook.decision.advice import Situation
from carrybook.outcomes.simulate import World
from carrybook.outcomes.swing import Swing, swings_of
from carrybook.physics.flight import body_row, level_carries, wind_row
from carrybook.physics.solve import solve_landings
from carrybook.physics.strike import lie_effect, off_this_lie
from carrybook.physics.terrain import height
from carrybook.player.summary import ShotSummary
from carrybook.world.ground import Surface

__all__ = [
    "ASIDES",
    "DEPTHS",
    "Candidate",
    "Spot",
    "build",
    "build_around",
    "landing_point",
    "spots_over",
    "world_of",
]

# Ours: how far from the hole a landing spot is tried, and how finely, before the finer second look.
DEPTHS = np.arange(-25.0, 13.0, 2.5) * YARD
# Ours: wind, height and lie can take this off the shortest and add this to the longest carry.
_WIND_ROOM = np.array([0.65, 1.35])
ASIDES = np.array([-10.0, -7.0, -4.0, -2.0, 0.0, 2.0, 4.0, 7.0, 10.0]) * YARD


@dataclass(frozen=True, slots=True)
class Spot:
    """A landing spot relative to the hole: depth past it along the line, and right of it. [m]"""

    past_m: float
    right_m: float


@dataclass(frozen=True, slots=True)
class Candidate:
    """A shot, a landing spot, and the swing that lands it there today.

    Parameters
    ----------
    summary : ShotSummary
        The shot.
    spot : Spot
        Where it is meant to land.
    swing : Swing
        Reference carry and start line.
    feel_m : float
        What to feel, on the player's own scale. [m]
    solved : ndarray, shape (8,)
        The middle ball's flight, columns :data:`carrybook.physics.solve.SOLVED_ROW`.
    """

    summary: ShotSummary
    spot: Spot
    swing: Swing
    feel_m: float
    solved: Floats


def world_of(situation: Situation) -> World:
    """Put a situation into the terms of the simulation.

    Raises
    ------
    BadInputError
        A lie that is not modelled.
    """
    ground = situation.hole.ground
    start_z = height(ground, situation.ball_x, situation.ball_y)
    hole = (situation.location.x, situation.location.y)
    line = -atan2(hole[1] - situation.ball_y, hole[0] - situation.ball_x)
    return World(
        ground=ground,
        start=np.array([situation.ball_x, situation.ball_y, start_z]),
        hole=hole,
        line_right_rad=line,
        air=situation.air,
        wind=situation.wind,
        wind_level_m=min(start_z, height(ground, *hole)),
        lie=lie_effect(situation.lie, situation.moisture),
        firmness_g=situation.firmness_g,
        firmness_sd_g=situation.firmness_sd_g,
        stimp_m=situation.stimp_m,
        kind=situation.kind,
    )


def spots_over(
    past: Sequence[float] | Floats = DEPTHS, aside: Sequence[float] | Floats = ASIDES
) -> list[Spot]:
    """Every combination of depths and asides, in metres."""
    return [Spot(float(p), float(a)) for p in past for a in aside]


def build(
    world: World, situation: Situation, summary: ShotSummary, spots: Sequence[Spot]
) -> list[Candidate]:
    """Candidates of one shot: the spots it can reach with a partial it may be used for.

    Parameters
    ----------
    world : World
        From :func:`world_of`.
    situation : Situation
        What was asked.
    summary : ShotSummary
        The shot.
    spots : sequence of Spot
        Landing spots to try; those in water, out of bounds or out of reach are left out.

    Returns
    -------
    candidates : list of Candidate
        In the order of `spots`.
    """
    targets, kept = _targets(world, situation, summary, spots)
    if not kept:
        return []
    launch, ratio = summary.launch_rad, summary.spin_per_speed
    struck_launch, struck_ratio = off_this_lie(launch, ratio, world.lie.spin[1])
    n = len(kept)
    solved = solve_landings(
        targets,
        np.tile([struck_launch, struck_ratio, summary.curve.axis_rad], (n, 1)),
        body_row(world.air),
        summary.ball.best.row()[None, :],
        np.zeros(n, dtype=np.int64),
        wind_row(world.wind, world.line_right_rad, world.wind_level_m - world.start[2]),
    )
    reached = np.flatnonzero(solved[:, 7] > 0.0)
    playing = level_carries(
        solved[reached, 0] / world.lie.speed[1], launch, ratio,
        aerodynamics=summary.ball.best, axis_rad=summary.curve.axis_rad,
    )  # fmt: skip
    feel = summary.felt_for(playing)
    fits = (feel >= summary.shot.shortest_m) & (feel <= summary.shot.longest_m)
    rows = reached[fits]
    swings = swings_of(summary, playing[fits], solved[rows, 1])
    return [
        Candidate(summary, kept[k], swing, float(felt), solved[k])
        for k, swing, felt in zip(rows, swings, feel[fits], strict=True)
    ]


def build_around(
    world: World, situation: Situation, candidate: Candidate, offsets_m: Sequence[float] | Floats
) -> list[Candidate]:
    """The same shot landed a little beside its spot too; the candidate alone where none can be.

    Parameters
    ----------
    world : World
        From :func:`world_of`.
    situation : Situation
        What was asked.
    candidate : Candidate
        The shot and its spot.
    offsets_m : sequence of float
        How far from the spot, in depth and to the side. [m]
    """
    spot = candidate.spot
    near = [Spot(spot.past_m + p, spot.right_m + a) for p in offsets_m for a in offsets_m]
    return build(world, situation, candidate.summary, near) or [candidate]


def landing_point(world: World, spot: Spot) -> tuple[float, float]:
    """A landing spot in the axes of the hole. [m]"""
    c, s = cos(world.line_right_rad), sin(world.line_right_rad)
    x = world.hole[0] + spot.past_m * c - spot.right_m * s
    y = world.hole[1] - spot.past_m * s - spot.right_m * c
    return x, y


def _targets(
    world: World, situation: Situation, summary: ShotSummary, spots: Sequence[Spot]
) -> tuple[Floats, list[Spot]]:
    """Distance, bearing and height of every spot worth solving for."""
    rows, kept = [], []
    felt = np.array([summary.shot.shortest_m, summary.shot.longest_m])
    shortest, longest = summary.reference_for(felt) * _WIND_ROOM
    for spot in spots:
        x, y = landing_point(world, spot)
        dx, dy = x - situation.ball_x, y - situation.ball_y
        distance = hypot(dx, dy)
        dry = world.ground.surface_at(x, y) not in (Surface.WATER, Surface.OUT_OF_BOUNDS)
        if dry and shortest <= distance <= longest:
            rise = height(world.ground, x, y) - world.start[2]
            rows.append((distance, -atan2(dy, dx), rise))
            kept.append(spot)
    return np.array(rows).reshape(-1, 3), kept
