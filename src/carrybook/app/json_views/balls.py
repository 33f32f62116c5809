"""The log as JSON."""

from collections.abc import Iterable
from typing import TYPE_CHECKING

from carrybook.app.json_views.ball import ball_part
from carrybook.app.json_views.base import Json, air_part
from carrybook.player.balls import Ball

if TYPE_CHECKING:
    from carrybook.app.services.balls import CheckReport, LookedOver
    from carrybook.app.services.log import Logged
    from carrybook.store.balls import UndoneImport
    from carrybook.store.imports import ImportReport

__all__ = ["balls_view", "check_view", "import_view", "logged_view", "undone_view"]

_MEASURES = tuple(n for n in Ball.__dataclass_fields__ if n.endswith(("_m", "_mps", "_rad", "_s")))


def balls_view(balls: Iterable[Ball]) -> Json:
    """Give what `balls list` answers: every ball; null where nothing was measured."""
    return {"balls": [_ball(ball) for ball in balls]}


def check_view(report: "CheckReport") -> Json:
    """Give what `balls check` answers."""
    return {
        "checked": report.balls,
        "odd": [{"ball": _ball(o.ball), "reasons": list(o.reasons)} for o in report.odd],
        "files": [{"file": file, "reason": line} for file, line in report.slips],
        "drifts": [
            {
                "where": d.where,
                "what": d.what,
                "unit": d.unit,
                "shape": d.shape,
                "change": d.change,
                "change_se": d.change_se,
                "after": d.after,
                "chance": d.chance,
            }
            for d in report.drifts
        ],
        "dropped": 0,
        "models": [ball_part(fit) for fit in report.fits.models],
    }


def import_view(report: "ImportReport", over: "LookedOver | None") -> Json:
    """Give what `balls import` answers; `odd`: added balls that look odd, null: not looked."""
    return {
        "file": report.file,
        "read": report.read,
        "added": report.added,
        "already_there": report.already_there,
        "rejected": report.rejected,
        "odd": over and over.odd,
        "unit_slips": list(over.slips) if over else [],
        "rejects_file": report.rejects_path and str(report.rejects_path),
        "rejects": [
            {"row": r.row, "column": r.column, "value": r.value, "reason": r.reason}
            for r in report.rejects
        ],
        "stored": report.stored,
        "first": [_ball(ball) for ball in report.first],
        "lines_above_header": report.above,
        "columns": dict(report.mapping),
        "units": dict(report.units),
        "remembered": list(report.remembered),
        "unused_columns": list(report.unused_columns),
    }


def logged_view(logged: "Logged") -> Json:
    """Give what `balls log` answers: the ball, and its number in the session."""
    return {"ball": _ball(logged.ball), "number": logged.number}


def undone_view(undone: "UndoneImport") -> Json:
    """Give what `balls undo` answers."""
    return {"file": undone.file, "removed": undone.balls}


def _ball(ball: Ball) -> Json:
    return {
        "shot": ball.shot,
        "at": ball.at and ball.at.isoformat(),
        **{name: getattr(ball, name) for name in _MEASURES},
        "air": ball.air and air_part(ball.air),
        "lie": ball.lie,
        "moisture": ball.moisture,
        "setting": ball.setting,
        "ball_model": ball.ball_model,
        "note": ball.note,
        "effort": ball.effort,
        "called_first": ball.called_first,
    }
