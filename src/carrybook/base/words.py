"""Words people type for a choice from a fixed list."""

from enum import StrEnum
from typing import TypeVar

from carrybook.base.errors import BadInputError

__all__ = ["named"]

E = TypeVar("E", bound=StrEnum)


def named(kind: type[E], words: str, what: str) -> E:
    """Give the member of `kind` that is written as `words`; case, hyphens, spacing do not matter.

    Parameters
    ----------
    kind : type of StrEnum
        The list to choose from.
    words : str
        As typed.
    what : str
        What the choice is called in a message.

    Raises
    ------
    BadInputError
        Words we do not know; the message lists those we do.
    """
    try:
        return kind(" ".join(words.lower().replace("_", " ").replace("-", " ").split()))
    except ValueError:
        raise BadInputError(f"{what} = {words!r} is not one of: {', '.join(kind)}") from None
