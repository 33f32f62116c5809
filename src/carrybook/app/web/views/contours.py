"""Lines of one height and areas between two, as SVG paths; contourpy finds them."""

from itertools import pairwise
from typing import cast

from contourpy import FillType, LineType, contour_generator

from carrybook.app.web.views.paths import closed, line
from carrybook.base.numerics import Floats

__all__ = ["Net"]


class Net:
    """Heights on a net.

    Parameters
    ----------
    x, y : ndarray, shape (m,) and (n,), or both (n, m)
        Places in the drawing.
    z : ndarray, shape (n, m)
        Heights; masked ones are left out.
    """

    def __init__(self, x: Floats, y: Floats, z: Floats) -> None:
        self._found = contour_generator(
            x, y, z, fill_type=FillType.OuterOffset, line_type=LineType.Separate
        )

    def lines(self, level: float) -> list[Floats]:
        """Lines of one height, each of shape (k, 2)."""
        return cast("list[Floats]", self._found.lines(level))

    def path(self, level: float) -> str:
        """The same as one path."""
        return "".join(line(each) for each in self.lines(level))

    def area(self, low: float, high: float) -> str:
        """Path of all that lies between two heights, holes and all."""
        found = cast("tuple[list[Floats], list[Floats]]", self._found.filled(low, high))
        return closed(
            points[int(a) : int(b)]
            for points, offsets in zip(*found, strict=True)
            for a, b in pairwise(offsets)
        )
