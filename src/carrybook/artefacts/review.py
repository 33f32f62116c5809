"""Picture of a review: strokes gained a round by cause, with how sure that is."""

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from carrybook.artefacts import style
from carrybook.artefacts.drawing import finished, new_figure, panel
from carrybook.artefacts.review_text import PART_WORDS, against_words
from carrybook.decision.review.review import PartSum, Review

__all__ = ["review_figure"]

_ROW_IN = 0.26
_TOP_IN, _BOTTOM_IN = 0.62, 0.62
_LEFT_IN, _WIDE_IN = 1.78, 2.55


def review_figure(found: Review) -> Figure:
    """Draw what rounds were made of.

    Parameters
    ----------
    found : Review
        The review.

    Returns
    -------
    figure : Figure
        4.5 in wide: a bar for each part, to the left where strokes were lost, its 95 % interval
        across it; the sum on top.
    """
    parts = found.lines
    height = _TOP_IN + _BOTTOM_IN + _ROW_IN * len(parts)
    figure = new_figure(height)
    rounds, shots = len(found.season.rounds), len(found.season)
    lines = (
        (f"strokes gained a round, {rounds} rounds", style.SIZE_TITLE, "bold"),
        (f"{shots} scoring shots against {against_words(found)}", style.SIZE_LABEL, "normal"),
    )
    for row, (text, size, weight) in enumerate(lines):
        figure.text(
            0.03, 1.0 - (0.24 + 0.19 * row) / height, text, size=size, weight=weight,
            color=style.INK,
        )  # fmt: skip
    axes = panel(figure, (_LEFT_IN, _BOTTOM_IN, _WIDE_IN, _ROW_IN * len(parts)))
    _draw_bars(axes, parts)
    axes.set_xlabel("lost        strokes a round        gained")
    return finished(figure)


def _draw_bars(axes: Axes, parts: tuple[PartSum, ...]) -> None:
    at = np.arange(len(parts), dtype=float)
    values = np.array([p.per_round for p in parts])
    colours = [style.FAINT if k == 0 else style.TINTS[1] for k in range(len(parts))]
    axes.barh(at, values, 0.62, color=colours, edgecolor=style.INK, linewidth=0.5, gid="parts")
    for k, part in enumerate(parts):
        if part.low is not None and part.high is not None:
            axes.plot(
                [part.low, part.high], [k, k], color=style.INK, lw=1.4, marker="|", ms=7,
                gid="interval",
            )  # fmt: skip
    axes.axvline(0.0, color=style.INK, lw=0.8)
    axes.set_yticks(at, [PART_WORDS[p.name] for p in parts])
    axes.invert_yaxis()
    axes.tick_params(axis="y", length=0)
    axes.spines["left"].set_visible(False)
    axes.grid(axis="x", color=style.FAINT, lw=0.4, alpha=0.6)
    axes.set_axisbelow(True)
