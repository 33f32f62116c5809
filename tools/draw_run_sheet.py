"""Draws docs/pictures/runs.png: one 80 yd wedge, and how it runs out under ten sets of conditions.

Run `.venv/bin/python tools/draw_run_sheet.py`. The shot is that of a 56-degree wedge of the middle
set, clean and dry unless a row says otherwise; each row is 4 000 balls that differ in how this spot
of the green took them (docs/turf.md), firmness known to 10 g, its kind unknown.
"""

from math import radians
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from carrybook.artefacts import style
from carrybook.base.constants import FOOT, YARD
from carrybook.outcomes.turf import drawn_turf
from carrybook.physics.aerodynamics import MID
from carrybook.physics.flight import body_row, wind_row
from carrybook.physics.roll import rolling_resistance
from carrybook.physics.shot import play_batch
from carrybook.physics.solve import speed_for_carry
from carrybook.physics.strike import launch_from_loft, lie_effect, off_this_lie
from carrybook.world.air import REFERENCE_DAY
from carrybook.world.ground import Ground, Surface, flat_ground
from carrybook.world.lie import Lie, Moisture
from carrybook.world.wind import CALM

Floats = NDArray[np.float64]
FILE = Path(__file__).parents[1] / "docs" / "pictures" / "runs.png"
CARRY = 80.0 * YARD
COUNT = 4000
SHELF = (4.0, 2.5, 0.6)  # m behind the pitch mark, m long, m high


def shelf_ground() -> Ground:
    """A level green with a shelf behind where the ball lands."""
    flat = flat_ground(extent_m=110.0, step=0.5)
    x = flat.x0 + flat.step * np.arange(flat.heights.shape[0])
    share = np.clip((x - CARRY - SHELF[0]) / SHELF[1], 0.0, 1.0)
    heights = flat.heights + (SHELF[2] * share * share * (3.0 - 2.0 * share))[:, None]
    return Ground(flat.x0, flat.y0, flat.step, heights, flat.surfaces)


def tilted(slope: float) -> Ground:
    """A green of one slope along the line, level with the ball where it lands."""
    plane = flat_ground(Surface.GREEN, slope_x=slope, extent_m=110.0)
    return Ground(plane.x0, plane.y0, plane.step, plane.heights - slope * CARRY, plane.surfaces)


def runs(
    firmness_g: float, ground: Ground, moisture: Moisture = Moisture.DRY, low: bool = False
) -> Floats:
    """Runs of many balls after the first touch. [m]"""
    rng = np.random.default_rng(5)
    launch, ratio = launch_from_loft(radians(56.0), "low" if low else "stock")
    speed = speed_for_carry(CARRY, launch, ratio, REFERENCE_DAY)
    effect = lie_effect(Lie.FAIRWAY, moisture)
    launch, ratio = off_this_lie(launch, ratio, effect.spin[1])
    turf = drawn_turf(
        firmness_g + 10.0 * rng.standard_normal(COUNT), *rng.standard_normal((3, COUNT))
    )
    turf[:, 3] = rolling_resistance(10.0 * FOOT)
    row = np.array([speed * effect.speed[1], launch, ratio * speed, 0.0, 0.0])
    ends, _ = play_batch(
        np.tile(row, (COUNT, 1)), turf, body_row(REFERENCE_DAY), MID.row()[None, :],
        np.zeros(COUNT, dtype=np.int64), np.tile(wind_row(CALM), (COUNT, 1)), ground,
        np.zeros(3), (-500.0, 0.0),
    )  # fmt: skip
    out: Floats = ends[:, 0] - ends[:, 4]
    return out


def main() -> None:
    """Draw the sheet."""
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.figure import Figure

    level = flat_ground(extent_m=110.0)
    rows = (
        ("soft, 70 g", runs(70.0, level)),
        ("medium, 90 g", runs(90.0, level)),
        ("firm, 110 g", runs(110.0, level)),
        ("very firm, 130 g", runs(130.0, level)),
        ("medium, rising 3 %", runs(90.0, tilted(0.03))),
        ("medium, falling 3 %", runs(90.0, tilted(-0.03))),
        ("medium, shelf 4 m on", runs(90.0, shelf_ground())),
        ("firm, shelf 4 m on", runs(110.0, shelf_ground())),
        ("medium, wet lie", runs(90.0, level, Moisture.WET)),
        ("firm, low flight", runs(110.0, level, low=True)),
    )
    figure = Figure((6.0, 4.6), layout="constrained")
    FigureCanvasAgg(figure)
    axes = figure.subplots()
    for y, (_, run) in enumerate(rows):
        low, middle, high = np.percentile(run / YARD, [10.0, 50.0, 90.0])
        wide = np.percentile(run / YARD, [1.0, 99.0])
        axes.plot(wide, [y, y], color=style.INK, lw=0.8)
        axes.plot([low, high], [y, y], color=style.INK, lw=5.0, alpha=0.55, solid_capstyle="butt")
        axes.plot([middle], [y], "o", color=style.ACCENT, ms=5.0)
        axes.annotate(
            f"{middle:+.1f}", (middle, y), (0, 6), textcoords="offset points", ha="center", size=7
        )
    axes.axvline(0.0, color=style.INK, lw=0.8, ls=":")
    axes.set_yticks(range(len(rows)), [name for name, _ in rows])
    axes.invert_yaxis()
    axes.set_xlabel("run, yd (middle, 8 in 10, 98 in 100)")
    axes.set_title("One 80 yd shot with a 56, stimp 10 ft", size=9)
    figure.savefig(FILE, dpi=150)


if __name__ == "__main__":
    main()
