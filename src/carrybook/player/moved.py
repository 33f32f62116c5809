"""What moved the carries since the reference day: air, ball, wind, body, lie."""

from collections.abc import Sequence
from dataclasses import dataclass

from carrybook.player.numbers import TodayNumber, numbers_today
from carrybook.player.summary import ShotSummary
from carrybook.world.air import Air
from carrybook.world.lie import Lie, Moisture

__all__ = ["Moved", "moved_today", "moves_of"]


@dataclass(frozen=True, slots=True)
class Moved:
    """One shot's carry today against the reference day, in parts that sum exactly.

    Parameters
    ----------
    number : TodayNumber
        Both carries.
    air_m : float
        What today's air adds to a clean dry strike; negative carries less. [m]
    lie_m : float
        What lie and moisture add to that, after all else. [m]
    ball_m, wind_m, body_m : float
        What the temperature of the ball, the wind and the player's own body add between. [m]
    """

    number: TodayNumber
    air_m: float
    lie_m: float
    ball_m: float = 0.0
    wind_m: float = 0.0
    body_m: float = 0.0


def moved_today(
    summaries: Sequence[ShotSummary],
    air: Air,
    *,
    lie: Lie = Lie.FAIRWAY,
    moisture: Moisture = Moisture.DRY,
) -> tuple[Moved, ...]:
    """Split what moved every shot since the reference day.

    Parameters and errors are those of :func:`carrybook.player.numbers.numbers_today`.
    """
    return moves_of(numbers_today(summaries, air, lie=lie, moisture=moisture))


def moves_of(numbers: Sequence[TodayNumber]) -> tuple[Moved, ...]:
    """What moved numbers that are computed already."""
    return tuple(
        Moved(n, s.air_m, s.lie_m, s.ball_m, s.wind_m, s.body_m)
        for n in numbers
        for s in (n.split,)
    )
