"""What was found on a page of a PDF, as plain values in points (1/72 in)."""

from dataclasses import dataclass, field

import numpy as np

__all__ = ["PageFacts", "Segment", "Tagged"]


@dataclass(frozen=True, slots=True)
class Segment:
    """A straight line that is painted, from end to end."""

    x0: float
    y0: float
    x1: float
    y1: float

    @property
    def length(self) -> float:
        """How long it prints."""
        return float(np.hypot(self.x1 - self.x0, self.y1 - self.y0))

    @property
    def level_or_upright(self) -> bool:
        """Whether it runs along one of the edges of the page."""
        return min(abs(self.x1 - self.x0), abs(self.y1 - self.y0)) < 0.01


@dataclass(frozen=True, slots=True)
class Tagged:
    """Paths within one tag: its name, the lengths it states [m], the box of what is painted."""

    name: str
    metres: tuple[float, ...]
    width: float
    height: float
    segments: tuple[Segment, ...]


@dataclass(slots=True)
class PageFacts:
    """One page as it prints.

    Parameters
    ----------
    width, height : float
        Size of the page.
    words : str
        All its text, spaces between words single.
    sizes : list of float
        Size of every piece of text, as it prints.
    loose_fonts : list of str
        Fonts that are not embedded.
    segments : list of Segment
        Straight lines painted.
    curves : int
        Curved parts of painted paths.
    tagged : list of Tagged
        Painted paths within tags that state lengths.
    pictures : list of (float, float)
        Width and height of every raster image or shading.
    coloured : int
        Colours set that are not grey.
    """

    width: float
    height: float
    words: str = ""
    sizes: list[float] = field(default_factory=list)
    loose_fonts: list[str] = field(default_factory=list)
    segments: list[Segment] = field(default_factory=list)
    curves: int = 0
    tagged: list[Tagged] = field(default_factory=list)
    pictures: list[tuple[float, float]] = field(default_factory=list)
    coloured: int = 0
