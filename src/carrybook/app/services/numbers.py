"""Today's numbers, what moved them, and which shot carries a distance."""

from collections.abc import Sequence
from math import pi
from pathlib import Path
from typing import TYPE_CHECKING

from carrybook.app.files import save_figure
from carrybook.app.services.learn import day_summaries
from carrybook.world.wind import Wind

if TYPE_CHECKING:
    from carrybook.player.day import Day
    from carrybook.player.moved import Moved
    from carrybook.player.numbers import ForDistance, TodayNumber
    from carrybook.player.summary import ShotSummary

__all__ = [
    "draw_ladder",
    "draw_moved",
    "in_the_wind",
    "moved_numbers",
    "numbers_of",
    "numbers_on",
    "shots_for_carry",
]


def numbers_on(
    book: Path | None, day: "Day", *, ball_model: str | None = None, left_handed: bool = False
) -> "tuple[TodayNumber, ...]":
    """Say what every owned shot carries on a day, the longest first.

    Raises
    ------
    BadInputError
        A lie that is not modelled, or a model of ball that the log does not know well enough.
    NoSolutionError
        There is no book yet, no shot in it, or a carry that no flight gives.
    """
    shots = day_summaries(book, day, ball_model=ball_model, left_handed=left_handed)
    return numbers_of(shots, day)


def numbers_of(shots: "Sequence[ShotSummary]", day: "Day") -> "tuple[TodayNumber, ...]":
    """Say what shots that are summarised already carry on a day, the longest first.

    Raises
    ------
    BadInputError
        A lie that is not modelled.
    NoSolutionError
        A carry that no flight gives.
    """
    from carrybook.player.numbers import numbers_today

    numbers = numbers_today(shots, day.air, lie=day.lie, moisture=day.moisture, wind=day.wind)
    return tuple(sorted(numbers, key=lambda n: n.today_m, reverse=True))


def shots_for_carry(
    book: Path | None,
    carry_m: float,
    day: "Day",
    *,
    ball_model: str | None = None,
    left_handed: bool = False,
) -> "tuple[ForDistance, ...]":
    """Say which shot carries a distance on a day, and what number to feel; the best first.

    Raises
    ------
    BadInputError
        A lie that is not modelled, or a model of ball that the log does not know well enough.
    NoSolutionError
        There is no book yet, no shot in it, or none carries that.
    """
    from carrybook.player.numbers import shots_for

    shots = day_summaries(book, day, ball_model=ball_model, left_handed=left_handed)
    return shots_for(shots, carry_m, day.air, lie=day.lie, moisture=day.moisture, wind=day.wind)


def in_the_wind(
    shots: "Sequence[ShotSummary]", day: "Day", speed_mps: float
) -> "dict[str, tuple[float, float]]":
    """Carry of every shot into a wind of that speed and with it, by its name. [m]

    Errors are those of `numbers_of`.
    """
    from carrybook.player.numbers import carries_today

    into, helping = (
        carries_today(shots, day.air, lie=day.lie, moisture=day.moisture, wind=wind)
        for wind in (Wind(speed_mps, 0.0), Wind(speed_mps, pi))
    )
    carries = zip(shots, into, helping, strict=True)
    return {shot.shot.label: (slow, fast) for shot, slow, fast in carries}


def draw_ladder(path: Path, numbers: "Sequence[TodayNumber]", units: str) -> None:
    """Draw today's numbers into a file.

    Raises
    ------
    BadInputError
        The file cannot be written.
    """
    from carrybook.artefacts.figures import ladder

    save_figure(path, ladder(numbers, units=units))


def moved_numbers(numbers: "Sequence[TodayNumber]") -> "tuple[Moved, ...]":
    """Say what moved numbers since the reference day."""
    from carrybook.player.moved import moves_of

    return moves_of(numbers)


def draw_moved(path: Path, moves: "Sequence[Moved]", units: str) -> None:
    """Draw what moved the carries into a file.

    Raises
    ------
    BadInputError
        The file cannot be written.
    """
    from carrybook.artefacts.moved import what_moved

    save_figure(path, what_moved(moves, units=units))
