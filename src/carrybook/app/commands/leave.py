"""`leave`: what distance to lay up to."""

from typing import Annotated

import typer

from carrybook.app import options
from carrybook.app.commands.show import show
from carrybook.app.files import FIGURES, require_place
from carrybook.app.forms.plan import LeaveForm
from carrybook.app.json_views.leave import leave_view
from carrybook.app.option_groups import AirSaid, DaySaid, WindSaid, grouped
from carrybook.app.progress import bar
from carrybook.app.services.leave import draw_leave, leave_table

__all__ = ["leave"]


@grouped
def leave(
    ctx: typer.Context,
    *,
    on: DaySaid,
    hole: Annotated[str, typer.Option(metavar="REF", help="Number of the hole on its sign: 4.")],
    hole_location: options.HoleLocation,
    nearest: Annotated[
        str | None,
        typer.Option("--from", metavar="LENGTH", help="Closest distance.", show_default="30yd"),
    ] = None,
    furthest: Annotated[
        str | None,
        typer.Option("--to", metavar="LENGTH", help="Furthest distance.", show_default="130yd"),
    ] = None,
    step: Annotated[
        str | None,
        typer.Option(metavar="LENGTH", help="Between two distances.", show_default="5yd"),
    ] = None,
    favourite: Annotated[
        str | None,
        typer.Option(metavar="LENGTH", help="A distance you like: what do closer ones save?"),
    ] = None,
    scatter: Annotated[
        str | None,
        typer.Option(
            metavar="LENGTH",
            help="How far your lay-up strays in depth, one standard deviation: 6yd.",
            show_default="as your longest shot does",
        ),
    ] = None,
    side_scatter: Annotated[
        str | None,
        typer.Option(metavar="LENGTH", help="The same to the side.", show_default="likewise"),
    ] = None,
    off_line: options.OffLine = None,
    air: AirSaid,
    wind: WindSaid,
    competition: options.Competition = False,
    seed: options.Seed = 1,
    figure: options.Figure = None,
    as_json: options.Json = False,
) -> None:
    """Say what each distance that you could leave costs, in strokes, and where it does not matter.

    From your own shots, in this air, to this hole location; the lay-up's own scatter, water and
    sand included. Closer is often better, but seldom by much: look at the size of the difference.

    Example: carrybook leave --map course.geojson --hole 4
    --hole-location "24 on, 5 from the right" --from 40yd --to 120yd --favourite 90yd
    """
    from carrybook.app.texts.leave import leave_text

    asked = LeaveForm.of(
        hole=hole, hole_location=hole_location, nearest=nearest, furthest=furthest, step=step,
        favourite=favourite, scatter=scatter, side_scatter=side_scatter, off_line=off_line,
        competition=competition, **on.typed(),
    )  # fmt: skip
    day, breeze = air.weather(), wind.form()
    require_place(figure, FIGURES, "figure")
    with bar() as progress:
        table = leave_table(ctx.obj.book, asked, day, breeze, seed=seed, progress=progress)
    if figure is not None:
        draw_leave(figure, table, ctx.obj.units)
    text = leave_text(table, ctx.obj.units)
    show(as_json, leave_view(table), text, weather=day, its_wind=breeze.wind is None)
