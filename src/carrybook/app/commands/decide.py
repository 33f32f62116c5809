"""`numbers` and `choose`: what your shots carry today, and which one to play."""

from pathlib import Path
from typing import Annotated

import typer

from carrybook.app import options
from carrybook.app.commands.ground import (
    Green,
    GreenSpeed,
    Heights,
    HeightsUnit,
    HoleNumber,
    MapFile,
)
from carrybook.app.commands.show import show
from carrybook.app.files import CARDS, FIGURES, require_place
from carrybook.app.forms.base import LieForm
from carrybook.app.forms.choice import SituationForm
from carrybook.app.forms.weather import AirForm, WindForm
from carrybook.app.json_views.choice import advice_view
from carrybook.app.json_views.numbers import numbers_view
from carrybook.app.progress import bar
from carrybook.app.services.choice import advise, draw_advice, print_card
from carrybook.app.services.numbers import draw_ladder, draw_moved, moved_numbers, todays_numbers
from carrybook.app.services.weather import Weather, weather_of

__all__ = ["choose", "numbers"]


def numbers(
    ctx: typer.Context,
    air: options.Air = None,
    dew_point: options.DewPoint = None,
    sea_level_pressure: options.SeaLevelPressure = None,
    elevation: options.Elevation = None,
    metar: options.Metar = None,
    forecast: options.Forecast = None,
    at: options.At = None,
    lie: options.Lie = None,
    moisture: options.Moisture = None,
    ball_model: options.BallModel = None,
    figure: options.Figure = None,
    moved: options.MovedFigure = None,
    as_json: options.Json = False,
) -> None:
    """Give today's numbers: what each of your shots carries in this air, from this lie, in yd or m.

    Beside each stands its carry on the reference day (20C, 1013.25hPa, 50%), how well its middle is
    known, how far single balls stray, and how many balls that rests on. Below: how much drag your
    ball has, by the log, and which shots fly where lift and drag are hardly known.

    Example: carrybook numbers --air "9C 85% 1004hPa" --lie "light rough" --moisture wet
    """
    from carrybook.artefacts.text import numbers_text

    weather = _weather(air, dew_point, sea_level_pressure, elevation, metar, forecast, at)
    day, ball = weather.air, LieForm.of(lie=lie, moisture=moisture)
    require_place(figure, FIGURES, "figure")
    require_place(moved, FIGURES, "moved")
    lie_now, wet = ball.lie, ball.moisture
    rows = todays_numbers(ctx.obj.book, day, lie=lie_now, moisture=wet, ball_model=ball_model)
    if figure is not None:
        draw_ladder(figure, rows, ctx.obj.units)
    if moved is not None:
        moves = moved_numbers(ctx.obj.book, day, lie=lie_now, moisture=wet, ball_model=ball_model)
        draw_moved(moved, moves, ctx.obj.units)
    text = numbers_text(rows, day, units=ctx.obj.units, lie=ball.lie, moisture=ball.moisture)
    show(as_json, numbers_view(rows, day, ball), text, weather=weather)


def choose(
    ctx: typer.Context,
    map_file: MapFile = None,
    green: Green = None,
    hole: HoleNumber = None,
    hole_location: Annotated[
        str | None,
        typer.Option(
            metavar="WORDS",
            help='Where it is cut, in paces as on a pin sheet: "24 on, 5 from the right"; or'
            ' "22m on, 4m from the left".',
            show_default="as described",
        ),
    ] = None,
    number: Annotated[
        str | None,
        typer.Option(
            metavar="LENGTH",
            help="Ball to hole over the ground: 88yd or 80m.",
            show_default="from the described front edge number",
        ),
    ] = None,
    heights: Heights = None,
    heights_unit: HeightsUnit = None,
    off_line: Annotated[
        str | None,
        typer.Option(
            metavar="ANGLE",
            help="How far off the line of approach the ball lies, -60deg to 60deg: 10deg is to its"
            " right.",
            show_default="0deg",
        ),
    ] = None,
    lie: options.Lie = None,
    moisture: options.Moisture = None,
    air: options.Air = None,
    dew_point: options.DewPoint = None,
    sea_level_pressure: options.SeaLevelPressure = None,
    elevation: options.Elevation = None,
    metar: options.Metar = None,
    forecast: options.Forecast = None,
    at: options.At = None,
    wind: options.WindSpeed = None,
    wind_from: options.WindFrom = None,
    gust: options.Gust = None,
    surroundings: options.Surroundings = None,
    firmness: Annotated[
        str | None,
        typer.Option(
            metavar="WORD",
            help="The green: soft, medium, firm, very firm; or a 0.5 kg hammer's reading: 105g.",
            show_default="medium",
        ),
    ] = None,
    green_speed: GreenSpeed = None,
    ball_model: options.BallModel = None,
    left_handed: options.LeftHanded = False,
    seed: Annotated[
        int, typer.Option(metavar="N", min=0, help="The same seed gives the same answer.")
    ] = 1,
    figure: options.Figure = None,
    card: Annotated[
        Path | None, typer.Option(metavar="FILE", help="Print a pocket card too: a .pdf file.")
    ] = None,
    as_json: options.Json = False,
) -> None:
    """Choose the shot: what to play, where to land it, where to start it, what to feel; and why.

    Every shot you own is tried at many landing spots over your own scatter. Where two shots cannot
    be told apart, it says so. You have the last word.

    Example: carrybook choose --map course.geojson --hole 4
    --hole-location "24 on, 5 from the right" --number 88yd --air "9C 85% 1004hPa"
    --wind 12mph --wind-from 90deg --firmness firm --green-speed 10ft
    """
    from carrybook.artefacts.text import advice_text

    asked = SituationForm.of(
        map=map_file,
        green=green,
        hole=hole,
        hole_location=hole_location,
        number=number,
        heights=heights,
        heights_unit=heights_unit,
        off_line=off_line,
        lie=lie,
        moisture=moisture,
        firmness=firmness,
        green_speed=green_speed,
        ball_model=ball_model,
        left_handed=left_handed,
    )
    day = _weather(air, dew_point, sea_level_pressure, elevation, metar, forecast, at)
    breeze = WindForm.of(wind=wind, wind_from=wind_from, gust=gust, surroundings=surroundings)
    require_place(figure, FIGURES, "figure")
    require_place(card, CARDS, "card")
    with bar() as progress:
        advice = advise(ctx.obj.book, asked, day, breeze, seed=seed, progress=progress)
    if figure is not None:
        draw_advice(figure, advice, ctx.obj.units)
    if card is not None:
        print_card(card, ctx.obj.book, advice, ctx.obj.units, ball_model=ball_model)
    view, text = advice_view(advice), advice_text(advice, units=ctx.obj.units)
    show(as_json, view, text, weather=day, its_wind=breeze.wind is None)


def _weather(
    air: str | None,
    dew: str | None,
    sea_level: str | None,
    high: str | None,
    metar: str | None,
    forecast: Path | None,
    at: str | None,
) -> Weather:
    """The weather of a command that has no option for each part of the air."""
    return weather_of(
        AirForm.of(
            air=air,
            dew_point=dew,
            sea_level_pressure=sea_level,
            elevation=high,
            metar=metar,
            forecast=forecast,
            at=at,
        )
    )
