"""The log in words."""

from collections import Counter
from collections.abc import Iterator, Sequence
from math import degrees
from typing import TYPE_CHECKING

from carrybook.app.texts.base import counted, table
from carrybook.artefacts import words as w
from carrybook.base import constants as c
from carrybook.player.balls import Ball
from carrybook.world.lie import Lie, Moisture

if TYPE_CHECKING:
    from carrybook.app.forms.quick_line import QuickLine
    from carrybook.app.services.balls import CheckReport, LookedOver
    from carrybook.app.services.log import Logged
    from carrybook.player.bag import Shot
    from carrybook.player.drift import Drift
    from carrybook.store.ball_file import Reject
    from carrybook.store.balls import UndoneImport
    from carrybook.store.imports import ImportReport

__all__ = [
    "aim_text",
    "balls_text",
    "check_text",
    "import_text",
    "logged_text",
    "preview_text",
    "session_help",
    "undone_text",
]

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
    from carrybook.artefacts.ball_text import ball_words

    u = w.units_named(units)
    head = ("struck", "shot", f"meant {u.far}", f"carry {u.far}", "why")
    rows = [(*_ball_row(o.ball, u)[:4], w.one_line("; ".join(o.reasons))) for o in report.odd]
    lines = [table([head, *rows])] if rows else []
    lines += [f"{w.one_line(file)}: {w.one_line(line)}" for file, line in report.slips]
    lines += [w.one_line(ball_words(fit)) for fit in report.fits.models]
    lines += [_drift(drift) for drift in report.drifts]
    kept = "; none is dropped, all still count" if rows else ""
    lines.append(f"{len(rows)} of {counted(report.balls, 'ball')} look odd{kept}")
    return "\n".join(lines)


def import_text(report: "ImportReport", over: "LookedOver | None") -> str:
    """Say what became of a file, and what looks odd or mistaken in the balls it added."""
    lines = list(_import_lines(report))
    if over is None:
        return "\n".join([*lines, "too many to look over now: see carrybook balls check"])
    lines += [w.one_line(slip) for slip in over.slips]
    if over.odd:
        looks = "looks" if over.odd == 1 else "look"
        lines.append(f"{counted(over.odd, 'ball')} {looks} odd: see carrybook balls check")
    if over.slips:
        lines.append("all are kept; if so, carrybook balls undo, then import with --unit")
    return "\n".join(lines)


def preview_text(report: "ImportReport", units: str) -> str:
    """Show the first balls as they would be stored, and what would become of the file."""
    u = w.units_named(units)
    lengths = (f"{word} {u.far}" for word in ("meant", "called", "carry", "total"))
    head = ("struck", "shot", *lengths, "side", "speed", "launch", "spin", "lie", "note")
    rows = [_stored_row(ball, u) for ball in report.first]
    shown = [table([head, *rows])] if rows else []
    lines = "\n".join(_import_lines(report)).replace(" added,", " new,", 1)
    return "\n".join([*shown, lines, "nothing is stored yet"])


def undone_text(undone: "UndoneImport") -> str:
    """Say what was taken back."""
    return f"took back {w.one_line(undone.file)}: {counted(undone.balls, 'ball')} removed"


def _drift(drift: "Drift") -> str:
    """Say what drifts, by how much and how sure that is."""
    number = f"{drift.change:+.1f} +- {drift.change_se:.1f} {drift.unit}"
    if drift.shape == "step":
        things = "day" if drift.where == "all days" else "ball"
        how = f"steps by {number} after {counted(drift.after, things)}"
    else:
        how = f"slopes by {number} from first to last"
    chance = "under 0.1 %" if drift.chance < 0.001 else f"{100.0 * drift.chance:.1f} %"
    return (
        f"{w.one_line(drift.where)}: {drift.what} {how} (chance alone: {chance}); a sensor that"
        " slips, or a swing that changed"
    )


def logged_text(logged: "Logged", units: str) -> str:
    """Say what was logged, the call beside the truth."""
    u, ball = w.units_named(units), logged.ball
    said = (
        ("meant", ball.intended_m),
        ("called", ball.called_m),
        ("got", ball.carry_m),
        ("total", ball.total_m),
    )
    parts = [f"{word} {w.whole(m, u)}" for word, m in said if m is not None]
    parts += [] if ball.side_m is None else [w.sideways(ball.side_m, u)]
    parts += [word for word in (ball.effort, _underfoot(ball), w.one_line(ball.note)) if word]
    number = f"{logged.number}: " if logged.number else ""
    return f"{number}{w.one_line(ball.shot)}, {', '.join(parts)} ({u.far})"


def aim_text(aim: "QuickLine", units: str) -> str:
    """Say which shot and target the next balls are for."""
    u, target = w.units_named(units), aim.numbers.get("intended_m")
    words = [aim.effort] if aim.effort else []
    words += [] if target is None else [w.distance(target, u)]
    return f"now {w.one_line(aim.shot.label)}{': ' if words else ''}{', '.join(words)}"


def session_help(shots: "Sequence[Shot]") -> str:
    """What a session that asks understands."""
    return (
        f"shots: {', '.join(w.one_line(shot.label) for shot in shots)}\n"
        "call> what you felt, before you look (- for no call); got> what it was: 68 3R wet\n"
        "shot 60 55, target 75: change; undo: last ball; end (or Ctrl-D): stop. All is kept at once"
    )


def _underfoot(ball: Ball) -> str:
    """Lie and moisture where they are not the usual ones."""
    return ", ".join(
        word for word in (ball.lie, ball.moisture) if word not in (Lie.FAIRWAY, Moisture.DRY)
    )


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


def _stored_row(ball: Ball, u: w.Units) -> tuple[str, ...]:
    lengths = (ball.intended_m, ball.called_m, ball.carry_m, ball.total_m)
    speed, launch, spin = ball.ball_speed_mps, ball.launch_rad, ball.spin_rad_s
    return (
        ball.at.isoformat(sep=" ", timespec="minutes") if ball.at else "",
        w.one_line(ball.shot),
        *("" if m is None else f"{m / u.far_m:.1f}" for m in lengths),
        "" if ball.side_m is None else w.sideways(ball.side_m, u),
        "" if speed is None else w.speed(speed, u),
        "" if launch is None else f"{degrees(launch):.1f} deg",
        "" if spin is None else f"{spin / c.RPM:.0f} rpm",
        f"{ball.lie}, {ball.moisture}",
        w.one_line(ball.note),
    )


def _import_lines(report: "ImportReport") -> Iterator[str]:
    yield (
        f"{w.one_line(report.file)}: {counted(report.read, 'row')} read, {report.added} added,"
        f" {report.already_there} already there, {report.rejected} rejected"
    )
    columns = (
        f"{w.one_line(header)} = {name}{_unit(report, name)}"
        for name, header in report.mapping.items()
    )
    yield f"columns read: {', '.join(columns)}"
    if report.remembered:
        yield f"as you said for an earlier file with this header: {', '.join(report.remembered)}"
    if report.above:
        yield f"{counted(report.above, 'line')} above the header passed over"
    if report.unused_columns:
        yield f"columns not used: {', '.join(map(w.one_line, report.unused_columns))}"
    reasons = Counter(reject.reason for reject in report.rejects)
    for reason, count in reasons.most_common(_MOST_REASONS):
        first = next(reject for reject in report.rejects if reject.reason == reason)
        rows = f"{count} rows from row {first.row}" if count > 1 else f"row {first.row}"
        yield f"  {rows}{_cell(first)}: {w.one_line(reason)}"
    if report.rejects_path:
        yield f"rejected rows, with the reason for each: {report.rejects_path}"


def _unit(report: "ImportReport", field: str) -> str:
    return f" in {report.units[field]}" if field in report.units else ""


def _cell(reject: "Reject") -> str:
    """Name the cell that cannot be read; nothing where it is the row as a whole."""
    if not reject.column:
        return ""
    return f", {w.one_line(reject.column)} = {w.one_line(reject.value)!r}"
