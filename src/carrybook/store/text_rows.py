"""Rows of a delimited text file whose columns docs/rounds.md says: nothing about it is guessed."""

from pathlib import Path

from carrybook.base.errors import BadInputError
from carrybook.world.forecast import rows_in

__all__ = ["text_rows"]


def text_rows(path: Path) -> list[list[str]]:
    """Read the rows of a file, the header first; comma, semicolon or tab.

    Raises
    ------
    BadInputError
        It cannot be read, is not UTF-8, or no table.
    """
    try:
        text = path.read_bytes().decode("utf-8-sig")
    except OSError as error:
        raise BadInputError(f"{path} cannot be read: {error.strerror}") from None
    except UnicodeDecodeError:
        raise BadInputError(f"{path} is not UTF-8 text; save the table as CSV") from None
    return rows_in(text, path.name, "a CSV file")
