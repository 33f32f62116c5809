"""A round in a line or two."""

from carrybook.app.services.rounds import spoken
from carrybook.player.rounds import Round

__all__ = ["round_text"]


def round_text(found: Round | None) -> str:
    """Say whether a round is on, and what that means."""
    if found is None:
        return "no round is on, and none was yet; one begins with: carrybook round start"
    note = f" ({found.note})" if found.note else ""
    if found.ended is not None:
        return (
            f"no round is on: the last one{note} began {spoken(found.begun)} and ended"
            f" {spoken(found.ended)}"
        )
    return (
        f"a round is on since {spoken(found.begun)}{note}: carrybook only records (Rule 4.3a);"
        " end it with: carrybook round end"
    )
