"""`learn`: what the log says of every shot, pooled, with honest intervals."""

from datetime import UTC, datetime
from pathlib import Path
from typing import Annotated

import typer

from carrybook.app import options
from carrybook.app.commands.show import show
from carrybook.app.files import FIGURES, require_place
from carrybook.app.json_views.learn import coverage_view, learnt_view
from carrybook.app.progress import bar
from carrybook.app.services.learn import check_learnt, curve_of, draw_curve, learn_book

__all__ = ["learn"]


def learn(
    ctx: typer.Context,
    full: Annotated[
        bool, typer.Option("--full", help="Full sampling: minutes instead of seconds.")
    ] = False,
    check: Annotated[
        bool, typer.Option("--check", help="Only look whether the balls fall where they should.")
    ] = False,
    seed: Annotated[
        int, typer.Option(metavar="N", min=0, help="The same seed gives the same answer.")
    ] = 1,
    figure: Annotated[
        Path | None,
        typer.Option(
            metavar="FILE", help="Draw how more balls sharpen stock carries: a .png or .svg file."
        ),
    ] = None,
    as_json: options.Json = False,
) -> None:
    """Learn from the log: carries, scatter, your own cold, wet and rough, drift; in yd or m.

    Every ball is carried to the reference day, then all shots are learnt together, so that those
    with few balls lean on the others. The result is kept in the book; numbers and choose use it
    until you log another ball or change a shot. The quick way takes a second; --full samples the
    whole model, says whether its chains agree, and stores nothing where they do not.

    Example: carrybook learn; or carrybook learn --check
    """
    from carrybook.app.texts.learn import coverage_text, learnt_text

    require_place(figure, FIGURES, "figure")
    book, units = ctx.obj.book, ctx.obj.units
    with bar() as progress:
        if check:
            rows = check_learnt(book, seed=seed)
            view, text = coverage_view(rows), coverage_text(rows)
        else:
            now = datetime.now(UTC)
            report = learn_book(book, full=full, seed=seed, at=now, progress=progress)
            view, text = learnt_view(report), learnt_text(report, units)
        if figure is not None:
            draw_curve(figure, curve_of(book, seed=seed, progress=progress), units)
    show(as_json, view, text)
