"""`plan`: a hole or a round, the evening before."""

from pathlib import Path
from typing import Annotated

import typer

from carrybook.app import options
from carrybook.app.commands.show import show
from carrybook.app.files import CARDS, require_place
from carrybook.app.forms.plan import VenueForm
from carrybook.app.json_views.plan import plan_view
from carrybook.app.option_groups import AirSaid, DaySaid, WindSaid, grouped
from carrybook.app.progress import bar
from carrybook.app.services.plan import VenuePlan, plan_venue, print_plan
from carrybook.app.sweep import Hands
from carrybook.base.errors import NoSolutionError

__all__ = ["plan"]


@grouped
def plan(
    ctx: typer.Context,
    *,
    on: DaySaid,
    hole: Annotated[
        str, typer.Option(metavar="REFS", help="Numbers of holes on their signs: 4,11,16; or all.")
    ] = "all",
    numbers: Annotated[
        str | None,
        typer.Option(metavar="LENGTHS", help="Likely distances.", show_default="70yd,90yd,110yd"),
    ] = None,
    air: AirSaid,
    wind: WindSaid,
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

    asked = VenueForm.of(hole=hole, numbers=numbers, **on.typed())
    day, breeze = air.weather(), wind.form()
    require_place(card, CARDS, "card")
    hands = Hands.asked(workers, scheduler, cluster=cluster)
    with bar() as progress:
        made = plan_venue(
            ctx.obj.book, asked, day, breeze,
            hands=hands, lay_ups=lay_ups, seed=seed, progress=progress,
        )  # fmt: skip
    if card is not None:
        print_plan(card, ctx.obj.book, made, ctx.obj.units, ball_model=asked.ball_model)
    text = plan_text(made, ctx.obj.units)
    show(as_json, plan_view(made), text, weather=day, its_wind=breeze.wind is None)
    _require_whole(made)


def _require_whole(made: VenuePlan) -> None:
    """Say, below what is done, that it is not all."""
    if made.done < made.pieces:
        raise NoSolutionError(f"stopped after {made.done} of {made.pieces} zones; run it again")
