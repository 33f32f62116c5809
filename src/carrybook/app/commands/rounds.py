"""`round`: while one is on, only recording; Rule 4.3a."""

from datetime import datetime
from typing import Annotated

import typer

from carrybook.app import options
from carrybook.app.commands.show import show
from carrybook.app.json_views.rounds import round_view
from carrybook.app.services.rounds import current_round, end_round, start_round
from carrybook.app.texts.rounds import round_text

__all__ = ["app"]

app = typer.Typer(no_args_is_help=True, help="Begin and end a round: in between, only recording.")


@app.command()
def start(
    ctx: typer.Context,
    note: Annotated[str, typer.Option(metavar="TEXT", help="What you like to remember.")] = "",
    as_json: options.Json = False,
) -> None:
    """Begin a round: until its end the tool records balls and gives no advice (Rule 4.3a).

    The lock is kept in the book, so closing the program does not lift it.

    Example: carrybook round start --note "club championship, 1st round"
    """
    found = start_round(ctx.obj.book, datetime.now().astimezone(), note)
    show(as_json, round_view(found), round_text(found))


@app.command()
def end(ctx: typer.Context, as_json: options.Json = False) -> None:
    """End the round: advice is given again.

    Example: carrybook round end
    """
    found = end_round(ctx.obj.book, datetime.now().astimezone())
    show(as_json, round_view(found), round_text(found))


@app.command()
def status(ctx: typer.Context, as_json: options.Json = False) -> None:
    """Say whether a round is on, and since when.

    Example: carrybook round status
    """
    found = current_round(ctx.obj.book)
    show(as_json, round_view(found), round_text(found))
