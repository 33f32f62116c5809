"""What a number is asked for, as people type it."""

from typing import Annotated

from carrybook.app.forms.base import LieForm, quantity
from carrybook.base import units as u
from carrybook.player.day import Day
from carrybook.world.air import Air
from carrybook.world.wind import Wind

__all__ = ["NumbersForm"]


class NumbersForm(LieForm):
    """Lie, moisture, which ball and how warm, whose hand, whether it counts, a wanted carry."""

    ball_temp: Annotated[float, quantity(u.TEMPERATURE, "ball temperature")] | None = None
    ball_model: str | None = None
    left_handed: bool = False
    competition: bool = False
    carry: Annotated[float, quantity(u.LENGTH, "carry")] | None = None

    def day(self, air: Air, wind: Wind) -> Day:
        """Give the day to the core."""
        return Day(air, wind, self.lie, self.moisture, self.ball_temp, self.competition)
