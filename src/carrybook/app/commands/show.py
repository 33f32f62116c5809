"""How every command says its answer."""

import json

import typer

from carrybook.app.json_views import Json

__all__ = ["show"]


def show(as_json: bool, view: Json, text: str) -> None:
    """Print the view as JSON, or the text; flushed at once, so that a closed pipe is noticed here.

    A number in the view that is not finite is a bug, and raises.
    """
    if as_json:
        text = json.dumps(view, indent=2, allow_nan=False, ensure_ascii=False)
    typer.echo(text)
