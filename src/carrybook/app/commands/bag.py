"""`bag`: which wedges to carry, where they leave gaps, and what a shot on trial is worth."""

from dataclasses import dataclass
from pathlib import Path
from typing import Annotated

import typer

from carrybook.app import options
from carrybook.app.commands.show import show
from carrybook.app.files import FIGURES, require_place
from carrybook.app.forms.bag import BagForm, FitForm, TryOutForm, WhatIfForm
from carrybook.app.forms.weather import AirForm
from carrybook.app.json_views.bag import (
    bag_fit_view,
    bag_gaps_view,
    bag_tryout_view,
    bag_whatif_view,
)
from carrybook.app.option_groups import Said, WindSaid, grouped
from carrybook.app.progress import bar
from carrybook.app.services.bag import change_bag, draw_bag, fit_book, gaps_of_book, try_shot
from carrybook.player.day import Day

__all__ = ["app"]

app = typer.Typer(
    no_args_is_help=True, help="Which wedges to carry, and whether a shot earns its place."
)

_Lofts = Annotated[
    str | None,
    typer.Option(metavar="RANGE", help="Lofts to choose from.", show_default="46-64"),
]


@dataclass(frozen=True)
class _Faced(Said):
    """The shots that a bag is held against."""

    demand: Annotated[
        Path | None,
        typer.Option(
            metavar="FILE",
            help="What you face: a CSV file with distance and, if you like, lie, moisture,"
            " firmness and weight.",
            show_default="every distance of a range alike",
        ),
    ] = None
    nearest: Annotated[
        str | None,
        typer.Option(
            "--from", metavar="LENGTH", help="Closest.", show_default="your shortest partial"
        ),
    ] = None
    furthest: Annotated[
        str | None,
        typer.Option("--to", metavar="LENGTH", help="Furthest.", show_default="your longest wedge"),
    ] = None


@dataclass(frozen=True)
class _Greens(Said):
    """The greens that it is played into."""

    map: Annotated[
        Path | None,
        typer.Option(
            metavar="FILE",
            help="A course: into its greens, hole in front, middle and back.",
            show_default="level round greens",
        ),
    ] = None
    hole: Annotated[
        str | None, typer.Option(metavar="REFS", help="Holes of it: 4,11,16.", show_default="all")
    ] = None
    heights: options.Heights = None


@dataclass(frozen=True)
class _Here(Said):
    """From what, at which green speed, with which ball."""

    lie: options.Lie = None
    moisture: options.Moisture = None
    green_speed: options.GreenSpeed = None
    ball_model: options.BallModel = None
    left_handed: options.LeftHanded = False


@app.command()
@grouped
def fit(
    ctx: typer.Context,
    *,
    wedges: Annotated[
        int | None,
        typer.Option(metavar="N", help="How many wedges, 1 to 5.", show_default="3 and 4"),
    ] = None,
    keep: Annotated[
        list[str] | None, typer.Option(metavar="LABEL", help="A wedge that stays; may be repeated.")
    ] = None,
    lofts: _Lofts = None,
    faced: _Faced,
    greens: _Greens,
    here: _Here,
    air: options.Air = None,
    wind: WindSaid,
    firmness: options.Firmness = None,
    seed: options.Seed = 1,
    figure: options.Figure = None,
    as_json: options.Json = False,
) -> None:
    """Find the wedges that leave the fewest strokes over the shots you face.

    Lofts you do not own are guessed from the clubs you do, and that counts as not known. Where two
    bags do not differ enough to matter, it says so.

    Example: carrybook bag fit --wedges 4 --keep 48 --from 40yd --to 120yd
    """
    from carrybook.app.texts.bag import fit_text

    asked = FitForm.of(
        wedges=wedges, keep=tuple(keep) if keep else None, lofts=lofts, firmness=firmness,
        **faced.typed(), **greens.typed(), **here.typed(),
    )  # fmt: skip
    require_place(figure, FIGURES, "figure")
    with bar() as progress:
        found = fit_book(ctx.obj.book, asked, _day(air, wind), seed=seed, progress=progress)
    if figure is not None:
        draw_bag(figure, found, ctx.obj.units)
    show(as_json, bag_fit_view(found), fit_text(found, ctx.obj.units))


@app.command()
@grouped
def gaps(
    ctx: typer.Context,
    *,
    lofts: _Lofts = None,
    faced: _Faced,
    greens: _Greens,
    here: _Here,
    air: options.Air = None,
    wind: WindSaid,
    firmness: options.Firmness = None,
    seed: options.Seed = 1,
    as_json: options.Json = False,
) -> None:
    """Show gaps and overlaps of your bag, in yd or m and in strokes, and what each club is worth.

    Example: carrybook bag gaps --from 40yd --to 120yd
    """
    from carrybook.app.texts.bag import gaps_text

    asked = BagForm.of(
        lofts=lofts, firmness=firmness, **faced.typed(), **greens.typed(), **here.typed()
    )  # fmt: skip
    with bar() as progress:
        found = gaps_of_book(ctx.obj.book, asked, _day(air, wind), seed=seed, progress=progress)
    show(as_json, bag_gaps_view(found), gaps_text(found, ctx.obj.units))


@app.command()
@grouped
def whatif(
    ctx: typer.Context,
    *,
    club: Annotated[
        str | None, typer.Option(metavar="LABEL", help="A club to have another loft.")
    ] = None,
    loft: Annotated[str | None, typer.Option(metavar="ANGLE", help="That loft: 54deg.")] = None,
    spin: Annotated[
        str | None, typer.Option(metavar="CHANGE", help="A ball with other spin: +10%.")
    ] = None,
    faced: _Faced,
    greens: _Greens,
    here: _Here,
    air: options.Air = None,
    wind: WindSaid,
    seed: options.Seed = 1,
    as_json: options.Json = False,
) -> None:
    """Say what a stronger or weaker loft, or a ball with more or less spin, would save.

    On soft, medium, firm and very firm greens. With nothing asked: every wedge one and two degrees
    stronger and weaker, and a ball with 10 % more and less spin.

    Example: carrybook bag whatif --club 56 --loft 54deg --spin +10%
    """
    from carrybook.app.texts.bag import whatif_text

    asked = WhatIfForm.of(
        club=club, loft=loft, spin=spin, **faced.typed(), **greens.typed(), **here.typed()
    )
    with bar() as progress:
        found = change_bag(ctx.obj.book, asked, _day(air, wind), seed=seed, progress=progress)
    show(as_json, bag_whatif_view(found), whatif_text(found, ctx.obj.units))


@app.command()
@grouped
def tryout(
    ctx: typer.Context,
    label: Annotated[str, typer.Argument(metavar="LABEL", help='The shot: "54 low".')],
    *,
    carries: Annotated[
        str, typer.Option("--for", metavar="RANGE", help="What it is for: 60-90yd.")
    ],
    greens: _Greens,
    here: _Here,
    air: options.Air = None,
    wind: WindSaid,
    firmness: options.Firmness = None,
    seed: options.Seed = 1,
    as_json: options.Json = False,
) -> None:
    """Say whether a shot that you are trying earns a place beside those you trust.

    Put it into the book with shots add --untrusted and log a couple of dozen balls. It is held
    against your trusted shots over what it is for; where the balls do not tell, it says how many
    more would.

    Example: carrybook bag tryout "54 low" --for 60-90yd --firmness firm
    """
    from carrybook.app.texts.bag import tried_text

    asked = TryOutForm.of(
        label=label, carries=carries, firmness=firmness, **greens.typed(), **here.typed()
    )
    with bar() as progress:
        found = try_shot(ctx.obj.book, asked, _day(air, wind), seed=seed, progress=progress)
    show(as_json, bag_tryout_view(found), tried_text(found, ctx.obj.units))


def _day(air: str | None, wind: WindSaid) -> Day:
    """The air, and the wind along every line."""
    return Day(AirForm.of(air=air).value(), wind.form().value())
