"""`doctor` and `demo`: whether everything is in place, and what it looks like when it is."""

from pathlib import Path
from typing import Annotated

import typer

from carrybook.app import json_views, options
from carrybook.app.commands.show import show
from carrybook.app.progress import waiting

__all__ = ["demo", "doctor"]


def doctor(
    ctx: typer.Context,
    warm: Annotated[
        bool, typer.Option("--warm", help="First compile everything that is compiled: up to 60 s.")
    ] = False,
    as_json: options.Json = False,
) -> None:
    """Look whether everything is in place; say which command mends what is not. Changes nothing.

    Example: carrybook doctor --warm
    """
    from carrybook.app import texts
    from carrybook.app.doctor import all_well, examine, warm_kernels

    if warm:
        with waiting("compiling, up to 60 s"):
            warm_kernels()
    findings = examine(ctx.obj.book)
    show(as_json, json_views.doctor_view(findings), texts.doctor_text(findings))
    raise typer.Exit(0 if all_well(findings) else 1)


def demo(
    out: Annotated[
        Path, typer.Option("--out", metavar="FOLDER", help="Where to put pictures and card.")
    ] = Path("demo-out"),
) -> None:
    """Play three shots of an invented player on an invented course: 20 to 150 yd, end to end.

    Example: carrybook demo --out demo-out
    """
    from carrybook.app.demo import run_demo

    run_demo(out, typer.echo)
