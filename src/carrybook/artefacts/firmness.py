"""Picture of what is believed of a green's firmness, before and after balls were seen to land."""

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from carrybook.artefacts import style, words
from carrybook.artefacts.drawing import LEGEND, Box, finished, new_figure, panel
from carrybook.base.numerics import Floats
from carrybook.outcomes.firmness import FirmnessUpdate

__all__ = ["belief_in_firmness"]

_ROW_IN = 0.2
_PANEL_IN = 1.9
_CLASSES = (80.0, 100.0, 120.0)  # ours: working classes


def belief_in_firmness(learnt: FirmnessUpdate) -> Figure:
    """Draw belief before and after over firmness, the words for it along the top.

    Parameters
    ----------
    learnt : FirmnessUpdate
        What was learnt.

    Returns
    -------
    figure : Figure
        One panel, 4.5 in wide; what was seen stands above it.
    """
    rows = len(learnt.seen)
    height = 0.95 + _PANEL_IN + 0.55 + _ROW_IN * rows
    figure = new_figure(height)
    _write_title(figure, learnt, height)
    box: Box = (0.56, 0.75, 3.82, _PANEL_IN)
    axes = panel(figure, box)
    step = float(learnt.grid_g[1] - learnt.grid_g[0])
    prior, now = 100.0 * learnt.prior / step, 100.0 * learnt.posterior / step
    axes.set(xlim=(learnt.grid_g[0], learnt.grid_g[-1]), ylim=(0.0, 1.22 * max(*prior, *now)))
    _draw_classes(axes)
    grid: Floats = learnt.grid_g
    axes.plot(grid, prior, color=style.INK, lw=1.2, ls=(0, (4.0, 1.6)), label="before", gid="prior")
    axes.plot(grid, now, color=style.ACCENT, lw=1.8, label="now", gid="posterior")
    axes.fill_between(grid, 0.0, now, color=style.ACCENT, alpha=0.18, lw=0)
    axes.set(xlabel="firmness, 0.5 kg hammer [g]", ylabel="belief [% a g]")
    figure.legend(*axes.get_legend_handles_labels(), loc="lower center", ncols=2, **LEGEND)
    return finished(figure)


def _write_title(figure: Figure, learnt: FirmnessUpdate, height: float) -> None:
    before, after = learnt.before_g, learnt.after_g
    word = words.firmness_words(after[0])
    lines = (
        f"{word}: {after[0]:.0f} ± {after[1]:.0f} g",
        f"before {before[0]:.0f} ± {before[1]:.0f} g",
        *(f"saw: {words.one_line(ball.words)}" for ball in learnt.seen),
    )
    for row, text in enumerate(lines):
        size, weight = (style.SIZE_LABEL, "normal") if row else (style.SIZE_TITLE, "bold")
        y = 1.0 - (0.24 + _ROW_IN * row) / height
        figure.text(0.03, y, text, size=size, weight=weight, color=style.INK)


def _draw_classes(axes: Axes) -> None:
    """Limits of the words, and the words."""
    top = axes.get_ylim()[1]
    ends = np.array([axes.get_xlim()[0], *_CLASSES, axes.get_xlim()[1]])
    for limit in _CLASSES:
        axes.axvline(limit, color=style.FAINT, lw=0.8)
    for middle in 0.5 * (ends[:-1] + ends[1:]):
        axes.text(
            middle, 0.97 * top, words.firmness_words(float(middle)), ha="center", va="top",
            fontsize=style.SIZE_SMALL, color=style.INK,
        )  # fmt: skip
