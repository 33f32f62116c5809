"""A started book as JSON."""

from typing import TYPE_CHECKING

from carrybook.app.json_views.base import Json
from carrybook.app.json_views.shots import shot_view

if TYPE_CHECKING:
    from carrybook.app.services.start import Start

__all__ = ["start_view"]


def start_view(start: "Start") -> Json:
    """Give what `start` answers."""
    return {
        "book": str(start.path),
        "handicap": start.player.handicap,
        "accuracy_table": start.player.table,
        "left_handed": start.player.left_handed,
        "shots": [
            dict(shot_view(shot)) | {"spread": scatter.spread, "side_rad": scatter.side_rad}
            for shot, scatter in zip(start.shots, start.scatter, strict=True)
        ],
    }
