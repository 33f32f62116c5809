"""When and how a session of balls was struck, said once for all of them."""

from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum

from carrybook.world.air import Air
from carrybook.world.lie import Lie, Moisture

__all__ = ["Occasion", "PracticeOrder"]

_GOES_ON_FOR = timedelta(hours=6)  # ours: a ball after that, or so long before, is of another


class PracticeOrder(StrEnum):
    """How the targets of a session follow each other."""

    BLOCK = "block"  # the same again and again
    RANDOM = "random"  # another one each time
    UNSAID = ""


@dataclass(frozen=True, slots=True)
class Occasion:
    """A session.

    Parameters
    ----------
    begun : datetime
        When it began.
    order : PracticeOrder
        How its targets follow each other.
    setting : str
        "range", "practice green", "course" or "competition"; empty where not said.
    air : Air, optional
        The air of all its balls; none means not known.
    lie, moisture : Lie, Moisture
        Where a ball lies, and how wet it is, unless its own line says otherwise.
    ball_model : str
        As the player wrote it.
    """

    begun: datetime
    order: PracticeOrder = PracticeOrder.UNSAID
    setting: str = ""
    air: Air | None = None
    lie: Lie = Lie.FAIRWAY
    moisture: Moisture = Moisture.DRY
    ball_model: str = ""

    def holds(self, at: datetime) -> bool:
        """Whether a ball that is struck then belongs to it."""
        return abs(at - self.begun) < _GOES_ON_FOR
