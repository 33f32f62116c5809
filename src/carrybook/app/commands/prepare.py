"""`prepare`: a week at a venue, before the round."""

from datetime import date
from pathlib import Path
from typing import Annotated

import typer

from carrybook.app import options
from carrybook.app.commands.show import show
from carrybook.app.forms.card import CardForm
from carrybook.app.forms.venue import WeekForm
from carrybook.app.json_views.prepare import week_view
from carrybook.app.progress import bar
from carrybook.app.services.prepare import PreparedWeek, prepare_week
from carrybook.app.services.week_cards import print_week
from carrybook.app.sweep import Hands
from carrybook.base.errors import NoSolutionError

__all__ = ["prepare"]


def prepare(
    ctx: typer.Context,
    venue: Annotated[str, typer.Argument(metavar="VENUE", help="Its name, as `venue add` has it.")],
    first: Annotated[str, typer.Option("--from", metavar="DATE", help="First day: 2026-05-28.")],
    last: Annotated[
        str | None,
        typer.Option("--to", metavar="DATE", help="Last day.", show_default="the first day"),
    ] = None,
    hole: Annotated[
        str, typer.Option(metavar="REFS", help="Numbers of holes: 4,11,16; or all.")
    ] = "all",
    numbers: Annotated[
        str | None,
        typer.Option(
            metavar="LENGTHS",
            help="Distances to plan from: 70yd,90yd.",
            show_default="as the venue has them",
        ),
    ] = None,
    lay_ups: Annotated[
        str,
        typer.Option(
            "--lay-ups",
            metavar="WORDS",
            help="Where to look what to leave: par 5, all, none, or numbers of holes.",
        ),
    ] = "par 5",
    plans: Annotated[
        bool, typer.Option("--plans/--no-plans", help="Plan the holes, or give numbers alone.")
    ] = True,
    cards: Annotated[
        Path | None,
        typer.Option(metavar="FOLDER", help="Print a card for each day in both profiles."),
    ] = None,
    layout: Annotated[
        str | None,
        typer.Option(
            metavar="WORD", help="Of the cards: single, fold, a4, letter.", show_default="single"
        ),
    ] = None,
    workers: options.Workers = None,
    scheduler: options.Scheduler = None,
    cluster: options.Cluster = False,
    seed: options.Seed = 1,
    as_json: options.Json = False,
) -> None:
    """Prepare days at a venue: numbers by half-day, plans, lay-ups, what changed, cards.

    Course, forecast, tee times, hole locations and notes are those of `venue`. Plans that are done
    are kept in the book, so only what changed is worked out again. Ctrl-C keeps what is done.

    Example: carrybook prepare "Saltfen Reach" --from 2026-05-28 --to 2026-05-31 --cards cards
    """
    from carrybook.app.texts.prepare import week_text

    asked = WeekForm.of(
        venue=venue, first=first, last=last or first, hole=hole, numbers=numbers, lay_ups=lay_ups,
        plans=plans,
    )  # fmt: skip
    paper = CardForm.of(layout=layout).layout
    hands = Hands.asked(workers, scheduler, cluster=cluster)
    with bar() as progress:
        week = prepare_week(
            ctx.obj.book, asked, today=date.today(), hands=hands, seed=seed, progress=progress
        )
    printed = () if cards is None else print_week(cards, week, ctx.obj.units, paper)
    show(as_json, week_view(week, printed), week_text(week, printed, ctx.obj.units))
    _require_whole(week)


def _require_whole(week: PreparedWeek) -> None:
    """Say, below what is done, that it is not all."""
    if week.done < week.pieces:
        raise NoSolutionError(
            f"stopped after {week.done} of {week.pieces} zones, which are kept; run it again"
        )
