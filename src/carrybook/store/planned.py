"""Pieces of plans that are done, in the book: what did not change need not be worked out again."""

from collections.abc import Iterable, Mapping
from dataclasses import asdict
from datetime import date, timedelta
from typing import Any

import sqlalchemy as sa

from carrybook.base.errors import BadInputError
from carrybook.decision.advice import Trouble
from carrybook.decision.plan import LeftOut, PlanCell, Planned
from carrybook.decision.prepared import LayUp, Zone
from carrybook.store import tables as t
from carrybook.store.book import Session
from carrybook.world.hole import HoleLocation
from carrybook.world.lie import Lie

__all__ = ["load_planned", "save_planned"]

_KEPT = timedelta(days=60)  # ours: after that the week is over
_AT_ONCE = 500  # names in one question to the file


def load_planned(session: Session, fingerprints: Iterable[str]) -> dict[str, Planned]:
    """Give those pieces that the book has.

    Raises
    ------
    BadInputError
        The book is damaged.
    """
    wanted = sorted(set(fingerprints))
    found: dict[str, Planned] = {}
    for start in range(0, len(wanted), _AT_ONCE):
        some = wanted[start : start + _AT_ONCE]
        query = sa.select(t.planned_piece).where(t.planned_piece.c.fingerprint.in_(some))
        try:
            found |= {r.fingerprint: _planned(r.content) for r in session.execute(query)}
        except (KeyError, TypeError, ValueError) as error:
            raise BadInputError(
                f"a plan in the book {session.engine.url.database} cannot be read: {error}"
            ) from error
    return found


def save_planned(session: Session, pieces: Mapping[str, Planned], day: date) -> None:
    """Keep pieces under their fingerprints, and forget those that were made long ago.

    Parameters
    ----------
    session : Session
        From :meth:`Book.session`.
    pieces : mapping
        By fingerprint.
    day : datetime.date
        Today.
    """
    c = t.planned_piece.c
    session.execute(sa.delete(t.planned_piece).where(c.day < (day - _KEPT).isoformat()))
    for fingerprint, piece in pieces.items():
        session.execute(sa.delete(t.planned_piece).where(c.fingerprint == fingerprint))
        row = {"fingerprint": fingerprint, "day": day.isoformat(), "content": asdict(piece)}
        session.execute(sa.insert(t.planned_piece).values(row))


def _planned(content: dict[str, Any]) -> Planned:
    lay_up = content["lay_up"]
    return Planned(
        tuple(_cell(cell) for cell in content["cells"]),
        tuple(LeftOut(**{**each, "zone": Zone(each["zone"])}) for each in content["left_out"]),
        None if lay_up is None else _lay_up(lay_up),
    )


def _cell(content: dict[str, Any]) -> PlanCell:
    miss = content["miss"]
    named = {
        "zone": Zone(content["zone"]),
        "location": HoleLocation(**content["location"]),
        "lie": Lie(content["lie"]),
        "miss": None if miss is None else Trouble(miss),
    }
    return PlanCell(**{**content, **named})


def _lay_up(content: dict[str, Any]) -> LayUp:
    lists = {name: tuple(v) for name, v in content.items() if isinstance(v, list)}
    return LayUp(**{**content, **lists})
