"""What a person waits for at the prompt, against starting Python and numba with nothing to do."""

import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

from benchmarks.choice import DATA
from benchmarks.timing import best_of


def lines() -> Iterator[str]:
    """Measure and say."""
    with tempfile.TemporaryDirectory() as folder:
        book = Path(folder) / "book.sqlite"
        for loft, yards in ((60, 78), (56, 92), (52, 105), (48, 118)):
            _say(book, "shots", "add", str(loft), "--loft", f"{loft}deg", "--carry", f"{yards}yd")
        _say(book, "balls", "import", str(DATA / "balls.csv"))
        bare = best_of(lambda: _python("-c", "import numba"), 3)
        helped = best_of(lambda: _say(book, "--help"), 3)
        numbers = best_of(lambda: _say(book, "numbers", "--air", "9C 85% 1004hPa"), 3)
    yield f"start Python and numba, do nothing: {bare:.2f} s"
    yield f"carrybook --help: {helped:.2f} s, {helped / bare:.1f} of that"
    yield f"carrybook numbers, warm: {numbers:.2f} s, {numbers / bare:.1f} times that"


def _say(book: Path, *words: str) -> None:
    _python("-m", "carrybook", "--book", str(book), *words)


def _python(*words: str) -> None:
    subprocess.run([sys.executable, *words], check=True, capture_output=True)  # noqa: S603
