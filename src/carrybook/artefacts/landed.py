"""Picture of one landing: bounces and roll from the side, and where it may end, from above."""

from math import degrees

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.ticker import MaxNLocator

from carrybook.artefacts import style, words
from carrybook.artefacts.drawing import Box, finished, new_figure, panel
from carrybook.artefacts.words import Units
from carrybook.base import constants as c
from carrybook.base.numerics import Floats
from carrybook.outcomes.landing import Landed
from carrybook.physics.terrain import height

__all__ = ["landing_side"]

_HEIGHT_IN = 5.1
_SIDE: Box = (0.56, 2.42, 3.82, 1.55)
_PLAN: Box = (0.56, 0.5, 3.82, 1.3)
_DOTS = 500  # of the drawn finishes: enough to see their shape
_LEAST_M = 2.0  # ours: at least so much ground on either side of the pitch mark


def landing_side(landed: Landed, *, units: str = "yards") -> Figure:
    """Draw one landing.

    Parameters
    ----------
    landed : Landed
        What became of the ball.
    units : str
        "yards" or "metres".

    Returns
    -------
    figure : Figure
        Two panels over the same distances, 4.5 in wide. Above, heights are drawn larger than
        lengths; below, the player's right is down.

    Raises
    ------
    BadInputError
        Units of another name.
    """
    u = words.units_named(units)
    figure = new_figure(_HEIGHT_IN)
    _write_title(figure, landed, u)
    low, high = _limits(landed, u)
    side = panel(figure, _SIDE)
    side.set_xlim(low, high)
    _draw_side(side, landed, u)
    side.set(xlabel=f"from the pitch mark [{u.far}]; bar: 8 in 10", ylabel=f"above it [{u.near}]")
    plan = panel(figure, _PLAN)
    plan.set_xlim(low, high)
    _draw_plan(plan, landed, u)
    plan.set(xlabel=f"from the pitch mark [{u.far}]; dots: single balls", ylabel=f"right [{u.far}]")
    for axes in (side, plan):
        axes.xaxis.set_major_locator(MaxNLocator(7, integer=True))
    return finished(figure)


def _write_title(figure: Figure, landed: Landed, u: Units) -> None:
    arrival, patch = landed.arrival, landed.patch
    firm = words.firmness_words(patch.firmness_g)
    does, _, spread = words.run_words(*landed.run_quantiles_m, u).partition(" (")
    lines = (
        does,
        spread.rstrip(")"),
        f"{words.speed(arrival.speed_mps, u)}, {degrees(arrival.descent_rad):.0f}° down,"
        f" {arrival.spin_rad_s / c.RPM:.0f} rpm on {patch.surface.name.lower()},"
        f" {words.fall_words(patch.slope, patch.fall_right_rad)}",
        f"{firm} ({patch.firmness_g:.0f} ± {patch.firmness_sd_g:.0f} g),"
        f" speed {patch.stimp_m / c.FOOT:.1f} ft",
    )
    for row, text in enumerate(lines):
        y = 1.0 - (0.24 + 0.2 * row) / _HEIGHT_IN
        size, weight = (style.SIZE_LABEL, "normal") if row else (style.SIZE_TITLE, "bold")
        figure.text(0.03, y, text, size=size, weight=weight, color=style.INK)


def _limits(landed: Landed, u: Units) -> tuple[float, float]:
    touched = [float(hop.points[-1, 0]) for hop in landed.hops]
    seen = np.array([-_LEAST_M, _LEAST_M, landed.run_m, *touched])
    spread = np.quantile(landed.runs, (0.01, 0.99))
    low, high = min(seen.min(), spread[0]), max(seen.max(), spread[1])
    room = 0.05 * (high - low)
    return (low - room) / u.far_m, (high + room) / u.far_m


def _draw_side(axes: Axes, landed: Landed, u: Units) -> None:
    ground = landed.patch.ground()

    def under(along_m: Floats, left_m: float = 0.0) -> Floats:
        return np.array([height(ground, float(x), left_m) for x in along_m]) / u.near_m

    line = np.linspace(*axes.get_xlim(), 100)
    level = under(line * u.far_m)
    tops = [float(hop.points[:, 2].max()) / u.near_m for hop in landed.hops]
    span = max(1.25 * max(tops, default=0.0), 1.0 / u.near_m * 0.3)
    floor = level.min() - 0.15 * span
    axes.set_ylim(floor, max(level.max(), 0.0) + span)
    axes.fill_between(line, floor, level, color=style.TINTS[1], lw=0)
    axes.plot(line, level, color=style.INK, lw=0.8, gid="ground")
    _draw_coming(axes, landed, u)
    for number, hop in enumerate(landed.hops):
        x, z = hop.points[:, 0] / u.far_m, hop.points[:, 2] / u.near_m
        axes.plot(x, z, color=style.ACCENT, lw=1.6, gid=f"hop {number + 1}")
    last = landed.hops[-1].points[-1] if landed.hops else np.zeros(3)
    roll = np.linspace(float(last[0]), landed.run_m, 20)
    axes.plot(roll / u.far_m, under(roll), color=style.ACCENT, lw=1.6, ls=(0, (1.0, 1.0)))
    low, _, high = landed.run_quantiles_m
    bar = np.linspace(low, high, 20)
    axes.plot(bar / u.far_m, under(bar), color=style.ACCENT, lw=7, alpha=0.35, gid="run",
              solid_capstyle="butt")  # fmt: skip
    rest = np.array([landed.run_m])
    axes.plot(0.0, 0.0, "D", ms=7, color=style.ACCENT, mec=style.PAPER, zorder=4)
    axes.plot(rest / u.far_m, under(rest), "o", ms=7, color=style.ACCENT, mec=style.PAPER,
              zorder=5, gid="rest")  # fmt: skip


def _draw_coming(axes: Axes, landed: Landed, u: Units) -> None:
    """Where it came from, as far as the picture reaches."""
    low, top = axes.get_xlim()[0], axes.get_ylim()[1]
    rise = np.tan(landed.arrival.descent_rad) * u.far_m / u.near_m
    back = min(-0.95 * low, top / rise)
    axes.plot((-back, 0.0), (back * rise, 0.0), color=style.INK, lw=1.0, ls=(0, (4.0, 1.6)))


def _draw_plan(axes: Axes, landed: Landed, u: Units) -> None:
    x, y = landed.runs[:_DOTS] / u.far_m, landed.sides[:_DOTS] / u.far_m
    reach = max(1.15 * float(np.abs(np.quantile(landed.sides, (0.01, 0.99))).max()), 1.5) / u.far_m
    axes.set_ylim(reach, -reach)
    axes.axhline(0.0, color=style.INK, lw=0.8)
    axes.plot(x, y, ".", ms=3, color=style.INK, alpha=0.35, mew=0, gid="finishes")
    axes.plot(0.0, 0.0, "D", ms=7, color=style.ACCENT, mec=style.PAPER, zorder=4)
    axes.plot(landed.run_m / u.far_m, landed.side_m / u.far_m, "o", ms=7, color=style.ACCENT,
              mec=style.PAPER, zorder=5)  # fmt: skip
