"""One cell of a file of balls, read into SI. What could be read in two ways is refused."""

import re
from collections.abc import Callable, Iterable
from datetime import datetime

from carrybook.base.errors import BadInputError
from carrybook.base.units import Kind, parse
from carrybook.base.words import named
from carrybook.player.bag import Flight, Shape
from carrybook.store.fields import MISSING, UNITS, Field
from carrybook.world.lie import Lie, Moisture

__all__ = ["has_decimal_comma", "has_unit", "is_bare", "is_missing", "read_cell"]

_SETTINGS = ("range", "practice green", "course", "competition")

_NUMBER = r"[-+−]?\d+(?:[.,]\d+)*"
_NUMBER_THEN_UNIT = re.compile(rf"({_NUMBER})\s*(.*)")
_SIDED = re.compile(r"(.*\d.*?)(?<![A-Za-z])\s*(right|left|r|l)", re.IGNORECASE)
# A comma that can only be a decimal one, and marks that may as well part thousands.
_DECIMAL_COMMA = re.compile(r"[-+−]?(?:0+,\d+|\d+,(?:\d{1,2}|\d{4,})|\d{4,},\d+)(?![\d.,])")
_MARK_AND_THREE_DIGITS = re.compile(r"[-+−]?[1-9]\d{0,2}([.,])\d{3}(?![\d.,])")
_TWO_MARKS = re.compile(r"[-+−]?\d+[.,]\d+[.,]\d")


def is_missing(text: str) -> bool:
    """Whether a cell says that nothing was measured."""
    return text.lower() in MISSING


def is_bare(text: str, field: Field) -> bool:
    """Whether a cell holds a number without a unit."""
    return re.fullmatch(_NUMBER, _size_and_side(text, field)[0]) is not None


def has_unit(text: str, field: Field) -> bool:
    """Whether a cell holds a number with a unit of its own."""
    match = _NUMBER_THEN_UNIT.fullmatch(_size_and_side(text, field)[0])
    return match is not None and match[2].lower() in UNITS


def has_decimal_comma(cells: Iterable[str]) -> bool:
    """Whether some number has a comma that can only be a decimal one."""
    return any(map(_DECIMAL_COMMA.match, cells))


def read_cell(text: str, field: Field, unit: str | None, *, decimal_comma: bool) -> object:
    """Read a cell that is not missing.

    Parameters
    ----------
    text : str
        The cell.
    field : Field
        What it holds.
    unit : str, optional
        What a bare number is in; a unit in the cell wins.
    decimal_comma : bool
        Whether the file is known to write decimals with a comma.

    Returns
    -------
    value : float, datetime, StrEnum or str
        In SI; left is negative.

    Raises
    ------
    BadInputError
        The cell does not hold such a thing, or could be read in two ways.
    """
    if field.kind is not None:
        return _quantity(text, field, field.kind, unit, decimal_comma)
    return _WORDS.get(field.attribute, str)(text)


def _quantity(text: str, field: Field, kind: Kind, unit: str | None, decimal_comma: bool) -> float:
    size, side = _size_and_side(text, field)
    _require_one_reading(size, field.name, decimal_comma)
    value = parse(size, kind, field.name, unit=unit)
    if side is None:
        return value
    if value < 0.0:
        raise BadInputError(
            f"{field.name} = {text!r} has both a minus sign and a side; leave one out"
        )
    return -value if side == "l" else value


def _size_and_side(text: str, field: Field) -> tuple[str, str | None]:
    """Take "3 yd R" apart into "3 yd" and "r"."""
    match = _SIDED.fullmatch(text) if field.sided else None
    return (match[1].strip(), match[2][0].lower()) if match else (text, None)


def _require_one_reading(size: str, what: str, decimal_comma: bool) -> None:
    """Refuse what may have a thousands mark: "1.234,5", "7,250", "7.250" among decimal commas."""
    match = _MARK_AND_THREE_DIGITS.match(size)
    if _TWO_MARKS.match(size) or (match and (match[1] == ",") != decimal_comma):
        raise BadInputError(
            f"{what} = {size!r} may have a thousands mark in it; write the number without one"
        )


def _time(text: str) -> datetime:
    try:
        return datetime.fromisoformat(text)
    except ValueError:
        raise BadInputError(
            f"time = {text!r} is not in ISO 8601, the year first; write it like 2026-05-31 17:45"
            " or 2026-05-31T17:45+01:00"
        ) from None


def _setting(text: str) -> str:
    words = " ".join(text.lower().replace("_", " ").replace("-", " ").split())
    if words not in _SETTINGS:
        raise BadInputError(f"setting = {text!r} is not one of: {', '.join(_SETTINGS)}")
    return words


# How words are read, by attribute; all other words are kept as they are.
_WORDS: dict[str, Callable[[str], object]] = {
    "at": _time,
    "flight": lambda text: named(Flight, text, "flight"),
    "shape": lambda text: named(Shape, text, "shape"),
    "lie": lambda text: named(Lie, text, "lie"),
    "moisture": lambda text: named(Moisture, text, "moisture"),
    "setting": _setting,
}
