"""A file of recorded rounds: one row a scoring shot, headers with units; reads the text alone.

docs/rounds.md says which columns there are. What a cell means is read where typed words are read.
"""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

from carrybook.base.errors import BadInputError
from carrybook.player.rounds import Round
from carrybook.store.fields import MISSING
from carrybook.store.text_rows import text_rows

__all__ = ["COLUMNS", "Row", "read_rounds_file", "rounds_of"]

_OF_ROUND = ("round", "ended", "setting", "round note")
# Column of the file to the answer it holds, as `carrybook.app.forms.round_shot` names it.
COLUMNS: Mapping[str, str] = {
    **{
        name: name.replace(" ", "_")
        for name in (
            "hole", "number", "lie", "moisture", "wind", "wind from", "hole location",
            "green depth", "firmness", "green speed", "temperature", "shot", "intended", "aim",
            "called", "landing past", "landing right", "finish on", "finish", "finish past",
            "finish right", "putts", "penalties", "true number", "true wind", "true wind from",
            "true lie", "true moisture", "true firmness", "note",
        )
    },
    "strokes after": "others",
    "time": "at",
}  # fmt: skip
_NEEDED = ("round", "hole", "number", "shot", "finish on")
_HEADER = re.compile(r"(?P<name>[^()\[\]]+?)\s*(?:[(\[](?P<unit>[^()\[\]]*)[)\]])?\s*")
_BARE = re.compile(r"[-+−]?\d+(?:[.,]\d+)?")
_UNITLESS = frozenset({"hole", "putts", "strokes after", "penalties"})
_SETTINGS = ("", "course", "competition")


@dataclass(frozen=True, slots=True)
class Row:
    """A row of the file: its number there, its round, and the answers of its cells."""

    number: int
    round: Round
    answers: Mapping[str, str]


def read_rounds_file(path: Path) -> tuple[Row, ...]:
    """Read a file of rounds.

    Parameters
    ----------
    path : Path
        Delimited text: comma, semicolon or tab.

    Returns
    -------
    rows : tuple of Row
        In the order of the file; a number in a column whose header has a unit carries that unit.

    Raises
    ------
    BadInputError
        It cannot be read, a column that is not known or missing, or no rows.
    """
    first, *below = text_rows(path) or [[]]
    heads = _heads(first, path)
    rows = [_row(n, cells, heads, path) for n, cells in enumerate(below, 2) if any(cells)]
    if not rows:
        raise BadInputError(f"{path} holds no shots")
    return tuple(rows)


def rounds_of(rows: Iterable[Row]) -> dict[str, Round]:
    """Rounds of a file by when they began, each as its first row has it."""
    found: dict[str, Round] = {}
    for row in rows:
        found.setdefault(row.round.begun, row.round)
    return found


def _heads(cells: list[str], path: Path) -> list[tuple[str, str]]:
    """Name and unit of each column."""
    heads = []
    for cell in cells:
        match = _HEADER.fullmatch(cell.strip())
        name = " ".join((match["name"] if match else cell).lower().replace("_", " ").split())
        if name not in COLUMNS and name not in _OF_ROUND:
            known = ", ".join([*_OF_ROUND, *COLUMNS])
            raise BadInputError(f"{path.name}: column {cell.strip()!r} is not one of: {known}")
        heads.append((name, (match and match["unit"]) or ""))
    names = [name for name, _ in heads]
    for name in _NEEDED:
        if name not in names:
            raise BadInputError(f"{path.name}: the column {name!r} is missing")
    if twice := next((name for name in names if names.count(name) > 1), None):
        raise BadInputError(f"{path.name}: the column {twice!r} is there twice")
    return heads


def _row(number: int, cells: list[str], heads: list[tuple[str, str]], path: Path) -> Row:
    if len(cells) != len(heads):
        raise BadInputError(
            f"{path.name}, row {number}: {len(cells)} cells under {len(heads)} headers"
        )
    said = {
        name: _with_unit(" ".join(cell.split()), unit, name)
        for (name, unit), cell in zip(heads, cells, strict=True)
        if cell.strip().lower() not in MISSING
    }
    begun, setting = said.get("round", ""), said.get("setting", "").lower()
    if not begun:
        raise BadInputError(f"{path.name}, row {number}: round is empty; when did it begin?")
    if setting not in _SETTINGS:
        raise BadInputError(
            f"{path.name}, row {number}: setting = {setting!r} is not one of: course, competition"
        )
    played = Round(begun, said.get("ended", begun), said.get("round note", ""), setting)
    return Row(number, played, {COLUMNS[k]: v for k, v in said.items() if k in COLUMNS})


def _with_unit(text: str, unit: str, name: str) -> str:
    return f"{text}{unit}" if unit and name not in _UNITLESS and _BARE.fullmatch(text) else text
