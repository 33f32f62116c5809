"""The plan for a round: answers kept from the Shot room, as they were given."""

import json
from dataclasses import dataclass
from typing import TYPE_CHECKING

from carrybook.app.web.asked import Asked
from carrybook.artefacts.advice_text import headline
from carrybook.artefacts.words import distance, location_words, one_line, units_named
from carrybook.base.errors import BadInputError

if TYPE_CHECKING:
    from carrybook.decision.advice import Advice

__all__ = ["Kept", "add", "drop", "kept", "reopen"]

_MOST = 36  # ours: two plans a hole


@dataclass(frozen=True, slots=True)
class Kept:
    """One plan: its number, where, and what."""

    key: str
    where: str
    what: str


def add(asked: Asked, advice: "Advice", answers: dict[str, str]) -> None:
    """Keep an answer.

    Raises
    ------
    BadInputError
        There are as many as a round can use.
    """
    draft = asked.desk.shelf.draft("plan")
    if len(draft) >= _MOST:
        raise BadInputError(f"the plan holds {_MOST} shots; remove one first")
    units, s = units_named(asked.units), advice.situation
    where = f"{one_line(s.hole.venue)}, hole {one_line(s.hole.ref)}: {location_words(s.location)},"
    row = {
        "where": f"{where} {distance(s.number_m, units)}",
        "what": headline(advice.options[0], units),
        "answers": answers,
    }
    key = str(1 + max((int(k) for k in draft if k.isdigit()), default=0))
    asked.desk.shelf.keep_draft("plan", draft | {key: json.dumps(row)})


def kept(asked: Asked) -> tuple[Kept, ...]:
    """Every plan, in the order they were kept."""
    rows = ((key, _row(text)) for key, text in asked.desk.shelf.draft("plan").items())
    return tuple(Kept(key, str(row.get("where")), str(row.get("what"))) for key, row in rows)


def drop(asked: Asked, key: str) -> None:
    """Take a plan out."""
    draft = asked.desk.shelf.draft("plan")
    draft.pop(key, None)
    asked.desk.shelf.keep_draft("plan", draft)


def reopen(asked: Asked, key: str) -> dict[str, str]:
    """What was typed for a plan.

    Raises
    ------
    BadInputError
        No such plan.
    """
    row = _row(asked.desk.shelf.draft("plan").get(key, ""))
    answers = row.get("answers")
    if not isinstance(answers, dict):
        raise BadInputError("that plan is not here any more")
    return {str(k): str(v) for k, v in answers.items()}


def _row(text: str) -> dict[str, object]:
    try:
        row = json.loads(text)
    except ValueError:
        return {}
    return row if isinstance(row, dict) else {}
