"""Picture of one flown ball: from the side and from above, as each set of lift and drag has it."""

from math import degrees

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.ticker import MaxNLocator

from carrybook.artefacts import style, words
from carrybook.artefacts.drawing import LEGEND, Box, finished, new_figure, panel
from carrybook.artefacts.words import Units
from carrybook.base import constants as c
from carrybook.base.numerics import Floats
from carrybook.physics.band import FlownBand

__all__ = ["flight_side_and_plan"]

_HEIGHT_IN = 5.2
_SIDE: Box = (0.56, 2.68, 3.82, 1.5)
_PLAN: Box = (0.56, 1.0, 3.82, 1.15)
_LEAST_ASIDE_M = 3.0  # ours: the plan shows at least so much to either side

# Low, middle and high set: name, colour, line, width, face of the landing mark.
_LOOKS = (
    ("low", style.INK, (0, (4.0, 1.6)), 1.0, style.PAPER),
    ("middle", style.ACCENT, "-", 1.8, style.ACCENT),
    ("high", style.INK, (0, (1.0, 1.2)), 1.2, style.PAPER),
)


def flight_side_and_plan(flown: FlownBand, *, units: str = "yards") -> Figure:
    """Draw one ball's flight with the band of lift and drag, from the side and from above.

    Parameters
    ----------
    flown : FlownBand
        The ball as each set flies it.
    units : str
        "yards" or "metres".

    Returns
    -------
    figure : Figure
        Two panels over the same distances, 4.5 in wide; in the lower one the player's right is
        down, and sides are drawn larger than lengths.

    Raises
    ------
    BadInputError
        Units of another name.
    """
    u = words.units_named(units)
    figure = new_figure(_HEIGHT_IN)
    _write_title(figure, flown, u)
    end = 1.06 * max(path[-1, 0] for path in flown.paths) / u.far_m
    side = panel(figure, _SIDE)
    _limit_side(side, flown, end, u)
    _draw_paths(side, [path[:, (0, 2)] / (u.far_m, u.near_m) for path in flown.paths])
    _draw_ground(side, flown, end, u)
    side.set(xlabel=f"along your line [{u.far}]", ylabel=f"above the ball [{u.near}]")
    plan = panel(figure, _PLAN)
    _limit_plan(plan, flown, end, u)
    _draw_paths(plan, [path[:, :2] * (1.0, -1.0) / u.far_m for path in flown.paths])
    _draw_line(plan, flown, end)
    plan.set(xlabel=f"along your line [{u.far}]", ylabel=f"left | right [{u.far}]")
    legend = figure.legend(
        handles=plan.get_legend_handles_labels()[0],
        loc="lower center",
        ncols=4,
        title="sets of lift and drag that published data allow",
        title_fontsize=style.SIZE_SMALL,
        **LEGEND,
    )
    legend.get_title().set_color(style.INK)
    return finished(figure)


def _write_title(figure: Figure, flown: FlownBand, u: Units) -> None:
    landing, launch = flown.middle, flown.launch
    carries = (flown.carry_low_m, landing.carry_m, flown.carry_high_m)
    low, middle, high = (words.whole(m, u) for m in carries)
    lines = (
        f"carries {middle} {u.far} ({low} to {high}), {words.sideways(landing.side_m, u)}",
        f"{words.speed(launch.speed_mps, u)}, {degrees(launch.launch_rad):.0f}° up,"
        f" {launch.spin_rad_s / c.RPM:.0f} rpm",
        f"wind {words.wind_words(flown.wind, u)}",
        words.air_words(flown.air),
    )
    for row, text in enumerate(lines):
        size = style.SIZE_LABEL if row else style.SIZE_TITLE
        y = 1.0 - (0.24 + 0.2 * row) / _HEIGHT_IN
        weight = "normal" if row else "bold"
        figure.text(0.03, y, text, size=size, weight=weight, color=style.INK)


def _limit_side(axes: Axes, flown: FlownBand, end: float, u: Units) -> None:
    """To scale where the flight fits, room above for what is written there."""
    heights = np.concatenate([path[:, 2] for path in flown.paths]) / u.near_m
    box = axes.get_window_extent()
    lowest = min(heights.min(), 0.0)
    span = max(end * box.height / box.width * u.far_m / u.near_m, 1.3 * (heights.max() - lowest))
    axes.set(xlim=(0.0, end), ylim=(lowest - 0.06 * span, lowest + 0.98 * span))
    landing, path = flown.landings[1], flown.paths[1]
    axes.annotate(
        f"{words.short_distance(landing.apex_m, u)} high, {landing.time_s:.1f} s,"
        f" down at {degrees(landing.descent_rad):.0f}°",
        (path[np.argmax(path[:, 2]), 0] / u.far_m, heights.max()),
        (0, 4),
        textcoords="offset points",
        ha="center",
        fontsize=style.SIZE_SMALL,
        color=style.INK,
    )


def _draw_ground(axes: Axes, flown: FlownBand, end: float, u: Units) -> None:
    """The level where it lands; the ball lies at zero. What is between them nobody said."""
    landed = float(flown.paths[1][-1, 2]) / u.near_m
    start = min(path[-1, 0] for path in flown.paths) / u.far_m if landed else end / 1.06
    axes.plot((0.0 if not landed else 0.94 * start, end), (landed, landed), color=style.INK, lw=0.8)
    axes.plot((0.0, 0.04 * end), (0.0, 0.0), color=style.INK, lw=0.8)


def _limit_plan(axes: Axes, flown: FlownBand, end: float, u: Units) -> None:
    aside = np.concatenate([-path[:, 1] for path in flown.paths]) / u.far_m
    least, start = _LEAST_ASIDE_M / u.far_m, end * np.tan(flown.launch.start_right_rad)
    left = 1.15 * min(aside.min(), start, -least)
    right = 1.15 * max(aside.max(), start, least)
    axes.set(xlim=(0.0, end), ylim=(right, left))  # the player's right is down
    axes.yaxis.set_major_locator(MaxNLocator(5, integer=True))
    axes.yaxis.set_major_formatter(lambda value, _: _side(value))


def _side(value: float) -> str:
    """A distance to one side: "4 L", "0", "2 R"."""
    return f"{abs(value):g} {'R' if value > 0.0 else 'L'}" if value else "0"


def _draw_line(axes: Axes, flown: FlownBand, end: float) -> None:
    """The player's line, and the start line where that is another."""
    axes.plot((0.0, end), (0.0, 0.0), color=style.INK, lw=0.8, gid="line")
    right = flown.launch.start_right_rad
    if right:
        aside = end * np.tan(right)
        axes.plot(
            (0.0, end),
            (0.0, aside),
            color=style.FAINT,
            lw=1.2,
            label="start line",
            gid="start line",
        )


def _draw_paths(axes: Axes, paths: list[Floats]) -> None:
    for (name, color, line, width, face), path in zip(_LOOKS, paths, strict=True):
        axes.plot(*path.T, color=color, ls=line, lw=width, label=f"{name} set", gid=f"{name} path")
        (mark,) = axes.plot(*path[-1], "D", ms=6, mfc=face, mec=color, zorder=4, clip_on=False)
        mark.set_gid(f"{name} landing")
