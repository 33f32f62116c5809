"""`ground show`: a green as it is known, and where a hole may be cut."""

from pathlib import Path
from typing import Annotated

import typer

from carrybook.app import options
from carrybook.app.commands.show import show
from carrybook.app.files import FIGURES, require_place
from carrybook.app.forms.ground import GroundForm
from carrybook.app.json_views.ground import ground_view
from carrybook.app.services.ground import draw_ground, look_at

__all__ = ["Green", "GreenSpeed", "Heights", "HeightsUnit", "HoleNumber", "MapFile", "app"]

MapFile = Annotated[
    Path | None,
    typer.Option(
        "--map",
        metavar="FILE",
        help="Map of the course with OpenStreetMap golf tags: GeoJSON or .osm; or a described"
        " green: .txt, one fact a line.",
        show_default=False,
    ),
]
Green = Annotated[
    str | None,
    typer.Option(
        metavar="WORDS",
        help='Instead of a map, the green as a yardage book has it: "30 deep, 24 wide; tilt back to'
        ' front 2 %; shelf at 18, rises 2 ft over 3; bunker short right, 4 off, 8 by 6".',
        show_default=False,
    ),
]
HoleNumber = Annotated[
    str | None,
    typer.Option(
        "--hole",
        metavar="REF",
        help="Number of the hole on its sign: 4; or '4, East' where two courses have one.",
        show_default="the only one",
    ),
]
Heights = Annotated[
    Path | None,
    typer.Option(
        metavar="FILE",
        help="Heights of the green: CSV of lon,lat,height_m, or on,right in paces with height_cm,"
        " or slope_pct and falls_to; or a GeoTIFF.",
        show_default="taken as level, or as described",
    ),
]
HeightsUnit = Annotated[
    str | None,
    typer.Option(
        metavar="UNIT", help="Unit of a GeoTIFF that does not say: m, ft, 'us ft'.",
        show_default="what the file says",
    ),
]  # fmt: skip
GreenSpeed = Annotated[
    str | None,
    typer.Option(metavar="LENGTH", help="Stimp: 10ft or 3.05m.", show_default="10ft"),
]

app = typer.Typer(no_args_is_help=True, help="The green: its slopes, and where a hole may be cut.")


@app.callback()
def ground() -> None:
    """The green: its slopes, and where a hole may be cut."""


@app.command(name="show")
def show_ground(
    ctx: typer.Context,
    map_file: MapFile = None,
    green: Green = None,
    hole: HoleNumber = None,
    heights: Heights = None,
    heights_unit: HeightsUnit = None,
    hole_location: Annotated[
        str | None,
        typer.Option(metavar="WORDS", help='A place to judge: "24 on, 5 from the right".'),
    ] = None,
    green_speed: GreenSpeed = None,
    figure: options.Figure = None,
    as_json: options.Json = False,
) -> None:
    """Show a green: size, slopes and how well they are known; where guidance lets a hole be cut.

    Guidance: four paces from the edge, more by trouble; even ground around; slope against speed.

    Example: carrybook ground show --green "30 deep, 24 wide; tilt back to front 2 %"
    --hole-location "11 on, 6 from the right" --green-speed 10ft --figure green.png
    """
    from carrybook.app.texts.ground import ground_text

    asked = GroundForm.of(
        map=map_file,
        green=green,
        hole=hole,
        heights=heights,
        heights_unit=heights_unit,
        hole_location=hole_location,
        green_speed=green_speed,
    )
    require_place(figure, FIGURES, "figure")
    report = look_at(asked, ctx.obj.book)
    if figure is not None:
        draw_ground(figure, report, ctx.obj.units)
    show(as_json, ground_view(report), ground_text(report, units=ctx.obj.units))
