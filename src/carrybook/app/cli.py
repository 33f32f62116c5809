"""The command line: puts the commands together, and says in one line what went wrong.

Exit codes: 0 done, 1 no answer possible, 2 something typed that cannot be used. Anything else that
fails is a bug, and looks like one.
"""

import atexit
import gc
import os
import sys
from collections import UserDict
from contextlib import suppress
from importlib import import_module
from itertools import islice
from pathlib import Path
from typing import Annotated, Any, Literal, NoReturn

import typer
from typer.core import TyperGroup

from carrybook import __version__
from carrybook.app.options import Settings
from carrybook.base.errors import BadInputError, NoSolutionError

__all__ = ["app", "run"]

_ANYWHERE = ("--book", "--units")
_GARBAGE_AFTER = 50_000  # objects made, ours: a command is over before there is much
# Every command and group, in the order of the help: its module in `commands`, and its name there.
_COMMANDS = {
    "start": "start.start",
    "numbers": "numbers.numbers",
    "choose": "decide.choose",
    "leave": "leave.leave",
    "plan": "plan.plan",
    "prepare": "prepare.prepare",
    "card": "card.card",
    "learn": "learn.learn",
    "feel": "feel.feel",
    "review": "review.review",
    "air": "flight.air",
    "fly": "flight.fly",
    "land": "landing.land",
    "firmness": "landing.firmness",
    "putt": "putt.putt",
    "demo": "machine.demo",
    "doctor": "machine.doctor",
    "serve": "serve.serve",
    "shots": "shots.app",
    "balls": "balls.app",
    "bag": "bag.app",
    "ground": "ground.app",
    "book": "book.app",
    "venue": "venue.app",
    "round": "rounds.app",
    "practise": "practise.app",
}


class _Shelf(UserDict[str, Any]):
    """The commands by name, each loaded when it is looked up: a start that loads all is slow."""

    def __getitem__(self, name: str) -> Any:  # noqa: ANN401 - a command or a group of typer's
        """Load one."""
        module, _, attribute = self.data[name].partition(".")
        found = getattr(import_module(f"carrybook.app.commands.{module}"), attribute)
        alone = typer.Typer()
        if isinstance(found, typer.Typer):
            alone.add_typer(found, name=name)
        else:
            alone.command(name)(found)
        return typer.main.get_group(alone).commands[name]


class _Door(TyperGroup):
    """All commands behind one door: what cannot be answered goes out as one line and a code."""

    def __init__(self, **settings: Any) -> None:  # noqa: ANN401 - the signature of typer
        super().__init__(**settings)
        self.commands = _Shelf(_COMMANDS)

    def list_commands(self, ctx: Any) -> list[str]:  # noqa: ANN401 - the signature of typer
        """Name the commands without loading them."""
        return list(self.commands)

    def main(self, *args: Any, **kwargs: Any) -> NoReturn:  # noqa: ANN401 - the signature of typer
        """Run a command and leave with its exit code."""
        try:
            raise SystemExit(super().main(*args, **kwargs | {"standalone_mode": False}))
        except typer.TyperException as error:
            _leave(_usage(error), error.exit_code)
        except BadInputError as error:
            _leave(str(error), 2)
        except NoSolutionError as error:
            _leave(str(error), 1)
        except OSError as error:
            if error.filename is not None:  # no stream has one; so it is a bug
                raise
            _forget_output()
            _leave(f"cannot write the answer: {error.strerror}", 2)

    def parse_args(self, ctx: Any, args: list[str]) -> list[str]:  # noqa: ANN401 - typer's own context
        """Let the book and the units stand anywhere, also after the command."""
        words, front, rest = iter(args), [], []
        for word in words:
            if word.partition("=")[0] in _ANYWHERE:
                front += [word] if "=" in word else [word, *islice(words, 1)]
            else:
                rest.append(word)
        return super().parse_args(ctx, front + rest)


def _leave(message: str, code: int) -> NoReturn:
    if message:
        typer.echo(f"error: {' '.join(message.split())}", err=True)
    raise SystemExit(code)


def _forget_output() -> None:
    """Let what is still to be written go nowhere, or Python would try once more at the end."""
    with suppress(OSError):  # standing in for a stream without a file
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _usage(error: typer.TyperException) -> str:
    """Say what is wrong with how a command was written, and where to look; nothing after help."""
    message = error.format_message().replace("Value error, ", "").rstrip(".")
    context = getattr(error, "ctx", None)
    return f"{message} (see {context.command_path} --help)" if message and context else message


app = typer.Typer(
    cls=_Door, no_args_is_help=True, pretty_exceptions_enable=False, add_completion=False
)


def _say_version(asked: bool) -> None:
    if asked:
        typer.echo(f"carrybook {__version__}")
        raise typer.Exit


@app.callback()
def main(
    ctx: typer.Context,
    book: Annotated[
        Path | None,
        typer.Option(
            metavar="FILE",
            envvar="CARRYBOOK_BOOK",
            help="The book to use; may also stand after the command.",
            show_default="this system's place for your data",
        ),
    ] = None,
    units: Annotated[
        Literal["yards", "metres"],
        typer.Option(help="Show lengths in yards or metres; may also stand after the command."),
    ] = "yards",
    version: Annotated[
        bool,
        typer.Option("--version", is_eager=True, callback=_say_version, help="Show the version."),
    ] = False,
) -> None:
    """Keep the book of your scoring shots: what carries how far today, where to land, where to aim.

    Type every quantity with its unit: 88yd, 70m, 9C, 54F, 12mph, 1004hPa, 9000rpm, 30deg, 85%.

    Start with: carrybook start
    """
    ctx.obj = Settings(book, units)


def run() -> None:
    """Run the command line."""
    gc.set_threshold(_GARBAGE_AFTER)
    atexit.register(gc.freeze)  # or Python looks through all that was loaded once more at the end
    app(prog_name="carrybook")
