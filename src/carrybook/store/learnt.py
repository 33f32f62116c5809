"""What was learnt, in the book, with a fingerprint of the log that it was learnt from."""

import hashlib
import io
import json
from dataclasses import asdict, astuple, dataclass
from datetime import datetime
from typing import Any

import numpy as np
import sqlalchemy as sa

from carrybook.base.errors import BadInputError
from carrybook.player.ball_fit import BallFit, BallFits
from carrybook.player.learn.result import Diagnostics, Learnt
from carrybook.player.shape import Curve
from carrybook.store import tables as t
from carrybook.store.book import Session

__all__ = ["StoredLearnt", "fingerprint", "load_learnt", "save_learnt"]

_MODEL = "2"  # of carrybook.player.learn.log: another model makes what is stored stale
_COUNTS = ("balls", "days", "not_flown", "launch_measured")


@dataclass(frozen=True, slots=True)
class StoredLearnt:
    """What was learnt, when, and whether the log and the bag are still those of then."""

    learnt: Learnt
    at: datetime
    fresh: bool


def fingerprint(session: Session) -> str:
    """Fingerprint of everything that learning looks at: every logged ball, the bag, the player.

    Parameters
    ----------
    session : Session
        From :meth:`Book.session`.
    """
    digest = hashlib.sha256(_MODEL.encode())
    s, b = t.shot.c, t.ball.c
    looked_at = (
        sa.select(s.label, s.flight, s.shape, t.club.c.loft_rad, s.stock_carry_m)
        .join(t.club)
        .order_by(s.label),
        sa.select(t.player.c.handicap, t.player.c.accuracy_table),
        sa.select(b.row_hash, b.shot_id, b.called_m, b.carry_m).order_by(b.row_hash),
    )
    for query in looked_at:
        for row in session.execute(query):
            digest.update(repr(tuple(row)).encode())
    return digest.hexdigest()


def save_learnt(session: Session, learnt: Learnt, at: datetime, of: str) -> None:
    """Keep what was learnt in place of what was learnt before.

    Parameters
    ----------
    session : Session
        From :meth:`Book.session`.
    learnt : Learnt
        What was learnt.
    at : datetime
        When.
    of : str
        Fingerprint of the log it was learnt from.
    """
    content: dict[str, object] = {"method": learnt.method, "shots": list(learnt.shots)}
    content |= {name: list(getattr(learnt, name)) for name in _COUNTS}
    d = learnt.diagnostics
    content["diagnostics"] = d and {f: getattr(d, f) for f in Diagnostics.__dataclass_fields__}
    content["fits"] = asdict(learnt.fits)
    content["curves"] = [[astuple(curve) for curve in hands] for hands in learnt.curves]
    packed = io.BytesIO()
    np.savez(packed, **{name: v.astype(np.float32) for name, v in learnt.draws.items()})  # type: ignore[arg-type]
    session.execute(sa.delete(t.learnt))
    row = {"fingerprint": of, "at": at.isoformat(), "content": content, "draws": packed.getvalue()}
    session.execute(sa.insert(t.learnt).values(row))


def load_learnt(session: Session) -> StoredLearnt | None:
    """What was learnt last; none where nothing was.

    Raises
    ------
    BadInputError
        The book is damaged.
    """
    row = session.execute(sa.select(t.learnt).order_by(t.learnt.c.id.desc()).limit(1)).one_or_none()
    if row is None:
        return None
    try:
        with np.load(io.BytesIO(row.draws), allow_pickle=False) as packed:
            draws = {name: packed[name].astype(np.float64) for name in packed.files}
        c = row.content
        learnt = Learnt(
            c["method"],
            tuple(c["shots"]),
            draws=draws,
            diagnostics=Diagnostics(**c["diagnostics"]) if c["diagnostics"] else None,
            fits=_fits(c["fits"]),
            curves=tuple((Curve(*right), Curve(*left)) for right, left in c["curves"]),
            **{name: tuple(c[name]) for name in _COUNTS},
        )
        at = datetime.fromisoformat(row.at)
    except (KeyError, TypeError, ValueError, OSError, EOFError, json.JSONDecodeError) as error:
        raise BadInputError(
            f"what was learnt cannot be read from the book {session.engine.url.database}"
            f" ({error}); learn again: carrybook learn"
        ) from error
    return StoredLearnt(learnt, at, row.fingerprint == fingerprint(session))


def _fits(content: dict[str, Any]) -> BallFits:
    return BallFits(tuple(_fit(m) for m in content["models"]), _fit(content["unknown"]))


def _fit(content: dict[str, Any]) -> BallFit:
    lists = {name: tuple(v) for name, v in content.items() if isinstance(v, list)}
    return BallFit(**{**content, **lists})
