"""What waited on a phone until the server answered."""

from collections.abc import Callable
from datetime import datetime, timedelta

from carrybook.app.services.log import now
from carrybook.app.web.asked import Asked, Data
from carrybook.base.errors import BadInputError, NoSolutionError
from carrybook.store.failures import BookFileError

__all__ = ["said_at", "taken", "whole_number"]

_LONGEST_WAIT = timedelta(days=30)  # ours: after that nobody knows when it was


def taken(take: Callable[[], bool]) -> Data:
    """Take it; the script is told what became of it, or to keep it where only the book is shut."""
    try:
        return Data({"taken": take()})
    except BookFileError as error:
        return Data({"later": str(error)}, 503)
    except (BadInputError, NoSolutionError) as error:
        return Data({"refused": str(error)}, 400)


def said_at(asked: Asked) -> datetime:
    """When it was said: `waited` seconds ago, so the clock of the phone need not be right."""
    text = asked.said("waited")[:12]
    waited = timedelta(seconds=int(text) if text.isascii() and text.isdigit() else 0)
    return now() - min(waited, _LONGEST_WAIT)


def whole_number(text: str) -> int:
    """Read a number that a script of ours sent.

    Raises
    ------
    BadInputError
        It is none.
    """
    if not (text.isascii() and text.isdigit() and len(text) < 10):
        raise BadInputError("what waited cannot be read")
    return int(text)
