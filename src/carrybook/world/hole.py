"""One hole as the approach shot sees it: ground, outline of the green, where the hole is cut."""

from dataclasses import dataclass

from carrybook.base.numerics import Floats
from carrybook.world.ground import Ground
from carrybook.world.shape import HeightDoubt

__all__ = ["UNNUMBERED", "Hole", "HoleLocation"]

UNNUMBERED = "?"  # `ref` of a described hole whose number nobody said


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
    bearing_rad : float or None
        Direction of the approach over the map, clockwise from north; None where nobody said. [rad]
    attribution : str
        Who must be credited for the map data; empty where nobody.
    heights_known : bool, default True
        Whether anything is known of the heights; if not, the ground is taken as level.
    doubt : HeightDoubt, optional
        Standard errors of the heights, where they are known.
    notes : tuple of str
        What a person should know of where all this comes from, a sentence each.
    front_number_m : float, optional
        Front edge number: from the ball to the front edge, along the approach. [m]
    location_words : str
        Where the hole is cut, in the words of :func:`carrybook.world.locate.locate`; empty where
        nobody said.
    """

    venue: str
    ref: str
    par: int
    ground: Ground
    green: Floats
    areas: tuple[tuple[str, Floats], ...]
    bearing_rad: float | None
    attribution: str = ""
    heights_known: bool = True
    doubt: HeightDoubt | None = None
    notes: tuple[str, ...] = ()
    front_number_m: float | None = None
    location_words: str = ""
