"""The log in words."""

from collections import Counter
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from carrybook.app.texts.base import counted, table
from carrybook.artefacts import words as w
from carrybook.artefacts.ball_text import ball_words
from carrybook.base import constants as c
from carrybook.player.balls import Ball

if TYPE_CHECKING:
    from carrybook.app.services.balls import CheckReport
    from carrybook.store.ball_file import Reject
    from carrybook.store.balls import UndoneImport
    from carrybook.store.imports import ImportReport

__all__ = ["balls_text", "check_text", "import_text", "undone_text"]

_MOST_REASONS = 5  # shown on the terminal; the rest is in the rejects file


def balls_text(balls: Sequence[Ball], units: str) -> str:
    """Tabulate logged balls."""
    if not balls:
        return "no balls yet; read some in like: carrybook balls import balls.csv"
    u = w.units_named(units)
    head = ("struck", "shot", f"meant {u.far}", f"carry {u.far}", "side", "lie", "air", "note")
    return table([head, *(_ball_row(ball, u) for ball in balls)])


def check_text(report: "CheckReport", units: str) -> str:
    """List the balls that look odd, with the reasons; and say how the balls fly."""
    u = w.units_named(units)
    head = ("struck", "shot", f"meant {u.far}", f"carry {u.far}", "why")
    rows = [(*_ball_row(o.ball, u)[:4], w.one_line("; ".join(o.reasons))) for o in report.odd]
    lines = [table([head, *rows])] if rows else []
    lines += [f"{w.one_line(file)}: {w.one_line(line)}" for file, line in report.slips]
    lines += [w.one_line(ball_words(fit)) for fit in report.fits.models]
    kept = "; none is dropped, all still count" if rows else ""
    lines.append(f"{len(rows)} of {counted(report.balls, 'ball')} look odd{kept}")
    return "\n".join(lines)


def import_text(report: "ImportReport", odd: int = 0) -> str:
    """Say what became of a file, and that some of the balls it added look odd."""
    lines = list(_import_lines(report))
    if odd:
        looks = "looks" if odd == 1 else "look"
        lines.append(f"{counted(odd, 'ball')} {looks} odd: see carrybook balls check")
    return "\n".join(lines)


def undone_text(undone: "UndoneImport") -> str:
    """Say what was taken back."""
    return f"took back {w.one_line(undone.file)}: {counted(undone.balls, 'ball')} removed"


def _ball_row(ball: Ball, u: w.Units) -> tuple[str, ...]:
    return (
        ball.at.strftime("%Y-%m-%d %H:%M") if ball.at else "",
        w.one_line(ball.shot),
        "" if ball.intended_m is None else w.whole(ball.intended_m, u),
        "" if ball.carry_m is None else w.whole(ball.carry_m, u),
        "" if ball.side_m is None else w.sideways(ball.side_m, u),
        f"{ball.lie}, {ball.moisture}",
        "" if ball.air is None else f"{ball.air.temperature_k - c.CELSIUS_ZERO:.0f} C",
        w.one_line(ball.note),
    )


def _import_lines(report: "ImportReport") -> Iterator[str]:
    yield (
        f"{w.one_line(report.file)}: {counted(report.read, 'row')} read, {report.added} added,"
        f" {report.already_there} already there, {report.rejected} rejected"
    )
    columns = (f"{w.one_line(header)} = {name}" for name, header in report.mapping.items())
    yield f"columns read: {', '.join(columns)}"
    if report.unused_columns:
        yield f"columns not used: {', '.join(map(w.one_line, report.unused_columns))}"
    reasons = Counter(reject.reason for reject in report.rejects)
    for reason, count in reasons.most_common(_MOST_REASONS):
        first = next(reject for reject in report.rejects if reject.reason == reason)
        rows = f"{count} rows from row {first.row}" if count > 1 else f"row {first.row}"
        yield f"  {rows}{_cell(first)}: {w.one_line(reason)}"
    if report.rejects_path:
        yield f"rejected rows, with the reason for each: {report.rejects_path}"


def _cell(reject: "Reject") -> str:
    """Name the cell that cannot be read; nothing where it is the row as a whole."""
    if not reject.column:
        return ""
    return f", {w.one_line(reject.column)} = {w.one_line(reject.value)!r}"
