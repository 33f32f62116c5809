"""Short answers as plain text for a terminal; the long ones are written by `artefacts.text`."""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from math import degrees
from typing import TYPE_CHECKING

from carrybook.artefacts import words as w
from carrybook.base import constants as c
from carrybook.player.bag import Shape, Shot
from carrybook.player.balls import Ball

if TYPE_CHECKING:
    from carrybook.app.doctor import Finding
    from carrybook.app.services import AirReport, CheckReport
    from carrybook.physics.band import FlownBand
    from carrybook.store.ball_file import Reject
    from carrybook.store.balls import UndoneImport
    from carrybook.store.imports import ImportReport
    from carrybook.world.forecast import Hour
    from carrybook.world.weather import WeatherReport

__all__ = [
    "air_text",
    "balls_text",
    "check_text",
    "doctor_text",
    "flown_text",
    "import_text",
    "shot_text",
    "shots_text",
    "told_text",
    "undone_text",
]

_MOST_REASONS = 5  # shown on the terminal; the rest is in the rejects file


def air_text(report: "AirReport") -> str:
    """Say how dense the air is, against the reference day."""
    change = f"{100.0 * (report.ratio - 1.0):+.1f} % against the reference day"
    return "\n".join(
        (
            f"{w.air_words(report.air)} (station pressure, at the ball)",
            f"density    {report.density:.4f} kg/m3, {change}",
            f"viscosity  {1e6 * report.viscosity:.2f} uPa s",
        )
    )


def told_text(told: "WeatherReport | Hour", *, its_wind: bool) -> str:
    """Say whose air an answer is for, why it may not be yours, and whether its wind was used.

    Parameters
    ----------
    told : WeatherReport or Hour
        What an airport reported, or what a file forecasts.
    its_wind : bool
        Whether the answer is for its wind.
    """
    return "\n".join((*_told_air(told), _told_wind(told, its_wind=its_wind)))


def _told_air(told: "WeatherReport | Hour") -> tuple[str, ...]:
    from carrybook.world.weather import WeatherReport

    if isinstance(told, WeatherReport):
        return (
            f"air of {told.station} at {told.at_text} (UTC), its pressure brought to your"
            " elevation",
            "an airport is not the course: temperature and damp there can differ from yours",
        )
    return (f"air as forecast for {told.at:%H:%M}, local time of the file",)


def _told_wind(told: "WeatherReport | Hour", *, its_wind: bool) -> str:
    if told.wind_speed_mps is None:
        return "it reported no wind"
    if told.wind_speed_mps == 0.0:
        return "its wind is calm"
    direction = told.wind_from_true_rad
    where = (
        "a direction that varies" if direction is None else f"{degrees(direction):.0f} degrees true"
    )
    gusts = "" if told.gust_mps is None else f", gusts to {told.gust_mps:.1f} m/s"
    used = "is turned to your line and used" if its_wind else "is not used"
    return f"its wind, {told.wind_speed_mps:.1f} m/s from {where}{gusts}, {used}"


def flown_text(flown: "FlownBand", units: str) -> str:
    """Say where a ball lands and how it comes down."""
    u = w.units_named(units)
    landing = flown.middle
    low, high = (x / u.far_m for x in (flown.carry_low_m, flown.carry_high_m))
    return "\n".join(
        (
            f"carry    {landing.carry_m / u.far_m:.1f} {u.far}"
            f" ({low:.1f} to {high:.1f}: what nobody knows of drag)",
            f"side     {w.sideways(landing.side_m, u)}",
            f"apex     {w.short_distance(landing.apex_m, u)}, {landing.time_s:.1f} s in the air",
            f"landing  {degrees(landing.descent_rad):.0f} degrees down,"
            f" {w.speed(landing.speed_mps, u)}, {landing.spin_rad_s / c.RPM:.0f} rpm",
            *(f"warning: {warning}" for warning in flown.warnings),
        )
    )


def shot_text(shot: Shot, units: str) -> str:
    """One shot in one line."""
    u = w.units_named(units)
    shortest, longest = w.whole(shot.shortest_m, u), w.whole(shot.longest_m, u)
    return (
        f"{w.one_line(shot.label)}: {w.distance(shot.stock_carry_m, u)} stock,"
        f" {shortest} to {longest} {u.far} felt"
    )


def shots_text(shots: Sequence[Shot], units: str) -> str:
    """Tabulate the bag."""
    u = w.units_named(units)
    rows = (
        (
            w.one_line(shot.label),
            f"{degrees(shot.club.loft_rad):.4g}",
            w.whole(shot.stock_carry_m, u),
            f"{w.whole(shot.shortest_m, u)} to {w.whole(shot.longest_m, u)}",
            "" if shot.trusted else "no",
            w.one_line(shot.cue),
        )
        for shot in shots
    )
    head = ("shot", "loft deg", f"stock {u.far}", f"partials {u.far}", "trusted", "cue")
    curved = any(shot.shape is not Shape.STRAIGHT for shot in shots)
    note = "\ndraw and cut are kept and shown; their curve is not computed yet" if curved else ""
    return _table([head, *rows]) + note


def balls_text(balls: Sequence[Ball], units: str) -> str:
    """Tabulate logged balls."""
    if not balls:
        return "no balls yet; read some in like: carrybook balls import balls.csv"
    u = w.units_named(units)
    head = ("struck", "shot", f"meant {u.far}", f"carry {u.far}", "side", "lie", "air", "note")
    return _table([head, *(_ball_row(ball, u) for ball in balls)])


def check_text(report: "CheckReport", units: str) -> str:
    """List the balls that look odd, with the reasons."""
    u = w.units_named(units)
    head = ("struck", "shot", f"meant {u.far}", f"carry {u.far}", "why")
    rows = [(*_ball_row(o.ball, u)[:4], w.one_line("; ".join(o.reasons))) for o in report.odd]
    lines = [_table([head, *rows])] if rows else []
    lines += [f"{w.one_line(file)}: {w.one_line(line)}" for file, line in report.slips]
    kept = "; none is dropped, all still count" if rows else ""
    lines.append(f"{len(rows)} of {_count(report.balls, 'ball')} look odd{kept}")
    return "\n".join(lines)


def import_text(report: "ImportReport", odd: int = 0) -> str:
    """Say what became of a file, and that some of the balls it added look odd."""
    lines = list(_import_lines(report))
    if odd:
        looks = "looks" if odd == 1 else "look"
        lines.append(f"{_count(odd, 'ball')} {looks} odd: see carrybook balls check")
    return "\n".join(lines)


def undone_text(undone: "UndoneImport") -> str:
    """Say what was taken back."""
    return f"took back {w.one_line(undone.file)}: {_count(undone.balls, 'ball')} removed"


def doctor_text(findings: "Sequence[Finding]") -> str:
    """Say what was looked at, and which command mends what is missing."""
    width = max(len(f.what) for f in findings)
    lines = []
    for f in findings:
        lines.append(f"{f.state:<8} {f.what:<{width}}  {f.found}")
        lines += [f"{'':<{width + 11}}next: {f.mend}"] if f.mend else []
    return "\n".join(lines)


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
        f"{w.one_line(report.file)}: {_count(report.read, 'row')} read, {report.added} added,"
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


def _table(rows: Iterable[Sequence[str]]) -> str:
    """Columns as wide as their widest cell; one that is empty below its head is left out."""
    columns = [column for column in zip(*rows, strict=True) if any(column[1:])]
    widths = [max(map(len, column)) for column in columns]
    lines = zip(*columns, strict=True)
    return "\n".join(
        "  ".join(cell.ljust(width) for cell, width in zip(line, widths, strict=True)).rstrip()
        for line in lines
    )


def _count(number: int, thing: str) -> str:
    return f"{number} {thing}" if number == 1 else f"{number} {thing}s"
