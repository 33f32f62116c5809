"""`feel`: what you called against what it was."""

import typer

from carrybook.app import options
from carrybook.app.commands.show import show
from carrybook.app.files import FIGURES, require_place
from carrybook.app.json_views.learn import feel_view
from carrybook.app.progress import waiting
from carrybook.app.services.learn import draw_feel, feel_of_book

__all__ = ["feel"]


def feel(ctx: typer.Context, figure: options.Figure = None, as_json: options.Json = False) -> None:
    """Compare feel with real: called against measured, meant against called, by shot, in per cent.

    The two are kept apart: the first says how well you read a strike, the second how far the strike
    you feel is from the one you meant. Each has its interval. Then how much your call at impact is
    worth, and how it went over the weeks.

    Bands of distance are 20yd wide.

    Example: carrybook feel --figure feel.png
    """
    from carrybook.app.texts.learn import feel_text

    require_place(figure, FIGURES, "figure")
    with waiting("comparing feel with real"):
        found = feel_of_book(ctx.obj.book)
    if figure is not None:
        draw_feel(figure, found, ctx.obj.units)
    show(as_json, feel_view(found), feel_text(found, ctx.obj.units))
