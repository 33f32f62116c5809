"""Logged balls from a file into the book, once each, in one transaction."""

import csv
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import sqlalchemy as sa

from carrybook.base.errors import BadInputError
from carrybook.player.bag import Shot
from carrybook.player.balls import Ball
from carrybook.player.effort import effort_carry
from carrybook.store.any_file import read_sheet
from carrybook.store.ball_file import BallFile, Reject, balls_in
from carrybook.store.balls import known_hashes, save_balls
from carrybook.store.book import Book, Session
from carrybook.store.choices import load_choices, save_choices
from carrybook.store.columns import (
    Answer,
    Column,
    UnclearError,
    by_field,
    find_columns,
    fingerprint,
)
from carrybook.store.sheet import Sheet
from carrybook.store.shots import load_shots
from carrybook.store.tables import import_run

__all__ = ["Ask", "ImportReport", "import_balls", "rejects_folder"]

Ask = Callable[[UnclearError], Answer]  # somebody who can say how a file is meant
_SHOWN = 5  # balls of a preview


@dataclass(frozen=True, slots=True)
class ImportReport:
    """What became of the rows of a file.

    Parameters
    ----------
    file : str
        Name of the file.
    read : int
        Rows read: those added, already there and rejected.
    added, already_there, rejected : int
        Rows that became balls, that the book held before, and that cannot be read.
    rejects : tuple of Reject
        What is wrong with the rejected rows; a row may have several.
    rejects_path : Path, optional
        File in which the rejects were put aside; none if there are none, or nothing was stored.
    unused_columns : tuple of str
        Headers of columns that hold something, but not known what.
    mapping : mapping of str to str
        Field, such as "carry", to the header of its column.
    units : mapping of str to str
        Field to the unit of its bare numbers.
    remembered : tuple of str
        Fields of which a column or unit was said for an earlier file with this header.
    above : int
        Rows above the header, which were passed over.
    first : tuple of Ball
        The first balls added, as they are stored.
    stored : bool
        Whether it was stored, or only looked at.
    """

    file: str
    read: int
    added: int
    already_there: int
    rejected: int
    rejects: tuple[Reject, ...]
    rejects_path: Path | None
    unused_columns: tuple[str, ...]
    mapping: Mapping[str, str]
    units: Mapping[str, str]
    remembered: tuple[str, ...]
    above: int
    first: tuple[Ball, ...]
    stored: bool


def import_balls(
    book: Book,
    path: Path,
    *,
    columns: Mapping[str, str] = {},
    units: Mapping[str, str] = {},
    sheet: str | None = None,
    ask: Ask | None = None,
    store: bool = True,
) -> ImportReport:
    """Read a file of balls into the book; a ball that the book holds already is not added again.

    Parameters
    ----------
    book : Book
        Where to.
    path : Path
        The file.
    columns, units : mapping of str to str
        Headers and units that the person gave for fields, as {"carry": "Carry flat"} and
        {"carry": "yd"}. They are remembered for files with the same header, once a row was read.
    sheet : str, optional
        Which sheet of a spreadsheet.
    ask : callable, optional
        Is asked where the file can be read in several ways; without it that is an error.
    store : bool, default True
        Whether to store the balls, or only to say what would be stored.

    Raises
    ------
    BadInputError
        The file or the book as a whole cannot be used. The book is as it was.
    """
    file = read_sheet(path, sheet=sheet)
    key = fingerprint(file.header)
    with book.session() as session:
        said = _with_remembered(session, key, columns, units)
    settled = _settled(
        file, said, ask
    )  # between two sessions: the book is free while a person thinks
    with book.session() as session:
        owned = {shot.label: shot for shot in load_shots(session)}
        found = balls_in(
            file,
            settled.found,
            shots=owned,
            known=known_hashes(session),
            effort_carry=lambda shot, words: _felt(owned[shot], words),
        )
        rejects_path = rejects_folder(book.path) / f"{path.stem[:80]}-{file.digest[:8]}.csv"
        if store:
            _store(session, path.name, found)
            if found.frame.height or found.known:
                save_choices(session, key, columns=settled.columns, units=settled.units)
            _put_aside(found.rejects, rejects_path)
    rejected = len({reject.row for reject in found.rejects})
    return ImportReport(
        file=path.name,
        read=found.frame.height + found.known + rejected,
        added=found.frame.height,
        already_there=found.known,
        rejected=rejected,
        rejects=found.rejects,
        rejects_path=rejects_path if found.rejects and store else None,
        unused_columns=found.unused_columns,
        mapping=found.mapping,
        units=found.units,
        remembered=said.remembered,
        above=file.above,
        first=tuple(row.ball for row in found.first(_SHOWN)),
        stored=store,
    )


def rejects_folder(book: Path) -> Path:
    """Where the rejected rows of a book's imports are put aside.

    Parameters
    ----------
    book : Path
        The file of the book.
    """
    return book.with_name(f"{book.name}.rejects")


@dataclass(frozen=True, slots=True)
class _Said:
    """What was said about the columns of a file, now and for an earlier file like it."""

    columns: dict[str, str]
    units: dict[str, str]
    remembered: tuple[str, ...] = ()
    found: tuple[Column, ...] = ()


def _with_remembered(
    session: Session, key: str, columns: Mapping[str, str], units: Mapping[str, str]
) -> _Said:
    """Lay what is said about a header now over what was said before."""
    new_columns, new_units = by_field(columns, "column"), by_field(units, "unit")
    old_columns, old_units = load_choices(session, key)
    if {"shot", "club"} & new_columns.keys():  # two answers to one question: the new one stands
        old_columns = {f: name for f, name in old_columns.items() if f not in {"shot", "club"}}
    old = (old_columns.keys() - new_columns.keys()) | (old_units.keys() - new_units.keys())
    return _Said(old_columns | new_columns, old_units | new_units, tuple(sorted(old)))


def _settled(file: Sheet, said: _Said, ask: Ask | None) -> _Said:
    """Find the columns, asking until nothing is unclear."""
    while True:
        try:
            found = find_columns(file, columns=said.columns, units=said.units)
        except UnclearError as question:
            if ask is None or not question.answers:
                raise
            answer = ask(question)
            said = replace(
                said,
                columns=said.columns | dict(answer.columns),
                units=said.units | dict(answer.units),
            )
        else:
            return replace(said, found=found)


def _felt(shot: Shot, words: str) -> float | None:
    effort = effort_carry(shot, words)
    return None if effort is None else effort.carry_m


def _store(session: Session, file: str, found: BallFile) -> None:
    if not found.frame.height:
        return
    read = {
        field: {"column": header, "unit": found.units.get(field)}
        for field, header in found.mapping.items()
    }
    run = session.execute(sa.insert(import_run).values(file=file, columns=read)).lastrowid
    save_balls(session, found.frame, run)


def _put_aside(rejects: Sequence[Reject], path: Path) -> None:
    """Write the rejects of a file, or take away those of an earlier try that went worse."""
    try:
        if not rejects:
            path.unlink(missing_ok=True)
            return
        path.parent.mkdir(exist_ok=True)
        with path.open("w", encoding="utf-8", newline="") as file:
            writer = csv.writer(file)
            writer.writerow(["row", "column", "value", "reason", "line"])
            writer.writerows([r.row, r.column, r.value, r.reason, r.line] for r in rejects)
    except OSError as error:
        raise BadInputError(
            f"the rejected rows cannot be written to {path}: {error.strerror}; nothing was imported"
        ) from None
