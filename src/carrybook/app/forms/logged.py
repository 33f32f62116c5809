"""One struck ball as it is logged: called first, then measured."""

from datetime import datetime
from typing import Annotated

from pydantic import model_validator

from carrybook.app.forms.base import Form, quantity
from carrybook.base import units as u
from carrybook.base.errors import BadInputError
from carrybook.player.balls import Ball
from carrybook.world.air import Air
from carrybook.world.lie import Lie, Moisture

__all__ = ["LoggedForm"]

_LONGEST_NOTE = 200


class LoggedForm(Form):
    """Which shot, what it was meant to carry, what was called, what it was."""

    shot: str
    carry: Annotated[float, quantity(u.LENGTH, "carry")]
    intended: Annotated[float, quantity(u.LENGTH, "intended carry")] | None = None
    called: Annotated[float, quantity(u.LENGTH, "called carry")] | None = None
    side: Annotated[float, quantity(u.SIDE, "side")] | None = None
    note: str = ""

    @model_validator(mode="after")
    def _note_is_short(self) -> "LoggedForm":
        if len(self.note) > _LONGEST_NOTE:
            raise BadInputError(f"note has {len(self.note)} characters; at most {_LONGEST_NOTE}")
        return self

    def value(self, at: datetime, air: Air | None, lie: Lie, moisture: Moisture) -> Ball:
        """Give the ball to the core.

        Raises
        ------
        OutOfRangeError
            A number that no struck ball has.
        """
        return Ball(
            shot=" ".join(self.shot.split()),
            at=at,
            intended_m=self.intended,
            called_m=self.called,
            called_first=True if self.called is not None else None,
            carry_m=self.carry,
            side_m=self.side,
            air=air,
            lie=lie,
            moisture=moisture,
            setting="range",
            note=self.note,
        )
