"""Why a session is as it is: kept beside the book in words, in both units, and as a sheet."""

from contextlib import suppress
from dataclasses import dataclass
from typing import TYPE_CHECKING

from carrybook.app.services.practise import Planned, sheet_of
from carrybook.app.web.asked import Asked
from carrybook.app.web.views.practise import LeakRow, leak_rows, step_rows
from carrybook.artefacts.practice_words import load_words
from carrybook.artefacts.words import units_named
from carrybook.base.errors import BadInputError

if TYPE_CHECKING:
    from carrybook.decision.practise.running import Practice

__all__ = ["Why", "keep_why", "why"]

_KIND = "practise"


@dataclass(frozen=True, slots=True)
class Why:
    """Where strokes leak, what to do in which minutes, how it stands to the weeks before; a PDF."""

    leaks: tuple[LeakRow, ...] = ()
    steps: tuple[tuple[str, str, str], ...] = ()
    load: tuple[str, ...] = ()
    sheet: bytes = b""


def keep_why(asked: Asked, planned: Planned, practice: "Practice") -> None:
    """Keep it for the session that was planned, in place of the one before."""
    both = {units: _told(planned, units) for units in ("yards", "metres")}
    with suppress(BadInputError):  # the session itself is in the book
        asked.desk.shelf.keep_result(_KIND, _name(practice), both)


def why(asked: Asked, practice: "Practice") -> Why:
    """Give what is kept of a session; nothing where it was planned elsewhere."""
    name, both = asked.desk.shelf.result(_KIND) or ("", None)
    told = both.get(asked.units) if name == _name(practice) and isinstance(both, dict) else None
    return told if isinstance(told, Why) else Why()


def _name(practice: "Practice") -> str:
    """Its key alone may be that of another session, of a book that was put back."""
    return f"{practice.key} {practice.seed} {practice.occasion.begun.isoformat()}"


def _told(planned: Planned, units: str) -> Why:
    u = units_named(units)
    return Why(
        leaks=leak_rows(planned.plan, u),
        steps=step_rows(planned.plan, u),
        load=tuple(load_words(planned.load)),
        sheet=sheet_of(planned, units),
    )
