"""How a session is struck, as people type it."""

from datetime import datetime
from typing import Annotated

from pydantic import BeforeValidator

from carrybook.app.forms.base import Form, LieWord, MoistureWord, choice_of
from carrybook.app.forms.weather import AirForm
from carrybook.base.errors import BadInputError
from carrybook.player.occasion import Occasion, PracticeOrder
from carrybook.world.air import Air
from carrybook.world.lie import Lie, Moisture

__all__ = ["OccasionForm", "SettingWord"]

_SETTINGS = ("range", "practice green", "course", "competition")


def _setting(text: str) -> str:
    words = " ".join(text.lower().replace("_", " ").replace("-", " ").split())
    if words not in _SETTINGS:
        raise BadInputError(f"setting = {text!r} is not one of: {', '.join(_SETTINGS)}")
    return words


SettingWord = Annotated[str, BeforeValidator(_setting)]


class OccasionForm(Form):
    """What is said once for all balls of a session."""

    order: Annotated[PracticeOrder, choice_of(PracticeOrder, "order")] = PracticeOrder.UNSAID
    setting: SettingWord = ""
    lie: LieWord = Lie.FAIRWAY
    moisture: MoistureWord = Moisture.DRY
    ball_model: str = ""
    air: Annotated[Air | None, BeforeValidator(lambda text: AirForm.of(air=text).value())] = None

    def value(self, begun: datetime) -> Occasion:
        """Give the occasion to the core."""
        return Occasion(
            begun=begun,
            order=self.order,
            setting=self.setting,
            air=self.air,
            lie=self.lie,
            moisture=self.moisture,
            ball_model=" ".join(self.ball_model.split()),
        )
