"""The day and the greens that a bag is held against: invented ones, or those of a course."""

from dataclasses import dataclass
from functools import cache

import numpy as np

from carrybook.base.constants import FOOT, YARD
from carrybook.decision.bag_fit.swings import endless
from carrybook.outcomes.simulate import World
from carrybook.outcomes.value_map import ValueMap, invented_green
from carrybook.physics.strike import lie_effect
from carrybook.world.air import REFERENCE_DAY, Air
from carrybook.world.faced import FacedShot
from carrybook.world.ground import Surface
from carrybook.world.lie import Lie, Moisture
from carrybook.world.wind import CALM, Wind

__all__ = ["Greens"]

# Ours: where holes are cut, behind the middle of the green; aims left of the hole on a real one.
_HOLES = (-8.0 * YARD, 0.0, 8.0 * YARD)
_ASIDES = (0.0, -6.0 * YARD, -3.0 * YARD, 3.0 * YARD, 6.0 * YARD)
_FAR = (-1.0e4, 0.0)


@dataclass(frozen=True, slots=True)
class Greens:
    """The day and the greens of all places.

    Parameters
    ----------
    air : Air
        The air.
    firmness_g, firmness_sd_g : float
        Where a place does not say its own, and how unsure it is. [Clegg gravities]
    stimp_m : float
        Green speed. [m]
    holes_m : tuple of float
        Where holes are cut, behind the middle of the green; each as often as the others. [m]
    wind : Wind
        Along every line.
    course : tuple of ValueMap
        Real greens, each with its hole; none: invented ones.
    where : tuple of str
        Of each real green, which hole of the course it is and where that is cut: "4 front".
    """

    air: Air = REFERENCE_DAY
    firmness_g: float = 90.0
    firmness_sd_g: float = 10.0
    stimp_m: float = 10.0 * FOOT
    holes_m: tuple[float, ...] = _HOLES
    wind: Wind = CALM
    course: tuple[ValueMap, ...] = ()
    where: tuple[str, ...] = ()

    def where_of(self, place: FacedShot) -> str:
        """Which hole a shot goes to, and where it is cut; empty on an invented green.

        Parameters
        ----------
        place : FacedShot
            The shot.
        """
        return self.where[place.green] if self.where else ""

    def maps(self) -> list[list[ValueMap]]:
        """The maps of each green; an invented one has a map for each place of the hole."""
        if self.course:
            return [[each] for each in self.course]
        return [_invented(self.holes_m, self.stimp_m)]

    @property
    def asides_m(self) -> tuple[float, ...]:
        """How far left of the hole may be aimed. [m]"""
        return _ASIDES if self.course else _ASIDES[:1]

    def world(self, lie: Lie, moisture: Moisture, firmness_g: float) -> World:
        """Endless green of a firmness, and the strike off a lie.

        Parameters
        ----------
        lie, moisture : Lie, Moisture
            What the ball lies on.
        firmness_g : float
            Of the green. [Clegg gravities]
        """
        return World(
            ground=endless(Surface.GREEN), start=np.zeros(3), hole=_FAR, line_right_rad=0.0,
            air=self.air, wind=self.wind, wind_level_m=0.0, lie=lie_effect(lie, moisture),
            firmness_g=firmness_g, firmness_sd_g=self.firmness_sd_g, stimp_m=self.stimp_m,
        )  # fmt: skip


@cache
def _invented(holes_m: tuple[float, ...], stimp_m: float) -> list[ValueMap]:
    return [invented_green(hole, stimp_m=stimp_m) for hole in holes_m]
