"""Where hole and ball were dragged to, in the words that a person would have typed."""

from dataclasses import dataclass
from math import degrees
from pathlib import Path
from typing import TYPE_CHECKING

from carrybook.base.constants import YARD

if TYPE_CHECKING:
    from carrybook.world.hole import Hole

__all__ = ["Place", "default_location", "holes_on", "place_at"]


@dataclass(frozen=True, slots=True)
class Place:
    """Hole and ball as typed: "24.3 on, 5.1 from the left", "88.4yd", "3.2deg"."""

    hole_location: str
    number: str
    off_line: str
    off_line_deg: float


def holes_on(map_path: Path) -> tuple[str, ...]:
    """Numbers of the holes on a map; none on a description, which is one green.

    Raises
    ------
    BadInputError
        The file cannot be read as a map.
    """
    from carrybook.world.hole_map import list_holes

    return () if map_path.suffix == ".txt" else list_holes(map_path)


def default_location(hole: "Hole") -> str:
    """The middle of a green, where nobody has said anything yet."""
    deep = float(hole.green[:, 0].max() - hole.green[:, 0].min())
    return f"{deep / 2.0 / YARD:.0f} on, centre"


def place_at(
    hole: "Hole",
    hole_location: str,
    *,
    hole_at: tuple[float, float] | None,
    ball_at: tuple[float, float],
    metres: bool,
) -> Place:
    """Put dragged places into words.

    Parameters
    ----------
    hole : Hole
        The hole.
    hole_location : str
        As it was typed; stands where the hole was not dragged.
    hole_at : tuple of float, optional
        Where the hole was dragged to, in the axes of the hole. [m]
    ball_at : tuple of float
        Where the ball lies, in the axes of the hole. [m]
    metres : bool
        Whether the number is told in metres.

    Raises
    ------
    BadInputError
        A place that cannot be.
    """
    from carrybook.world.locate import locate, number_from, words_at

    words = hole_location if hole_at is None else words_at(hole, *hole_at)
    number_m, off_rad = number_from(locate(hole, words), *ball_at)
    number = f"{round(number_m, 1):g}m" if metres else f"{round(number_m / YARD, 1):g}yd"
    return Place(words, number, f"{degrees(off_rad):.1f}deg", degrees(off_rad))
