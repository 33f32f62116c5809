"""Picture of a bag: strokes against distance, and what each wedge is carried and played for."""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from carrybook.artefacts import style, words
from carrybook.artefacts.drawing import LEGEND, finished, new_figure, panel
from carrybook.base.numerics import Floats
from carrybook.decision.bag_fit.options import BagFit, BagOption, Taken, over_greens
from carrybook.decision.bag_fit.wedges import Wedge
from carrybook.world.faced import FacedShot

__all__ = ["bag_figure"]

_ROW_IN = 0.21  # height of one wedge


def bag_figure(fit: BagFit, *, units: str = "yards") -> Figure:
    """Draw the bag that is carried against the one advised, or else the best one found.

    Parameters
    ----------
    fit : BagFit
        What was found.
    units : str
        "yards" or "metres".

    Returns
    -------
    figure : Figure
        4.5 in wide. Above: expected strokes from each distance off the lie faced most. Below: each
        wedge with the carries it is used for (thin) and those it is played for (thick).

    Raises
    ------
    BadInputError
        Units of another name.
    """
    u = words.units_named(units)
    other = fit.other
    bags = [fit.carried, other] if fit.carried and other.saving is not None else [other]
    rows = sum(bag.size for bag in bags) + len(bags)
    below_in = _ROW_IN * rows
    figure = new_figure(3.6 + below_in)
    _write_title(figure, fit, other)
    below = panel(figure, (0.95, 0.78, 3.4, below_in))
    above = panel(figure, (0.62 + 0.33, 1.0 + below_in, 3.4, 1.9))
    where = _usual_lie(fit)
    left = np.array([place.distance_m for place in where]) / u.far_m
    taken = [_from(fit, bag, where) for bag in bags]
    margin = 0.03 * (np.ptp(left) or 10.0)
    for axes in (above, below):
        axes.set_xlim(left.min() - margin, left.max() + margin)
    _draw_strokes(above, bags, left, taken)
    _draw_bags(below, bags, left, taken, u)
    below.set_xlabel(f"from [{u.far}]")
    figure.legend(*above.get_legend_handles_labels(), loc="lower center", ncols=2, **LEGEND)
    return finished(figure)


def _write_title(figure: Figure, fit: BagFit, other: BagOption) -> None:
    title = f"wedges {_names(fit.advised.wedges)}"
    saving = other.saving
    if saving is None:
        said = "no bag found costs fewer strokes"
    else:
        low, high = saving.interval
        real = "" if saving.is_real else ": no real difference"
        said = (
            f"{_names(other.wedges)} saves {saving.strokes:+.2f} strokes each shot"
            f" ({low:+.2f} to {high:+.2f}){real}"
        )
    height = figure.get_size_inches()[1]
    figure.text(
        0.03, 1.0 - 0.24 / height, title, size=style.SIZE_TITLE, weight="bold", color=style.INK
    )
    figure.text(0.03, 1.0 - 0.44 / height, said, size=style.SIZE_SMALL, color=style.INK)


def _names(wedges: Sequence[Wedge]) -> str:
    return " ".join(words.starred(each.label) for each in wedges)


def _usual_lie(fit: BagFit) -> list[FacedShot]:
    """The places off the lie that is faced most, by distance, greens put together."""
    shares: dict[tuple[str, str], float] = {}
    for place, share in zip(fit.demand.shots, fit.demand.shares, strict=True):
        lie = (place.lie.value, place.moisture.value)
        shares[lie] = shares.get(lie, 0.0) + float(share)
    usual = max(shares, key=lambda lie: shares[lie])
    found = {replace(p, green=0) for p in fit.demand.shots}
    off = [p for p in found if (p.lie.value, p.moisture.value) == usual]
    return sorted(off, key=lambda p: p.distance_m)


def _from(fit: BagFit, bag: BagOption, places: Sequence[FacedShot]) -> list[Taken]:
    taken = dict(over_greens(fit.demand, bag.taken))
    return [taken[place] for place in places]


def _draw_strokes(
    axes: Axes, bags: Sequence[BagOption], left: Floats, taken: Sequence[Sequence[Taken]]
) -> None:
    looks = ((style.INK, "-", "o"), (style.ACCENT, "--", "s"))
    for number, bag in enumerate(bags):
        colour, dashes, marker = looks[number + 2 - len(bags)] if len(bags) == 1 else looks[number]
        strokes = np.array([each.strokes for each in taken[number]])
        unsure = 2.0 * np.array([each.unsure for each in taken[number]])
        if unsure.any():
            axes.fill_between(
                left, strokes - unsure, strokes + unsure, color=style.FAINT, alpha=0.45, lw=0,
                label="unsure, against what you carry",
            )  # fmt: skip
        axes.plot(
            left, strokes, color=colour, ls=dashes, marker=marker, ms=3, lw=1.4,
            label=_title(bag, number, len(bags)),
        )  # fmt: skip
    axes.set_ylabel("expected strokes")
    axes.tick_params(labelbottom=False)


def _title(bag: BagOption, number: int, count: int) -> str:
    who = "you carry" if number == 0 and count > 1 else "instead" if count > 1 else "best"
    return f"{who}: {_names(bag.wedges)}"


def _draw_bags(
    axes: Axes,
    bags: Sequence[BagOption],
    left: Floats,
    taken: Sequence[Sequence[Taken]],
    u: words.Units,
) -> None:
    """A row a wedge, bag below bag: thin from shortest to longest carry, thick where played."""
    row, ticks = 0, []
    step = float(np.min(np.diff(np.unique(left)))) if len(np.unique(left)) > 1 else 2.0
    for number, bag in enumerate(bags):
        colour = style.ACCENT if number == len(bags) - 1 else style.INK
        for wedge in bag.wedges:
            ends = _carries(wedge) / u.far_m
            axes.plot(ends, (row, row), color=colour, lw=1.0, solid_capstyle="butt")
            chosen = [v for v, t in zip(left, taken[number], strict=True) if t.club == wedge.label]
            for at in chosen:
                axes.plot(
                    (at - 0.5 * step, at + 0.5 * step), (row, row), color=colour, lw=6.0,
                    solid_capstyle="butt",
                )  # fmt: skip
            ticks.append((row, words.starred(wedge.label)))
            row += 1
        row += 1
    axes.set_yticks([at for at, _ in ticks], [name for _, name in ticks])
    axes.set_ylim(row - 0.4, -0.6)
    axes.set_ylabel("wedge")


def _carries(wedge: Wedge) -> Floats:
    felt = [s.reference_for(np.array([s.shot.shortest_m, s.shot.longest_m])) for s in wedge.shots]
    return np.array([min(low for low, _ in felt), max(high for _, high in felt)])
