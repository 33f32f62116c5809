"""What is prepared for a round beside single choices: plans by zone of the green, lay-up tables.

Plain values that a card prints; whoever plans a venue fills them.
"""

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from carrybook.base.errors import BadInputError

if TYPE_CHECKING:
    from carrybook.decision.advice import Trouble

__all__ = ["LayUp", "Zone", "ZonePlan"]


class Zone(StrEnum):
    """Ninths of a green in which the hole may be cut, as the player sees them."""

    FRONT_LEFT = "front left"
    FRONT_CENTRE = "front centre"
    FRONT_RIGHT = "front right"
    MIDDLE_LEFT = "middle left"
    MIDDLE_CENTRE = "middle centre"
    MIDDLE_RIGHT = "middle right"
    BACK_LEFT = "back left"
    BACK_CENTRE = "back centre"
    BACK_RIGHT = "back right"


@dataclass(frozen=True, slots=True)
class ZonePlan:
    """What to play when the hole is cut in one zone.

    Parameters
    ----------
    hole : str
        Number of the hole on its sign.
    zone : Zone
        Where the hole is cut.
    number_m : float
        Ball to hole over the ground. [m]
    shot : str
        Label of the shot.
    feel_m : float
        What to feel. [m]
    landing_to_hole_m, landing_right_m : float
        Landing spot short of the hole, and right of the line to it. [m]
    miss : Trouble, optional
        The trouble to stay away from.
    close_call : bool
        Another shot does not separate from this one.
    """

    hole: str
    zone: Zone
    number_m: float
    shot: str
    feel_m: float
    landing_to_hole_m: float
    landing_right_m: float
    miss: "Trouble | None" = None
    close_call: bool = False


@dataclass(frozen=True, slots=True)
class LayUp:
    """Expected strokes to hole out against the distance that is left.

    Parameters
    ----------
    hole : str
        Number of the hole on its sign.
    left_m : tuple of float
        Distances left to the hole. [m]
    strokes, strokes_se : tuple of float
        Expected strokes from each, and standard error. [1]
    flat_low_m, flat_high_m : float
        Between these the choice does not matter. [m]
    note : str
        What to keep clear of, in a few words.

    Raises
    ------
    BadInputError
        Lists of different lengths, or empty ones.
    """

    hole: str
    left_m: tuple[float, ...]
    strokes: tuple[float, ...]
    strokes_se: tuple[float, ...]
    flat_low_m: float
    flat_high_m: float
    note: str = ""

    def __post_init__(self) -> None:
        lengths = {len(self.left_m), len(self.strokes), len(self.strokes_se)}
        if len(lengths) != 1 or 0 in lengths:
            raise BadInputError(
                f"lay-up table of hole {self.hole}: {len(self.left_m)} distances,"
                f" {len(self.strokes)} strokes and {len(self.strokes_se)} standard errors;"
                " there must be as many of each, and at least one"
            )
