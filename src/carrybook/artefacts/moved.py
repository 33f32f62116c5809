"""Picture of what moved the carries since the reference day: part by part, and together."""

from collections.abc import Sequence
from typing import TypedDict

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Patch

from carrybook.artefacts import style, words
from carrybook.artefacts.drawing import LEGEND, finished, new_figure, panel
from carrybook.artefacts.fonts import drawable
from carrybook.player.moved import Moved

__all__ = ["what_moved"]

_THICK = 0.54  # of all bars of a row, in rows
_TENTHS = 1.0  # ours: tenths are said only where less than this is left open
_LEAST_M = 1.0  # ours: the axis shows at least so much to either side


_Part = tuple[str, str, str, "_BarLook"]


class _BarLook(TypedDict):
    facecolor: str
    edgecolor: str
    linewidth: float
    hatch: str


def _look(fill: str, hatch: str) -> _BarLook:
    return _BarLook(facecolor=fill, edgecolor=style.INK, linewidth=0.6, hatch=hatch)


# Part, what the legend calls it, gid, look; those that are nothing for every shot are left out,
# but for air and lie.
_PARTS = (
    ("air_m", "air", "air", _look(style.TINTS[1], "")),
    ("ball_m", "ball temperature", "ball", _look(style.PAPER, "")),
    ("wind_m", "wind", "wind", _look(style.PAPER, "....")),
    ("body_m", "body", "body", _look(style.INK, "")),
    ("lie_m", "lie, moisture", "lie", _look(style.PAPER, "/////")),
)
_ALWAYS = ("air_m", "lie_m")


def what_moved(moves: Sequence[Moved], *, units: str = "yards") -> Figure:
    """Draw, shot by shot, what each part adds to the carry on the reference day.

    Parameters
    ----------
    moves : sequence of Moved
        One for each shot.
    units : str
        "yards" or "metres".

    Returns
    -------
    figure : Figure
        A bar a part and shot, longest shot on top, a dot where all together put it, and a line over
        what drag, lift and lie leave open.

    Raises
    ------
    BadInputError
        Units of another name.
    """
    u = words.units_named(units)
    rows = sorted(moves, key=lambda m: m.number.today_m)
    parts = [p for p in _PARTS if p[0] in _ALWAYS or any(abs(getattr(m, p[0])) > 0.0 for m in rows)]
    height_in = 1.35 + (0.28 + 0.1 * len(parts)) * len(rows)
    figure = new_figure(height_in)
    axes = panel(figure, (1.3, 0.95, style.WIDTH_IN - 1.45, height_in - 1.1))
    axes.grid(axis="x", color=style.FAINT, linewidth=0.4)
    axes.set_axisbelow(True)
    axes.axvline(0.0, color=style.INK, lw=0.8)
    for y, moved in enumerate(rows):
        _draw_row(axes, y, moved, parts, u.far_m)
    ends = [x for m in rows for x in (*_sizes(m, parts), sum(_sizes(m, parts)), *_open(m))]
    low, high = min(*ends, -_LEAST_M) / u.far_m, max(*ends, _LEAST_M) / u.far_m
    room = 0.2 * (high - low)  # for the numbers beside the dots
    axes.set(xlim=(low - room, high + room), ylim=(-0.6, len(rows) - 0.4))
    axes.set_yticks(range(len(rows)), [drawable(m.number.summary.shot.label, 13) for m in rows])
    axes.set_xlabel(f"carry today less carry on the reference day [{u.far}]")
    axes.set_ylabel("shot")
    ink = style.INK
    handles = [
        *(Patch(label=label, **look) for _, label, _, look in parts),
        Line2D([], [], color=ink, marker="o", ms=6, lw=0, label="together"),
        Line2D([], [], color=ink, marker="|", ms=5, lw=1.2, label="drag, lift, lie leave open"),
    ]
    figure.legend(handles=handles, loc="lower center", ncols=3, **LEGEND)
    return finished(figure)


def _open(moved: Moved) -> tuple[float, float]:
    """Ends of what is left open, against the reference day. [m]"""
    n = moved.number
    return n.today_low_m - n.reference_m, n.today_high_m - n.reference_m


def _sizes(moved: Moved, parts: Sequence[_Part]) -> list[float]:
    return [getattr(moved, name) for name, *_ in parts]


def _draw_row(axes: Axes, y: int, moved: Moved, parts: Sequence[_Part], unit_m: float) -> None:
    """The parts from top to bottom, all together in the middle with its number beyond all."""
    sizes = [size / unit_m for size in _sizes(moved, parts)]
    thick = _THICK / len(parts)
    for k, (size, (_, _, gid, look)) in enumerate(zip(sizes, parts, strict=True)):
        axes.barh(y + _THICK / 2.0 - (k + 0.5) * thick, size, height=thick, gid=gid, **look)
    both = sum(sizes)
    axes.plot(both, y, "o", ms=6, color=style.INK, mec=style.PAPER, zorder=4, gid="both")
    low, high = (m / unit_m for m in _open(moved))
    axes.plot((low, high), (y, y), color=style.INK, marker="|", ms=5, lw=1.2, zorder=3, gid="open")
    outward = -1.0 if both < 0.0 else 1.0
    end = outward * max(outward * x for x in (*sizes, both, low, high))
    digits = 1 if high - low < _TENTHS else 0
    axes.annotate(
        f"{round(both, digits) + 0.0:+.{digits}f}".replace("-", "−"),
        (end, y),
        (7.0 * outward, 0),
        textcoords="offset points",
        ha="right" if outward < 0.0 else "left",
        va="center",
        fontsize=style.SIZE_LABEL,
        color=style.INK,
    )
