"""What all pictures share: a figure without global state, a panel in inches, the legend's look."""

from typing import TypedDict

from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.text import Text

from carrybook.artefacts import style

__all__ = ["LEGEND", "Box", "finished", "new_figure", "panel"]

Box = tuple[float, float, float, float]  # left, bottom, width, height [in]


class _LegendLook(TypedDict):
    frameon: bool
    fontsize: float
    handlelength: float
    columnspacing: float
    labelcolor: str


LEGEND: _LegendLook = {
    "frameon": False,
    "fontsize": style.SIZE_SMALL,
    "handlelength": 2.0,
    "columnspacing": 1.2,
    "labelcolor": style.INK,
}


def new_figure(height_in: float) -> Figure:
    """Make an empty figure of the house width that renders itself."""
    figure = Figure(figsize=(style.WIDTH_IN, height_in), facecolor=style.PAPER)
    FigureCanvasAgg(figure)
    return figure


def panel(figure: Figure, box_in: Box) -> Axes:
    """Add axes at a place given in inches: thin ink, two spines, small numbers."""
    width, height = figure.get_size_inches()
    left, bottom, w, h = box_in
    axes = figure.add_axes((left / width, bottom / height, w / width, h / height))
    axes.set_facecolor(style.PAPER)
    axes.tick_params(labelsize=style.SIZE_SMALL, colors=style.INK, length=2.5, width=0.6)
    for side, spine in axes.spines.items():
        spine.set(color=style.INK, linewidth=0.6, visible=side in ("left", "bottom"))
    return axes


def finished(figure: Figure) -> Figure:
    """Show every text as it was written, in our typeface: a dollar sign is not mathematics."""
    for axes in figure.axes:
        for label in (axes.xaxis.label, axes.yaxis.label):
            label.set(fontsize=style.SIZE_LABEL, color=style.INK)
    for text in figure.findobj(Text):
        if isinstance(text, Text):
            text.set_parse_math(False)
            text.set_fontfamily(style.FONT)
    return figure
