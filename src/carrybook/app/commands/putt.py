"""`putt`: aim, pace and chance of one putt, before the round."""

from pathlib import Path
from typing import Annotated

import typer

from carrybook.app import options
from carrybook.app.commands.show import show
from carrybook.app.files import FIGURES, require_place
from carrybook.app.forms.putt import PuttForm
from carrybook.app.json_views.putt import putt_view
from carrybook.app.progress import bar
from carrybook.app.services.putt import best_putt, draw_putt, name_putter

__all__ = ["putt"]


def putt(
    ctx: typer.Context,
    distance: Annotated[
        str | None, typer.Option(metavar="LENGTH", help="On an even slope: 20ft or 6m.")
    ] = None,
    slope: Annotated[
        str | None,
        typer.Option(metavar="SHARE", help="Of that slope: 2%.", show_default="level"),
    ] = None,
    slope_direction: Annotated[
        str | None,
        typer.Option(
            metavar="WORDS",
            help="Where it rises, seen from the ball: uphill, downhill, right to left (it rises on"
            " the right), left to right; or clockwise from uphill: 45deg.",
            show_default="uphill",
        ),
    ] = None,
    map_file: Annotated[
        Path | None,
        typer.Option("--map", metavar="FILE", help="On a mapped green: GeoJSON as for choose."),
    ] = None,
    heights: Annotated[
        Path | None,
        typer.Option(metavar="FILE", help="Spot heights of it: CSV.", show_default="level"),
    ] = None,
    hole: Annotated[str | None, typer.Option(metavar="REF", help="Number of the hole: 4.")] = None,
    hole_location: Annotated[
        str | None,
        typer.Option(metavar="WORDS", help='Where it is cut: "24 on, 5 from the right".'),
    ] = None,
    start: Annotated[
        str | None,
        typer.Option(
            "--from",
            metavar="X,Y",
            help="Where the ball lies: past the front edge of the green, and left of the line of"
            " approach (minus is right): 12m,-3m.",
        ),
    ] = None,
    stimp: Annotated[
        str | None,
        typer.Option(metavar="LENGTH", help="Green speed: 10ft or 3.05m.", show_default="10ft"),
    ] = None,
    player: Annotated[
        str | None,
        typer.Option(
            metavar="NAME",
            help="Who putts: tour, scratch, mid, or a name you gave with --save-as.",
            show_default="tour",
        ),
    ] = None,
    direction: Annotated[
        str | None,
        typer.Option(
            metavar="ANGLE", help="Your own error of line, one standard deviation: 1.5deg."
        ),
    ] = None,
    pace: Annotated[
        str | None, typer.Option(metavar="SHARE", help="Your own error of pace: 12%.")
    ] = None,
    reading: Annotated[
        str | None,
        typer.Option(
            metavar="SHARE",
            help="How far you misread a slope: 15% of the break, and of what up or down adds.",
            show_default="in the other two",
        ),
    ] = None,
    save_as: Annotated[
        str | None,
        typer.Option(metavar="NAME", help="Keep these errors in the book under a name."),
    ] = None,
    figure: options.Figure = None,
    as_json: options.Json = False,
) -> None:
    """Read one putt before the round: aim, pace, chance of holing, expected putts.

    The aim is the one with the fewest putts on average, second putts on the same slopes counted.
    In a round Rule 4.3a does not let a device read the green.

    Example: carrybook putt --distance 20ft --slope 2% --slope-direction "right to left" --stimp 9ft
    """
    from carrybook.app.texts.putt import putt_text

    asked = PuttForm.of(
        map=map_file, hole=hole, hole_location=hole_location, heights=heights, start=start,
        distance=distance, slope=slope, slope_direction=slope_direction, stimp=stimp,
        player=player, direction=direction, pace=pace, reading=reading, save_as=save_as,
    )  # fmt: skip
    require_place(figure, FIGURES, "figure")
    with bar() as progress:
        answer, green = best_putt(
            asked, fine=figure is not None, book=ctx.obj.book, progress=progress
        )
    name_putter(ctx.obj.book, asked)
    if figure is not None:
        draw_putt(figure, answer, green, ctx.obj.units)
    show(as_json, putt_view(answer), putt_text(answer, ctx.obj.units))
