"""Questions to somebody at the terminal."""

import sys
from collections.abc import Callable
from contextlib import AbstractContextManager
from typing import TYPE_CHECKING

import typer

from carrybook.base.errors import BadInputError

if TYPE_CHECKING:
    from carrybook.store.columns import Answer, UnclearError

__all__ = ["ask_until", "ask_which", "asking", "somebody_is_there"]


def somebody_is_there() -> bool:
    """Whether a person can be asked: both what is read and what is shown is a terminal."""
    return sys.stdin.isatty() and sys.stdout.isatty()


def ask_which(unclear: "UnclearError") -> "Answer":
    """Ask how a file is meant, by number; asks again until the number is one of the list."""
    typer.echo(unclear.question)
    for number, answer in enumerate(unclear.answers, start=1):
        typer.echo(f"  {number}  {' '.join(answer.words.split())}")
    last = len(unclear.answers)
    while True:
        typed = str(typer.prompt(f"number, 1 to {last}")).strip()
        if typed.isdecimal() and 1 <= int(typed) <= last:
            return unclear.answers[int(typed) - 1]
        typer.echo(f"{typed!r} is not a number from 1 to {last}")


def asking(
    pause: Callable[[], AbstractContextManager[None]], answered: "dict[str, Answer]"
) -> "Callable[[UnclearError], Answer] | None":
    """Give what asks a person, with room made for each question; nothing where nobody is there.

    What was `answered` is not asked again; new answers are added to it.
    """
    if not somebody_is_there():
        return None

    def ask(unclear: "UnclearError") -> "Answer":
        if unclear.question not in answered:
            with pause():
                answered[unclear.question] = ask_which(unclear)
        return answered[unclear.question]

    return ask


def ask_until(question: str, read: Callable[[str], object], *, empty: bool = False) -> str:
    """Ask until the answer can be read; what is wrong with one that cannot is said in one line.

    Parameters
    ----------
    question : str
        What is asked.
    read : callable
        Raises :class:`BadInputError` for an answer that cannot be used.
    empty : bool, default False
        Whether an empty answer will do.
    """
    while True:
        typed = str(typer.prompt(question, default="" if empty else None, show_default=False))
        if empty and not typed.strip():
            return ""
        try:
            read(typed)
        except BadInputError as error:
            typer.echo(f"error: {' '.join(str(error).split())}")
        else:
            return typed
