"""Scoring shots of rounds: recorded during a round or after it, poured in from a file, taken back.

Recording only: nothing here is interpreted, so all of it is open while a round is on (Rule 4.3a).
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from carrybook.app.forms.round_shot import RoundShotForm
from carrybook.app.services.book import open_book
from carrybook.base.errors import BadInputError
from carrybook.player.round_shots import PlayedRound, RoundShot

if TYPE_CHECKING:
    from carrybook.player.rounds import Round
    from carrybook.store.round_file import Row
    from carrybook.store.round_shots import PouredIn

__all__ = [
    "Recorded",
    "add_played_round",
    "played_rounds",
    "pour_in",
    "record_shot",
    "rounds_shown",
    "take_back",
    "take_back_typed",
]


@dataclass(frozen=True, slots=True)
class Recorded:
    """A shot that was recorded, and which of its round it is, from 1."""

    shot: RoundShot
    number: int


def record_shot(
    book: Path | None,
    form: RoundShotForm,
    now: datetime,
    raw: Mapping[str, str],
    key: str = "",
    of_round: int | None = None,
) -> Recorded:
    """Record a scoring shot of a round.

    Parameters
    ----------
    book : Path, optional
        The book.
    form : RoundShotForm
        What was typed.
    now : datetime
        When it is recorded.
    raw : mapping of str to str
        What was typed, as it stands.
    key : str
        The same for the same shot, where it may be sent twice.
    of_round : int, optional
        Number of the round; without it the one that began last.

    Raises
    ------
    BadInputError
        What cannot be together, no such shot, or no round yet.
    NoSolutionError
        There is no book yet.
    """
    from carrybook.store.round_shots import add_round_shot

    shot = form.value()
    shot = shot if shot.at else replace(shot, at=now)
    with open_book(book) as opened, opened.session() as session:
        return Recorded(shot, add_round_shot(session, shot, raw, key, of_round))


def add_played_round(book: Path | None, now: datetime, setting: str) -> None:
    """Open the record of a round that is over already, played without the book.

    Raises
    ------
    BadInputError
        A round is on: its shots are to be recorded.
    NoSolutionError
        There is no book yet.
    """
    from carrybook.player.rounds import Round
    from carrybook.store.round_shots import ReadRound
    from carrybook.store.round_shots import pour_in as pour
    from carrybook.store.rounds import last_round

    when = now.isoformat(timespec="seconds")
    with open_book(book) as opened, opened.session() as session:
        last = last_round(session)
        if last is not None and last.is_on:
            raise BadInputError("a round is on; its shots are recorded until it is over")
        pour(session, [ReadRound(Round(when, when, "", setting), ())])


def take_back(book: Path | None) -> RoundShot:
    """Take back the shot that was recorded last.

    Raises
    ------
    BadInputError
        There is none.
    NoSolutionError
        There is no book yet.
    """
    from carrybook.store.round_shots import undo_round_shot

    with open_book(book) as opened, opened.session() as session:
        return undo_round_shot(session)


def take_back_typed(book: Path | None, key: str) -> bool:
    """Take the shot of that key out of the book; false where it is not there.

    Raises
    ------
    NoSolutionError
        There is no book yet.
    """
    from carrybook.store.round_shots import take_back_typed as take

    with open_book(book) as opened, opened.session() as session:
        return take(session, key)


def pour_in(book: Path | None, path: Path, units: str) -> "PouredIn":
    """Add all rounds of a file, or none of it where a cell cannot be used.

    Raises
    ------
    BadInputError
        A file that cannot be read; the message names row and column.
    NoSolutionError
        There is no book yet.
    """
    from carrybook.store.round_file import read_rounds_file, rounds_of
    from carrybook.store.round_shots import ReadRound
    from carrybook.store.round_shots import pour_in as pour

    rows = read_rounds_file(path)
    held: dict[str, list[tuple[RoundShot, Mapping[str, str]]]] = {}
    for row in rows:
        shot = _shot_of(row, path, units)
        held.setdefault(row.round.begun, []).append((shot, row.answers))
    read = [
        ReadRound(_timed(played, path), tuple(held[begun]))
        for begun, played in rounds_of(rows).items()
    ]
    with open_book(book) as opened, opened.session() as session:
        return pour(session, read)


def played_rounds(book: Path | None) -> tuple[PlayedRound, ...]:
    """Every round with its scoring shots, the first begun first.

    Raises
    ------
    BadInputError
        The book is damaged.
    NoSolutionError
        There is no book yet.
    """
    from carrybook.store.round_shots import load_rounds

    with open_book(book, reading=True) as opened, opened.session() as session:
        return load_rounds(session)


def rounds_shown(
    book: Path | None, *, number: int | None = None, last: int | None = None
) -> tuple[PlayedRound, ...]:
    """Rounds that have scoring shots: the one of that number, or the last few.

    Raises
    ------
    BadInputError
        No round of that number.
    NoSolutionError
        There is no book yet.
    """
    found = played_rounds(book)
    if number is not None:
        found = tuple(each for each in found if each.number == number)
        if not found:
            raise BadInputError(
                f"round = {number} is not in the book; see: carrybook round shots --last 9"
            )
        return found
    some = tuple(each for each in found if each.shots)
    return some if last is None else some[-last:]


def _shot_of(row: "Row", path: Path, units: str) -> RoundShot:
    try:
        missing = next(
            (n for n in ("hole", "number", "shot", "finish_on") if not row.answers.get(n)), ""
        )
        if missing:
            raise BadInputError(f"{missing.replace('_', ' ')} is empty")
        return RoundShotForm.of(units=units, **row.answers).value()
    except BadInputError as error:
        raise BadInputError(f"{path.name}, row {row.number}: {error}") from None


def _timed(played: "Round", path: Path) -> "Round":
    """A round whose times can be read; without an offset they are those of this machine's place."""
    try:
        begun, ended = (
            datetime.fromisoformat(text).astimezone().isoformat(timespec="seconds")
            for text in (played.begun, played.ended or played.begun)
        )
    except ValueError:
        raise BadInputError(
            f"{path.name}: round = {played.begun!r} is not a time like 2026-05-30T08:10"
        ) from None
    return replace(played, begun=begun, ended=ended)
