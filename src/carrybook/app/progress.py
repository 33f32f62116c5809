"""A bar on the terminal for whatever takes longer than a moment; nothing at all in a pipe."""

from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager, nullcontext

__all__ = ["bar", "waiting"]


@contextmanager
def bar() -> Iterator[Callable[[str, float], None]]:
    """Give a function that is told what is being done and which share of it is done, 0 to 1."""
    from rich.console import Console
    from rich.progress import Progress

    console = Console(stderr=True)
    with Progress(console=console, transient=True, disable=not console.is_terminal) as progress:
        task = progress.add_task("", total=1.0)
        yield lambda words, share: progress.update(task, description=words, completed=share)


@contextmanager
def waiting(words: str) -> Iterator[Callable[[], AbstractContextManager[None]]]:
    """Show that something is going on, where nobody knows how long it takes.

    It gives what makes room, as a context, for a question in between.
    """
    from rich.console import Console

    console = Console(stderr=True)
    if not console.is_terminal:
        yield nullcontext
        return
    with console.status(words) as status:

        @contextmanager
        def pause() -> Iterator[None]:
            status.stop()
            try:
                yield
            finally:
                status.start()

        yield pause
