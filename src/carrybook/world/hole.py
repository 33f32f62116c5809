"""One hole as the approach shot sees it: ground, outline of the green, where the hole is cut."""

from dataclasses import dataclass

from carrybook.base.numerics import Floats
from carrybook.world.ground import Ground

__all__ = ["Hole", "HoleLocation"]


@dataclass(frozen=True, slots=True)
class HoleLocation:
    """Where the hole is cut.

    Parameters
    ----------
    x, y : float
        In the axes of the hole (x along the approach, y left; x = 0 is the front edge). [m]
    on_m : float
        Depth from the front-most point of the green. [m]
    from_left_m, from_right_m : float
        Distance to the side edges of the green at that depth. [m]
    behind_m : float
        Room from the hole straight back to the edge. [m]
    """

    x: float
    y: float
    on_m: float
    from_left_m: float
    from_right_m: float
    behind_m: float


@dataclass(frozen=True, slots=True)
class Hole:
    """A hole of a venue in its own axes.

    Parameters
    ----------
    venue : str
        Name of the venue.
    ref : str
        Number of the hole as painted on its sign.
    par : int
        Par, or 0 where the map does not say.
    ground : Ground
        Heights and surfaces.
    green : ndarray, shape (n, 2)
        Outline of the green, counter-clockwise, not closed. [m]
    areas : tuple of (str, ndarray of shape (n, 2))
        Outlines of everything else drawn on the map: ("bunker", ...), ("water", ...). [m]
    bearing_rad : float
        Direction of the approach over the map, clockwise from north. [rad]
    attribution : str
        Who must be credited for the map data; empty where nobody.
    heights_known : bool, default True
        Whether the heights come from a survey; if not, the ground is taken as level.
    """

    venue: str
    ref: str
    par: int
    ground: Ground
    green: Floats
    areas: tuple[tuple[str, Floats], ...]
    bearing_rad: float
    attribution: str = ""
    heights_known: bool = True
