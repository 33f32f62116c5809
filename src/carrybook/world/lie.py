"""Where the ball sits and how wet it is, in the trade's words."""

from enum import StrEnum

from carrybook.base.errors import BadInputError

__all__ = ["Lie", "Moisture", "lie_named", "moisture_named"]


class Lie(StrEnum):
    """What the ball sits on."""

    TEE = "tee"
    FAIRWAY = "fairway"
    LIGHT_ROUGH = "light rough"
    DEEP_ROUGH = "deep rough"
    SAND = "sand"


class Moisture(StrEnum):
    """How wet face and ball are at impact."""

    DRY = "dry"
    DEW = "dew"
    WET = "wet"


def lie_named(words: str) -> Lie:
    """Give the lie with this name.

    Raises
    ------
    BadInputError
        Words we do not know; the message lists those we do.
    """
    try:
        return Lie(" ".join(words.lower().replace("_", " ").replace("-", " ").split()))
    except ValueError:
        raise BadInputError(f"lie = {words!r} is not one of: {', '.join(Lie)}") from None


def moisture_named(words: str) -> Moisture:
    """Give the moisture with this name.

    Raises
    ------
    BadInputError
        Words we do not know; the message lists those we do.
    """
    try:
        return Moisture(words.strip().lower())
    except ValueError:
        raise BadInputError(f"moisture = {words!r} is not one of: {', '.join(Moisture)}") from None
