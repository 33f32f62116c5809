"""A green as people give it: a map, or words; heights; where the hole is cut."""

from pathlib import Path
from typing import Annotated

from carrybook.app.forms.base import Form, quantity
from carrybook.base import units as u

__all__ = ["GroundForm"]


class GroundForm(Form):
    """Which green, and what it is like today; the files are read by the service."""

    map: Path | None = None
    green: str | None = None
    hole: str | None = None
    heights: Path | None = None
    heights_unit: str = ""
    hole_location: str | None = None
    green_speed: Annotated[float, quantity(u.GREEN_SPEED, "green speed")] = 3.048
