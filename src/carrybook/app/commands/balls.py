"""`balls`: the log of struck balls."""

from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from carrybook.app import options
from carrybook.app.commands.log import log
from carrybook.app.commands.show import show
from carrybook.app.json_views.balls import balls_view, check_view, import_view, undone_view
from carrybook.app.progress import waiting
from carrybook.app.services.balls import (
    LookedOver,
    check_balls,
    import_balls,
    logged_balls,
    odd_of_import,
    undo_import,
)
from carrybook.base.errors import NoSolutionError

if TYPE_CHECKING:
    from carrybook.store.columns import Answer
    from carrybook.store.imports import ImportReport

__all__ = ["app"]

app = typer.Typer(no_args_is_help=True, help="The balls you logged: read a file in, look, undo.")


@app.command("import")
def import_file(
    ctx: typer.Context,
    file: Annotated[
        Path,
        typer.Argument(
            metavar="FILE",
            help="Delimited text, a spreadsheet, JSON Lines or Parquet, with headers.",
        ),
    ],
    column: Annotated[
        list[str] | None,
        typer.Option(
            metavar="FIELD=HEADER",
            help='Which column holds what, where the header does not say: carry="Carry flat".',
        ),
    ] = None,
    unit: Annotated[
        list[str] | None,
        typer.Option(
            metavar="FIELD=UNIT", help="What its bare numbers are in: carry=yd, spin=rpm."
        ),
    ] = None,
    mapping: Annotated[
        Path | None,
        typer.Option(
            metavar="FILE",
            help='The same in a TOML file: [columns] carry = "Carry flat", [units] carry = "yd".',
        ),
    ] = None,
    sheet: Annotated[
        str | None, typer.Option(metavar="NAME", help="Which sheet of a spreadsheet.")
    ] = None,
    preview: Annotated[
        bool, typer.Option("--preview", help="Show what would be stored; then ask, or stop.")
    ] = False,
    as_json: options.Json = False,
) -> None:
    """Read a file of balls into the book. Nothing good is lost, nothing is guessed.

    A ball that is there already is not added again; rows that cannot be read are put aside with the
    reason. What is not clear is asked on a terminal, else named. What you say about columns and
    units is remembered for files with the same header. An empty cell, or one of -, --, n/a, na and
    nan, means that nothing was measured.

    Example: carrybook balls import monday.csv --column carry="Carry flat" --unit carry=yd
    """
    from carrybook.app.forms.mapping import mapping_of
    from carrybook.app.texts.balls import import_text

    columns, units = mapping_of(mapping, column or [], unit or [])
    read = partial(_read, ctx.obj.book, file, {}, columns=columns, units=units, sheet=sheet)
    if preview and not _wanted(read(store=False), ctx.obj.units, as_json):
        return
    report = read()
    over = odd_of_import(ctx.obj.book, report)
    show(as_json, import_view(report, over), import_text(report, over))
    if report.rejected == report.read:
        raise NoSolutionError(
            f"no row of {file.name} could be used; the reasons are in {report.rejects_path}"
        )


def _wanted(report: "ImportReport", units: str, as_json: bool) -> bool:
    """Show what would be stored, and ask whoever is there whether to."""
    from carrybook.app.asking import somebody_is_there
    from carrybook.app.texts.balls import preview_text

    show(as_json, import_view(report, LookedOver()), preview_text(report, units))
    there = somebody_is_there() and not as_json
    return there and typer.confirm("store them?", default=True)


def _read(
    book: Path | None,
    file: Path,
    answered: "dict[str, Answer]",
    **said: Any,  # noqa: ANN401 - passed on
) -> "ImportReport":
    """Read a file, asking whoever is there, with a sign that it goes on."""
    from carrybook.app.asking import asking

    with waiting(f"reading {file.name}") as pause:
        return import_balls(book, file, ask=asking(pause, answered), **said)


app.command("log")(log)


@app.command("list")
def list_balls(
    ctx: typer.Context,
    shot: Annotated[
        str | None, typer.Option(metavar="LABEL", help='Only balls of this shot: "54 low".')
    ] = None,
    last: Annotated[int, typer.Option(metavar="N", min=1, help="Only the newest so many.")] = 20,
    as_json: options.Json = False,
) -> None:
    """Show logged balls, the newest first, in yd or m.

    Example: carrybook balls list --shot "54 low" --last 10
    """
    from carrybook.app.texts.balls import balls_text

    balls = logged_balls(ctx.obj.book, shot=shot, last=last)
    show(as_json, balls_view(balls), balls_text(balls, ctx.obj.units))


@app.command()
def check(
    ctx: typer.Context,
    shot: Annotated[
        str | None, typer.Option(metavar="LABEL", help='Only balls of this shot: "54 low".')
    ] = None,
    as_json: options.Json = False,
) -> None:
    """Name logged balls that look odd, with the reasons, in yd or m. None is dropped.

    Looked at are launch and spin against the loft of the club, carry against ball speed in calm
    air, numbers that cannot be true together, copies, carries that look like yards taken for
    metres, and measurements that drift within a session or over days.

    Example: carrybook balls check --shot "54 low"
    """
    from carrybook.app.texts.balls import check_text

    with waiting("looking over the balls"):
        report = check_balls(ctx.obj.book, shot=shot)
    show(as_json, check_view(report), check_text(report, ctx.obj.units))


@app.command()
def undo(ctx: typer.Context, as_json: options.Json = False) -> None:
    """Take the last import or logged session back, balls and all; again for the one before.

    The last ball alone is taken back with: carrybook balls log undo

    Example: carrybook balls undo
    """
    from carrybook.app.texts.balls import undone_text

    undone = undo_import(ctx.obj.book)
    show(as_json, undone_view(undone), undone_text(undone))
