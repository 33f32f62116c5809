"""Logged balls from a file into the book, once each, in one transaction."""

import csv
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

import sqlalchemy as sa

from carrybook.base.errors import BadInputError
from carrybook.store.ball_file import Reject, balls_in
from carrybook.store.balls import known_hashes, save_balls
from carrybook.store.book import Book, Session
from carrybook.store.choices import load_choices, save_choices
from carrybook.store.columns import by_field, fingerprint
from carrybook.store.delimited import read_delimited
from carrybook.store.shots import load_shots
from carrybook.store.tables import import_run

__all__ = ["ImportReport", "import_balls"]


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
        File in which the rejects were put aside; none if there are none.
    unused_columns : tuple of str
        Headers of columns that hold something, but not known what.
    mapping : mapping of str to str
        Field, such as "carry", to the header of its column.
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


def import_balls(
    book: Book,
    path: Path,
    *,
    columns: Mapping[str, str] = {},
    units: Mapping[str, str] = {},
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

    Raises
    ------
    BadInputError
        The file or the book as a whole cannot be used. The book is as it was.
    """
    file = read_delimited(path)
    key = fingerprint(file.header)
    rejects_path = book.path.parent / "rejects" / f"{path.stem[:80]}-{file.digest[:8]}.csv"
    with book.session() as session:
        columns, units = _with_remembered(session, key, columns, units)
        shots = [shot.label for shot in load_shots(session)]
        found = balls_in(file, shots=shots, columns=columns, units=units)
        known = known_hashes(session)
        new = [row for row in found.rows if row.row_hash not in known]
        if new:
            save_balls(session, new, _new_run(session, path.name))
        if found.rows:
            save_choices(session, key, columns=columns, units=units)
        _put_aside(found.rejects, rejects_path)
    rejected = len({reject.row for reject in found.rejects})
    return ImportReport(
        file=path.name,
        read=len(found.rows) + rejected,
        added=len(new),
        already_there=len(found.rows) - len(new),
        rejected=rejected,
        rejects=found.rejects,
        rejects_path=rejects_path if found.rejects else None,
        unused_columns=found.unused_columns,
        mapping=found.mapping,
    )


def _with_remembered(
    session: Session, key: str, columns: Mapping[str, str], units: Mapping[str, str]
) -> tuple[dict[str, str], dict[str, str]]:
    """Lay what is said about a header now over what was said before."""
    new_columns, new_units = by_field(columns, "column"), by_field(units, "unit")
    old_columns, old_units = load_choices(session, key)
    if {"shot", "club"} & new_columns.keys():  # two answers to one question: the new one stands
        old_columns = {f: name for f, name in old_columns.items() if f not in {"shot", "club"}}
    return old_columns | new_columns, old_units | new_units


def _new_run(session: Session, file: str) -> int:
    return session.execute(sa.insert(import_run).values(file=file)).lastrowid


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
