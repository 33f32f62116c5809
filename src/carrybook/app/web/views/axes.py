"""Two axes of a chart as SVG: where values lie, and the marks beside them."""

from dataclasses import dataclass
from math import ceil, floor, log10

__all__ = ["Axes", "Scale", "axes_of"]

_WIDTH = 360.0  # of the drawing, in its own units: a phone
_STEPS = (1.0, 2.0, 5.0, 10.0)


@dataclass(frozen=True, slots=True)
class Scale:
    """From values to the drawing: two values and where they lie."""

    low: float
    high: float
    at_low: float
    at_high: float

    def at(self, value: float) -> float:
        """Where a value lies."""
        share = (value - self.low) / (self.high - self.low)
        return self.at_low + share * (self.at_high - self.at_low)

    def marks(self, most: int) -> tuple[tuple[float, str], ...]:
        """Round values on the scale, at most so many, and how they read."""
        raw = (self.high - self.low) / most
        size = 10.0 ** floor(log10(raw))
        step = next(s * size for s in _STEPS if s * size >= raw * (1.0 - 1e-9))
        digits = max(0, -floor(log10(step) + 1e-9))
        first, last = ceil(self.low / step - 1e-9), floor(self.high / step + 1e-9)
        values = [k * step for k in range(first, last + 1)]
        return tuple((self.at(v), f"{v + 0.0:.{digits}f}".replace("-", "−")) for v in values)


@dataclass(frozen=True, slots=True)
class Axes:
    """A frame with its marks.

    Parameters
    ----------
    width, height : float
        Of the drawing.
    left, right, top, floor : float
        Of the frame within it.
    x, y : Scale
        Across and up.
    across, up : tuple of (float, str)
        Marks: where, and what they say.
    label_across, label_up : str
        What is shown, with its unit.
    """

    width: float
    height: float
    left: float
    right: float
    top: float
    floor: float
    x: Scale
    y: Scale
    across: tuple[tuple[float, str], ...]
    up: tuple[tuple[float, str], ...]
    label_across: str
    label_up: str


def axes_of(
    across: tuple[float, float],
    up: tuple[float, float],
    labels: tuple[str, str],
    *,
    frame: tuple[float, float, float],
    marks: tuple[int, int] = (6, 5),
) -> Axes:
    """Lay two axes out.

    Parameters
    ----------
    across, up : tuple of float
        Least and greatest value shown.
    labels : tuple of str
        Of the axis across, and of the one up.
    frame : tuple of float
        Room to the left of the frame, its top and its floor in the drawing.
    marks : tuple of int
        At most so many, across and up.
    """
    left, top, low = frame
    x = Scale(*across, left, _WIDTH - 10.0)
    y = Scale(*up, low, top)
    return Axes(
        width=_WIDTH,
        height=low + (34.0 if labels[0] else 18.0),
        left=left,
        right=_WIDTH - 10.0,
        top=top,
        floor=low,
        x=x,
        y=y,
        across=x.marks(marks[0]),
        up=y.marks(marks[1]),
        label_across=labels[0],
        label_up=labels[1],
    )
