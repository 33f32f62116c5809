"""`plan`: a hole or a round, the evening before."""

from pathlib import Path
from typing import Annotated

import typer

from carrybook.app import options
from carrybook.app.commands.show import show
from carrybook.app.files import CARDS, require_place
from carrybook.app.forms.plan import VenueForm
from carrybook.app.forms.weather import AirForm, WindForm
from carrybook.app.json_views.plan import plan_view
from carrybook.app.progress import bar
from carrybook.app.services.plan import VenuePlan, plan_venue, print_plan
from carrybook.app.services.weather import weather_of
from carrybook.app.sweep import Hands
from carrybook.base.errors import NoSolutionError

__all__ = ["plan"]


def plan(
    ctx: typer.Context,
    map_file: options.Map,
    hole: Annotated[
        str, typer.Option(metavar="REFS", help="Numbers of holes on their signs: 4,11,16; or all.")
    ] = "all",
    numbers: Annotated[
        str | None,
        typer.Option(metavar="LENGTHS", help="Likely distances.", show_default="70yd,90yd,110yd"),
    ] = None,
    heights: options.Heights = None,
    lie: Annotated[
        str | None,
        typer.Option(
            metavar="WORDS",
            help="What the ball will sit on: tee, fairway, light rough, deep rough.",
            show_default="what the map has at each spot",
        ),
    ] = None,
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
    firmness: options.Firmness = None,
    green_speed: options.GreenSpeed = None,
    ball_model: options.BallModel = None,
    left_handed: options.LeftHanded = False,
    lay_ups: Annotated[
        bool, typer.Option("--lay-ups", help="Find what to leave on each hole, too.")
    ] = False,
    card: Annotated[
        Path | None, typer.Option(metavar="FILE", help="Print a pocket card too: a .pdf file.")
    ] = None,
    workers: options.Workers = None,
    scheduler: options.Scheduler = None,
    cluster: options.Cluster = False,
    seed: options.Seed = 1,
    as_json: options.Json = False,
) -> None:
    """Plan holes before the round: each ninth of a green from likely distances, in yd or m.

    A coarser search than choose makes. A wind that you type counts along every approach; that of a
    report or forecast is turned to each. Ctrl-C ends it and shows what is done.

    Example: carrybook plan --map course.geojson --hole 4,11,16 --numbers 70yd,90yd --card plan.pdf
    """
    from carrybook.app.texts.plan import plan_text

    asked = VenueForm.of(
        map=map_file, hole=hole, numbers=numbers, heights=heights, lie=lie, moisture=moisture,
        firmness=firmness, green_speed=green_speed, ball_model=ball_model, left_handed=left_handed,
    )  # fmt: skip
    told = AirForm.of(
        air=air, dew_point=dew_point, sea_level_pressure=sea_level_pressure, elevation=elevation,
        metar=metar, forecast=forecast, at=at,
    )  # fmt: skip
    day, breeze = weather_of(told), WindForm.of(
        wind=wind, wind_from=wind_from, gust=gust, surroundings=surroundings
    )  # fmt: skip
    require_place(card, CARDS, "card")
    hands = Hands.asked(workers, scheduler, cluster=cluster)
    with bar() as progress:
        made = plan_venue(
            ctx.obj.book, asked, day, breeze,
            hands=hands, lay_ups=lay_ups, seed=seed, progress=progress,
        )  # fmt: skip
    if card is not None:
        print_plan(card, ctx.obj.book, made, ctx.obj.units, ball_model=ball_model)
    text = plan_text(made, ctx.obj.units)
    show(as_json, plan_view(made), text, weather=day, its_wind=breeze.wind is None)
    _require_whole(made)


def _require_whole(made: VenuePlan) -> None:
    """Say, below what is done, that it is not all."""
    if made.done < made.pieces:
        raise NoSolutionError(f"stopped after {made.done} of {made.pieces} zones; run it again")
