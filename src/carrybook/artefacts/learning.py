"""Pictures of learning: how more balls sharpen stock carries, and feel against real."""

from collections.abc import Sequence
from typing import Any

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.lines import Line2D

from carrybook.artefacts import style, words
from carrybook.artefacts.drawing import LEGEND, finished, new_figure, panel
from carrybook.artefacts.fonts import drawable
from carrybook.player.learn.check import CurvePoint
from carrybook.player.learn.feel import Feel, FeelGap

__all__ = ["feel_figure", "learning_curve_figure"]

_MARKS = ("o", "s", "^", "D", "v", "P", "X", "<", ">", "*", "h", "p")
_LINES = ("-", "--", ":", "-.")


def learning_curve_figure(points: Sequence[CurvePoint], *, units: str = "yards") -> Figure:
    """Draw the width of the 90 % interval of each stock carry against the balls logged of it.

    Parameters
    ----------
    points : sequence of CurvePoint
        From :func:`carrybook.player.learn.check.learning_curve`.
    units : str
        "yards" or "metres".

    Returns
    -------
    figure : Figure
        One line a shot; its balls on a scale of squares, so that no balls have a place.

    Raises
    ------
    BadInputError
        Units of another name.
    """
    u = words.units_named(units)
    figure = new_figure(4.0)
    axes = panel(figure, (0.62, 0.95, style.WIDTH_IN - 0.8, 2.9))
    axes.grid(color=style.FAINT, linewidth=0.4)
    axes.set_xscale("function", functions=(lambda x: abs(x) ** 0.5, lambda x: x**2))
    labels = list(dict.fromkeys(p.label for p in points))
    for k, label in enumerate(labels):
        own = [p for p in points if p.label == label]
        axes.plot(
            [p.of_shot for p in own],
            [p.width_m / u.far_m for p in own],
            color=style.INK,
            lw=1.0,
            ls=_LINES[k % len(_LINES)],
            marker=_MARKS[k % len(_MARKS)],
            ms=4.5,
            mfc=style.PAPER if k % 2 else style.INK,
            label=drawable(label, 13),
            gid="shot",
        )
    most = max((p.of_shot for p in points), default=1)
    axes.set_xticks([x for x in (0, 1, 5, 10, 20, 50, 100, 200, 500, 1000, 5000) if x <= most])
    axes.set_ylim(bottom=0.0)
    axes.set_xlabel("balls logged of the shot")
    axes.set_ylabel(f"width of the 90 % interval [{u.far}]")
    figure.legend(loc="lower center", ncols=4, **LEGEND)
    return finished(figure)


def feel_figure(feel: Feel, *, units: str = "yards") -> Figure:
    """Draw both gaps shot by shot with their intervals, and called less measured by distance.

    Parameters
    ----------
    feel : Feel
        From :func:`carrybook.player.learn.feel.feel_of`.
    units : str
        "yards" or "metres".

    Returns
    -------
    figure : Figure
        Filled: called less measured. Open: meant less called. Below, by distance.

    Raises
    ------
    BadInputError
        Units of another name.
    """
    u = words.units_named(units)
    labels = [g.label for g in feel.called] or [g.label for g in feel.intended]
    top = 0.3 * len(labels) + 0.3
    figure = new_figure(top + 3.15)
    axes = panel(figure, (1.05, 2.95, style.WIDTH_IN - 1.2, top))
    axes.axvline(0.0, color=style.INK, lw=0.8)
    axes.grid(axis="x", color=style.FAINT, linewidth=0.4)
    for y, label in enumerate(reversed(labels)):
        _draw_gap(axes, y + 0.12, feel.called, label, filled=True)
        _draw_gap(axes, y - 0.12, feel.intended, label, filled=False)
    axes.set_yticks(range(len(labels)), [drawable(x, 12) for x in reversed(labels)])
    axes.set_ylim(-0.6, len(labels) - 0.4)
    axes.set_xlabel("gap [%]")
    below = panel(figure, (1.05, 1.0, style.WIDTH_IN - 1.2, 1.35))
    below.axhline(0.0, color=style.INK, lw=0.8)
    below.grid(axis="y", color=style.FAINT, linewidth=0.4)
    for gaps, filled, off in ((feel.called_bands, True, -0.6), (feel.intended_bands, False, 0.6)):
        for g in gaps:
            x = (g.from_m + g.to_m) / 2.0 / u.far_m + off
            below.plot((x, x), (100.0 * g.low, 100.0 * g.high), color=style.INK, lw=1.2)
            below.plot(x, 100.0 * g.middle, "o", **_dot(filled))
    below.set_xlabel(f"carry [{u.far}]")
    below.set_ylabel("gap [%]")
    handles = [
        Line2D([], [], color=style.INK, lw=1.2, marker="o", ms=5, label="called less measured"),
        Line2D(
            [], [], color=style.INK, lw=1.2, marker="o", ms=5, mfc=style.PAPER,
            label="meant less called",
        ),
    ]  # fmt: skip
    figure.legend(handles=handles, loc="lower center", ncols=2, **LEGEND)
    figure.text(0.5, 0.3 / figure.get_figheight(), "lines: 90 % intervals", ha="center",
                size=style.SIZE_SMALL, color=style.INK)  # fmt: skip
    return finished(figure)


def _draw_gap(axes: Axes, y: float, gaps: Sequence[FeelGap], label: str, *, filled: bool) -> None:
    for g in (g for g in gaps if g.label == label):
        axes.plot((100.0 * g.low, 100.0 * g.high), (y, y), color=style.INK, lw=1.2, gid="interval")
        axes.plot(100.0 * g.middle, y, "o", gid="middle", **_dot(filled))


def _dot(filled: bool) -> dict[str, Any]:
    return {"ms": 5, "mec": style.INK, "mfc": style.INK if filled else style.PAPER}
