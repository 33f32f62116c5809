"""`serve`: the page, for this machine or, behind a passphrase, for the local network."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from carrybook.app.commands.show import show
from carrybook.app.json_views.machine import serve_view
from carrybook.app.progress import waiting
from carrybook.base.errors import BadInputError

if TYPE_CHECKING:
    from carrybook.app.web.door import Door
    from carrybook.app.web.server import Certificate

__all__ = ["serve"]


def serve(
    ctx: typer.Context,
    port: Annotated[
        int, typer.Option(metavar="N", min=1, max=65535, help="Where it listens.")
    ] = 8417,
    share: Annotated[
        bool,
        typer.Option(
            "--share", help="Let others on the local network in; they need the passphrase."
        ),
    ] = False,
    passphrase: Annotated[
        str | None,
        typer.Option(
            envvar="CARRYBOOK_PASSPHRASE",
            metavar="TEXT",
            help="Of a shared page, at least ten characters; better not typed here, but when asked"
            " or in the environment.",
            show_default="asked for",
        ),
    ] = None,
    name: Annotated[
        str | None,
        typer.Option(
            metavar="NAME", help="One more name of this machine on the network: laptop.lan."
        ),
    ] = None,
    certificate: Annotated[
        Path | None,
        typer.Option(
            metavar="FILE",
            help="Certificate of this machine's name, PEM: the page is then encrypted, and phones"
            " that trust it can install it.",
            show_default="not encrypted",
        ),
    ] = None,
    key: Annotated[
        Path | None,
        typer.Option(metavar="FILE", help="Its key, PEM.", show_default="in the same file"),
    ] = None,
    as_json: Annotated[
        bool, typer.Option("--json", help="Print once where it is and what it shows, then serve.")
    ] = False,
) -> None:
    """Serve the page to a browser on this machine, http://127.0.0.1:8417; stop it with Ctrl-C.

    Nobody else can reach it unless you say --share. It works with the network off.

    Example: carrybook serve --port 8417
    """
    from carrybook.app.texts.machine import serve_text
    from carrybook.app.web.server import names_here, run

    if name is not None and not share:
        raise BadInputError(f"name = {name!r} is for others on the network; add --share")
    pair = _pair(certificate, key)
    door = _door(passphrase) if share else None
    names = names_here(port, shared=share, also=name, encrypted=pair is not None)
    places = [f"{'http' if pair is None else 'https'}://{name}" for name in names]
    _warm_up()
    if as_json:
        show(True, serve_view(places, shared=share, encrypted=pair is not None), "")
    else:
        typer.echo(serve_text(places, shared=share, encrypted=pair is not None), err=True)
    run(ctx.obj.book, port=port, names=names, door=door, certificate=pair)


def _pair(certificate: Path | None, key: Path | None) -> "Certificate | None":
    from carrybook.app.web.server import Certificate

    if certificate is None and key is not None:
        raise BadInputError(f"key = '{key}' has no certificate; add it like --certificate page.pem")
    return None if certificate is None else Certificate(certificate, key)


def _warm_up() -> None:
    """Compile before the first visit, which would have to wait for it without a word."""
    from carrybook.app.doctor import kernels_are_warm, warm_kernels

    if not kernels_are_warm():
        typer.echo("compiling, once: some ten seconds", err=True)
        with waiting("compiling"):
            warm_kernels()


def _door(passphrase: str | None) -> "Door":
    from carrybook.app.web.door import Door

    said = passphrase or typer.prompt(
        "passphrase", hide_input=True, confirmation_prompt=True, err=True
    )
    return Door(said)
