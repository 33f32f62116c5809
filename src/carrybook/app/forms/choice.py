"""A situation as people type it."""

from pathlib import Path
from typing import Annotated

from pydantic import BeforeValidator

from carrybook.app.forms.base import Form, LieWord, MoistureWord, quantity
from carrybook.base import units as u
from carrybook.world.firmness import firmness_named
from carrybook.world.lie import Lie, Moisture

__all__ = ["SituationForm"]


class SituationForm(Form):
    """Where hole and ball are, the lie and the green; the files are read by the service."""

    map: Path
    hole: str
    hole_location: str
    number: Annotated[float, quantity(u.LENGTH, "number")]
    heights: Path | None = None
    off_line: Annotated[float, quantity(u.ANGLE, "angle off the line")] = 0.0
    lie: LieWord = Lie.FAIRWAY
    moisture: MoistureWord = Moisture.DRY
    firmness: Annotated[tuple[float, float], BeforeValidator(firmness_named)] = firmness_named(
        "medium"
    )
    ball_model: str | None = None
    left_handed: bool = False
    green_speed: Annotated[float, quantity(u.GREEN_SPEED, "green speed")] = 3.048
