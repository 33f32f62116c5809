"""Draws docs/pictures/lift-drag.png: our lift and drag against published points.

Run `.venv/bin/python tools/draw_lift_drag.py`; it also prints the numbers that docs/flight.md
states. The points are those of tests/physics/test_aerodynamics.py.
"""

from collections.abc import Iterator
from math import degrees, radians
from pathlib import Path
from runpy import run_path

import numpy as np
from matplotlib.axes import Axes

from carrybook.artefacts import style
from carrybook.artefacts.drawing import LEGEND, finished, new_figure, panel
from carrybook.base.constants import RPM, YARD
from carrybook.base.numerics import Floats
from carrybook.physics.aerodynamics import BAND, MID, lift_and_drag
from carrybook.physics.flight import Launch, fly
from carrybook.physics.solve import speed_for_carry
from carrybook.physics.strike import launch_from_loft
from carrybook.world.air import REFERENCE_DAY

ROOT = Path(__file__).parents[1]
TEST = run_path(str(ROOT / "tests" / "physics" / "test_aerodynamics.py"))
NODES, LYU = np.array(TEST["NODES"]), np.array(TEST["LYU"])  # Re, S, C_L, C_D; S, C_L
davies = TEST["davies_lift"]
LINES = ("--", "-", ":")
NAMES = ("low", "middle", "high")
WEDGES = ((50, 58), (75, 56), (100, 52))  # carry in yd, loft in deg; ours
DAVIES = np.linspace(0.02, 0.56, 100)  # up to 8 000 rpm at 32 m/s
SPINS = np.linspace(0.02, 0.8, 200)


def main() -> None:
    """Draw and print."""
    figure = new_figure(7.2)
    draw_lift(panel(figure, (0.56, 4.6, 3.8, 2.4)))
    draw_drag(panel(figure, (0.56, 1.3, 3.8, 2.7)))
    lift, drag = figure.axes
    lift.legend(loc="lower right", **LEGEND)
    handles = drag.get_legend_handles_labels()[0]
    figure.legend(handles=handles, loc="lower center", ncols=2, **LEGEND)
    finished(figure).savefig(ROOT / "docs" / "pictures" / "lift-drag.png", dpi=200)
    for line in lines():
        print(line)  # noqa: T201 - a tool


def ours(spin: Floats | float, reynolds: Floats | float, a: object = MID) -> Floats:
    """Lift and drag, shape (2, n)."""
    pairs = np.broadcast(spin, reynolds)
    return np.array([lift_and_drag(s, re, a) for s, re in pairs]).T


def draw_lift(axes: Axes) -> None:
    """One curve for all three sets."""
    axes.plot(SPINS, ours(SPINS, 1e5)[0], color=style.ACCENT, lw=1.8, label="ours, every set")
    axes.plot(DAVIES, davies(DAVIES), color=style.INK, lw=1.0, ls="-.", label="Davies 1949")
    axes.errorbar(NODES[:, 1], NODES[:, 2], 0.02, fmt="o", ms=5, color=style.INK, lw=0.8,
                  label="patent nodes, ±0.02")  # fmt: skip
    axes.errorbar(LYU[:, 0], LYU[:, 1], 0.03, fmt="s", ms=5, mfc=style.PAPER, color=style.INK,
                  lw=0.8, label="Lyu and others 2018, ±0.03")  # fmt: skip
    _beyond(axes)
    axes.set(xlim=(0.0, 0.8), ylim=(0.0, 0.4), xlabel="spin parameter S [1]", ylabel="C_L [1]")


def draw_drag(axes: Axes) -> None:
    """Three sets past the crisis, and at each node what the middle one says at its Re."""
    for a, line, name in zip(BAND, LINES, NAMES, strict=True):
        axes.plot(SPINS, ours(SPINS, 9e4, a)[1], color=style.INK, ls=line, lw=1.5,
                  label=f"ours, {name}, Re 90 000")  # fmt: skip
    axes.errorbar(NODES[:, 1], NODES[:, 3], 0.02, fmt="o", ms=5, color=style.INK, lw=0.8,
                  label="patent nodes, ±0.02")  # fmt: skip
    middle = ours(NODES[:, 1], NODES[:, 0])[1]
    axes.plot(
        NODES[:, 1], middle, "x", ms=6, color=style.ACCENT, label="ours, middle, Re of the nodes"
    )
    _beyond(axes)
    axes.set(xlim=(0.0, 0.8), ylim=(0.1, 0.65), xlabel="spin parameter S [1]", ylabel="C_D [1]")


def _beyond(axes: Axes) -> None:
    """Where nothing is published on balls of today."""
    axes.axvspan(0.32, 0.8, color=style.TINTS[0], lw=0, zorder=0)
    axes.text(0.56, 0.96, "no open data on modern balls", ha="center",
              transform=axes.get_xaxis_transform(),
              va="top", fontsize=style.SIZE_SMALL, color=style.INK)  # fmt: skip


def lines() -> Iterator[str]:
    """The numbers of docs/flight.md."""
    yield "C_L less Davies: " + ", ".join(
        f"S {s:.2f} {ours(s, 1e5)[0][0] - davies(s):+.3f}" for s in (0.1, 0.2, 0.3, 0.5)
    )
    yield "C_L less Lyu: " + ", ".join(f"S {s} {ours(s, 1.2e5)[0][0] - x:+.3f}" for s, x in LYU)
    for a, name in zip(BAND, NAMES, strict=True):
        off = ours(NODES[:, 1], NODES[:, 0], a) - NODES[:, 2:].T
        told = ", ".join(f"{value:+.3f}" for value in off[1])
        rms, worst = np.sqrt((off**2).mean(axis=1)), np.abs(off).max(axis=1)
        yield f"nodes, {name}: C_L rms {rms[0]:.3f} max {worst[0]:.3f};"
        yield f"  C_D rms {rms[1]:.3f} max {worst[1]:.3f}: {told}"
    for carry, loft in WEDGES:
        launch, ratio = launch_from_loft(radians(loft), "stock")
        speed = speed_for_carry(carry * YARD, launch, ratio, REFERENCE_DAY)
        struck = Launch(speed, launch, ratio * speed)
        low, middle, high = (fly(struck, aerodynamics=a) for a in BAND)
        change = [100.0 * (x.carry_m / middle.carry_m - 1.0) for x in (low, high)]
        yield (
            f"| {carry} | {loft} | {speed:.1f} | {degrees(launch):.1f} | {ratio * speed / RPM:.0f}"
            f" | {low.carry_m / YARD:.1f} | {high.carry_m / YARD:.1f}"
            f" | {change[0]:+.1f} | {change[1]:+.1f} |"
        )


if __name__ == "__main__":
    main()
