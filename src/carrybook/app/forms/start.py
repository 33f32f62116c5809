"""What a new player says of themselves and of a few wedges."""

from typing import Annotated

from pydantic import BeforeValidator

from carrybook.app.forms.base import Form, choice_of
from carrybook.base import units as u
from carrybook.base.errors import BadInputError
from carrybook.player.bag import Club
from carrybook.player.level import BOGEY_HANDICAP, AccuracyTable, Player

__all__ = ["PlayerForm", "either_said", "loft_said", "wedge_said"]


class PlayerForm(Form):
    """Level of play and hand."""

    level: str = "bogey"
    table: Annotated[AccuracyTable, choice_of(AccuracyTable, "table")] = AccuracyTable.MEN
    hand: Annotated[str, BeforeValidator(lambda text: _hand(text))] = "right"

    def value(self) -> Player:
        """Give the player to the core."""
        return Player(_handicap(self.level, self.table), self.table, self.hand == "left")


def wedge_said(text: str) -> tuple[Club, float]:
    """Read a wedge with loft and full carry: "54 54deg 82yd", or "54deg 82yd".

    Raises
    ------
    BadInputError
        It says something else.
    """
    words = text.split()
    if len(words) < 2:
        raise BadInputError(f"wedge = {text!r} is not understood; write it like: 54 54deg 82yd")
    carry = u.parse(words[-1], u.LENGTH, "full carry")
    return loft_said(" ".join(words[:-1])), carry


def loft_said(text: str) -> Club:
    """Read a wedge with its loft alone: "50 50deg", or "50deg".

    Raises
    ------
    BadInputError
        It says something else.
    """
    words = text.split()
    if not words:
        raise BadInputError("wedge = '' is not understood; write it like: 50 50deg")
    loft = u.parse(words[-1], u.ANGLE, "loft")
    name = " ".join(words[:-1]) or words[-1].lower().removesuffix("deg").removesuffix("°")
    return Club(name, loft)


def either_said(text: str) -> object:
    """Read a wedge with or without its carry. Errors are those of the two."""
    return (wedge_said if len(text.split()) > 2 else loft_said)(text)


def _hand(text: str) -> str:
    word = text.lower().removesuffix("-handed").removesuffix(" handed")
    if word not in {"right", "left"}:
        raise BadInputError(f"hand = {text!r} is not one of: right, left")
    return word


def _handicap(level: str, table: AccuracyTable) -> float:
    """Read a level: scratch, bogey, or a handicap, of which +2 is better than scratch."""
    word = level.strip().lower().replace("−", "-")
    named = {"scratch": 0.0, "bogey": BOGEY_HANDICAP[table]}
    if word in named:
        return named[word]
    try:
        number = float(word.removeprefix("+").replace(",", "."))
    except ValueError:
        raise BadInputError(
            f"level = {level!r} is not scratch, bogey or a handicap such as 12 or +2"
        ) from None
    return -number if word.startswith("+") else number
