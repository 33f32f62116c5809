"""`doctor` and `demo`: whether everything is in place, and what it looks like when it is."""

import shlex
from collections.abc import Sequence
from pathlib import Path
from typing import Annotated

import typer

from carrybook.app import options
from carrybook.app.commands.show import show
from carrybook.app.json_views.machine import doctor_view
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
    from carrybook.app.doctor import all_well, examine, warm_kernels
    from carrybook.app.texts.machine import doctor_text

    if warm:
        with waiting("compiling, up to 60 s"):
            warm_kernels()
    findings = examine(ctx.obj.book)
    show(as_json, doctor_view(findings), doctor_text(findings))
    raise typer.Exit(0 if all_well(findings) else 1)


def demo(
    ctx: typer.Context,
    out: Annotated[
        Path, typer.Option("--out", metavar="FOLDER", help="Where to put book, pictures and cards.")
    ] = Path("demo-out"),
) -> None:
    """Play three shots of an invented player on an invented course: 20 to 150 yd, end to end.

    It types ordinary commands and shows them, so that you can type them again with other numbers.
    Your own book is not touched; the demo's own lies in the folder.

    Example: carrybook demo --out demo-out
    """
    from carrybook.app.demo import command_here, lay_out
    from carrybook.app.doctor import kernels_are_warm, warm_kernels

    steps = lay_out(out)
    if here := command_here():
        typer.echo(f"# carrybook is {here} here")
    if not kernels_are_warm():
        typer.echo("compiling, once: some ten seconds", err=True)
        with waiting("compiling"):
            warm_kernels()
    for step in steps:
        if step.why:
            typer.echo(f"\n# {step.why}")
        typer.echo(f"$ carrybook {shlex.join(step.words)}")
        _type_in(ctx, step.words)


def _type_in(ctx: typer.Context, words: Sequence[str]) -> None:
    """Run one command as if it had been typed; leave with its code if it fails."""
    try:
        ctx.find_root().command.main(list(words), prog_name="carrybook")
    except SystemExit as end:
        if end.code:
            raise
