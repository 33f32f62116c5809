"""The shot from the side: its whole flight, and where it lands, both along the line to the hole."""

import numpy as np
from matplotlib.axes import Axes
from matplotlib.ticker import MaxNLocator

from carrybook.artefacts import style
from carrybook.artefacts.view import View, front_height
from carrybook.artefacts.words import short_distance
from carrybook.base.numerics import Floats
from carrybook.decision.advice import Option

__all__ = ["draw_flight", "draw_landing"]

_FLAG_M = 2.1  # ours: about the height of a flagstick
_BEFORE_M, _BEYOND_M = 9.0, 5.0  # ground shown on either side of landing and hole


def draw_flight(axes: Axes, o: Option, view: View) -> None:
    """Draw height above the ball against distance, to scale where the flight fits."""
    u = view.units
    ball_m = float(o.flight[0, 2])
    along = _along(o, view)
    height = (o.flight[:, 2] - ball_m) / u.near_m
    end = 1.04 * max(view.number, along[-1] + o.run_high_m / u.far_m)
    line = np.linspace(0.0, end, 300)
    ground = (view.profile(line) - ball_m) / u.near_m
    box = axes.get_window_extent()
    span = max(end * box.height / box.width * u.far_m / u.near_m, 1.35 * height.max())
    floor = min(ground.min(), 0.0) - 0.04 * span
    axes.set(xlim=(0.0, end), ylim=(floor, floor + span))
    _draw_ground(axes, line, ground)
    axes.plot(along, height, color=style.ACCENT, lw=1.5, gid="flight")
    _draw_flag(axes, view, line, ground)
    top = int(np.argmax(height))
    axes.annotate(
        f"{short_distance(o.apex_m, u)} high, {o.time_s:.1f} s,"
        f" down at {np.degrees(o.descent_rad):.0f}°",
        (along[top], height[top]),
        (0, 4),
        textcoords="offset points",
        ha="center",
        fontsize=style.SIZE_SMALL,
        color=style.INK,
    )
    axes.set_xlabel(f"from the ball [{u.far}]")
    axes.set_ylabel(f"above ball [{u.near}]")


def draw_landing(axes: Axes, o: Option, view: View) -> None:
    """Draw landing, run and hole on the ground below; heights are drawn larger than lengths."""
    u = view.units
    along = _along(o, view)
    landing = float(along[-1])
    low, run, high = (landing + r / u.far_m for r in (o.run_low_m, o.run_m, o.run_high_m))
    start = min(low, view.number) - _BEFORE_M / u.far_m
    end = max(high, view.number) + _BEYOND_M / u.far_m
    line = np.linspace(start, end, 300)
    ground = (view.profile(line) - front_height(view.situation.hole.ground)) / u.near_m
    top = ground.max() + 1.25 * _FLAG_M / u.near_m
    floor = ground.min() - 0.15 * (top - ground.min())
    axes.set(xlim=(start, end), ylim=(floor, top))
    _draw_ground(axes, line, ground)
    spot, finish = np.interp((landing, run), line, ground)
    fall = (o.flight[:, 2] - o.flight[-1, 2]) / u.near_m + spot
    axes.plot(along, fall, color=style.ACCENT, lw=1.5)
    bar = np.linspace(low, high, 50)
    over = np.interp(bar, line, ground)
    axes.plot(bar, over, color=style.ACCENT, lw=7, alpha=0.4, solid_capstyle="butt", gid="run")
    _draw_flag(axes, view, line, ground)
    axes.plot(landing, spot, "D", ms=7, color=style.ACCENT, mec=style.PAPER, zorder=4)
    axes.plot(run, finish, "o", ms=7, color=style.ACCENT, mec=style.PAPER, zorder=5, gid="finish")
    axes.xaxis.set_major_locator(MaxNLocator(6, integer=True))
    axes.set_xlabel(f"from the ball [{u.far}]; dot: middle finish, bar: 8 in 10")
    axes.set_ylabel(f"above front [{u.near}]")


def _along(o: Option, view: View) -> Floats:
    return view.seen(o.flight[:, 0], o.flight[:, 1])[1]


def _draw_ground(axes: Axes, line: Floats, ground: Floats) -> None:
    axes.fill_between(line, axes.get_ylim()[0], ground, color=style.TINTS[1], lw=0)
    axes.plot(line, ground, color=style.INK, lw=0.8, gid="ground")


def _draw_flag(axes: Axes, view: View, line: Floats, ground: Floats) -> None:
    foot = float(np.interp(view.number, line, ground))
    top = foot + _FLAG_M / view.units.near_m
    axes.plot((view.number, view.number), (foot, top), color=style.INK, lw=1.4, gid="flag")
