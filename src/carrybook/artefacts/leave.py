"""Picture of what to leave: strokes against distance, and where lay-ups end."""

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from carrybook.artefacts import style, words
from carrybook.artefacts.drawing import LEGEND, finished, new_figure, panel
from carrybook.base.numerics import Floats
from carrybook.decision.advice import Trouble
from carrybook.decision.leave import LeaveTable

__all__ = ["leave_figure"]

_HATCH = {
    Trouble.WATER: "",
    Trouble.BUNKER: "....",
    Trouble.OUT_OF_BOUNDS: "xxxx",
    Trouble.ROUGH: "////",
}
_HEIGHT_IN = 4.6


def leave_figure(table: LeaveTable, *, units: str = "yards") -> Figure:
    """Draw expected strokes against the distance left, over the share of lay-ups in trouble.

    Parameters
    ----------
    table : LeaveTable
        What was found.
    units : str
        "yards" or "metres".

    Returns
    -------
    figure : Figure
        4.5 in wide. The band is how unsure the difference to the best distance is, twice the
        standard deviation; the shots stand along the top.

    Raises
    ------
    BadInputError
        Units of another name.
    """
    u = words.units_named(units)
    figure = new_figure(_HEIGHT_IN)
    _write_title(figure, table, u)
    above = panel(figure, (0.62, 1.82, 3.72, 2.0))
    below = panel(figure, (0.62, 0.78, 3.72, 0.72))
    left = np.array([d.left_m for d in table.distances]) / u.far_m
    margin = 0.03 * (np.ptp(left) or 10.0)
    limits = (left[0] - margin, left[-1] + margin)
    above.set(xlim=limits, ylabel="expected strokes")
    below.set(xlim=limits, ylabel="lay-ups [%]", xlabel=f"distance left [{u.far}]")
    _draw_strokes(above, table, left, u)
    _draw_troubles(below, table, left)
    handles, labels = (
        above_part + below_part
        for above_part, below_part in zip(
            above.get_legend_handles_labels(), below.get_legend_handles_labels(), strict=True
        )
    )
    figure.legend(handles, labels, loc="lower center", ncols=3, **LEGEND)
    return finished(figure)


def _write_title(figure: Figure, t: LeaveTable, u: words.Units) -> None:
    low, high = (words.whole(m, u) for m in t.flat_m)
    flat = low if low == high else f"{low} to {high}"
    at = t.situation.location
    lines = (
        (f"hole {words.one_line(t.situation.hole.ref)}: leave {flat} {u.far}", style.SIZE_TITLE),
        (f"hole location {words.location_words(at)}; for before the round", style.SIZE_LABEL),
    )
    for row, (text, size) in enumerate(lines):
        y = 1.0 - (0.24 + 0.2 * row) / _HEIGHT_IN
        weight = "normal" if row else "bold"
        figure.text(0.03, y, text, size=size, weight=weight, color=style.INK)


def _draw_strokes(axes: Axes, t: LeaveTable, left: Floats, u: words.Units) -> None:
    strokes = np.array([d.strokes for d in t.distances])
    unsure = 2.0 * np.array([d.behind_unsure for d in t.distances])
    flat = np.array([d.flat for d in t.distances])
    axes.fill_between(
        left, strokes - unsure, strokes + unsure, color=style.FAINT, alpha=0.5, lw=0,
        label="unsure, against best",
    )  # fmt: skip
    axes.plot(left, strokes, color=style.INK, lw=1.4, marker="o", ms=3, label="each distance")
    axes.plot(
        left[flat], strokes[flat], color=style.ACCENT, lw=2.6, marker="o", ms=4.5, gid="flat",
        label="does not matter",
    )  # fmt: skip
    low = np.nanmin(strokes - unsure)
    high = np.nanmax(strokes + unsure)
    axes.set_ylim(low - 0.05 * (high - low), high + 0.22 * (high - low))
    if t.asked.favourite_m is not None:
        axes.axvline(
            t.asked.favourite_m / u.far_m, color=style.INK, lw=0.9, ls=":", label="favourite"
        )
    _name_shots(axes, t, left)


def _name_shots(axes: Axes, t: LeaveTable, left: Floats) -> None:
    """The shot over each run of distances that it is best for; a thin line where it changes."""
    top = axes.get_ylim()[1]
    names = [words.one_line(d.shot) for d in t.distances]
    starts = [k for k, name in enumerate(names) if k == 0 or name != names[k - 1]]
    for start, end in zip(starts, [*starts[1:], len(names)], strict=True):
        if start:
            axes.axvline(0.5 * (left[start - 1] + left[start]), color=style.FAINT, lw=0.7)
        narrow = (left[end - 1] - left[start]) < 0.02 * len(names[start]) * np.ptp(left)
        axes.text(
            0.5 * (left[start] + left[end - 1]), top, names[start], ha="center", va="top",
            rotation=90 if narrow else 0, fontsize=style.SIZE_SMALL, color=style.INK,
        )  # fmt: skip


def _draw_troubles(axes: Axes, t: LeaveTable, left: Floats) -> None:
    """Share of the lay-ups that end in each kind of trouble, one on top of the other."""
    base = np.zeros(len(left))
    width = 0.8 * float(np.min(np.diff(left))) if len(left) > 1 else 1.0
    for kind, hatch in _HATCH.items():
        share = 100.0 * np.array([d.troubles.get(kind, 0.0) for d in t.distances])
        if share.any():
            axes.bar(
                left, share, width, base, color=style.PAPER if hatch else style.INK,
                edgecolor=style.INK, linewidth=0.5, hatch=hatch, label=kind.value,
            )  # fmt: skip
            base += share
    axes.set_ylim(0.0, max(10.0, 1.15 * float(base.max())))
