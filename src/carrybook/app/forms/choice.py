"""A situation as people type it."""

from typing import Annotated

from pydantic import BeforeValidator

from carrybook.app.forms.base import LieWord, MoistureWord, choice_of, quantity
from carrybook.app.forms.ground import GroundForm
from carrybook.base import units as u
from carrybook.world.firmness import TurfKind, dampened, firmness_named, water_change_named
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
    turf_moisture: Annotated[float, BeforeValidator(water_change_named)] = 0.0
    kind: Annotated[TurfKind, choice_of(TurfKind, "kind of green")] = TurfKind.UNKNOWN
    competition: bool = False
    ball_model: str | None = None
    left_handed: bool = False
    at_most: int | None = None

    def green_today(self) -> tuple[float, float]:
        """How firm the green is and how unsure that is, as its water leaves it."""
        return dampened(*self.firmness, self.turf_moisture)
