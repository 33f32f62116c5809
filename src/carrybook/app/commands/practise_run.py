"""`practise run` and its parts: each ball is in the book before the next is struck."""

import sys
import time
from contextlib import suppress
from pathlib import Path
from typing import Annotated

import typer

from carrybook.app import options
from carrybook.app.commands.show import show
from carrybook.app.json_views.practise import now_view
from carrybook.app.services.log import now
from carrybook.app.services.practise_run import Now, end_session_on, session_on, undo_hit
from carrybook.app.services.practise_run import hit as hit_lines
from carrybook.base.errors import BadInputError

__all__ = ["end", "hit", "run", "status", "undo"]

_REVEAL_S = 4  # swinnen-1990: what is seen at once is kept worse; some seconds are enough (ours)
_STOP = ("end", "quit", "done")
_HELP = (
    'Each ball: your call ("72", or "-" for none), then, after some seconds, what it was ("68 3R").'
    " Also: skip, undo, end. What you stop in the middle goes on where it was."
)


def run(
    ctx: typer.Context,
    reveal: Annotated[
        int,
        typer.Option(
            metavar="SECONDS",
            min=0,
            max=30,
            help="From the call to the question what it was: an own estimate comes first.",
        ),
    ] = _REVEAL_S,
    as_json: options.Json = False,
) -> None:
    """Strike the planned session: target, ball, call, what it was; each ball is logged at once.

    A length is typed as 72yd or 66m; a number alone is in the units shown.

    Example: carrybook practise run
    """
    if as_json:
        raise BadInputError("a session that asks has no JSON; say: carrybook practise hit --json")
    _Asking(ctx.obj.book, ctx.obj.units, reveal).run()


def hit(
    ctx: typer.Context,
    lines: Annotated[
        list[str] | None,
        typer.Argument(
            metavar="[LINE]...",
            help='A ball each: "called 72yd got 68yd 3R"; a call alone, then its result; skip; or'
            " - for lines from standard input.",
        ),
    ] = None,
    as_json: options.Json = False,
) -> None:
    """Say what the next balls of the session were, without being asked.

    A shot named first is the one you played instead of the planned one. All lines are taken, or
    none where one cannot be used.

    Example: carrybook practise hit "called 72 got 68 3R" "54 low called 70 got 71"
    """
    from carrybook.app.texts.practise import now_text

    said = lines or []
    if said == ["-"]:
        said = [line.strip() for line in sys.stdin if line.strip()]
    if not said:
        raise BadInputError('say what the ball was: carrybook practise hit "called 72 got 68 3R"')
    found = hit_lines(ctx.obj.book, said, now(), units=ctx.obj.units)
    show(as_json, now_view(found), now_text(found, ctx.obj.units))


def undo(ctx: typer.Context, as_json: options.Json = False) -> None:
    """Take back what was said last in the session: a ball, a call or a skip.

    Example: carrybook practise undo
    """
    from carrybook.app.texts.practise import now_text

    found = undo_hit(ctx.obj.book)
    show(as_json, now_view(found), now_text(found, ctx.obj.units))


def status(ctx: typer.Context, as_json: options.Json = False) -> None:
    """Say how far the session is, what comes next, and how its balls did.

    Example: carrybook practise status
    """
    from carrybook.app.texts.practise import now_text

    found = session_on(ctx.obj.book)
    show(as_json, now_view(found), now_text(found, ctx.obj.units))


def end(ctx: typer.Context, as_json: options.Json = False) -> None:
    """End the session, also before its last ball, and say how it was.

    Example: carrybook practise end
    """
    from carrybook.app.texts.practise import now_text

    found = end_session_on(ctx.obj.book, now())
    show(as_json, now_view(found), now_text(found, ctx.obj.units))


class _Asking:
    """A session that asks for each ball, until all are struck or the person stops."""

    def __init__(self, book: Path | None, units: str, reveal_s: float) -> None:
        self._book = book
        self._units = units
        self._reveal_s = reveal_s

    def run(self) -> None:
        """Ask; a stop in the middle leaves the session as it is."""
        from carrybook.app.texts.practise import now_text

        going = session_on(self._book)
        typer.echo(f"{now_text(going, self._units)}\n{_HELP}")
        with suppress(EOFError, KeyboardInterrupt):
            if going.practice.begun is None:
                self._answer("warmed up? Enter> ")
            while self._one():
                pass
        going = session_on(self._book)
        if going.practice.begun is not None and going.practice.next is None:
            going = end_session_on(self._book, now())
        typer.echo(f"\n{now_text(going, self._units)}")

    def _one(self) -> bool:
        """Ask for the next ball, or the rest of it; false where there is none."""
        from carrybook.app.texts.practise import hit_words, target_words
        from carrybook.artefacts.words import units_named

        going = session_on(self._book)
        target, u = going.practice.next, units_named(self._units)
        if target is None:
            return False
        if not target.called:
            typer.echo(target_words(target, u, judged=going.judged))
        typed = self._answer("got> " if target.called else "call> ")
        if typed:
            said = self._say(typed)
            for each in said.hits if said else ():
                typer.echo(hit_words(each, u, judged=going.judged))
            if said and said.hits[0].called:
                time.sleep(self._reveal_s)
        return True

    def _say(self, typed: str) -> Now | None:
        """Take an answer; what cannot be used is one line, and the question comes again."""
        try:
            if typed.lower() == "undo":
                return undo_hit(self._book)
            return hit_lines(self._book, [typed], now(), units=self._units, bare="called_m")
        except BadInputError as error:
            typer.echo(f"error: {' '.join(str(error).split())}")
            return None

    def _answer(self, prompt: str) -> str:
        typed = input(prompt).strip()
        if typed.lower() in _STOP:
            raise EOFError
        return typed
