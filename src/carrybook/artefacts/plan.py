"""The shot from above, the player looking up the page: green, trouble, landing spot, finishes."""

from math import cos, sin

import numpy as np
from matplotlib.axes import Axes
from matplotlib.colors import LinearSegmentedColormap
from matplotlib.contour import ContourSet
from matplotlib.lines import Line2D
from matplotlib.patches import Patch, Polygon
from matplotlib.path import Path
from matplotlib.patheffects import AbstractPathEffect, withStroke

from carrybook.artefacts import style
from carrybook.artefacts.fonts import drawable
from carrybook.artefacts.regions import CONTOURS, FEWEST_OUTLINED, contour_levels, densest
from carrybook.artefacts.view import View, front_height
from carrybook.artefacts.words import CALM_MPS, speed
from carrybook.base.numerics import Floats
from carrybook.decision.advice import Option

__all__ = [
    "draw_chosen",
    "draw_green",
    "draw_hole",
    "draw_rival",
    "draw_wind",
    "legend_handles",
    "set_limits",
]

_TINTS = LinearSegmentedColormap.from_list("paper to ink", style.TINTS)
_HATCHES = {"bunker": "....", "water": "-----"}
_MARGIN_M = 2.5
_CLEAR_M = 5.0  # ours: around the hole no height is written
_LEAST_REGION = 0.04  # ours: a ring that holds a smaller share of the largest one is noise
_HALO: list[AbstractPathEffect] = [withStroke(linewidth=2.0, foreground=style.PAPER)]
_THICK, _THIN = 1.8, 0.9  # outlines of half and of nine in ten [points]


def set_limits(axes: Axes, o: Option, view: View) -> None:
    """Show green, landing spot, hole and nearly all finishes at one scale both ways."""
    s = view.situation
    nearly_all = np.quantile(o.finishes, (0.02, 0.98), axis=0)
    spots = np.array([(o.landing_x, o.landing_y), (s.location.x, s.location.y)])
    shown = view.outline(np.vstack([s.hole.green, nearly_all, spots]))
    low, high = shown.min(axis=0), shown.max(axis=0)
    box = axes.get_window_extent()
    inches = np.array([box.width, box.height])
    span = ((high - low + 2.0 * _MARGIN_M / view.units.far_m) / inches).max() * inches
    left, bottom = (low + high - span) / 2.0
    axes.set(xlim=(left, left + span[0]), ylim=(bottom, bottom + span[1]), aspect="equal")
    axes.set_xlabel(f"left and right of the line to the hole [{view.units.far}]")
    axes.set_ylabel(f"from the ball [{view.units.far}]")
    axes.xaxis.set_major_formatter(lambda value, _: f"{abs(value):g}")


def draw_green(axes: Axes, view: View) -> None:
    """Tint and contour the green, and outline everything else that the map shows."""
    hole = view.situation.hole
    unit, unit_m, intervals = CONTOURS[view.units.far]
    right, along, heights = _shown_nodes(axes, view)
    rise = (heights - front_height(hole.ground)) / unit_m
    outline = view.outline(hole.green)
    nodes = np.column_stack([right.ravel(), along.ravel()])
    off_green = ~Path(outline).contains_points(nodes).reshape(rise.shape)
    levels = contour_levels(rise[~off_green], intervals)
    green = Polygon(outline, fill=False, edgecolor=style.INK, linewidth=1.2, zorder=3)
    axes.add_patch(green)
    tint = axes.contourf(right, along, rise, levels, cmap=_TINTS, extend="both", zorder=1)
    tint.set_clip_path(green)
    for z, colour in ((rise, style.FAINT), (np.ma.masked_where(off_green, rise), style.INK)):
        lines = axes.contour(
            right, along, z, levels, colors=colour, linewidths=0.5, linestyles="solid", zorder=2
        )
    _label_contours(axes, lines, levels, view)
    axes.set_title(
        f"from above; heights in {unit} above the front edge",
        loc="left",
        fontsize=style.SIZE_SMALL,
        color=style.INK,
        pad=3,
    )
    for kind, area in hole.areas:
        _draw_area(axes, kind, view.outline(area))


def draw_chosen(axes: Axes, o: Option, view: View) -> None:
    """Draw the chosen shot in the accent: finishes, track, start line, landing spot."""
    right, along = view.seen(o.finishes[:, 0], o.finishes[:, 1])
    dots = axes.scatter(right, along, s=2.5, color=style.ACCENT, alpha=0.45, linewidths=0, zorder=4)
    dots.set_gid("finishes")
    _draw_regions(axes, right, along, {0.9: _THIN, 0.5: _THICK}, style.ACCENT)
    track = view.seen(o.flight[:, 0], o.flight[:, 1])
    axes.plot(*track, color=style.ACCENT, lw=style.LINE, zorder=5, gid="track")
    aim = o.aim_right_m / view.units.far_m
    axes.plot((0.0, aim), (0.0, view.number), color=style.ACCENT, ls="--", lw=0.9, gid="start line")
    spot = view.seen(np.array([o.landing_x]), np.array([o.landing_y]))
    axes.plot(*spot, "D", ms=7, color=style.ACCENT, mec=style.PAPER, zorder=7, gid="landing")


def draw_rival(axes: Axes, o: Option, view: View) -> None:
    """Draw an option that is too close to call in ink: landing spot, and where half finish."""
    right, along = view.seen(o.finishes[:, 0], o.finishes[:, 1])
    _draw_regions(axes, right, along, {0.5: 1.2}, style.INK)
    spot = view.seen(np.array([o.landing_x]), np.array([o.landing_y]))
    axes.plot(*spot, "D", ms=6, mfc=style.PAPER, mec=style.INK, zorder=6, gid="rival landing")


def draw_hole(axes: Axes, view: View) -> None:
    """Mark the hole."""
    place = (0.0, view.number)
    axes.plot(*place, "o", ms=6, color=style.INK, mec=style.PAPER, zorder=8, gid="hole")
    axes.annotate(
        "hole",
        place,
        (5, 4),
        textcoords="offset points",
        fontsize=style.SIZE_LABEL,
        color=style.INK,
        weight="bold",
        path_effects=_HALO,
        zorder=8,
    )


def draw_wind(axes: Axes, view: View) -> None:
    """Point an arrow where the wind blows, in the corner, with its speed; none when calm."""
    wind = view.situation.wind
    if wind.speed_mps < CALM_MPS:
        return
    tail = 0.07 * sin(wind.from_rad), 0.07 * cos(wind.from_rad)  # up the page is 0
    x, y = 0.9, 0.91
    axes.annotate(
        "",
        (x - tail[0], y - tail[1]),
        (x + tail[0], y + tail[1]),
        xycoords="axes fraction",
        arrowprops={"arrowstyle": "-|>", "color": style.INK, "linewidth": 1.4},
        zorder=8,
    )
    axes.text(
        x,
        y - 0.12,
        speed(wind.speed_mps, view.units),
        transform=axes.transAxes,
        ha="center",
        fontsize=style.SIZE_SMALL,
        color=style.INK,
        path_effects=_HALO,
        zorder=8,
    )


def legend_handles(view: View, rival: Option | None) -> list[Line2D | Patch]:
    """Explain what is drawn, and no more than that."""
    accent, ink = style.ACCENT, style.INK
    handles: list[Line2D | Patch] = [
        Line2D([], [], color=accent, marker="D", ms=5, ls="none", label="landing spot"),
        Line2D([], [], color=accent, ls="--", lw=0.9, label="start line"),
        Line2D([], [], color=accent, lw=style.LINE, marker="", label="flight"),
        Line2D([], [], color=accent, marker=".", ms=4, ls="none", label="finishes"),
        Line2D([], [], color=accent, lw=_THICK, label="half of them"),
        Line2D([], [], color=accent, lw=_THIN, label="nine in ten"),
    ]
    kinds = {kind for kind, _ in view.situation.hole.areas}
    for kind in (kind for kind in _HATCHES if kind in kinds):
        patch = Patch(fc=style.PAPER, ec=ink, lw=0.7, hatch=_HATCHES[kind], label=kind)
        handles.append(patch)
    if rival is not None:
        label = f"{drawable(rival.summary.shot.label, 12)} (close call)"
        handles.append(Line2D([], [], color=ink, marker="D", mfc=style.PAPER, ms=5, label=label))
    return handles


def _shown_nodes(axes: Axes, view: View) -> tuple[Floats, Floats, Floats]:
    """Right, along and height of the part of the net that is in sight, one node more all round."""
    ground = view.situation.hole.ground
    i, j = np.indices(ground.heights.shape)
    x, y = (start + k * ground.step for start, k in ((ground.x0, i), (ground.y0, j)))
    right, along = view.seen(np.asarray(x), np.asarray(y))
    spare = 1.5 * ground.step / view.units.far_m
    (left, far_right), (near, far) = axes.get_xlim(), axes.get_ylim()
    across = (right > left - spare) & (right < far_right + spare)
    in_sight = across & (along > near - spare) & (along < far + spare)
    part = np.ix_(in_sight.any(axis=1), in_sight.any(axis=0))
    return right[part], along[part], ground.heights[part]


def _label_contours(axes: Axes, lines: ContourSet, levels: Floats, view: View) -> None:
    """Write heights on every other line, but not where hole, landing spot and their name stand."""
    labels = axes.clabel(lines, levels[::2], fmt="%+g", fontsize=style.SIZE_SMALL, inline=False)
    for label in labels:
        right, along = label.get_position()
        if np.hypot(right, along - view.number) < _CLEAR_M / view.units.far_m:
            label.remove()
        label.set_path_effects(_HALO)


def _draw_area(axes: Axes, kind: str, outline: Floats) -> None:
    hatch = _HATCHES.get(kind)
    face, edge = (style.PAPER, style.INK) if hatch else ("none", style.FAINT)
    patch = Polygon(outline, facecolor=face, edgecolor=edge, linewidth=0.7, hatch=hatch, zorder=2.5)
    patch.set_gid(kind)
    axes.add_patch(patch)


def _draw_regions(
    axes: Axes, right: Floats, along: Floats, widths: dict[float, float], colour: str
) -> None:
    """Outline where balls lie densest, holding the given shares of them; `widths` in points."""
    if len(right) < FEWEST_OUTLINED:
        return
    x, y = np.linspace(*axes.get_xlim(), 120), np.linspace(*axes.get_ylim(), 120)
    density, levels = densest(right, along, tuple(widths), x, y)
    lines = list(widths.values())
    regions = axes.contour(x, y, density, levels, colors=colour, linewidths=lines, zorder=6)
    regions.set_paths([_without_specks(path) for path in regions.get_paths()])
    regions.set_gid("regions")


def _without_specks(path: Path) -> Path:
    """Drop rings that are small beside the largest: a few balls, not a place where many finish."""
    rings = path.to_polygons(closed_only=False)
    areas = [_area(np.asarray(ring)) for ring in rings]
    kept = [ring for ring, a in zip(rings, areas, strict=True) if a >= _LEAST_REGION * max(areas)]
    return Path.make_compound_path(*(Path(ring) for ring in kept)) if kept else path


def _area(ring: Floats) -> float:
    x, y = ring.T
    return 0.5 * abs(float(x @ np.roll(y, -1) - y @ np.roll(x, -1)))
