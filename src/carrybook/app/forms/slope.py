"""An even slope as people type it: where it rises, seen from behind the ball."""

from carrybook.base import units as u
from carrybook.base.errors import BadInputError

__all__ = ["rise_from"]

_WAYS = {
    "uphill": "0deg",
    "right to left": "90deg",
    "downhill": "180deg",
    "left to right": "270deg",
}


def rise_from(text: str) -> float:
    """Read where the ground rises: an angle clockwise from uphill, or how a ball runs. [rad]"""
    words = " ".join(text.lower().replace("-", " ").split())
    if words not in _WAYS and not any(sign.isdigit() for sign in words):
        raise BadInputError(
            f"slope direction = {text!r} is not one of: {', '.join(_WAYS)};"
            " nor an angle clockwise from uphill like 45deg"
        )
    return u.parse(_WAYS.get(words, text), u.ANGLE, "slope direction")
