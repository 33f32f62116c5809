"""The green from above: contours, fall arrows with their slope, and where a hole may be cut."""

from textwrap import wrap

import numpy as np
import shapely
from matplotlib.axes import Axes
from matplotlib.colors import LinearSegmentedColormap
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Patch, Polygon
from matplotlib.patheffects import withStroke

from carrybook.artefacts import style, words
from carrybook.artefacts.drawing import LEGEND, Box, finished, new_figure, panel
from carrybook.artefacts.fonts import drawable
from carrybook.base.constants import FOOT, YARD
from carrybook.base.numerics import Flags, Floats
from carrybook.world.ground_report import GroundReport
from carrybook.world.hole import UNNUMBERED
from carrybook.world.hole_locations import Reason
from carrybook.world.shape import doubt_at, shape_at

__all__ = ["ground_figure"]

_HEIGHT_IN = 6.85
_PLAN: Box = (0.56, 1.55, 3.82, 4.25)
_TINTS = LinearSegmentedColormap.from_list("paper to ink", style.TINTS)
_HATCHES = {"bunker": "....", "water": "-----"}
_AROUND_M = 7.0  # shown beside the green
_MOST_CONTOURS = 9
_APART = 3.0 * YARD  # between arrows
_LONGEST = 0.85  # of that distance, for the steepest arrow
_FULL = 0.06  # slope whose arrow is longest
_HALO = [withStroke(linewidth=2.2, foreground=style.PAPER)]
# Contours by unit of distance: name, metres in it, intervals to choose from.
_CONTOURS = {
    "yd": ("in", FOOT / 12.0, (1.0, 2.0, 4.0, 6.0, 12.0, 24.0)),
    "m": ("cm", 0.01, (2.0, 5.0, 10.0, 20.0, 50.0)),
}


def ground_figure(report: GroundReport, *, units: str = "yards") -> Figure:
    """Draw a green.

    Parameters
    ----------
    report : GroundReport
        The green, looked at.
    units : str
        "yards" or "metres".

    Returns
    -------
    figure : Figure
        4.5 in wide; the player looks up the page. Depth counts from the front edge.

    Raises
    ------
    BadInputError
        Units of another name.
    """
    u = words.units_named(units)
    figure = new_figure(_HEIGHT_IN)
    axes = panel(figure, _PLAN)
    _set_limits(axes, report, u)
    _draw_areas(axes, report, u)
    _draw_heights(axes, report, u)
    _draw_places(axes, report, u)
    _draw_arrows(axes, report, u)
    _draw_hole(axes, report, u)
    _write(figure, report, u)
    figure.legend(
        handles=_handles(report, _kinds_in_sight(axes)),
        loc="upper center",
        bbox_to_anchor=(0.5, (_PLAN[1] - 0.42) / _HEIGHT_IN),
        ncols=2,
        **LEGEND,
    )
    return finished(figure)


def _seen(points: Floats, u: words.Units) -> Floats:
    """Turn (x, y) into (right, depth) in the person's unit."""
    return np.column_stack([-points[:, 1], points[:, 0]]) / u.far_m


def _set_limits(axes: Axes, r: GroundReport, u: words.Units) -> None:
    shown = _seen(r.hole.green, u)
    low, high = shown.min(axis=0), shown.max(axis=0)
    inches = np.array(_PLAN[2:])
    span = ((high - low + 2.0 * _AROUND_M / u.far_m) / inches).max() * inches
    left, bottom = (low + high - span) / 2.0
    axes.set(xlim=(left, left + span[0]), ylim=(bottom, bottom + span[1]), aspect="equal")
    axes.set_xlabel(f"left and right of the approach [{u.far}]")
    axes.set_ylabel(f"from the front edge [{u.far}]")
    axes.xaxis.set_major_formatter(lambda value, _: f"{abs(value):g}")


def _draw_areas(axes: Axes, r: GroundReport, u: words.Units) -> None:
    for kind, area in r.hole.areas:
        hatch = _HATCHES.get(kind)
        face = style.PAPER if hatch else "none"
        edge = style.INK if hatch else style.FAINT
        patch = Polygon(_seen(area, u), fc=face, ec=edge, lw=0.7, hatch=hatch, zorder=1.0)
        patch.set_gid(kind)
        axes.add_patch(patch)


def _draw_heights(axes: Axes, r: GroundReport, u: words.Units) -> None:
    """Tint and contour the green, heights in inches or centimetres above the front edge."""
    unit, unit_m, intervals = _CONTOURS[u.far]
    right, depth, rise = _net(r, u, unit_m)
    outline = Polygon(_seen(r.hole.green, u), fill=False, ec=style.INK, lw=1.3, zorder=4)
    axes.add_patch(outline)
    on_green = shapely.contains_xy(shapely.Polygon(_seen(r.hole.green, u)), right, depth)
    spread = float(np.ptp(rise[on_green]))
    step = next((i for i in intervals if spread / i <= _MOST_CONTOURS), spread / _MOST_CONTOURS)
    levels = step * np.arange(np.floor(rise.min() / step), np.ceil(rise.max() / step) + 2.0)
    tint = axes.contourf(right, depth, rise, levels, cmap=_TINTS, extend="both", zorder=1.5)
    tint.set_clip_path(outline)
    lines = axes.contour(
        right, depth, rise, levels, colors=style.INK, linewidths=0.5, linestyles="solid", zorder=2.8
    )
    lines.set_clip_path(outline)
    lines.set_gid("contours")
    title = f"contours every {step:g} {unit}, darker is higher; arrows fall, numbers are per cent"
    axes.set_title(title, loc="left", fontsize=style.SIZE_SMALL, color=style.INK, pad=3)


def _net(r: GroundReport, u: words.Units, unit_m: float) -> tuple[Floats, Floats, Floats]:
    """Right, depth and rise on a fine net over the green."""
    low, high = r.hole.green.min(axis=0), r.hole.green.max(axis=0)
    x, y = (np.linspace(a, b, 120) for a, b in zip(low, high, strict=True))
    xs, ys = np.meshgrid(x, y, indexing="ij")
    return -ys / u.far_m, xs / u.far_m, shape_at(r.hole.ground, xs, ys).height / unit_m


def _draw_places(axes: Axes, r: GroundReport, u: words.Units) -> None:
    """Hatch where no hole should be cut, and outline where one may."""
    p = r.places
    if not p.x.size or p.allowed.all():
        return
    x, y = (np.arange(v.min() - 0.5, v.max() + 0.75, 0.5) for v in (p.x, p.y))
    allowed = np.zeros((x.size, y.size))
    i, j = (np.rint((v - a[0]) / 0.5).astype(int) for v, a in ((p.x, x), (p.y, y)))
    allowed[i, j] = p.allowed
    outline = Polygon(_seen(r.hole.green, u), transform=axes.transData)
    right, depth = -y / u.far_m, x / u.far_m
    barred = axes.contourf(
        right, depth, allowed, [-0.1, 0.5], colors="none", hatches=["////"], zorder=2.5
    )
    barred.set(edgecolor=style.FAINT, linewidth=0.0, gid="barred")
    barred.set_clip_path(outline.get_path(), axes.transData)
    if p.allowed.any():
        axes.contour(right, depth, allowed, [0.5], colors=style.INK, linewidths=1.8, zorder=3)


def _draw_arrows(axes: Axes, r: GroundReport, u: words.Units) -> None:
    """Arrows down the fall line, faint where it is not known; steep ones carry numbers."""
    x, y, column = _arrow_places(r)
    shape = shape_at(r.hole.ground, x, y)
    slope = np.maximum(shape.slope, 1e-9)
    length = _APART * _LONGEST * np.minimum(slope / _FULL, 1.0) ** 0.5 / u.far_m
    dx, dy = length * shape.slope_y / slope, -length * shape.slope_x / slope
    sure = slope > (2.0 * doubt_at(r.hole.ground, r.hole.doubt, x, y)[1] if r.hole.doubt else 0.003)
    tail = (-y / u.far_m - dx / 2.0, x / u.far_m - dy / 2.0)
    for which, colour in ((sure, style.INK), (~sure & (slope > 1e-4), style.FAINT)):
        if which.any():
            axes.quiver(
                tail[0][which], tail[1][which], dx[which], dy[which],
                color=colour, angles="xy", scale_units="xy", scale=1.0, width=0.005, zorder=5,
                headwidth=4.5, headlength=4.5, gid="falls",
            )  # fmt: skip
    for n in np.flatnonzero(column | (slope > r.places.critical)):
        axes.annotate(
            f"{100.0 * slope[n]:.{0 if slope[n] > 0.0995 else 1}f}",
            (-y[n] / u.far_m, x[n] / u.far_m), (4, 3), textcoords="offset points",
            fontsize=style.SIZE_SMALL, color=style.INK, path_effects=_HALO, zorder=6,
        )  # fmt: skip


def _arrow_places(r: GroundReport) -> tuple[Floats, Floats, Flags]:
    """Places on the green three paces apart, and which of them carry a number."""
    x, y = r.places.x, r.places.y
    step = 0.5 * round(_APART / 0.5)
    grid = (x % step == 0.0) & (y % step == 0.0)
    x, y = x[grid], y[grid]
    return x, y, (np.rint(x / step) % 2 == 0) & (np.rint(y / step) % 2 == 0)


def _draw_hole(axes: Axes, r: GroundReport, u: words.Units) -> None:
    if r.judged is None:
        return
    at, good = r.judged.location, r.judged.reason is Reason.NONE
    place = (-at.y / u.far_m, at.x / u.far_m)
    axes.plot(
        *place, "o" if good else "X", ms=8, color=style.INK, mec=style.PAPER, zorder=8, gid="hole"
    )
    axes.annotate(
        "hole", place, (6, -10), textcoords="offset points", fontsize=style.SIZE_LABEL,
        color=style.INK, weight="bold", path_effects=_HALO, zorder=8,
    )  # fmt: skip


def _write(figure: Figure, r: GroundReport, u: words.Units) -> None:
    number = "" if r.hole.ref == UNNUMBERED else f", hole {drawable(r.hole.ref, 8)}"
    name = f"{drawable(r.hole.venue, 28)}{number}"
    known = "" if r.slope_se is None else f", slopes +- {100.0 * r.slope_se:.1f} %"
    level = "" if r.hole.heights_known else ": heights not known, drawn level"
    feet = f"{r.places.stimp_m / FOOT:.1f} ft" if u.far == "yd" else f"{r.places.stimp_m:.2f} m"
    thirds = ", ".join(
        f"{part} {words.per_cent(share)}"
        for part, share in zip(
            ("front", "middle", "back"),
            (r.thirds.front, r.thirds.middle, r.thirds.back),
            strict=True,
        )
    )
    lines = [
        (name, style.SIZE_TITLE, "bold"),
        (f"green speed {feet}{known}{level}", style.SIZE_LABEL, "normal"),
        (f"may hold a hole, by third: {thirds}", style.SIZE_LABEL, "normal"),
    ]
    if r.judged is not None:
        j = r.judged
        lines.append(
            (f"{words.location_words(j.location)}: {j.reason}", style.SIZE_SMALL, "normal")
        )
    for row, (text, size, weight) in enumerate(lines):
        y = 1.0 - (0.22 + 0.185 * row) / _HEIGHT_IN
        figure.text(0.03, y, text, size=size, weight=weight, color=style.INK)
    if r.hole.attribution:
        credit = "\n".join(wrap(drawable(f"Map: {r.hole.attribution}", 150), 78))
        figure.text(0.03, 0.08 / _HEIGHT_IN, credit, size=style.SIZE_SMALL, color=style.INK)


def _kinds_in_sight(axes: Axes) -> set[str]:
    shown = shapely.box(*axes.viewLim.extents)
    areas = ((str(p.get_gid()), p.get_xy()) for p in axes.patches if isinstance(p, Polygon))
    return {kind for kind, outline in areas if shapely.Polygon(outline).intersects(shown)}


def _handles(r: GroundReport, kinds: set[str]) -> list[Line2D | Patch]:
    """Explain what is drawn, and no more than that."""
    ink, faint, paper = style.INK, style.FAINT, style.PAPER
    handles: list[Line2D | Patch] = []
    if r.places.allowed.any():
        handles.append(Line2D([], [], color=ink, lw=1.8, label="guidance lets a hole be cut"))
    if not r.places.allowed.all():
        handles.append(Patch(fc=paper, ec=faint, hatch="////", lw=0.5, label="it does not"))
    if r.hole.heights_known:
        handles.append(
            Line2D([], [], color=ink, marker=r"$\downarrow$", ls="", ms=7, label="falls this way")
        )
        handles.append(
            Line2D(
                [],
                [],
                color=faint,
                marker=r"$\downarrow$",
                ls="",
                ms=7,
                label="too level to be sure which",
            )
        )
    for kind in (kind for kind in _HATCHES if kind in kinds):
        handles.append(Patch(fc=paper, ec=ink, lw=0.7, hatch=_HATCHES[kind], label=kind))
    return handles
