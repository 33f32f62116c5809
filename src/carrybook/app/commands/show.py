"""How every command says its answer."""

import json
from typing import TYPE_CHECKING

import typer

from carrybook.app.json_views import Json

if TYPE_CHECKING:
    from carrybook.world.weather import WeatherReport

__all__ = ["show"]


def show(as_json: bool, view: Json, text: str, *, reported: "WeatherReport | None" = None) -> None:
    """Print the view as JSON, or the text; flushed at once, so that a closed pipe is noticed here.

    Below the text stands whose air it is, where an airport reported it. A number in the view that
    is not finite is a bug, and raises.
    """
    if as_json:
        text = json.dumps(view, indent=2, allow_nan=False, ensure_ascii=False)
    elif reported is not None:
        from carrybook.app.texts import report_text

        text = f"{text}\n{report_text(reported)}"
    typer.echo(text)
