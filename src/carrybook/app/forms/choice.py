"""A situation as people type it."""

from typing import Annotated

from pydantic import BeforeValidator

from carrybook.app.forms.base import LieWord, MoistureWord, quantity
from carrybook.app.forms.ground import GroundForm
from carrybook.base import units as u
from carrybook.world.firmness import firmness_named
from carrybook.world.lie import Lie, Moisture

__all__ = ["SituationForm"]


class SituationForm(GroundForm):
    """Where hole and ball are, the lie and the green; the files are read by the service."""

    number: Annotated[float | None, quantity(u.LENGTH, "number")] = None
    off_line: Annotated[float, quantity(u.ANGLE, "angle off the line")] = 0.0
    lie: LieWord = Lie.FAIRWAY
    moisture: MoistureWord = Moisture.DRY
    firmness: Annotated[tuple[float, float], BeforeValidator(firmness_named)] = firmness_named(
        "medium"
    )
    ball_model: str | None = None
    left_handed: bool = False
    at_most: int | None = None
