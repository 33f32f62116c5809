"""`start`: a new player's book in a minute."""

from typing import Annotated

import typer

from carrybook.app import options
from carrybook.app.asking import ask_until, somebody_is_there
from carrybook.app.commands.show import show
from carrybook.app.forms.start import PlayerForm, either_said, loft_said, wedge_said
from carrybook.app.json_views.start import start_view
from carrybook.app.services.start import save_player, start_book

__all__ = ["start"]

_WEDGE = "name, loft and full carry, as: 54 54deg 82yd"


def start(
    ctx: typer.Context,
    wedge: Annotated[
        list[str] | None,
        typer.Option(metavar="WORDS", help='Two or more: name, loft, full carry: "54 54deg 82yd".'),
    ] = None,
    also: Annotated[
        list[str] | None,
        typer.Option(metavar="WORDS", help='A wedge of which you know only the loft: "50 50deg".'),
    ] = None,
    level: Annotated[
        str | None,
        typer.Option(metavar="WORD", help="How you play: scratch, bogey, or a handicap: 12, +2."),
    ] = None,
    table: Annotated[
        str | None,
        typer.Option(
            metavar="WORD", help="Whose accuracy table: men or women.", show_default="men"
        ),
    ] = None,
    hand: Annotated[
        str | None, typer.Option(metavar="WORD", help="right or left.", show_default="right")
    ] = None,
    low: Annotated[
        bool, typer.Option("--low", help="You also play each of them low; a guess until logged.")
    ] = False,
    as_json: options.Json = False,
) -> None:
    """Start a book from a few answers: two wedges and your level. On a terminal it asks.

    What you did not say is a guess, and is marked as prior until you say or log it. With --level
    and no wedge, a book that is there has only level and hand changed.

    Example: carrybook start --wedge "54 54deg 82yd" --wedge "60 60deg 68yd" --level 12
    """
    from carrybook.app.texts.start import start_text

    if wedge is None and level is None and somebody_is_there() and not as_json:
        wedge, also, level, table, hand, low = _asked()
    player = PlayerForm.of(level=level, table=table, hand=hand).value()
    if wedge is None and level is not None:
        started = save_player(ctx.obj.book, player)
    else:
        said, others = map(wedge_said, wedge or []), map(loft_said, also or [])
        started = start_book(ctx.obj.book, player, tuple(said), tuple(others), low=low)
    show(as_json, start_view(started), start_text(started, ctx.obj.units))


def _asked() -> tuple[list[str], list[str], str, str, str, bool]:
    """Ask what a first bag needs; every answer is looked at before the next question."""
    typer.echo("Two wedges you know, then how you play. An empty line is fine where it says so.")
    wedges = [ask_until(f"{nth} wedge: {_WEDGE}", wedge_said) for nth in ("first", "second")]
    also: list[str] = []
    while more := ask_until(
        "another wedge, with or without carry (empty: no more)", either_said, empty=True
    ):
        (wedges if len(more.split()) > 2 else also).append(more)
    level = ask_until(
        "level: scratch, bogey, or a handicap", lambda t: PlayerForm.of(level=t).value()
    )
    table = ask_until("accuracy table: men or women", lambda t: PlayerForm.of(table=t))
    hand = ask_until("right or left handed", lambda t: PlayerForm.of(hand=t))
    low = typer.confirm("do you play these low as well?", default=False)
    return wedges, also, level, table, hand, low
