"""`air` and `fly`: one parcel of air, one ball."""

from typing import Annotated

import typer

from carrybook.app import options
from carrybook.app.commands.show import show
from carrybook.app.files import FIGURES, require_place
from carrybook.app.forms.flight import FlightForm
from carrybook.app.json_views.weather import air_view, flown_view
from carrybook.app.option_groups import AirParts, MeanWind, grouped
from carrybook.app.services.weather import air_report, draw_flight, fly_ball

__all__ = ["air", "fly"]


@grouped
def air(
    ctx: typer.Context,
    *,
    parts: AirParts,
    as_json: options.Json = False,
) -> None:
    """Say how thick the air is: density and viscosity, in kg/m3 and Pa s.

    Thin air takes spin and drag off the ball, so it carries further and stops later.

    Example: carrybook air --temp 9C --pressure 1004hPa --humidity 85%; or, as forecasts say it,
    carrybook air --temp 9C --dew-point 7C --sea-level-pressure 1018hPa --elevation 120m
    """
    from carrybook.app.texts.weather import air_text

    weather = parts.weather()
    report = air_report(weather.air, ctx.obj.book)
    show(as_json, air_view(report), air_text(report), weather=weather)


@grouped
def fly(
    ctx: typer.Context,
    *,
    ball_speed: Annotated[
        str, typer.Option(metavar="SPEED", help="Ball speed off the face: 30mps or 67mph.")
    ],
    launch: Annotated[
        str, typer.Option(metavar="ANGLE", help="Launch angle above the horizon: 30deg.")
    ],
    spin: Annotated[str, typer.Option(metavar="SPIN", help="Spin rate: 9000rpm.")],
    spin_axis: Annotated[
        str | None,
        typer.Option(
            metavar="ANGLE",
            help="Tilt of the spin axis: 5deg curves right, -5deg left.",
            show_default="0deg",
        ),
    ] = None,
    start_line: Annotated[
        str | None,
        typer.Option(
            metavar="ANGLE", help="Where it starts: 2deg right of your line.", show_default="0deg"
        ),
    ] = None,
    parts: AirParts,
    wind: MeanWind,
    height_change: Annotated[
        str | None,
        typer.Option(
            metavar="HEIGHT",
            help="Landing ground above the ball, or below it: 4m, -6ft.",
            show_default="0m",
        ),
    ] = None,
    ball_mass: options.BallMass = None,
    ball_diameter: options.BallDiameter = None,
    drag_factor: options.DragFactor = None,
    figure: options.Figure = None,
    as_json: options.Json = False,
) -> None:
    """Fly one ball: how far it carries, how high, how it comes down.

    The wind counts from the start line. The carry comes with a band: nobody has published the drag
    of wedge shots, and the band is what that leaves open. A warning says where the flight leaves
    what lift and drag were made for.

    Example: carrybook fly --ball-speed 30mps --launch 30deg --spin 9000rpm --wind 12mph
    """
    from carrybook.app.texts.weather import flown_text

    form = FlightForm.of(
        ball_speed=ball_speed, launch=launch, spin=spin, spin_axis=spin_axis,
        start_line=start_line, height_change=height_change,
        ball_mass=ball_mass, ball_diameter=ball_diameter, drag_factor=drag_factor,
    )  # fmt: skip
    require_place(figure, FIGURES, "figure")
    weather, breeze = parts.weather(), wind.form().value()
    struck, air_now, height, ball = form.value(), weather.air, form.height_change, form.ball()
    flown = fly_ball(struck, air_now, breeze, height_change_m=height, ball=ball, book=ctx.obj.book)
    if figure is not None:
        draw_flight(figure, flown, ctx.obj.units)
    text = flown_text(flown, ctx.obj.units)
    show(as_json, flown_view(flown), text, weather=weather)
