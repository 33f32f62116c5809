"""What moved the carries since the reference day: how much the air, how much the lie."""

from collections.abc import Sequence
from dataclasses import dataclass

from carrybook.player.numbers import TodayNumber, numbers_today
from carrybook.player.summary import ShotSummary
from carrybook.world.air import Air
from carrybook.world.lie import Lie, Moisture

__all__ = ["Moved", "moved_today"]


@dataclass(frozen=True, slots=True)
class Moved:
    """One shot's carry today against the reference day, in two parts that sum exactly.

    Parameters
    ----------
    number : TodayNumber
        Both carries.
    air_m : float
        What today's air adds to a clean dry strike; negative carries less. [m]
    lie_m : float
        What lie and moisture add to that, in today's air. [m]
    """

    number: TodayNumber
    air_m: float
    lie_m: float


def moved_today(
    summaries: Sequence[ShotSummary],
    air: Air,
    *,
    lie: Lie = Lie.FAIRWAY,
    moisture: Moisture = Moisture.DRY,
) -> tuple[Moved, ...]:
    """Split what moved every shot since the reference day into air and lie.

    Parameters and errors are those of :func:`carrybook.player.numbers.numbers_today`.
    """
    clean = numbers_today(summaries, air)
    today = numbers_today(summaries, air, lie=lie, moisture=moisture)
    return tuple(
        Moved(number, dry.today_m - number.reference_m, number.today_m - dry.today_m)
        for number, dry in zip(today, clean, strict=True)
    )
