"""What moved the carries since the reference day, as SVG: part by part, and together."""

from collections.abc import Sequence
from dataclasses import dataclass

from carrybook.app.web.views.axes import Axes, axes_of
from carrybook.artefacts.numbers_text import number_row
from carrybook.artefacts.words import Units, one_line
from carrybook.player.moved import Moved

__all__ = ["MovedPicture", "MovedRow", "Part", "moved_picture"]

_NAMES, _ROW, _TOP, _BAR = 76.0, 16.0, 8.0, 9.0  # of the drawing, in its own units
_PARTS = (
    ("air_m", "air"),
    ("ball_m", "ball temperature"),
    ("wind_m", "wind"),
    ("body_m", "your body"),
    ("lie_m", "lie and moisture"),
)
_LEAST_M = 1.0  # ours: the axis shows at least so much to either side
_NOTHING_M = 0.05


@dataclass(frozen=True, slots=True)
class Part:
    """What one fact adds: a bar."""

    kind: str
    x: float
    y: float
    width: float


@dataclass(frozen=True, slots=True)
class MovedRow:
    """One shot: its parts, where all of them together put it, and what is left open."""

    name: str
    y: float
    parts: tuple[Part, ...]
    at: float
    low: float
    high: float
    text: str


@dataclass(frozen=True, slots=True)
class MovedPicture:
    """All shots; `told` says them in words."""

    axes: Axes
    rows: tuple[MovedRow, ...]
    kinds: tuple[tuple[str, str], ...]
    zero: float
    height: float
    told: str


def moved_picture(moves: Sequence[Moved], units: Units) -> MovedPicture | None:
    """Draw what each part adds to every carry; none where nothing moved."""
    parts = [p for p in _PARTS if any(abs(getattr(m, p[0])) > _NOTHING_M for m in moves)]
    if not parts:
        return None
    ends = [v for m in moves for v in (*_sizes(m, parts), *_open(m))]
    low, high = min(*ends, -_LEAST_M) / units.far_m, max(*ends, _LEAST_M) / units.far_m
    room = 0.16 * (high - low)
    tall = _BAR * len(parts) + _ROW
    axes = axes_of(
        (low - room, high + room),
        (0.0, 1.0),
        (f"carry today less carry on the reference day [{units.far}]", ""),
        frame=(_NAMES, _TOP, _TOP + tall * len(moves)),
        marks=(6, 1),
    )
    rows = tuple(
        _row(axes, m, parts, _TOP + tall * k + 0.5 * _ROW, units) for k, m in enumerate(moves)
    )
    told = ", ".join(f"{r.name} {r.text}" for r in rows)
    kinds = tuple((name.removesuffix("_m"), label) for name, label in parts)
    return MovedPicture(axes, rows, kinds, axes.x.at(0.0), tall, f"{told} {units.far}")


def _sizes(moved: Moved, parts: Sequence[tuple[str, str]]) -> list[float]:
    return [getattr(moved, name) for name, _ in parts]


def _open(moved: Moved) -> tuple[float, float]:
    """Ends of what is left open, against the reference day. [m]"""
    n = moved.number
    return n.today_low_m - n.reference_m, n.today_high_m - n.reference_m


def _row(
    axes: Axes, moved: Moved, parts: Sequence[tuple[str, str]], top: float, units: Units
) -> MovedRow:
    zero = axes.x.at(0.0)
    drawn = []
    for k, ((name, _), size) in enumerate(zip(parts, _sizes(moved, parts), strict=True)):
        end = axes.x.at(size / units.far_m)
        width = abs(end - zero)
        drawn.append(Part(name.removesuffix("_m"), min(zero, end), top + _BAR * k, width))
    n = moved.number
    both = (n.today_m - n.reference_m) / units.far_m
    low, high = (axes.x.at(v / units.far_m) for v in _open(moved))
    return MovedRow(
        name=one_line(n.summary.shot.label)[:12],
        y=top + 0.5 * _BAR * len(parts),
        parts=tuple(drawn),
        at=axes.x.at(both),
        low=low,
        high=high,
        text=number_row(n, units)[3].replace("-", "−"),  # as in the table above it
    )
