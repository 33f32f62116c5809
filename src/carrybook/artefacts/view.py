"""A hole as the player sees it from the ball, in their units: along to the hole, right of it.

Heights are read off the control net of the ground, which lies close enough to the surface for the
eye; nothing here is precise enough to compute a shot with.
"""

from dataclasses import dataclass

import numpy as np

from carrybook.artefacts.words import Units
from carrybook.base.numerics import Floats
from carrybook.decision.advice import Situation
from carrybook.world.ground import Ground

__all__ = ["View", "front_height", "height_at"]


@dataclass(frozen=True, slots=True)
class View:
    """One situation as the player sees it.

    Parameters
    ----------
    situation : Situation
        Ball, hole and ground.
    units : Units
        Units of everything that comes out.
    """

    situation: Situation
    units: Units

    @property
    def number(self) -> float:
        """Distance from ball to hole, in units.far."""
        return self.situation.number_m / self.units.far_m

    @property
    def toward(self) -> Floats:
        """Unit vector from ball to hole in the axes of the hole, shape (2,)."""
        s = self.situation
        return np.array([s.location.x - s.ball_x, s.location.y - s.ball_y]) / s.number_m

    def seen(self, x: Floats, y: Floats) -> tuple[Floats, Floats]:
        """Turn points of the hole's axes [m] into (right, along), in units.far."""
        dx, dy = x - self.situation.ball_x, y - self.situation.ball_y
        tx, ty = self.toward
        far_m = self.units.far_m
        return (dx * ty - dy * tx) / far_m, (dx * tx + dy * ty) / far_m

    def outline(self, points: Floats) -> Floats:
        """Turn an outline, shape (n, 2), into (right, along) pairs, in units.far."""
        return np.column_stack(self.seen(points[:, 0], points[:, 1]))

    def profile(self, along: Floats) -> Floats:
        """Height of the ground below the line from ball to hole, and beyond it, in metres."""
        s, metres = self.situation, along * self.units.far_m
        tx, ty = self.toward
        return height_at(s.hole.ground, s.ball_x + tx * metres, s.ball_y + ty * metres)


def height_at(ground: Ground, x: Floats, y: Floats) -> Floats:
    """Interpolate the control heights between nodes; beyond the net the edge counts."""
    last_i, last_j = (n - 1 for n in ground.heights.shape)
    u = np.clip((x - ground.x0) / ground.step, 0.0, last_i)
    v = np.clip((y - ground.y0) / ground.step, 0.0, last_j)
    i = np.minimum(u.astype(int), last_i - 1)
    j = np.minimum(v.astype(int), last_j - 1)
    p, q = u - i, v - j
    z = ground.heights
    near = (1.0 - q) * z[i, j] + q * z[i, j + 1]
    far = (1.0 - q) * z[i + 1, j] + q * z[i + 1, j + 1]
    return np.asarray((1.0 - p) * near + p * far)


def front_height(ground: Ground) -> float:
    """Height of the front edge of the green, where the axes of the hole start, in metres."""
    return float(height_at(ground, np.zeros(1), np.zeros(1))[0])
