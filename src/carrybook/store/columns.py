"""Which column of a file holds what, and in which unit. What is not plain is asked, not guessed."""

import hashlib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from carrybook.base.errors import BadInputError
from carrybook.store.cells import has_unit, is_bare
from carrybook.store.fields import FIELDS, MEASURED, MISSING, UNITS, Field, plain, split_header
from carrybook.store.sheet import Sheet

__all__ = [
    "Answer",
    "Column",
    "UnclearError",
    "by_field",
    "find_columns",
    "fingerprint",
    "rows_of_balls",
]


@dataclass(frozen=True, slots=True)
class Column:
    """A column that holds a field.

    Parameters
    ----------
    index : int
        Place in the row, from 0.
    header : str
        Its name in the file.
    field : Field
        What it holds.
    unit : str, optional
        What its bare numbers are in.
    """

    index: int
    header: str
    field: Field
    unit: str | None


@dataclass(frozen=True, slots=True)
class Answer:
    """One thing that a person may say to a question.

    Parameters
    ----------
    words : str
        How it is shown.
    columns, units : mapping of str to str
        What it says, as given to :func:`find_columns`.
    """

    words: str
    columns: Mapping[str, str]
    units: Mapping[str, str]


class UnclearError(BadInputError):
    """A file that can be read in several ways; somebody must say which.

    Parameters
    ----------
    message : str
        The one line for somebody who cannot be asked.
    question : str
        The question for somebody who can.
    answers : sequence of Answer
        What may be said.
    """

    def __init__(self, message: str, question: str, answers: Sequence[Answer]) -> None:
        super().__init__(message)
        self.question = question
        self.answers = tuple(answers)


def find_columns(
    file: Sheet, *, columns: Mapping[str, str], units: Mapping[str, str]
) -> tuple[Column, ...]:
    """Say which columns hold what.

    Parameters
    ----------
    file : Sheet
        The file.
    columns : mapping of str to str
        Headers that the person named for fields, as {"carry": "Carry flat"}; an empty header means
        that the file does not have the field.
    units : mapping of str to str
        Units that the person gave for fields, as {"carry": "yd"}; they win over the file's own.

    Raises
    ------
    BadInputError
        A field or header that does not exist, two columns for one field, no column for the shot or
        for anything measured, a unit of another kind, or a quantity without a unit.
    """
    chosen = _chosen(file, by_field(columns, "column"))
    given_units = by_field(units, "unit")
    places = _places(file, chosen)
    return tuple(
        Column(index, file.header[index], field, _unit(file, index, field, given_units))
        for field, index in ((FIELDS[name], index) for name, index in places.items())
    )


def fingerprint(header: Sequence[str]) -> str:
    """Key under which choices about files with this header are remembered."""
    return hashlib.sha256("\n".join(plain(name) for name in header).encode()).hexdigest()


def rows_of_balls(file: Sheet) -> Sheet:
    """The sheet without a row of units below the header.

    Raises
    ------
    BadInputError
        There is nothing but units below the header.
    """
    return file.from_row(1) if _is_unit_row(_first(file)) else file


def by_field(given: Mapping[str, str], what: str) -> dict[str, str]:
    """Bring the names of fields that a person typed to the way we write them.

    Parameters
    ----------
    given : mapping of str to str
        Field, as typed, to a header or a unit.
    what : str
        The option it was given with: "column" or "unit".

    Raises
    ------
    BadInputError
        A field that does not exist; the message lists those that do.
    """
    known = {plain(name): name for name in FIELDS}
    for name in given:
        if plain(name) not in known:
            raise BadInputError(f"--{what} {name}=...: {name!r} is not one of: {', '.join(FIELDS)}")
    return {known[plain(name)]: value.strip() for name, value in given.items()}


def _chosen(file: Sheet, columns: Mapping[str, str]) -> dict[str, int | None]:
    """Places of the columns that the person named; None where the file has no such field."""
    return {
        name: _place(file, name, header) if header else None for name, header in columns.items()
    }


def _place(file: Sheet, field: str, header: str) -> int:
    wanted = plain(header)
    full = [i for i, name in enumerate(file.header) if plain(name) == wanted]
    bare = [i for i, name in enumerate(file.header) if plain(split_header(name)[0]) == wanted]
    match full or bare:
        case []:
            raise BadInputError(
                f'{file.path} has no column "{header}" for {field}; it has: {_listed(file.header)}'
            )
        case [place]:
            return place
        case several:
            raise _ask(file, field, several)


def _places(file: Sheet, chosen: Mapping[str, int | None]) -> dict[str, int]:
    """Place of the column of every field that the file has."""
    taken = set(chosen.values())
    places: dict[str, int] = {}
    for name in FIELDS:
        if name not in chosen:
            found = [i for i in _candidates(file, FIELDS[name]) if i not in taken]
            if len(found) > 1:
                raise _ask(file, name, found)
            places |= {name: found[0]} if found else {}
        elif (place := chosen[name]) is not None:
            places[name] = place
    _require_one_way_to_the_shot(file, places, chosen)
    _require_something_measured(file, places, chosen)
    return places


def _candidates(file: Sheet, field: Field) -> list[int]:
    names = {plain(name) for name in (field.name, *field.headers)}
    return [
        i
        for i, header in enumerate(file.header)
        if plain(header) in names or plain(split_header(header)[0]) in names
    ]


def _require_one_way_to_the_shot(
    file: Sheet, places: dict[str, int], chosen: Mapping[str, int | None]
) -> None:
    """Keep either the shot's name or its parts, as chosen; both or neither is refused."""
    if {"shot", "club"} <= places.keys():
        if ("shot" in chosen) == ("club" in chosen):
            shot, club = (file.header[places[name]] for name in ("shot", "club"))
            raise UnclearError(
                f'{file.path}: "{shot}" and "{club}" could each say which shot it was;'
                f' choose with --column shot="{shot}" or --column club="{club}"',
                "which column says which shot it was?",
                (Answer(shot, {"shot": shot}, {}), Answer(club, {"club": club}, {})),
            )
        del places["shot" if "club" in chosen else "club"]
    if "shot" in places:
        places.pop("flight", None)
        places.pop("shape", None)
    if "shot" not in places and "club" not in places:
        raise UnclearError(
            f"{file.path}: no column is known to say which shot it was; name it with"
            f' --column shot="..." or --column club="..."; there are: {_listed(file.header)}',
            "which column says which shot (or which club) it was?",
            [Answer(name, {"shot": name}, {}) for name in file.header],
        )


def _require_something_measured(
    file: Sheet, places: Mapping[str, int], chosen: Mapping[str, int | None]
) -> None:
    rest = [i for i in range(len(file.header)) if i not in places.values()]
    perhaps = [i for i in rest if "carry" in plain(file.header[i])]
    if perhaps and "carry" not in places and "carry" not in chosen:
        raise _ask(file, "carry", perhaps)
    if not any(FIELDS[name].attribute in MEASURED for name in places):
        raise UnclearError(
            f"{file.path}: no column is known to hold a carry or another measured number; name it"
            f' with --column carry="..."; there are: {_listed(file.header)}',
            "which column holds the measured carry?",
            [Answer(file.header[i], {"carry": file.header[i]}, {}) for i in rest],
        )


def _ask(file: Sheet, field: str, places: Sequence[int]) -> UnclearError:
    headers = [file.header[i] for i in places]
    names = [f'"{header}"' for header in headers]
    could = " or ".join(names)
    return UnclearError(
        f"{file.path}: {field} could be {could}; choose with --column {_typed(field)}={names[0]}",
        f"which column holds the {field}?",
        [*(Answer(h, {field: h}, {}) for h in headers), Answer("none of them", {field: ""}, {})],
    )


def _unit(file: Sheet, index: int, field: Field, given: Mapping[str, str]) -> str | None:
    """Find what a column's bare numbers are in: as the person says, else as the file says."""
    if field.kind is None:
        return None
    header = file.header[index]
    stated = {given[field.name]} if field.name in given else set(_stated(file, index))
    for unit in stated:
        if unit.lower() not in field.kind.spellings:
            raise BadInputError(
                f'{file.path}: "{header}" in {unit!r}: that is not a unit of {field.kind.name};'
                f" give one with --unit {_typed(field.name)}={field.kind.shown_in}"
                f" (units: {', '.join(field.kind.spellings)})"
            )
    if len({field.kind.spellings[unit.lower()] for unit in stated}) > 1:
        raise UnclearError(
            f'{file.path}: "{header}" has another unit in the row below it; say which is right'
            f" with --unit {_typed(field.name)}={field.kind.shown_in}",
            f'in which unit is "{header}"?',
            [Answer(unit, {}, {field.name: unit}) for unit in sorted(stated)],
        )
    if not stated and _needs_unit(file, index, field):
        units = dict.fromkeys(field.kind.spellings.values())
        first = (next(s for s, u in field.kind.spellings.items() if u == unit) for unit in units)
        raise UnclearError(
            f'{file.path}: "{header}" has no unit; give it with'
            f" --unit {_typed(field.name)}={field.kind.shown_in}",
            f'in which unit is "{header}"?',
            [Answer(unit, {}, {field.name: unit}) for unit in first],
        )
    return next(iter(stated), None)


def _stated(file: Sheet, index: int) -> Iterator[str]:
    """Units in the header and in the row below it."""
    unit = split_header(file.header[index])[1]
    if unit:
        yield unit
    below = _first(file)
    if _is_unit_row(below) and index < len(below):
        mark = _unbracketed(below[index])
        if mark not in MISSING:
            yield mark


def _first(file: Sheet) -> tuple[str, ...]:
    """Cells of the first row."""
    return tuple(file.column(i)[0] for i in range(len(file.header)))


def _is_unit_row(cells: Sequence[str]) -> bool:
    """Whether a row holds units and nothing else, as some files have it below the header."""
    marks = [mark for mark in map(_unbracketed, cells) if mark not in MISSING]
    return bool(marks) and all(mark in UNITS for mark in marks)


def _needs_unit(file: Sheet, index: int, field: Field) -> bool:
    """Whether the column has numbers and none of them has a unit of its own."""
    cells = rows_of_balls(file).column(index)
    plain_number = cells.str.contains(r"^[-+]?[0-9]+(?:\.[0-9]+)?$")
    others = cells.filter(~plain_number).unique().to_list()
    bare = plain_number.any() or any(is_bare(cell, field) for cell in others)
    return bare and not any(has_unit(cell, field) for cell in others)


def _unbracketed(cell: str) -> str:
    return cell.strip("[]() ").lower()


def _typed(field: str) -> str:
    return field.replace(" ", "-")


def _listed(header: Sequence[str], most: int = 12) -> str:
    more = f" and {len(header) - most} more" if len(header) > most else ""
    return ", ".join(f'"{name[:40]}"' for name in header[:most]) + more
