"""`book`: everything in it out as files, back in, or gone."""

from pathlib import Path
from typing import Annotated

import typer

from carrybook.app import options
from carrybook.app.asking import somebody_is_there
from carrybook.app.commands.show import show
from carrybook.app.forms.base import formats_of
from carrybook.app.json_views.machine import archive_view
from carrybook.app.progress import waiting
from carrybook.app.services.book import (
    book_path,
    delete_book,
    export_book,
    look_into,
    page_folder,
    restore_book,
)
from carrybook.base.errors import BadInputError

__all__ = ["app"]

app = typer.Typer(no_args_is_help=True, help="The book as a whole: export, restore, delete.")

_Format = Annotated[
    str | None,
    typer.Option("--format", metavar="WORD", help="parquet, csv or jsonl.", show_default="all"),
]


@app.command()
def export(
    ctx: typer.Context,
    folder: Annotated[Path, typer.Argument(metavar="FOLDER", help="A new or empty folder.")],
    how: _Format = None,
    as_json: options.Json = False,
) -> None:
    """Write everything in the book as Parquet, CSV (units in a sidecar) and JSON Lines, in SI.

    What the page keeps beside the book (maps sent to it, plans, forms half filled in) is not in it.

    Example: carrybook book export my-book
    """
    from carrybook.app.texts.machine import archive_text

    formats = formats_of(how)
    with waiting(f"writing {folder}"):
        archive = export_book(ctx.obj.book, folder, formats)
    page = page_folder(ctx.obj.book)
    left_out = page if page.is_dir() else None
    text = archive_text(archive, "written to", left_out)
    show(as_json, {**archive_view(archive), "not_in_it": left_out and str(left_out)}, text)


@app.command()
def restore(
    ctx: typer.Context,
    folder: Annotated[Path, typer.Argument(metavar="FOLDER", help="What export wrote.")],
    how: _Format = None,
    as_json: options.Json = False,
) -> None:
    """Make a book of an export, the same to the last bit. A book that holds something is refused.

    Example: carrybook book restore my-book --book copy.sqlite
    """
    from carrybook.app.texts.machine import archive_text

    wanted = None if how is None else formats_of(how)[0]
    with waiting(f"reading {folder}"):
        archive = restore_book(ctx.obj.book, folder, wanted)
    show(as_json, archive_view(archive), archive_text(archive, "restored from"))


@app.command()
def delete(
    ctx: typer.Context,
    yes: Annotated[bool, typer.Option("--yes", help="Do not ask.")] = False,
    as_json: options.Json = False,
) -> None:
    """Remove the player completely: book, journals, rejected rows, old copies, what the page kept.

    What you exported or drew elsewhere stays where you put it.

    Example: carrybook book delete
    """
    path = book_path(ctx.obj.book)
    if not yes:
        if not somebody_is_there():
            raise BadInputError(f"this removes {path} for good; say so with --yes")
        typer.confirm(f"remove {path} for good{_held(ctx.obj.book)}?", abort=True)
    removed = [str(each) for each in delete_book(ctx.obj.book)]
    show(as_json, {"removed": removed}, "\n".join(f"removed {each}" for each in removed))


def _held(book: Path | None) -> str:
    """What goes with it; without a book, what the page kept."""
    if not book_path(book).exists() and page_folder(book).is_dir():
        return ", with what the page kept"
    held = look_into(book)
    return f", with {held.shots} shots and {held.balls} balls"
