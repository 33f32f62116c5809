"""Files that a person asked for: refused before any work is done, written whole or not at all."""

import os
from pathlib import Path
from typing import TYPE_CHECKING

from carrybook.base.errors import BadInputError

if TYPE_CHECKING:
    from matplotlib.figure import Figure

__all__ = ["CARDS", "FIGURES", "make_folder", "require_place", "save_figure", "write_file"]

FIGURES = (".png", ".svg")
CARDS = (".pdf",)

_DOTS_PER_INCH = 200  # of a PNG: sharp on a phone and on paper


def require_place(path: Path | None, suffixes: tuple[str, ...], what: str) -> None:
    """Refuse a file that could not be written later.

    Parameters
    ----------
    path : Path, optional
        The file; none was asked for where there is none.
    suffixes : tuple of str
        Endings it may have.
    what : str
        What the file is called in a message.

    Raises
    ------
    BadInputError
        Another ending, a folder that is missing or may not be written, or a folder of that name.
    """
    if path is None:
        return
    if path.suffix.lower() not in suffixes:
        raise BadInputError(f"{what} = '{path}' must end in one of: {', '.join(suffixes)}")
    folder = path.absolute().parent
    if not folder.is_dir():
        raise BadInputError(f"{what} = '{path}': there is no folder {folder}; make it first")
    if not os.access(folder, os.W_OK | os.X_OK):
        raise BadInputError(f"{what} = '{path}': the folder {folder} may not be written")
    if path.is_dir():
        raise BadInputError(f"{what} = '{path}' is a folder; name a file in it")


def make_folder(path: Path) -> None:
    """Make a folder that may be written, unless it is there already.

    Raises
    ------
    BadInputError
        It cannot be made or written.
    """
    try:
        path.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise BadInputError(f"the folder '{path}' cannot be made: {error.strerror}") from None
    if not os.access(path, os.W_OK | os.X_OK):
        raise BadInputError(f"the folder '{path}' may not be written")


def write_file(path: Path, content: bytes) -> None:
    """Put a file in place in one step, so that nobody ever sees half of it.

    Raises
    ------
    BadInputError
        It cannot be written; an older file of that name is as it was.
    """
    part = path.with_name(f".{path.name}.{os.getpid()}.part")
    try:
        part.write_bytes(content)
        part.replace(path)
    except OSError as error:
        part.unlink(missing_ok=True)
        raise BadInputError(f"'{path}' cannot be written: {error.strerror}") from None


def save_figure(path: Path, figure: "Figure") -> None:
    """Write a picture as its ending says.

    Raises
    ------
    BadInputError
        It cannot be written.
    """
    from io import BytesIO

    buffer = BytesIO()
    figure.savefig(buffer, format=path.suffix.lower().lstrip("."), dpi=_DOTS_PER_INCH)
    write_file(path, buffer.getvalue())
