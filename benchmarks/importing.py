"""Reading a million logged balls in, against one pass over the same file by Python's csv module."""

import csv
import resource
import tempfile
import time
from collections.abc import Iterator
from math import radians
from pathlib import Path

import numpy as np

from carrybook.player.bag import Club, Flight, Shape, Shot
from carrybook.store.book import open_book
from carrybook.store.imports import import_balls
from carrybook.store.shots import save_shot

ROWS = 1_000_000
_HEAD = (
    "time,shot,intended [yd],carry [yd],side [yd],ball speed [mph],launch [deg],spin [rpm],lie\n"
)


def lines(rows: int = ROWS) -> Iterator[str]:
    """Measure and say: seconds at the wall and of the processor, both of one process."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "balls.csv"
        _write(path, rows)
        plain, plain_cpu = _timed(lambda: _count(path))
        with open_book(Path(folder) / "book.sqlite") as book:
            with book.session() as session:
                for loft in (54, 60):
                    club = Club(str(loft), radians(loft))
                    save_shot(session, Shot(club, Flight.STOCK, Shape.STRAIGHT, 75.0, 40.0, 75.0))
            first, first_cpu = _timed(lambda: _added(import_balls(book, path).added, rows))
            again, again_cpu = _timed(lambda: _added(import_balls(book, path).already_there, rows))
        size = (Path(folder) / "book.sqlite").stat().st_size / path.stat().st_size
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1e6
    yield f"csv module, {rows} rows, cells only: {plain:.1f} s ({plain_cpu:.1f} s processor)"
    yield (
        f"import into a book: {first:.1f} s ({first_cpu:.1f} s processor),"
        f" {first_cpu / plain_cpu:.1f} times that; at most {memory:.1f} GB; the book is"
        f" {size:.1f} times the file"
    )
    yield f"the same file again, nothing new: {again:.1f} s ({again_cpu:.1f} s processor)"


def _write(path: Path, rows: int) -> None:
    rng = np.random.default_rng(1)
    shots = np.array(["54", "60"])[rng.integers(0, 2, rows)]
    meant = rng.integers(40, 90, rows)
    at = np.datetime64("2020-01-01T08:00:00") + np.arange(rows) * np.timedelta64(60, "s")
    carry, side = meant * (1 + 0.05 * rng.normal(size=rows)), 3 * rng.normal(size=rows)
    speed, launch = 70 + 4 * rng.normal(size=rows), 30 + 2 * rng.normal(size=rows)
    spin = 9000 + 500 * rng.normal(size=rows)
    columns = zip(at, shots, meant, carry, side, speed, launch, spin, strict=True)
    with path.open("w", encoding="utf-8") as file:
        file.write(_HEAD)
        file.writelines(
            f"{t},{shot},{m},{c:.1f},{s:.1f},{v:.1f},{up:.1f},{w:.0f},fairway\n"
            for t, shot, m, c, s, v, up, w in columns
        )


def _count(path: Path) -> None:
    with path.open(encoding="utf-8", newline="") as file:
        assert sum(len(row) for row in csv.reader(file))


def _added(count: int, rows: int) -> None:
    assert count == rows


def _timed(call: object) -> tuple[float, float]:
    wall, cpu = time.perf_counter(), time.process_time()
    call()  # type: ignore[operator]
    return time.perf_counter() - wall, time.process_time() - cpu


if __name__ == "__main__":
    for line in lines():
        print(line, flush=True)
