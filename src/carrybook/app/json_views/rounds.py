"""A round as JSON."""

from carrybook.app.json_views.base import Json
from carrybook.player.rounds import Round

__all__ = ["round_view"]


def round_view(found: Round | None) -> Json:
    """Give the round that began last; nothing but "on" where there never was one."""
    if found is None:
        return {"on": False}
    return {
        "on": found.is_on,
        "begun": found.begun,
        "ended": found.ended,
        "note": found.note,
        "setting": found.setting,
    }
