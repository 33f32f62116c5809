"""Today's numbers as rows of words."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from carrybook.artefacts.numbers_text import number_row, rests_on
from carrybook.artefacts.words import Units, one_line, whole
from carrybook.player.numbers import TodayNumber

__all__ = ["NumberRow", "number_rows"]


@dataclass(frozen=True, slots=True)
class NumberRow:
    """One shot today; `into` and `helping` are empty where no wind was said."""

    shot: str
    cue: str
    today: str
    change: str
    into: str
    helping: str
    centre: str
    one_ball: str
    band: str
    rests_on: str


def number_rows(
    numbers: Sequence[TodayNumber], blown: Mapping[str, tuple[float, float]], units: Units
) -> tuple[NumberRow, ...]:
    """Put every shot into words; those of the command line."""
    return tuple(_row(n, blown.get(n.summary.shot.label), units) for n in numbers)


def _row(n: TodayNumber, blown: tuple[float, float] | None, units: Units) -> NumberRow:
    _, _, today, change, centre, one_ball, band, _ = number_row(n, units)
    into, helping = (whole(m, units) for m in blown) if blown else ("", "")
    return NumberRow(
        shot=one_line(n.summary.shot.label),
        cue=n.summary.shot.cue,
        today=today,
        change=change.replace("-", "−"),
        into=into,
        helping=helping,
        centre=centre.replace("+-", "±"),
        one_ball=one_ball.replace("+-", "±"),
        band=band,
        rests_on=rests_on(n.summary.balls),
    )
