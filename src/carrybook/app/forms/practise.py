"""What is practised, as people ask for it."""

import re
from collections.abc import Sequence
from datetime import datetime
from pathlib import Path
from typing import Annotated

from pydantic import AfterValidator, BeforeValidator

from carrybook.app.forms.base import Form, choice_of
from carrybook.app.forms.occasion import SettingWord
from carrybook.app.forms.weather import AirForm
from carrybook.base import units as u
from carrybook.base.errors import BadInputError, require_range
from carrybook.decision.demand import Demand
from carrybook.decision.practise.demand import between, of_shot, practice_demand
from carrybook.decision.practise.kinds import Aim
from carrybook.player.bag import Shot
from carrybook.player.occasion import Occasion
from carrybook.world.air import Air
from carrybook.world.faced import read_faced

__all__ = ["CalendarForm", "PractiseForm", "demand_in", "focused"]

_STRETCH = re.compile(
    r"(\d+(?:[.,]\d+)?)\s*([a-z']*)\s*(?:-|–|\.\.|to)\s*(\d+(?:[.,]\d+)?)\s*([a-z']+)"
)


class PractiseForm(Form):
    """How much there is room for, what for, and against whom."""

    balls: int = 60
    minutes: float = 45.0
    aim: Annotated[Aim, choice_of(Aim, "aim")] = Aim.MIXED
    focus: str = ""
    baseline: str = ""
    demand: Path | None = None
    setting: SettingWord = "range"
    ball_model: str = ""
    air: Annotated[Air | None, BeforeValidator(lambda text: AirForm.of(air=text).value())] = None

    def occasion(self, at: datetime) -> Occasion:
        """How its balls are struck."""
        model = " ".join(self.ball_model.split())
        return Occasion(at, setting=self.setting, air=self.air, ball_model=model)


class CalendarForm(Form):
    """When sessions are, week by week."""

    start: Annotated[datetime, BeforeValidator(lambda text: _time(text))]
    weeks: Annotated[int, AfterValidator(lambda weeks: _weeks(weeks))] = 4


def focused(focus: str, demand: Demand, shots: Sequence[Shot]) -> Demand:
    """The part of a demand that is asked about: a stretch of distances, or the name of a shot.

    Parameters
    ----------
    focus : str
        As typed; nothing means all of it.
    demand : Demand
        What is faced.
    shots : sequence of Shot
        Shots of the book.

    Raises
    ------
    BadInputError
        Neither a stretch nor a shot of the book.
    """
    words = " ".join(focus.lower().split())
    if not words:
        return demand
    shot = next((s for s in shots if s.label.lower() == words), None)
    if shot is not None:
        return of_shot(shot)
    found = _STRETCH.fullmatch(words)
    if found is None:
        known = ", ".join(s.label for s in shots)
        raise BadInputError(
            f"focus = {focus!r} is neither a stretch like 70-90yd nor a shot of the book: {known}"
        )
    low, unit, high, its = found.groups()
    ends = (
        u.parse(low, u.LENGTH, "focus", unit=unit or its),
        u.parse(high + its, u.LENGTH, "focus"),
    )
    return between(*ends, demand)


def demand_in(path: Path) -> Demand:
    """Read what is faced from a CSV file: distance, lie, times a round.

    Parameters
    ----------
    path : Path
        The file, as :func:`carrybook.world.faced.read_faced` has it.

    Raises
    ------
    BadInputError
        A file or a row that cannot be read, or sand.
    OutOfRangeError
        A distance or a number of times outside its range.
    """
    return practice_demand(read_faced(path), f"your file {path.name}")


def _time(text: str) -> datetime:
    try:
        start = datetime.fromisoformat(text.strip())
    except ValueError:
        raise BadInputError(
            f"start = {text!r} is not understood; write it like 2026-06-01 17:00"
        ) from None
    if start.tzinfo is not None:
        raise BadInputError(f"start = {text!r} has a zone; it is local: write 2026-06-01 17:00")
    require_range("year of the start", start.year, 2000, 2100, "")  # ours: else a slip of the thumb
    return start


def _weeks(weeks: int) -> int:
    require_range("weeks", weeks, 1, 52, "weeks")
    return weeks
