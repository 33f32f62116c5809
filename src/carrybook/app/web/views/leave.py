"""What to leave, as SVG and words: strokes by distance, where it is flat, where lay-ups end."""

from dataclasses import dataclass

import numpy as np

from carrybook.app.texts.leave import against_words, flat_words, leave_rows, scatter_words
from carrybook.app.web.views.axes import Axes, axes_of
from carrybook.app.web.views.paths import closed, line
from carrybook.artefacts import words as w
from carrybook.base.numerics import Floats
from carrybook.decision.advice import Trouble
from carrybook.decision.leave import LeaveTable

__all__ = ["LeavePicture", "LeaveView", "leave_picture", "leave_shown"]

_TROUBLES = (Trouble.WATER, Trouble.BUNKER, Trouble.OUT_OF_BOUNDS, Trouble.ROUGH)
_LEFT, _TOP, _FLOOR = 46.0, 30.0, 205.0  # of the drawing, in its own units
_LOWER_TOP, _LOWER_FLOOR = 222.0, 280.0


@dataclass(frozen=True, slots=True)
class Run:
    """Distances that one shot is best for: its name, its middle, and where it begins."""

    name: str
    x: float
    start: float
    upright: bool


@dataclass(frozen=True, slots=True)
class Bar:
    """Lay-ups of one distance that end in one kind of trouble."""

    kind: str
    x: float
    y: float
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class LeavePicture:
    """The drawing.

    Parameters
    ----------
    axes : Axes
        Strokes against distance.
    lower : Axes, optional
        Below, the share of lay-ups in trouble; none where no lay-up ends in any.
    band, curve, flat : str
        How unsure it is, every distance, and those that do not matter.
    dots, flat_dots : tuple of (float, float)
        The distances themselves.
    favourite : float, optional
        Where the favourite lies across.
    runs : tuple of Run
        Which shot is best where.
    bars : tuple of Bar
        Lay-ups in trouble.
    kinds : tuple of str
        Kinds of trouble that occur.
    """

    axes: Axes
    lower: Axes | None
    band: str
    curve: str
    flat: str
    dots: tuple[tuple[float, float], ...]
    flat_dots: tuple[tuple[float, float], ...]
    favourite: float | None
    runs: tuple[Run, ...]
    bars: tuple[Bar, ...]
    kinds: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class LeaveView:
    """The table in words and its drawing."""

    title: str
    headline: str
    against: tuple[str, ...]
    day: str
    scatter: str
    rows: tuple[tuple[str, ...], ...]
    doubts: tuple[str, ...]
    picture: LeavePicture


def leave_shown(table: LeaveTable, units: w.Units) -> LeaveView:
    """Put what was found into words and a drawing."""
    s = table.situation
    against = dict.fromkeys(a for a in (table.closer, table.closest) if a is not None)
    return LeaveView(
        title=f"{s.hole.venue}, hole {s.hole.ref}, {w.location_words(s.location)}",
        headline=flat_words(table, units),
        against=tuple(against_words(a, units) for a in against),
        day=f"{w.air_words(s.air)}; {w.wind_words(s.wind, units)};"
        f" lie {table.asked.lie or 'as the map has it'}",
        scatter=scatter_words(table, units),
        rows=tuple(leave_rows(table, units)),
        doubts=table.doubts,
        picture=leave_picture(table, units),
    )


def leave_picture(table: LeaveTable, units: w.Units) -> LeavePicture:
    """Draw expected strokes against the distance left, over the share of lay-ups in trouble."""
    left = np.array([d.left_m for d in table.distances]) / units.far_m
    strokes = np.array([d.strokes for d in table.distances])
    unsure = 2.0 * np.array([d.behind_unsure for d in table.distances])
    margin = 0.04 * (float(np.ptp(left)) or 10.0)
    across = (float(left[0]) - margin, float(left[-1]) + margin)
    low, high = float(np.nanmin(strokes - unsure)), float(np.nanmax(strokes + unsure))
    room = 0.06 * max(high - low, 0.05)
    bars, lower = _troubles(table, left, across, units)
    axes = axes_of(
        across,
        (low - room, high + room),
        (f"distance left [{units.far}]" if lower is None else "", "expected strokes"),
        frame=(_LEFT, _TOP, _FLOOR),
    )
    known = np.isfinite(strokes)
    at = np.array([(axes.x.at(d), axes.y.at(s)) for d, s in zip(left, strokes, strict=True)])
    flat = np.array([d.flat for d in table.distances])
    liked = table.asked.favourite_m
    return LeavePicture(
        axes=axes,
        lower=lower,
        band=_band(axes, left[known], strokes[known], unsure[known]),
        curve=line(at[known]),
        flat=line(at[flat]),
        dots=_places(at[known & ~flat]),
        flat_dots=_places(at[flat]),
        favourite=None if liked is None else axes.x.at(liked / units.far_m),
        runs=_runs(table, at[:, 0]),
        bars=bars,
        kinds=tuple(str(k) for k in _TROUBLES if any(b.kind == _name(k) for b in bars)),
    )


def _places(at: Floats) -> tuple[tuple[float, float], ...]:
    return tuple((float(x), float(y)) for x, y in at)


def _band(axes: Axes, left: Floats, strokes: Floats, unsure: Floats) -> str:
    ends = [
        np.array([(axes.x.at(d), axes.y.at(v)) for d, v in zip(left, values, strict=True)])
        for values in (strokes - unsure, (strokes + unsure))
    ]
    return closed([np.concatenate([ends[0], ends[1][::-1]])])


def _runs(table: LeaveTable, x: Floats) -> tuple[Run, ...]:
    """The shot over each run of distances that it is best for."""
    names = [w.one_line(d.shot) for d in table.distances]
    starts = [k for k, name in enumerate(names) if k == 0 or name != names[k - 1]]
    runs = []
    for start, end in zip(starts, [*starts[1:], len(names)], strict=True):
        begin = x[start] if start == 0 else 0.5 * (x[start - 1] + x[start])
        narrow = x[end - 1] - x[start] < 7.0 * len(names[start])
        middle = 0.5 * (x[start] + x[end - 1])
        runs.append(Run(names[start], float(middle), float(begin), bool(narrow)))
    return tuple(runs)


def _name(kind: Trouble) -> str:
    return str(kind).replace(" ", "-")


def _troubles(
    table: LeaveTable, left: Floats, across: tuple[float, float], units: w.Units
) -> tuple[tuple[Bar, ...], Axes | None]:
    """Share of the lay-ups that end in each kind of trouble, one on top of the other."""
    shares = [[d.troubles.get(kind, 0.0) for kind in _TROUBLES] for d in table.distances]
    worst = max(sum(each) for each in shares)
    if worst == 0.0:
        return (), None
    most = max(10.0, 110.0 * worst)
    lower = axes_of(
        across,
        (0.0, most),
        (f"distance left [{units.far}]", "lay-ups [%]"),
        frame=(_LEFT, _LOWER_TOP, _LOWER_FLOOR),
        marks=(6, 3),
    )
    wide = 0.8 * (float(np.min(np.diff(left))) if len(left) > 1 else 2.0)
    width = lower.x.at(wide) - lower.x.at(0.0)
    bars = []
    for d, each in zip(left, shares, strict=True):
        below = 0.0
        for kind, share in zip(_TROUBLES, each, strict=True):
            y = lower.y.at(100.0 * (below + share))
            tall = lower.y.at(100.0 * below) - y
            bars += [Bar(_name(kind), lower.x.at(d) - width / 2.0, y, width, tall)] * (share > 0.0)
            below += share
    return tuple(bars), lower
