"""`balls log`: balls as they are struck, one line each; and the session that asks for them."""

from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import replace
from functools import partial
from typing import Annotated

import typer

from carrybook.app import options
from carrybook.app.commands.show import show
from carrybook.app.forms.occasion import OccasionForm
from carrybook.app.forms.quick_line import Bare, QuickLine, quick_line
from carrybook.app.json_views.balls import logged_view
from carrybook.app.services.log import Log, Logged, end_log, now, open_log, undo_ball
from carrybook.base.errors import BadInputError
from carrybook.player.bag import Shot
from carrybook.player.occasion import PracticeOrder

__all__ = ["log"]

_STOP = ("end", "quit", "done")


def log(
    ctx: typer.Context,
    words: Annotated[
        list[str] | None,
        typer.Argument(
            metavar="[LINE]", help='A ball: "54 low 70 called 72 got 68 3R wet"; or undo, or end.'
        ),
    ] = None,
    setting: Annotated[
        str | None,
        typer.Option(metavar="WORDS", help="range, practice green, course or competition."),
    ] = None,
    order: Annotated[
        str | None,
        typer.Option(metavar="WORD", help="Targets in a block, or random: asked for each ball."),
    ] = None,
    air: options.Air = None,
    lie: options.Lie = None,
    moisture: options.Moisture = None,
    ball_model: Annotated[
        str | None, typer.Option(metavar="TEXT", help="The ball you strike.")
    ] = None,
    as_json: options.Json = False,
) -> None:
    """Log balls at the range: one in a line, or, with no words, a session that asks for each.

    A line: the shot; the carry meant, or a swing in words (three quarter, 75%, 9 o'clock); called:
    what you felt before you saw it; got: what it was; 3R: yards right; dry, dew, wet; a lie; thin,
    fat; 78mph, 9000rpm, 30deg; after # a note. Numbers alone are yards, or metres with --units.
    Each ball is safe in the book at once. Lines within six hours are one session.

    Example: carrybook balls log "54 low 70 called 72 got 68 3R wet"
    """
    from carrybook.app.texts.balls import logged_text

    line = " ".join(words or [])
    if line.lower() in (*_STOP, "undo"):
        _say_and_do(ctx, line.lower(), as_json)
        return
    if as_json and not line:
        raise BadInputError("--json needs a line; a session that asks has no JSON")
    form = OccasionForm.of(
        order=order, setting=setting, lie=lie, moisture=moisture, ball_model=ball_model, air=air
    )
    # What is said anew begins a session, and a session that asks is one of its own.
    joins = bool(line) and not form.model_fields_set
    with open_log(ctx.obj.book, form.value(now()), joins=joins) as going:
        if line:
            added = going.add(quick_line(line, going.shots, units=ctx.obj.units), line, now())
            show(as_json, logged_view(added), logged_text(added, ctx.obj.units))
        else:
            _Asking(going, ctx.obj.units, form.order).run()


def _say_and_do(ctx: typer.Context, word: str, as_json: bool) -> None:
    """Take back the last ball, or end the session."""
    from carrybook.app.texts.balls import logged_text

    if word != "undo":
        end_log(ctx.obj.book)
        show(as_json, {"ended": True}, "session ended")
        return
    back = Logged(undo_ball(ctx.obj.book), 0, 0)
    text = f"took back: {logged_text(back, ctx.obj.units)}"
    show(as_json, {"took_back": logged_view(back)["ball"]}, text)


class _Asking:
    """A session that asks: the shot and its target once, then call and result of each ball."""

    def __init__(self, going: Log, units: str, order: PracticeOrder) -> None:
        self._going = going
        self._units = units
        self._each_target = order is PracticeOrder.RANDOM
        self._aim: QuickLine | None = None
        self._logged = 0

    def run(self) -> None:
        """Ask until the person ends it, or there is nobody there any more."""
        from carrybook.app.texts.balls import session_help

        typer.echo(session_help(self._going.shots))
        with suppress(EOFError, KeyboardInterrupt):
            self._until("shot and target> ", self._take_aim)
            while True:
                self._until("call> ", self._one_ball)
                if self._each_target:
                    self._until("target> ", self._take_aim)
        self._going.end()
        typer.echo(f"\n{self._logged} logged; see them with: carrybook balls list")

    def _until(
        self, prompt: str, take: Callable[[str], None], *, leave_undone: bool = False
    ) -> None:
        """Ask until an answer can be used; an error is one line, and the question comes again."""
        while True:
            typed = input(prompt).strip()
            if typed.lower() in _STOP:
                raise EOFError
            try:
                if typed.lower() == "undo":
                    self._undo()
                    if leave_undone:
                        return
                elif typed:
                    take(typed)
                    return
            except BadInputError as error:
                typer.echo(f"error: {' '.join(str(error).split())}")

    def _undo(self) -> None:
        ball = self._going.undo()
        self._logged -= 1
        self._tell(Logged(ball, 0, 0), "took back: ")

    def _tell(self, logged: Logged, before: str = "") -> None:
        from carrybook.app.texts.balls import logged_text

        typer.echo(f"{before}{logged_text(logged, self._units)}")

    def _read(self, typed: str, bare: Bare, *, shots: Sequence[Shot] = ()) -> QuickLine:
        shot = None if self._aim is None else self._aim.shot
        return quick_line(typed, shots, units=self._units, shot=shot, bare=bare)

    def _take_aim(self, typed: str) -> None:
        """Understand shot and target; a number alone is a target, whatever the clubs are called."""
        alone = self._aim is not None and typed.replace(".", "").isdigit()
        aim = self._read(typed, "intended_m", shots=() if alone else self._going.shots)
        if not set(aim.numbers) <= {"intended_m"}:
            raise BadInputError("first the shot and its target alone, as: 54 low 70")
        from carrybook.app.texts.balls import aim_text

        self._aim = aim
        typer.echo(aim_text(aim, self._units))

    def _one_ball(self, typed: str) -> None:
        """Take a ball: its call, then, once that is in the book, what it was."""
        first, _, rest = typed.partition(" ")
        if first.lower() in {"shot", "target"}:
            self._take_aim(rest)
            return
        aim = self._aim or self._read(typed, "called_m")  # there is one: it was asked for first
        line = QuickLine(aim.shot, {}) if first == "-" else self._read(typed, "called_m")
        line = replace(line, numbers=dict(aim.numbers) | dict(line.numbers))
        line = replace(line, effort=line.effort or aim.effort)
        added = self._going.add(line, typed, now())
        self._logged += 1
        if {"carry_m", "total_m"} & line.numbers.keys():
            self._tell(added)
        else:
            take = partial(self._take_result, added, typed)
            self._until("got> ", take, leave_undone=True)

    def _take_result(self, called: Logged, before: str, typed: str) -> None:
        line = self._read(typed, "carry_m")
        self._tell(self._going.finish(called, line, f"{before} | {typed}"))
