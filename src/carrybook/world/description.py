"""What a yardage book says of a green, as plain values in metres.

Depth counts from the front edge; x on, y to the left as the player sees it.
"""

from dataclasses import dataclass

__all__ = ["Described", "FalseFront", "Mound", "RunOff", "Tier", "Trouble"]


@dataclass(frozen=True, slots=True)
class Tier:
    """A step in the green, across the line of approach or along it.

    Parameters
    ----------
    at_m : float
        Where its face starts: from the front edge, or from the `side` edge inwards. [m]
    rise_m : float
        From foot to brow of the face, tilt included; negative drops. [m]
    over_m : float
        Length of the face. [m]
    side : str
        "" for a step across the approach; "left" or "right" for one along it.
    part : str
        Which part of the width has it: "", "left", "right".
    share : float
        How much of the width that is. [1]
    """

    at_m: float
    rise_m: float
    over_m: float
    side: str = ""
    part: str = ""
    share: float = 1.0


@dataclass(frozen=True, slots=True)
class FalseFront:
    """A front that feeds the ball off the green: its depth [m] and its slope [1]."""

    deep_m: float
    slope: float


@dataclass(frozen=True, slots=True)
class RunOff:
    """Ground that falls away from the edge of the green.

    Parameters
    ----------
    side : tuple of float
        Direction from the middle of the green, x on and y left.
    drop_m, over_m : float
        How far it falls, and over which distance from the edge. [m]
    surface : str
        "fairway" or "rough".
    """

    side: tuple[float, float]
    drop_m: float
    over_m: float
    surface: str


@dataclass(frozen=True, slots=True)
class Mound:
    """A mound, or a hollow where its height is negative.

    Parameters
    ----------
    place : str
        Its middle, in the words of a hole location.
    high_m, across_m : float
        Height and width. [m]
    """

    place: str
    high_m: float
    across_m: float


@dataclass(frozen=True, slots=True)
class Trouble:
    """A bunker, water, out of bounds, a path, rough or fairway beside the green.

    Parameters
    ----------
    kind : str
        As the areas of a hole.
    side : tuple of float
        Direction from the middle of the green, x on and y left.
    off_m : float
        From the edge of the green to its nearest edge. [m]
    along_m, away_m : float
        Size along the edge of the green and away from it; 0 where nobody said. [m]
    on_m : float, optional
        Depth of its middle from the front edge; else the direction says. [m]
    band : bool
        Runs all along that side.
    """

    kind: str
    side: tuple[float, float]
    off_m: float
    along_m: float = 0.0
    away_m: float = 0.0
    on_m: float | None = None
    band: bool = False


@dataclass(frozen=True, slots=True)
class Described:
    """All that a description says.

    Parameters
    ----------
    venue, ref, par : str, str, int
        Names; par 0 where nobody said.
    deep_m, wide_m : float
        Size of the green; 0 where an outline is given. [m]
    outline : tuple of (float, float)
        Depth and left of the approach of the corners; empty where the size is given. [m]
    slope : tuple of float
        Overall tilt: rise over run along x and y. [1]
    tiers, mounds, run_offs, troubles : tuple
        Features, in the order of the lines.
    false_front : FalseFront, optional
        The false front.
    around, fairway_m : str, float
        What lies around; width of a fairway in front, 0 for none. [m]
    fringe_m : float
        Width of the fringe. [m]
    bearing_rad, front_number_m, location_words
        As the fields of :class:`carrybook.world.hole.Hole`.
    """

    venue: str = "Described green"
    ref: str = ""
    par: int = 0
    deep_m: float = 0.0
    wide_m: float = 0.0
    outline: tuple[tuple[float, float], ...] = ()
    slope: tuple[float, float] = (0.0, 0.0)
    tiers: tuple[Tier, ...] = ()
    mounds: tuple[Mound, ...] = ()
    run_offs: tuple[RunOff, ...] = ()
    troubles: tuple[Trouble, ...] = ()
    false_front: FalseFront | None = None
    around: str = "rough"
    fairway_m: float = 0.0
    fringe_m: float = 1.0
    bearing_rad: float | None = None
    front_number_m: float | None = None
    location_words: str = ""
