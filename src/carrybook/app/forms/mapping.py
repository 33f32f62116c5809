"""What a person says about the columns of a file: as options, or once in a file of their own."""

import tomllib
from pathlib import Path

from carrybook.app.forms.base import pairs
from carrybook.base.errors import BadInputError

__all__ = ["mapping_of"]

_TABLES = ("columns", "units")


def mapping_of(
    path: Path | None, columns: list[str], units: list[str]
) -> tuple[dict[str, str], dict[str, str]]:
    """Put together what options and file say; the options win.

    Parameters
    ----------
    path : Path, optional
        A TOML file with the tables "columns" and "units", field to header and field to unit.
    columns, units : list of str
        As FIELD=TEXT.

    Returns
    -------
    columns, units : dict of str to str
        By field as typed.

    Raises
    ------
    BadInputError
        A file that cannot be read or says something else, or an option without its sign.
    """
    said = {} if path is None else _read(path)
    return (
        said.get("columns", {}) | pairs(columns, "column", 'carry="Carry flat"'),
        said.get("units", {}) | pairs(units, "unit", "carry=yd"),
    )


def _read(path: Path) -> dict[str, dict[str, str]]:
    try:
        found = tomllib.loads(path.read_text("utf-8"))
    except OSError as error:
        raise BadInputError(f"mapping = '{path}' cannot be read: {error.strerror}") from None
    except ValueError as error:  # of TOML, or of UTF-8
        raise BadInputError(f"mapping = '{path}' is not TOML: {error}") from None
    for table, entries in found.items():
        good = isinstance(entries, dict) and all(isinstance(v, str) for v in entries.values())
        if table not in _TABLES or not good:
            raise BadInputError(
                f"mapping = '{path}': {table!r} is not understood; write [columns] with lines like"
                ' carry = "Carry flat", and [units] with lines like carry = "yd"'
            )
    return found
