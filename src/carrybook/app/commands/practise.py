"""`practise`: plans, the standing test, and what came of it; striking is in `practise_run`."""

from pathlib import Path
from typing import Annotated

import typer

from carrybook.app import options
from carrybook.app.commands import practise_run
from carrybook.app.commands.show import show
from carrybook.app.files import CARDS, FIGURES, require_place
from carrybook.app.forms.practise import CalendarForm, PractiseForm
from carrybook.app.json_views.practise import history_view, practise_plan_view
from carrybook.app.services.log import now
from carrybook.app.services.practise import (
    Planned,
    draw_history,
    draw_leaks,
    planned_session,
    planned_test,
    practice_history,
    write_calendar,
    write_sheet,
)
from carrybook.base.errors import BadInputError

__all__ = ["app"]

app = typer.Typer(
    no_args_is_help=True, help="Plan practice, strike it ball by ball, test, look back."
)
_CALENDARS = (".ics",)

Baseline = Annotated[
    str | None,
    typer.Option(
        metavar="WHO",
        help="Measured against whom: tour, scratch, own (your closest shot), or a handicap.",
        show_default="own; scratch where no shot is known",
    ),
]
Sheet = Annotated[
    Path | None,
    typer.Option(metavar="FILE", help="Print it, with room for called and carried: a .pdf file."),
]
Calendar = Annotated[
    Path | None,
    typer.Option(metavar="FILE", help="Put it into a calendar: an .ics file. Needs --start."),
]
Start = Annotated[
    str | None, typer.Option(metavar="TIME", help='When the first begins: "2026-06-01 17:00".')
]
Weeks = Annotated[int | None, typer.Option(metavar="N", help="For how many.", show_default="4")]


@app.command()
def plan(
    ctx: typer.Context,
    balls: Annotated[
        int | None, typer.Option(metavar="N", help="Balls there are.", show_default="60")
    ] = None,
    minutes: Annotated[
        float | None, typer.Option(metavar="N", help="Minutes there are.", show_default="45")
    ] = None,
    aim: Annotated[
        str | None,
        typer.Option(
            metavar="WORD",
            help="build (blocks), test (one ball to one target, random), mixed.",
            show_default="mixed",
        ),
    ] = None,
    focus: Annotated[
        str | None, typer.Option(metavar="TEXT", help='Only a stretch, "70-90yd", or one shot.')
    ] = None,
    baseline: Baseline = None,
    demand: Annotated[
        Path | None,
        typer.Option(
            metavar="FILE",
            help="What you face: CSV, distance,lie,times: 70yd,fairway,0.8.",
            show_default="your recorded rounds, else course balls of the log, else a usual round",
        ),
    ] = None,
    air: options.Air = None,
    ball_model: options.BallModel = None,
    sheet: Sheet = None,
    calendar: Calendar = None,
    start: Start = None,
    weeks: Weeks = None,
    seed: options.Seed = 1,
    figure: options.Figure = None,
    as_json: options.Json = False,
) -> None:
    """Plan a session where your strokes leak, in the balls and minutes that there are.

    Leak: strokes lost against a baseline, times how often a round, counted with what is not known
    of you. Ten minutes of warm-up are inside. The plan is kept for: carrybook practise run

    Example: carrybook practise plan --balls 60 --minutes 45 --sheet tonight.pdf
    """
    asked = PractiseForm.of(
        balls=balls, minutes=minutes, aim=aim, focus=focus, baseline=baseline, demand=demand,
        air=air, ball_model=ball_model,
    )  # fmt: skip
    when = _places(sheet, calendar, start, weeks, figure)
    planned = planned_session(ctx.obj.book, asked, now(), seed=seed)
    _give(ctx.obj.units, planned, when, sheet, calendar, figure, as_json)


@app.command("test")
def standing(
    ctx: typer.Context,
    balls: Annotated[
        int | None,
        typer.Option(metavar="N", help="Of a test that is made now, 27 to 90.", show_default="27"),
    ] = None,
    new: Annotated[
        bool, typer.Option("--new", help="Make another test than the one there.")
    ] = False,
    baseline: Baseline = None,
    air: options.Air = None,
    ball_model: options.BallModel = None,
    sheet: Sheet = None,
    calendar: Calendar = None,
    start: Start = None,
    weeks: Weeks = None,
    seed: options.Seed = 1,
    as_json: options.Json = False,
) -> None:
    """Plan the standing test: the same distances each month, in a random order by --seed.

    The first time it is made from your shots: nine distances, three balls each. It is struck like
    any session, with: carrybook practise run

    Example: carrybook practise test --seed 7
    """
    asked = PractiseForm.of(baseline=baseline, air=air, ball_model=ball_model)
    when = _places(sheet, calendar, start, weeks, None)
    planned = planned_test(ctx.obj.book, asked, now(), seed=seed, balls=balls, new=new)
    _give(ctx.obj.units, planned, when, sheet, calendar, None, as_json)


@app.command()
def history(
    ctx: typer.Context, figure: options.Figure = None, as_json: options.Json = False
) -> None:
    """Look back: sessions, and each standing test against those before it, luck told from change.

    Example: carrybook practise history --figure tests.png
    """
    from carrybook.app.texts.practise import history_text

    require_place(figure, FIGURES, "figure")
    found = practice_history(ctx.obj.book)
    if figure is not None:
        draw_history(figure, found)
    show(as_json, history_view(found), history_text(found, ctx.obj.units))


app.command()(practise_run.run)
app.command()(practise_run.hit)
app.command()(practise_run.undo)
app.command()(practise_run.status)
app.command()(practise_run.end)


def _places(
    sheet: Path | None,
    calendar: Path | None,
    start: str | None,
    weeks: int | None,
    figure: Path | None,
) -> CalendarForm | None:
    """Refuse files that could not be written, before anything is planned; read the calendar."""
    require_place(figure, FIGURES, "figure")
    require_place(sheet, CARDS, "sheet")
    require_place(calendar, _CALENDARS, "calendar")
    if (calendar is None) != (start is None):
        raise BadInputError('a calendar needs both: --calendar FILE --start "2026-06-01 17:00"')
    return None if start is None else CalendarForm.of(start=start, weeks=weeks)


def _give(
    units: str,
    planned: Planned,
    when: CalendarForm | None,
    sheet: Path | None,
    calendar: Path | None,
    figure: Path | None,
    as_json: bool,
) -> None:
    """Write the files that were asked for, and say the plan."""
    from carrybook.app.texts.practise import plan_text

    if sheet is not None:
        write_sheet(sheet, planned, units)
    if calendar is not None and when is not None:
        write_calendar(calendar, planned, when, now(), units)
    if figure is not None:
        draw_leaks(figure, planned, units)
    show(as_json, practise_plan_view(planned), plan_text(planned, units))
