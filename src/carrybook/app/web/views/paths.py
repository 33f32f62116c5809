"""Points as the text of an SVG path."""

from collections.abc import Iterable

from carrybook.base.numerics import Floats

__all__ = ["closed", "dots", "line"]


def line(points: Floats) -> str:
    """Open line through points of shape (n, 2)."""
    return "M" + "L".join(f"{x:.2f} {y:.2f}" for x, y in points) if len(points) else ""


def closed(rings: Iterable[Floats]) -> str:
    """Closed rings; drawn with the even-odd rule, an inner one is a hole."""
    return "".join(line(ring) + "Z" for ring in rings if len(ring))


def dots(points: Floats) -> str:
    """Short strokes that round caps turn into dots."""
    return "".join(f"M{x:.1f} {y:.1f}h0" for x, y in points)
