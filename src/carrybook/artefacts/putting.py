"""The putting map of a green: expected putts as tints, where to aim, and one putt."""

import numpy as np
from matplotlib.axes import Axes
from matplotlib.colors import LinearSegmentedColormap
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Polygon
from matplotlib.path import Path

from carrybook.artefacts import style, words
from carrybook.artefacts.drawing import LEGEND, finished, new_figure, panel
from carrybook.artefacts.view import height_at
from carrybook.base.constants import FOOT
from carrybook.base.numerics import Floats
from carrybook.outcomes.putt_answer import PuttAnswer
from carrybook.outcomes.putting_map import PuttingMap

__all__ = ["putting_figure"]

_TINTS = LinearSegmentedColormap.from_list("paper to ink", style.TINTS)
_LEVELS = (1.1, 1.25, 1.5, 1.75, 2.0, 2.2, 2.4, 2.6, 2.8, 3.0)
_ARROWS = 9  # about so many across the shorter side
_TITLE_IN, _BELOW_IN, _SIDE_IN = 0.72, 0.92, 0.56
_MARGIN_M = 1.5  # round a green


def putting_figure(answer: PuttAnswer, *, outline: Floats | None, units: str = "yards") -> Figure:
    """Draw the map of a green with one putt on it.

    Parameters
    ----------
    answer : PuttAnswer
        The putt, and the map it belongs to.
    outline : ndarray, shape (n, 2), optional
        Of the green; an even slope has none. [m]
    units : str
        "yards" or "metres".

    Returns
    -------
    figure : Figure
        4.5 in wide; the line of approach, or of the putt on an even slope, runs up the page.

    Raises
    ------
    BadInputError
        Units of another name.
    """
    u = words.units_named(units)
    chart = answer.chart
    right, along = _seen(_nodes(chart), u)
    width_in = style.WIDTH_IN - _SIDE_IN - 0.14
    edge = None if outline is None else np.column_stack(_seen((outline[:, 0], outline[:, 1]), u))
    (left, low), (most, high) = _limits(right, along, edge, u)
    tall_in = min(width_in * (high - low) / (most - left), 6.0)
    height_in = tall_in + _TITLE_IN + _BELOW_IN
    figure = new_figure(height_in)
    _write_title(figure, answer, u, height_in)
    axes = panel(figure, (_SIDE_IN, _BELOW_IN, width_in, tall_in))
    axes.set(xlim=(left, most), ylim=(low, high), aspect="equal")
    _draw_putts(axes, right, along, chart, edge)
    _draw_aims(axes, chart, u)
    _draw_putt(axes, answer, u)
    axes.set_xlabel(f"left and right [{u.far}]")
    axes.set_ylabel(f"past the front edge [{u.far}]" if outline is not None else f"[{u.far}]")
    axes.xaxis.set_major_formatter(lambda value, _: f"{abs(value):g}")
    figure.legend(handles=_handles(), loc="lower center", ncols=2, **LEGEND)
    return finished(figure)


def _nodes(chart: PuttingMap) -> tuple[Floats, Floats]:
    nx, ny = chart.solved.shape
    x, y = chart.x0 + chart.step * np.arange(nx), chart.y0 + chart.step * np.arange(ny)
    x, y = np.meshgrid(x, y, indexing="ij")
    return x, y


def _seen(at: tuple[Floats, Floats], u: words.Units) -> tuple[Floats, Floats]:
    """Right and along, in units.far."""
    return -at[1] / u.far_m, at[0] / u.far_m


def _limits(
    right: Floats, along: Floats, edge: Floats | None, u: words.Units
) -> tuple[Floats, Floats]:
    """Corners of what is shown: the green and a little more, or all nodes."""
    if edge is None:
        return np.array([right.min(), along.min()]), np.array([right.max(), along.max()])
    margin = _MARGIN_M / u.far_m
    return edge.min(axis=0) - margin, edge.max(axis=0) + margin


def _write_title(figure: Figure, a: PuttAnswer, u: words.Units, height_in: float) -> None:
    p, speed = a.chart.putter, a.chart.stimp_m / FOOT
    lines = (
        (f"expected putts, stimp {speed:.1f} ft", style.SIZE_TITLE),
        (
            f"errors {np.degrees(p.direction_rad):.2f} deg of line, {100.0 * p.pace:.1f} % of pace;"
            " for before the round",
            style.SIZE_LABEL,
        ),
        (
            f"from the ball: {a.putts:.2f} putts, holed {100.0 * a.make:.0f} %"
            f" ({100.0 * a.make_low:.0f} to {100.0 * a.make_high:.0f} %)",
            style.SIZE_LABEL,
        ),
    )
    for row, (text, size) in enumerate(lines):
        y = 1.0 - (0.24 + 0.19 * row) / height_in
        weight = "bold" if row == 0 else "normal"
        figure.text(0.03, y, text, size=size, weight=weight, color=style.INK)


def _draw_putts(
    axes: Axes, right: Floats, along: Floats, chart: PuttingMap, edge: Floats | None
) -> None:
    putts = np.ma.masked_invalid(chart.putts)
    tint = axes.contourf(right, along, putts, _LEVELS, cmap=_TINTS, extend="both", zorder=1)
    lines = axes.contour(right, along, putts, _LEVELS, colors=style.INK, linewidths=0.6, zorder=2)
    axes.clabel(lines, fmt="%g", fontsize=style.SIZE_SMALL, inline_spacing=2, colors=style.INK)
    if edge is not None:
        green = Polygon(edge, fill=False, edgecolor=style.INK, linewidth=1.2, zorder=3)
        axes.add_patch(green)
        tint.set_clip_path(green)
        lines.set_clip_path(green)
        inside = Path(edge).contains_points
        for label in lines.labelTexts:
            label.set_visible(bool(inside([label.get_position()])[0]))


def _draw_aims(axes: Axes, chart: PuttingMap, u: words.Units) -> None:
    """An arrow along the start line at some nodes; its tail is filled for a downhill putt."""
    every = max(1, round(min(chart.solved.shape) / _ARROWS))
    chosen = np.zeros_like(chart.solved)
    chosen[every // 2 :: every, every // 2 :: every] = True
    x, y = _nodes(chart)
    far = np.hypot(x - chart.hole[0], y - chart.hole[1])
    chosen &= chart.solved & (far > 2.0)
    at_hole = height_at(chart.ground, np.array([chart.hole[0]]), np.array([chart.hole[1]]))[0]
    down = height_at(chart.ground, x[chosen], y[chosen]) > at_hole
    right, along = _seen((x[chosen], y[chosen]), u)
    line, length = chart.line_rad[chosen], 0.62 * every * chart.step / u.far_m
    axes.quiver(
        right, along, -length * np.sin(line), length * np.cos(line), angles="xy",
        scale_units="xy", scale=1.0, width=0.005, headwidth=4.5, headlength=4.5,
        color=style.INK, zorder=4, gid="aims",
    )  # fmt: skip
    for which, face in ((down, style.INK), (~down, style.PAPER)):
        axes.plot(
            right[which], along[which], "o", ms=3.2, mec=style.INK, mfc=face, mew=0.7, zorder=5
        )


def _draw_putt(axes: Axes, a: PuttAnswer, u: words.Units) -> None:
    reach = a.distance_m / max(np.cos(a.start_right_rad), 0.2)
    target = a.x + reach * np.cos(a.line_rad), a.y + reach * np.sin(a.line_rad)
    hole, ball, aim = (_spot(at, u) for at in (a.chart.hole, (a.x, a.y), target))
    rolled = _to_hole(a)
    path = _seen((rolled[:, 0], rolled[:, 1]), u)
    axes.plot(
        [ball[0][0], aim[0][0]], [ball[1][0], aim[1][0]], color=style.ACCENT, lw=1.0, ls=":",
        zorder=6, gid="aim",
    )  # fmt: skip
    axes.plot(*path, color=style.ACCENT, lw=1.8, zorder=6, gid="path")
    axes.plot(*ball, "o", ms=6, mec=style.ACCENT, mfc=style.PAPER, mew=1.4, zorder=7, gid="ball")
    axes.plot(*hole, "o", ms=5.5, color=style.INK, zorder=7, gid="hole")


def _spot(at: tuple[float, float], u: words.Units) -> tuple[Floats, Floats]:
    return _seen((np.array([at[0]]), np.array([at[1]])), u)


def _to_hole(a: PuttAnswer) -> Floats:
    """The path as far as its point nearest to the hole."""
    away = np.hypot(a.path[:, 0] - a.chart.hole[0], a.path[:, 1] - a.chart.hole[1])
    return a.path[: int(np.argmin(away)) + 1]


def _handles() -> list[Line2D]:
    ink, paper, accent = style.INK, style.PAPER, style.ACCENT
    return [
        Line2D([], [], color=ink, lw=0.8, label="expected putts"),
        Line2D([], [], color=accent, lw=1.8, label="the putt; dotted: its start line"),
        Line2D([], [], color=ink, marker="o", ms=4, mfc=paper, label="start line, uphill putt"),
        Line2D([], [], color=ink, marker="o", ms=4, mfc=ink, label="start line, downhill putt"),
    ]
