"""What a person waits for at the prompt, against starting Python and numba with nothing to do.

Every command is a process of its own on the demo's book of seven shots, with its kernels in the
cache and its sources compiled to bytecode, as an installed copy is. They take turns, so that a
machine that is busy is busy for all of them.
"""

import os
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path

from benchmarks.timing import medians_of
from carrybook.app.demo import lay_out

_BARE = "start Python and numba, do nothing"


def lines() -> Iterator[str]:
    """Measure and say."""
    with tempfile.TemporaryDirectory() as folder:
        taken = medians_of(_everyday(Path(folder)))
    bare = taken.pop(_BARE)
    yield f"{_BARE}: {bare:.2f} s"
    for name, seconds in taken.items():
        yield f"carrybook {name}, warm: {seconds:.2f} s, {seconds / bare:.1f} times that"


def _everyday(folder: Path) -> dict[str, Callable[[], None]]:
    """The commands by name, on a book that is filled here."""
    steps = [step.words for step in lay_out(folder)]
    for words in steps:
        if words[:2] in (("shots", "add"), ("balls", "import")):
            _say(*words)
    book = ("--book", str(folder / "demo-book.sqlite"))
    choose = next(words for words in steps if words[0] == "choose")
    commands = {
        "--help": ("--help",),
        "air": ("air", "--temp", "9C", *book),
        "shots list": ("shots", "list", *book),
        "numbers": ("numbers", "--air", "9C 85% 1004hPa", *book),
        "choose": (*choose[: choose.index("--figure")], *book),
    }
    bare: dict[str, Callable[[], None]] = {_BARE: partial(_python, "-c", "import numba")}
    return bare | {name: partial(_say, *words) for name, words in commands.items()}


def _say(*words: str) -> None:
    _python("-m", "carrybook", *words)


def _python(*words: str) -> None:
    compiled = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
    subprocess.run([sys.executable, *words], check=True, capture_output=True, env=compiled)  # noqa: S603
