"""Each way in to a green: milliseconds, and as ratios to a level map."""

import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path

import numpy as np

import carrybook.app
from benchmarks.timing import best_of
from carrybook.world.ground_report import report_ground
from carrybook.world.ways import open_hole

DATA = Path(carrybook.app.__file__).parent / "demo_data"


def sketch(folder: Path, n: int) -> Path:
    """Write n made-up spot heights on a green."""
    rng = np.random.default_rng(1)
    x, y = rng.uniform(0.0, 27.0, n), rng.uniform(-10.0, 10.0, n)
    z = 0.02 * x + 0.1 * np.sin(x / 6.0) * np.cos(y / 7.0) + rng.normal(0.0, 0.01, n)
    path = folder / f"sketch{n}.csv"
    rows = (f"{a},{b},{c}" for a, b, c in zip(x, y, z, strict=True))
    path.write_text("\n".join(["x_m,y_m,height_m", *rows]))
    return path


def lines() -> Iterator[str]:
    """Measure and say."""
    venue, words = DATA / "venue.geojson", DATA / "described.txt"
    hole = open_hole(words)
    with tempfile.TemporaryDirectory() as name:
        few, many = sketch(Path(name), 20), sketch(Path(name), 300)
        ways: dict[str, Callable[[], object]] = {
            "map, level": lambda: open_hole(venue, "4"),
            "map, 3988 spots": lambda: open_hole(venue, "4", heights_path=DATA / "heights.csv"),
            "described": lambda: open_hole(words),
            "described, 20 readings": lambda: open_hole(words, heights_path=few),
            "described, 300 readings": lambda: open_hole(words, heights_path=many),
            "judged for hole locations": lambda: report_ground(hole, 3.048),
        }
        spent = {what: best_of(action) for what, action in ways.items()}
    level = spent["map, level"]
    for what, seconds in spent.items():
        yield f"{what:<28}{1000.0 * seconds:8.0f} ms{seconds / level:8.1f} x"
