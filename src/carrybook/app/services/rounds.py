"""Rounds, and the lock: while one is on, what interprets is refused and recording goes on.

Rule 4.3a: during a round a device may not interpret distance or direction, recommend a club or a
line, or process what the player has recorded in that round; recording for later is allowed
(rules-of-golf-2023). Every service that plans calls `require_planning` before anything else.
"""

from datetime import datetime
from pathlib import Path

from carrybook.app.services.book import book_path, open_book
from carrybook.base.errors import NoSolutionError
from carrybook.player.rounds import Round

__all__ = ["current_round", "end_round", "require_planning", "start_round"]


def require_planning(book: Path | None) -> None:
    """Refuse while a round is on. Where there is no book there is no round.

    Parameters
    ----------
    book : Path, optional
        The book; the usual one if not given.

    Raises
    ------
    NoSolutionError
        A round is on.
    """
    last = current_round(book)
    if last is not None and last.is_on:
        raise NoSolutionError(
            f"a round is on since {spoken(last.begun)}: Rule 4.3a allows no advice from a device"
            " until it is over, so carrybook only records; end it with: carrybook round end"
        )


def current_round(book: Path | None) -> Round | None:
    """Give the round that began last, or none where there never was one, or no book yet."""
    from carrybook.store.rounds import last_round

    if not book_path(book).exists():
        return None
    with open_book(book, reading=True) as opened, opened.session() as session:
        return last_round(session)


def start_round(book: Path | None, now: datetime, note: str = "", setting: str = "") -> Round:
    """Begin a round: from now on only recording. Where there is no book yet, it makes one.

    Raises
    ------
    BadInputError
        One is on already.
    """
    from carrybook.store.rounds import start_round as start

    with open_book(book, create=True) as opened, opened.session() as session:
        begun = now.isoformat(timespec="seconds")
        return start(session, begun, " ".join(note.split()), setting)


def end_round(book: Path | None, now: datetime) -> Round:
    """End the round that is on.

    Raises
    ------
    BadInputError
        None is on.
    NoSolutionError
        There is no book yet.
    """
    from carrybook.store.rounds import end_round as end

    with open_book(book) as opened, opened.session() as session:
        return end(session, now.isoformat(timespec="seconds"))


def spoken(at: str) -> str:
    """Say a time as people do: "2026-05-30 14:05"."""
    return datetime.fromisoformat(at).strftime("%Y-%m-%d %H:%M")
