"""Today's numbers as a table for a terminal, and the words of a shot that all tables share."""

from collections.abc import Iterator, Sequence
from textwrap import wrap

from carrybook.artefacts import words as w
from carrybook.artefacts.ball_text import ball_words, guard_words
from carrybook.player.numbers import TodayNumber
from carrybook.player.summary import ShotSummary
from carrybook.world.air import REFERENCE_DAY, Air
from carrybook.world.lie import Lie, Moisture

__all__ = ["WIDTH", "columns", "name_of", "number_row", "numbers_text", "rests_on"]

WIDTH = 80  # columns of the narrowest terminal that people use
_NAME = 18  # columns of a shot in a table


def numbers_text(
    numbers: Sequence[TodayNumber],
    air: Air,
    *,
    units: str = "yards",
    lie: Lie = Lie.FAIRWAY,
    moisture: Moisture = Moisture.DRY,
) -> str:
    """Tabulate what every shot carries today, level.

    Parameters
    ----------
    numbers : sequence of TodayNumber
        One for each shot, in the order to print.
    air : Air
        Today's air.
    units : str
        "yards" or "metres".
    lie, moisture : Lie, Moisture
        What the numbers were computed for.

    Returns
    -------
    text : str
        Plain lines. The band of lift, drag and lie stands only where it is 2 units wide or more.

    Raises
    ------
    BadInputError
        Units of another name.
    """
    u = w.units_named(units)
    head = ("shot", "reference", "today", "change", "centre", "one ball", "band", "rests on")
    table = columns([head, *(number_row(n, u) for n in numbers)])
    notes: tuple[str, ...] = (
        f"Carries in {u.far} at stock feel, level. Centre: how well the middle is known,"
        " +- one standard error. One ball: two balls in three stray no further from it."
        " Band: where lift, drag or the lie leave a range.",
        f"Reference day: {w.air_words(REFERENCE_DAY)}, level and calm; every logged ball is carried"
        " to it, so that days compare.",
    )
    played = dict.fromkeys(ball_words(n.summary.ball) for n in numbers)
    notes = (*notes, *played, *guard_words(numbers))
    title = f"Today: {w.air_words(air)}; {lie}, {moisture}"
    return "\n".join([title, "", *table, "", *(line for n in notes for line in wrap(n, WIDTH))])


def rests_on(balls: int) -> str:
    """How much is known of a shot: "62 balls", or that it is the player's word."""
    if balls == 0:
        return "your word, no balls yet"
    return f"{balls} ball{'s' if balls > 1 else ''}"


def number_row(n: TodayNumber, u: w.Units) -> tuple[str, ...]:
    """One shot of today as a row of words, in the order of the table's head."""
    reference, today = (round(x / u.far_m) for x in (n.reference_m, n.today_m))
    low, high = round(n.today_low_m / u.far_m), round(n.today_high_m / u.far_m)
    return (
        name_of(n.summary),
        f"{reference}",
        f"{today}",
        f"{today - reference:+d}" if today != reference else "0",
        f"+- {w.tenths_below_ten(n.centre_se_m / u.far_m)}",
        f"+- {max(1, round(n.spread_m / u.far_m))}",
        f"{low} to {high}" if high - low >= 2 else "",
        rests_on(n.summary.balls),
    )


def name_of(summary: ShotSummary) -> str:
    """Label, cut to what a table can hold.

    Parameters
    ----------
    summary : ShotSummary
        The shot.
    """
    label = w.one_line(summary.shot.label)
    return label if len(label) <= _NAME else label[: _NAME - 2] + ".."


def columns(rows: Sequence[Sequence[str]]) -> Iterator[str]:
    """Columns as wide as their widest cell; the first and last to the left, the others right.

    Parameters
    ----------
    rows : sequence of sequence of str
        The head first.
    """
    widths = [max(len(row[k]) for row in rows) for k in range(len(rows[0]))]
    last = len(widths) - 1
    for row in rows:
        cells = (
            cell.ljust(width) if k in (0, last) else cell.rjust(width)
            for k, (cell, width) in enumerate(zip(row, widths, strict=True))
        )
        yield "  " + "  ".join(cells).rstrip()
