"""`shots`: the bag, and the shots the player owns with it."""

from typing import Annotated

import typer

from carrybook.app import options
from carrybook.app.commands.show import show
from carrybook.app.forms.shots import ShotChanges, ShotForm
from carrybook.app.forms.weather import AirForm
from carrybook.app.json_views.shots import explained_view, shot_view, shots_view
from carrybook.app.services.shots import (
    add_shot,
    edit_shot,
    explain_shot,
    move_shot,
    order_by_loft,
    owned_shots,
    remove_shot,
    rename_club,
    undo_change,
)

__all__ = ["app"]

app = typer.Typer(no_args_is_help=True, help="The shots you own: club, flight, shape, stock carry.")

_Bounce = Annotated[str | None, typer.Option(metavar="ANGLE", help="Bounce of the club: 10deg.")]
_Length = Annotated[str | None, typer.Option(metavar="LENGTH", help="Its length: 35.25in.")]
_HeadMass = Annotated[str | None, typer.Option(metavar="MASS", help="Mass of its head: 300g.")]
_StockEffort = Annotated[
    str | None,
    typer.Option(metavar="WORDS", help="What you call the stock swing, if you do not feel yards."),
]
_Efforts = Annotated[
    list[str] | None,
    typer.Option(
        metavar="NAME=LENGTH",
        help='A swing you know by name: "three quarter=62yd"; or "75%" or "9 o\'clock" alone, for a'
        " first guess from the name.",
    ),
]
_Measured = Annotated[
    list[str] | None,
    typer.Option(metavar="WORD", help="loft, carry or partials: measured, not just said."),
]


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
    bounce: _Bounce = None,
    length: _Length = None,
    head_mass: _HeadMass = None,
    stock_effort: _StockEffort = None,
    effort: _Efforts = None,
    measured: _Measured = None,
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
        bounce=bounce,
        length=length,
        head_mass=head_mass,
        stock_effort=stock_effort,
        efforts=effort,
        measured=measured,
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
def edit(
    ctx: typer.Context,
    label: Annotated[str, typer.Argument(metavar="LABEL", help='Its name: "54 low".')],
    carry: Annotated[str | None, typer.Option(metavar="LENGTH", help="Stock carry: 82yd.")] = None,
    partials: Annotated[
        str | None, typer.Option(metavar="RANGE", help="Carries you would use it for: 55yd..82yd.")
    ] = None,
    loft: Annotated[str | None, typer.Option(metavar="ANGLE", help="Loft of its club.")] = None,
    cue: Annotated[str | None, typer.Option(metavar="TEXT", help="Your own words for it.")] = None,
    trusted: Annotated[
        bool | None, typer.Option("--trusted/--untrusted", help="In competition.")
    ] = None,
    bounce: _Bounce = None,
    length: _Length = None,
    head_mass: _HeadMass = None,
    stock_effort: _StockEffort = None,
    effort: _Efforts = None,
    measured: _Measured = None,
    as_json: options.Json = False,
) -> None:
    """Change some numbers of a shot; what you do not name stays. Its balls stay too.

    Example: carrybook shots edit "54 low" --carry 72yd --effort "three quarter=55yd"
    """
    from carrybook.app.texts.shots import shot_text

    changes = ShotChanges.of(
        carry=carry, partials=partials, loft=loft, cue=cue, trusted=trusted, bounce=bounce,
        length=length, head_mass=head_mass, stock_effort=stock_effort, efforts=effort,
        measured=measured,
    )  # fmt: skip
    shot = edit_shot(ctx.obj.book, label, changes.shot, changes.club)
    show(as_json, shot_view(shot), shot_text(shot, ctx.obj.units))


@app.command()
def rename(
    ctx: typer.Context,
    club: Annotated[str, typer.Argument(metavar="CLUB", help="What it is called: 54.")],
    name: Annotated[str, typer.Argument(metavar="NAME", help="What it is to be called: SW.")],
    as_json: options.Json = False,
) -> None:
    """Give a club, and so all its shots, another name; balls stay.

    Example: carrybook shots rename 54 "sand iron"
    """
    shots = rename_club(ctx.obj.book, club, name)
    show(as_json, {"shots": list(shots)}, f"now called: {', '.join(shots)}")


@app.command()
def move(
    ctx: typer.Context,
    label: Annotated[
        str | None, typer.Argument(metavar="LABEL", help="The shot; none puts all by loft.")
    ] = None,
    before: Annotated[
        str | None, typer.Option(metavar="LABEL", help="The shot to come right after it.")
    ] = None,
    as_json: options.Json = False,
) -> None:
    """Put a shot where you want to see it: before another, or last.

    Example: carrybook shots move "54 low" --before 54
    """
    from carrybook.app.texts.shots import shots_text

    book = ctx.obj.book
    shots = order_by_loft(book) if label is None else move_shot(book, label, before)
    show(as_json, shots_view(shots), shots_text(shots, ctx.obj.units))


@app.command()
def undo(ctx: typer.Context, as_json: options.Json = False) -> None:
    """Take back the last change of the bag: added, edited, renamed, moved or removed; and again.

    Example: carrybook shots undo
    """
    what = undo_change(ctx.obj.book)
    show(as_json, {"took_back": what}, f"took back: {what}")


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
