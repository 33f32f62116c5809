"""How long each way in takes, as ratios to a level map, in one run: python benchmarks/ground.py."""

import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np

from carrybook import app as rooms
from carrybook.world.ground_report import report_ground
from carrybook.world.ways import open_hole

DATA = Path(rooms.__file__).parent / "demo_data"


def best_of(action: Callable[[], object], times: int = 5) -> float:
    """Least processor time of a few runs, in seconds."""
    spent = []
    for _ in range(times):
        start = time.process_time()
        action()
        spent.append(time.process_time() - start)
    return min(spent)


def sketch(folder: Path, n: int) -> Path:
    """Write n made-up spot heights on a green."""
    rng = np.random.default_rng(1)
    x, y = rng.uniform(0.0, 27.0, n), rng.uniform(-10.0, 10.0, n)
    z = 0.02 * x + 0.1 * np.sin(x / 6.0) * np.cos(y / 7.0) + rng.normal(0.0, 0.01, n)
    path = folder / f"sketch{n}.csv"
    rows = (f"{a},{b},{c}" for a, b, c in zip(x, y, z, strict=True))
    path.write_text("\n".join(["x_m,y_m,height_m", *rows]))
    return path


def main() -> None:
    """Print the table."""
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
        print(f"{what:<28}{1000.0 * seconds:8.0f} ms{seconds / level:8.1f} x")


if __name__ == "__main__":
    main()
