"""`round`: while one is on, only recording; Rule 4.3a."""

from datetime import datetime
from pathlib import Path
from typing import Annotated, Literal

import typer

from carrybook.app import options
from carrybook.app.commands.show import show
from carrybook.app.forms.round_line import shot_line
from carrybook.app.forms.round_shot import RoundShotForm
from carrybook.app.json_views.round_shots import (
    poured_view,
    recorded_view,
    round_shot_part,
    round_shots_view,
)
from carrybook.app.json_views.rounds import round_view
from carrybook.app.services.round_shots import pour_in, record_shot, rounds_shown, take_back
from carrybook.app.services.rounds import current_round, end_round, start_round
from carrybook.app.texts.rounds import round_text

__all__ = ["app"]

app = typer.Typer(no_args_is_help=True, help="Begin and end a round: in between, only recording.")


@app.command()
def start(
    ctx: typer.Context,
    note: Annotated[str, typer.Option(metavar="TEXT", help="What you like to remember.")] = "",
    setting: Annotated[
        Literal["course", "competition"] | None,
        typer.Option(help="Whether it counts.", show_default="not said"),
    ] = None,
    as_json: options.Json = False,
) -> None:
    """Begin a round: until its end the tool records balls and gives no advice (Rule 4.3a).

    The lock is kept in the book, so closing the program does not lift it.

    Example: carrybook round start --setting competition --note "club championship"
    """
    found = start_round(ctx.obj.book, datetime.now().astimezone(), note, setting or "")
    show(as_json, round_view(found), round_text(found))


@app.command()
def end(ctx: typer.Context, as_json: options.Json = False) -> None:
    """End the round: advice is given again.

    Example: carrybook round end
    """
    found = end_round(ctx.obj.book, datetime.now().astimezone())
    show(as_json, round_view(found), round_text(found))


@app.command()
def status(ctx: typer.Context, as_json: options.Json = False) -> None:
    """Say whether a round is on, and since when.

    Example: carrybook round status
    """
    found = current_round(ctx.obj.book)
    show(as_json, round_view(found), round_text(found))


@app.command("shot")
def record(
    ctx: typer.Context,
    words: Annotated[
        list[str],
        typer.Argument(
            metavar="LINE",
            help='"4 88yd fairway, wind 12mph into, hole back left, with 54 meant 84, landed 3'
            ' short 2R, finish 12ft green, putts 2"',
        ),
    ],
    as_json: options.Json = False,
) -> None:
    """Record one scoring shot of the round that began last, in one line; allowed during a round.

    Facts parted by commas, in any order: the hole and the number, with lie and dry, dew, wet; wind
    12mph into, or calm; hole back left, or hole 24 on, 5 from the right; firm; 9C; with the shot,
    meant what you wanted to feel, aim 2R, called 83; landed 3 short 2R, from the hole; finish 12ft
    green, or holed; putts 2; then 1: other strokes after it; penalty 1. What you learnt after: true
    number 92yd, true wind 18mph into, true lie deep rough, true firm. After # a note.
    Numbers alone are yards, or metres with --units. Nothing is worked out of it.

    Example: carrybook round shot "4 88yd fairway dew, wind 12mph into, hole back left, with 54
    meant 84, landed 3 short 2R, finish 12ft green, putts 2"
    """
    from carrybook.app.texts.round_shots import recorded_text

    line = " ".join(words)
    form = RoundShotForm.of(units=ctx.obj.units, **shot_line(line))
    recorded = record_shot(ctx.obj.book, form, datetime.now().astimezone(), {"line": line})
    show(as_json, recorded_view(recorded), recorded_text(recorded, ctx.obj.units))


@app.command("undo")
def undo(ctx: typer.Context, as_json: options.Json = False) -> None:
    """Take back the scoring shot that was recorded last; again for the one before.

    Example: carrybook round undo
    """
    from carrybook.app.texts.round_shots import shot_words

    shot = take_back(ctx.obj.book)
    text = f"took back: {shot_words(shot, ctx.obj.units)}"
    show(as_json, {"took_back": round_shot_part(shot)}, text)


@app.command("shots")
def list_shots(
    ctx: typer.Context,
    number: Annotated[
        int | None,
        typer.Option("--round", metavar="N", min=1, help="Only the round of that number."),
    ] = None,
    last: Annotated[
        int, typer.Option(metavar="N", min=1, help="Only the last so many rounds.")
    ] = 1,
    as_json: options.Json = False,
) -> None:
    """Show recorded scoring shots, in yd or m, round by round.

    Example: carrybook round shots --last 3
    """
    from carrybook.app.texts.round_shots import round_shots_text

    rounds = rounds_shown(ctx.obj.book, number=number, last=last)
    show(as_json, round_shots_view(rounds), round_shots_text(rounds, ctx.obj.units))


@app.command("import")
def import_file(
    ctx: typer.Context,
    file: Annotated[
        Path, typer.Argument(metavar="FILE", help="CSV with headers, one row a scoring shot.")
    ],
    as_json: options.Json = False,
) -> None:
    """Pour rounds in from a file: all of it, or nothing where a cell cannot be used.

    Columns: round (when it began), hole, number (yd), shot, finish on, and any of: ended, setting,
    lie, moisture, wind (mph), wind from, hole location, green depth (yd), firmness, green speed
    (ft), temperature (C), intended (yd), aim (yd), called (yd), landing past (yd), landing right
    (yd), finish (ft), finish past (yd), finish right (yd), putts, strokes after, penalties, true
    number (yd), true wind (mph), true wind from, true lie, true moisture, true firmness, time,
    note. A row that the book has already is not added again.

    Example: carrybook round import season.csv
    """
    from carrybook.app.texts.round_shots import poured_text

    poured = pour_in(ctx.obj.book, file, ctx.obj.units)
    show(as_json, poured_view(poured, file.name), poured_text(poured, file.name))
