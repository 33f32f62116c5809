"""Scoring shots of rounds in the book: added one by one or many at once, taken back, read."""

import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

import sqlalchemy as sa

from carrybook.base.errors import BadInputError
from carrybook.player.round_shots import Facts, PlayedRound, Rest, RoundShot
from carrybook.player.rounds import Round
from carrybook.store import tables as t
from carrybook.store.book import Session, read_rows
from carrybook.store.rounds import round_in
from carrybook.store.shots import shot_id
from carrybook.world.lie import Lie, Moisture

__all__ = [
    "PouredIn", "ReadRound", "add_round_shot", "count_round_shots", "load_rounds", "pour_in",
    "take_back_typed", "undo_round_shot",
]  # fmt: skip

_FACTS = ("number_m", "wind_mps", "wind_from_rad", "lie", "moisture", "firmness_g")
_PLAIN = (
    "hole", "hole_location", "green_deep_m", "stimp_m", "temperature_k", "intended_m",
    "aim_right_m", "called_m", "landing_past_m", "landing_right_m", "finish_m", "finish_past_m",
    "finish_right_m", "putts", "others", "penalties", "note",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class ReadRound:
    """A round as a file has it: the round, and its shots with what stood in their rows."""

    round: Round
    shots: tuple[tuple[RoundShot, Mapping[str, str]], ...]


@dataclass(frozen=True, slots=True)
class PouredIn:
    """What a file added: rounds, shots, and shots that the book had already."""

    rounds: int
    shots: int
    known: int


def add_round_shot(
    session: Session,
    shot: RoundShot,
    raw: Mapping[str, str],
    key: str = "",
    number: int | None = None,
) -> int:
    """Add a shot to a round.

    Parameters
    ----------
    session : Session
        From :meth:`Book.session`.
    shot : RoundShot
        The shot.
    raw : mapping of str to str
        What was typed.
    key : str
        The same for the same shot, where it may be sent twice; then it is added once.
    number : int, optional
        Which round; without it the one that began last.

    Returns
    -------
    number : int
        Which shot of its round it is, from 1.

    Raises
    ------
    BadInputError
        No round yet, or no such shot in the bag.
    """
    which = sa.select(t.rounds).order_by(t.rounds.c.id.desc()).limit(1)
    which = which if number is None else which.where(t.rounds.c.id == number)
    last = session.execute(which).first()
    if last is None:
        raise BadInputError(
            "there is no round yet to record a shot of; begin one: carrybook round start"
        )
    before = _count(session, last.id)
    row_hash = _digest(f"typed {key}" if key else f"typed {last.id} {before} {shot.at} {raw}")
    if session.scalar(sa.select(t.round_shot.c.id).where(t.round_shot.c.row_hash == row_hash)):
        return before
    _insert(session, last.id, shot, raw, row_hash)
    return before + 1


def undo_round_shot(session: Session) -> RoundShot:
    """Take back the shot that was added last.

    Raises
    ------
    BadInputError
        There is none.
    """
    newest = sa.select(t.round_shot.c.id).order_by(t.round_shot.c.id.desc()).limit(1)
    key = session.scalar(newest)
    if key is None:
        raise BadInputError("there is no shot of a round to take back")
    query = _query().where(t.round_shot.c.id == key)
    (shot,) = read_rows(session, query, _shot, "shot of a round")
    session.execute(sa.delete(t.round_shot).where(t.round_shot.c.id == key))
    return shot


def take_back_typed(session: Session, key: str) -> bool:
    """Take the shot of that key out of the book; false where it is not there."""
    typed = t.round_shot.c.row_hash == _digest(f"typed {key}")
    number = session.scalar(sa.select(t.round_shot.c.id).where(typed))
    session.execute(sa.delete(t.round_shot).where(t.round_shot.c.id == number))
    return number is not None


def pour_in(session: Session, read: Sequence[ReadRound]) -> PouredIn:
    """Add the rounds of a file; what the book has already is not added again.

    Parameters
    ----------
    session : Session
        From :meth:`Book.session`.
    read : sequence of ReadRound
        The rounds, known again by when they began.

    Raises
    ------
    BadInputError
        A shot that is not in the bag.
    """
    rounds = shots = known = 0
    for each in read:
        begun = each.round.begun
        number = session.scalar(sa.select(t.rounds.c.id).where(t.rounds.c.begun == begun))
        if number is None:
            number, rounds = _add_round(session, each.round), rounds + 1
        for place, (shot, raw) in enumerate(each.shots):
            row_hash = _digest(f"read {begun} {place} {sorted(raw.items())}")
            found = sa.select(t.round_shot.c.id).where(t.round_shot.c.row_hash == row_hash)
            if session.scalar(found):
                known += 1
            else:
                _insert(session, number, shot, raw, row_hash)
                shots += 1
    return PouredIn(rounds, shots, known)


def load_rounds(session: Session) -> tuple[PlayedRound, ...]:
    """Every round, the first begun first, with its scoring shots in the order added.

    Raises
    ------
    BadInputError
        The book is damaged.
    """
    held: dict[int, list[RoundShot]] = {}
    rows = read_rows(session, _query(), lambda row: (row.round_id, _shot(row)), "shot of a round")
    for number, shot in rows:
        held.setdefault(number, []).append(shot)
    played = [
        PlayedRound(row.id, round_in(row), tuple(held.get(row.id, ())))
        for row in session.execute(sa.select(t.rounds))
    ]
    return tuple(sorted(played, key=lambda each: (_when(each.round.begun), each.number)))


def count_round_shots(session: Session) -> int:
    """How many shots of rounds the book holds."""
    return session.scalar(sa.select(sa.func.count()).select_from(t.round_shot)) or 0


def _when(begun: str) -> float:
    try:
        return datetime.fromisoformat(begun).timestamp()
    except ValueError:
        raise BadInputError(
            f"the book is damaged: a round begun {begun!r} cannot be read; put back a copy of it"
        ) from None


def _add_round(session: Session, played: Round) -> int:
    values = {
        "begun": played.begun, "ended": played.ended, "note": played.note,
        "setting": played.setting,
    }  # fmt: skip
    return int(session.execute(sa.insert(t.rounds).values(values)).lastrowid)


def _count(session: Session, number: int) -> int:
    counted = sa.select(sa.func.count()).select_from(t.round_shot)
    return session.scalar(counted.where(t.round_shot.c.round_id == number)) or 0


def _insert(
    session: Session, number: int, shot: RoundShot, raw: Mapping[str, str], row_hash: str
) -> None:
    values: dict[str, Any] = {
        "round_id": number,
        "shot_id": shot_id(session, shot.shot),
        "row_hash": row_hash,
        "raw": dict(raw),
        "at": shot.at and shot.at.isoformat(),
        "finish": shot.finish,
        **{name: getattr(shot, name) for name in _PLAIN},
        **{name: getattr(shot.known, name) for name in _FACTS},
        **{f"true_{name}": getattr(shot.true, name) for name in _FACTS},
    }
    session.execute(sa.insert(t.round_shot).values(values))


def _query() -> sa.Select[Any]:
    return (
        sa.select(t.round_shot, t.shot.c.label)
        .join(t.shot, t.shot.c.id == t.round_shot.c.shot_id)
        .order_by(t.round_shot.c.id)
    )


def _shot(row: sa.Row[Any]) -> RoundShot:
    return RoundShot(
        shot=row.label,
        at=datetime.fromisoformat(row.at) if row.at else None,
        finish=Rest(row.finish),
        known=_facts(row, ""),
        true=_facts(row, "true_"),
        **{name: getattr(row, name) for name in _PLAIN},
    )


def _facts(row: sa.Row[Any], before: str) -> Facts:
    values: dict[str, Any] = {name: getattr(row, before + name) for name in _FACTS}
    values["lie"] = values["lie"] and Lie(values["lie"])
    values["moisture"] = values["moisture"] and Moisture(values["moisture"])
    return Facts(**values)


def _digest(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()
