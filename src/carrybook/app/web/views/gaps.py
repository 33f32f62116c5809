"""Gaps with their intervals as SVG, a row a name: feel against real, drift, what the day does."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from carrybook.app.web.views.axes import Axes, axes_of
from carrybook.artefacts.words import one_line

__all__ = ["GapsPicture", "Mark", "Middle", "gaps_picture"]

_NAMES, _ROW, _TOP = 92.0, 26.0, 8.0  # of the drawing, in its own units
_LEAST = 1.0  # per cent to either side
_MOST_NAME = 15

Middle = tuple[float, float, float]  # low, middle, high [1]


@dataclass(frozen=True, slots=True)
class Mark:
    """One gap: where its row is, its middle and the ends of its interval."""

    y: float
    at: float
    low: float
    high: float
    filled: bool


@dataclass(frozen=True, slots=True)
class GapsPicture:
    """All of them on one scale; `told` says them in words."""

    axes: Axes
    names: tuple[tuple[float, str], ...]
    marks: tuple[Mark, ...]
    zero: float
    told: str


def gaps_picture(series: Sequence[Mapping[str, Middle]], label: str) -> GapsPicture | None:
    """Draw one or two series by name, in per cent; the first is filled, the second open.

    Parameters
    ----------
    series : sequence of mapping
        Names to low, middle and high. [1]
    label : str
        Of the axis.
    """
    names = list(dict.fromkeys(name for each in series for name in each))
    if not names:
        return None
    ends = [100.0 * v for each in series for middle in each.values() for v in middle]
    low, high = min(*ends, -_LEAST), max(*ends, _LEAST)
    room = 0.06 * (high - low)
    floor = _TOP + _ROW * len(names)
    axes = axes_of(
        (low - room, high + room),
        (0.0, 1.0),
        (label, ""),
        frame=(_NAMES, _TOP, floor),
        marks=(6, 1),
    )
    lift = 5.0 if len(series) > 1 else 0.0
    rows = {name: _TOP + _ROW * (k + 0.5) for k, name in enumerate(names)}
    marks = [
        Mark(rows[name] + (lift if k else -lift), *_across(axes, middle), filled=k == 0)
        for k, each in enumerate(series)
        for name, middle in each.items()
    ]
    told = "; ".join(
        f"{name} {100.0 * mid:+.1f} % ({100.0 * a:+.1f} to {100.0 * b:+.1f})"
        for name, (a, mid, b) in series[0].items()
    )
    return GapsPicture(
        axes,
        tuple((y, _short(name)) for name, y in rows.items()),
        tuple(marks),
        axes.x.at(0.0),
        told,
    )


def _across(axes: Axes, middle: Middle) -> tuple[float, float, float]:
    low, mid, high = (axes.x.at(100.0 * v) for v in middle)
    return mid, low, high


def _short(name: str) -> str:
    name = one_line(name)
    return name if len(name) <= _MOST_NAME else f"{name[: _MOST_NAME - 1]}…"
