"""The hole-location sheet of a day: one hole a line, its number first, then where it is cut.

    4   27 on, 9 from the left
    11: 8 on, centre
    16, 17 on 8L

`#` starts a remark; an empty line, and a first line of words alone, are passed over.
"""

import re
from pathlib import Path

from carrybook.base.errors import BadInputError
from carrybook.world.forecast import text_of

__all__ = ["read_sheet", "sheet_in"]

_LINE = re.compile(r"(?:hole\s+)?(?P<ref>\w[\w .]*?)\s*(?:[:;,\t]|\s)\s*(?P<words>[-+]?\d.*)", re.I)
_MOST_HOLES = 108  # ours: six courses of one venue


def read_sheet(path: Path) -> tuple[tuple[str, str], ...]:
    """Read the sheet of a day. Errors are those of :func:`sheet_in`, or a file that is no text."""
    return sheet_in(text_of(path), path.name)


def sheet_in(text: str, name: str) -> tuple[tuple[str, str], ...]:
    """Take a sheet apart.

    Parameters
    ----------
    text : str
        What it says.
    name : str
        What it is called in a message.

    Returns
    -------
    locations : tuple of (str, str)
        Number of the hole, and words for :func:`carrybook.world.locate.locate`, in their order.

    Raises
    ------
    BadInputError
        A line that is not understood, a hole that stands there twice, or none at all.
    """
    found: dict[str, str] = {}
    for number, line in enumerate(text.splitlines(), start=1):
        said = line.partition("#")[0].strip().strip('"')
        if not said or (not found and not any(map(str.isdigit, said))):
            continue
        match = _LINE.fullmatch(said)
        if match is None:
            raise BadInputError(
                f"{name}, line {number}: {said[:40]!r} is not understood; write the hole and where"
                " it is cut, like '4: 27 on, 9 from the left'"
            )
        if match["ref"] in found:
            raise BadInputError(f"{name}, line {number}: hole {match['ref']} stands there twice")
        found[match["ref"]] = " ".join(match["words"].strip().strip('"').split())
    if not found:
        raise BadInputError(f"{name} names no hole; write lines like '4: 27 on, 9 from the left'")
    if len(found) > _MOST_HOLES:
        raise BadInputError(f"{name} has {len(found)} holes; {_MOST_HOLES} at most")
    return tuple(found.items())
