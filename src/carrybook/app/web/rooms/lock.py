"""The lock for a round in play: planning is shut, recording stays open (Rule 4.3a)."""

from collections.abc import Callable

from carrybook.app.web.asked import Answer, Asked, Shown

__all__ = ["is_playing", "planning"]


def is_playing(asked: Asked) -> bool:
    """Whether the player said that a round is being played."""
    return asked.desk.in_a_round()


def planning(handler: Callable[[Asked], Answer]) -> Callable[[Asked], Answer]:
    """Shut a room while a round is being played."""

    def locked(asked: Asked) -> Answer:
        return Shown("locked.html", None) if is_playing(asked) else handler(asked)

    return locked
