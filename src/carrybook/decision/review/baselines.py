"""What strokes are counted against: a tour player, or a rival whose averages a file holds."""

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from carrybook.base.errors import BadInputError
from carrybook.base.numerics import Floats
from carrybook.outcomes.baseline import strokes_from
from carrybook.outcomes.off_green import FROM_FRINGE, strokes_off_green
from carrybook.outcomes.putting import expected_putts
from carrybook.player.round_shots import Rest
from carrybook.world.ground import Surface
from carrybook.world.lie import Lie

__all__ = ["GREEN", "TOUR_BASELINE", "Baseline"]

GREEN = "green"  # what putts go by among the lies of a baseline
_FEWEST_ROWS = 2
_ON = {
    Rest.GREEN: Surface.GREEN,
    Rest.FRINGE: Surface.FRINGE,
    Rest.FAIRWAY: Surface.FAIRWAY,
    Rest.ROUGH: Surface.ROUGH,
    Rest.BUNKER: Surface.BUNKER,
    Rest.WATER: Surface.WATER,
    Rest.OUT_OF_BOUNDS: Surface.OUT_OF_BOUNDS,
}


@dataclass(frozen=True, slots=True)
class Baseline:
    """Average strokes to hole out by lie and distance.

    Parameters
    ----------
    name : str
        Whose.
    tables : mapping of str to ndarray of shape (n, 2)
        By lie, or "green": distances [m], rising, and strokes from there [1]; what is missing is a
        tour player's.

    Raises
    ------
    BadInputError
        A table of fewer than two rows, distances that do not rise, or less than one stroke.
    """

    name: str
    tables: Mapping[str, Floats] = field(default_factory=dict)

    def __post_init__(self) -> None:
        for lie, table in self.tables.items():
            where = f"baseline {self.name}, {lie}"
            if lie not in {*Lie, GREEN}:
                raise BadInputError(f"{where}: a lie is one of: {', '.join(Lie)}, {GREEN}")
            if len(table) < _FEWEST_ROWS:
                raise BadInputError(f"{where}: one distance is not enough; give two at least")
            if not (np.diff(table[:, 0]) > 0.0).all():
                raise BadInputError(f"{where}: a distance is there twice")
            if table[:, 1].min() < 1.0 or table[:, 1].max() > 10.0:
                raise BadInputError(f"{where}: average strokes are 1 to 10")

    def from_lie(self, lie: Lie, distance_m: Floats) -> Floats:
        """Strokes from off the green; beyond the ends of a table its ends count. [1]

        Parameters
        ----------
        lie : Lie
            Where the ball lies.
        distance_m : ndarray, shape (...)
            To the hole. [m]
        """
        table = self.tables.get(lie)
        if table is None:
            return strokes_from(lie, distance_m)
        return np.asarray(np.interp(distance_m, table[:, 0], table[:, 1]))

    def putts(self, distance_m: Floats) -> Floats:
        """Putts from a distance on the level. [1]

        Parameters
        ----------
        distance_m : ndarray, shape (...)
            To the hole. [m]
        """
        table = self.tables.get(GREEN)
        if table is None:
            return expected_putts(distance_m)
        return np.asarray(
            np.interp(distance_m, np.append(0.0, table[:, 0]), np.append(1.0, table[:, 1]))
        )

    def on_surface(self, surface: Surface, distance_m: Floats) -> Floats:
        """Strokes from a ball at rest on a surface. [1]

        Parameters
        ----------
        surface : Surface
            Water and out of bounds: one penalty stroke more than rough from there.
        distance_m : ndarray, shape (...)
            To the hole. [m]
        """
        if surface in (Surface.GREEN, Surface.FRINGE):
            extra = FROM_FRINGE if surface is Surface.FRINGE else 0.0
            return np.asarray(self.putts(distance_m) + extra)
        on = np.full(np.shape(distance_m), surface)
        return strokes_off_green(on, distance_m, self.from_lie)

    def from_rest(self, rest: Rest, distance_m: float) -> float:
        """Strokes from where a ball finished; none where it was holed. [1]

        Parameters
        ----------
        rest : Rest
            What it lies on.
        distance_m : float
            To the hole. [m]
        """
        if rest is Rest.HOLED:
            return 0.0
        return float(self.on_surface(_ON[rest], np.array([distance_m]))[0])


TOUR_BASELINE = Baseline("tour")
