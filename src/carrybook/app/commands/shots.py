"""`shots`: the bag, and the shots the player owns with it."""

from typing import Annotated

import typer

from carrybook.app import options
from carrybook.app.commands.show import show
from carrybook.app.forms.shots import ShotForm
from carrybook.app.forms.weather import AirForm
from carrybook.app.json_views.shots import explained_view, shot_view, shots_view
from carrybook.app.services.shots import add_shot, explain_shot, owned_shots, remove_shot

__all__ = ["app"]

app = typer.Typer(no_args_is_help=True, help="The shots you own: club, flight, shape, stock carry.")


@app.command()
def add(
    ctx: typer.Context,
    club: Annotated[str, typer.Argument(metavar="CLUB", help="What you call the club: 54, PW.")],
    loft: Annotated[str, typer.Option(metavar="ANGLE", help="Its loft: 54deg.")],
    carry: Annotated[
        str, typer.Option(metavar="LENGTH", help="Stock carry on an ordinary day: 82yd or 75m.")
    ],
    flight: Annotated[
        str | None,
        typer.Option(metavar="WORD", help="low, stock or high.", show_default="stock"),
    ] = None,
    shape: Annotated[
        str | None,
        typer.Option(
            metavar="WORD",
            help="draw, straight or cut: which way it is meant to curve.",
            show_default="straight",
        ),
    ] = None,
    partials: Annotated[
        str | None,
        typer.Option(
            metavar="RANGE",
            help="Carries you would use it for, as you feel them: 55yd..82yd.",
            show_default="90 % of the stock carry up to all of it",
        ),
    ] = None,
    cue: Annotated[
        str | None,
        typer.Option(metavar="TEXT", help="Your own words for it; shown back, never changed."),
    ] = None,
    untrusted: Annotated[
        bool, typer.Option("--untrusted", help="Not yet trusted in competition.")
    ] = False,
    as_json: options.Json = False,
) -> None:
    """Put a shot you own into the book, or give one that is there new numbers.

    The first shot starts the book. At most 14 clubs, Rule 4.1b.

    Example: carrybook shots add 54 --loft 54deg --carry 82yd --partials 55yd..82yd --flight low
    """
    from carrybook.app.texts.shots import shot_text

    form = ShotForm.of(
        club=club,
        loft=loft,
        carry=carry,
        flight=flight,
        shape=shape,
        partials=partials,
        cue=cue,
        trusted=not untrusted,
    )
    shot = form.value()
    add_shot(ctx.obj.book, shot)
    show(as_json, shot_view(shot), shot_text(shot, ctx.obj.units))


@app.command("list")
def list_shots(ctx: typer.Context, as_json: options.Json = False) -> None:
    """Show every shot in the book, in yd or m.

    Example: carrybook shots list --units metres
    """
    from carrybook.app.texts.shots import shots_text

    shots = owned_shots(ctx.obj.book)
    show(as_json, shots_view(shots), shots_text(shots, ctx.obj.units))


@app.command()
def explain(
    ctx: typer.Context,
    label: Annotated[str, typer.Argument(metavar="LABEL", help='Its name: "54 low".')],
    air: options.Air = None,
    left_handed: options.LeftHanded = False,
    as_json: options.Json = False,
) -> None:
    """Explain a shot: what dew, wet, rough, ball position or shape would change, in yd or m.

    Differences from your stock shot with their range: launch, spin, carry, apex, descent, curve and
    run on a medium green. How large each change is, is a guess of ours until it is measured on you.

    Example: carrybook shots explain 54 --air "9C 85% 1004hPa"
    """
    from carrybook.artefacts.whatif_text import explained_text

    day = AirForm.of(air=air).value()
    explained = explain_shot(ctx.obj.book, label, day, left_handed=left_handed)
    text = explained_text(explained, units=ctx.obj.units)
    show(as_json, explained_view(explained), text)


@app.command()
def remove(
    ctx: typer.Context,
    label: Annotated[str, typer.Argument(metavar="LABEL", help='Its name: "54 low".')],
    as_json: options.Json = False,
) -> None:
    """Take a shot out of the book; one with logged balls stays.

    Example: carrybook shots remove "54 low"
    """
    remove_shot(ctx.obj.book, label)
    show(as_json, {"removed": label}, f"{label}: removed")
