"""`review`: what recorded rounds were made of."""

from typing import Annotated

import typer

from carrybook.app import options
from carrybook.app.commands.show import show
from carrybook.app.files import FIGURES, require_place
from carrybook.app.forms.review import ReviewForm
from carrybook.app.progress import waiting
from carrybook.app.services.review import draw_review, review_rounds

__all__ = ["review"]


def review(
    ctx: typer.Context,
    number: Annotated[
        int | None,
        typer.Option("--round", metavar="N", min=1, help="Only the round of that number."),
    ] = None,
    last: Annotated[
        int | None, typer.Option(metavar="N", min=1, help="Only the last so many rounds.")
    ] = None,
    since: Annotated[
        str | None, typer.Option(metavar="DATE", help="Only rounds since a day: 2026-05-30.")
    ] = None,
    against: Annotated[
        str,
        typer.Option(
            metavar="WHO",
            help="tour, book (your own), or a CSV file of a rival: lie,distance (yd),strokes.",
        ),
    ] = "tour",
    figure: options.Figure = None,
    seed: options.Seed = 1,
    as_json: options.Json = False,
) -> None:
    """Split recorded rounds: choice, what was not as believed, strike, luck; strokes a round.

    Each scoring shot is a chain whose parts add up to what you scored. What was not recorded is not
    guessed: it stays joined with the strike. Patterns are told only where luck would hardly make
    them, over all that was looked at. Landings and patterns in yd or m.

    Example: carrybook review --last 10 --against book --figure review.png
    """
    from carrybook.app.json_views.review import review_view
    from carrybook.app.texts.review import review_text

    asked = ReviewForm.of(round=number, last=last, since=since, against=against)
    require_place(figure, FIGURES, "figure")
    with waiting("weighing the shots"):
        found = review_rounds(ctx.obj.book, asked, seed=seed)
    if figure is not None:
        draw_review(figure, found)
    show(as_json, review_view(found), review_text(found, ctx.obj.units))
