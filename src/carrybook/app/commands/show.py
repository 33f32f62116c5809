"""How every command says its answer."""

import json
from typing import TYPE_CHECKING

import typer

from carrybook.app.json_views.base import Json

if TYPE_CHECKING:
    from carrybook.app.services.weather import Weather

__all__ = ["show"]


def show(
    as_json: bool,
    view: Json,
    text: str,
    *,
    weather: "Weather | None" = None,
    its_wind: bool = False,
) -> None:
    """Print the view as JSON, or the text; flushed at once, so that a closed pipe is noticed here.

    Below the text stands whose air it is, where it was reported or forecast, and whether its wind
    was used. A number in the view that
    is not finite is a bug, and raises.
    """
    if as_json:
        text = json.dumps(view, indent=2, allow_nan=False, ensure_ascii=False)
    elif weather is not None and weather.told is not None:
        from carrybook.app.texts.weather import told_text

        text = f"{text}\n{told_text(weather.told, its_wind=its_wind)}"
    typer.echo(text)
