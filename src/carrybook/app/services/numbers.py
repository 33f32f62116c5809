"""Today's numbers, and what moved them."""

from collections.abc import Sequence
from math import pi
from pathlib import Path
from typing import TYPE_CHECKING

from carrybook.app.files import save_figure
from carrybook.app.services.shots import summaries_of
from carrybook.world.air import Air
from carrybook.world.lie import Lie, Moisture
from carrybook.world.wind import Wind

if TYPE_CHECKING:
    from carrybook.player.moved import Moved
    from carrybook.player.numbers import TodayNumber

__all__ = [
    "draw_ladder",
    "draw_moved",
    "in_the_wind",
    "moved_numbers",
    "todays_numbers",
]


def todays_numbers(
    book: Path | None,
    air: Air,
    *,
    lie: Lie = Lie.FAIRWAY,
    moisture: Moisture = Moisture.DRY,
    ball_model: str | None = None,
) -> "tuple[TodayNumber, ...]":
    """Say what every owned shot carries today, the longest first.

    Raises
    ------
    BadInputError
        A lie that is not modelled, or a model of ball that the log does not know well enough.
    NoSolutionError
        There is no book yet, no shot in it, or a carry that no flight gives.
    """
    from carrybook.player.numbers import numbers_today

    summaries = summaries_of(book, ball_model=ball_model)
    numbers = numbers_today(summaries, air, lie=lie, moisture=moisture)
    return tuple(sorted(numbers, key=lambda n: n.today_m, reverse=True))


def in_the_wind(
    book: Path | None,
    air: Air,
    speed_mps: float,
    *,
    lie: Lie = Lie.FAIRWAY,
    moisture: Moisture = Moisture.DRY,
) -> "dict[str, tuple[float, float]]":
    """Carry of every shot into a wind of that speed and with it, by its name. [m]

    Errors are those of `todays_numbers`.
    """
    from carrybook.player.numbers import numbers_today

    summaries = summaries_of(book)
    into, helping = (
        numbers_today(summaries, air, lie=lie, moisture=moisture, wind=Wind(speed_mps, turned))
        for turned in (0.0, pi)
    )
    return {
        a.summary.shot.label: (a.today_m, b.today_m) for a, b in zip(into, helping, strict=True)
    }


def draw_ladder(path: Path, numbers: "Sequence[TodayNumber]", units: str) -> None:
    """Draw today's numbers into a file.

    Raises
    ------
    BadInputError
        The file cannot be written.
    """
    from carrybook.artefacts.figures import ladder

    save_figure(path, ladder(numbers, units=units))


def moved_numbers(
    book: Path | None,
    air: Air,
    *,
    lie: Lie = Lie.FAIRWAY,
    moisture: Moisture = Moisture.DRY,
    ball_model: str | None = None,
) -> "tuple[Moved, ...]":
    """Say what moved every owned shot since the reference day. Errors as `todays_numbers`."""
    from carrybook.player.moved import moved_today

    summaries = summaries_of(book, ball_model=ball_model)
    return moved_today(summaries, air, lie=lie, moisture=moisture)


def draw_moved(path: Path, moves: "Sequence[Moved]", units: str) -> None:
    """Draw what moved the carries into a file.

    Raises
    ------
    BadInputError
        The file cannot be written.
    """
    from carrybook.artefacts.moved import what_moved

    save_figure(path, what_moved(moves, units=units))
