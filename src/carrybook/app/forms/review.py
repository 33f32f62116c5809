"""Which rounds to review, and against whom, as people type it."""

from datetime import date
from pathlib import Path
from typing import Annotated

from pydantic import BeforeValidator, model_validator

from carrybook.app.forms.base import Form
from carrybook.base.errors import BadInputError

__all__ = ["ReviewForm"]


def _day(text: str) -> date:
    try:
        return date.fromisoformat(text.strip())
    except ValueError:
        raise BadInputError(f"since = {text!r} is not a day like 2026-05-30") from None


class ReviewForm(Form):
    """One round, the last few, or those since a day; all where nothing is said."""

    round: int | None = None
    last: int | None = None
    since: Annotated[date, BeforeValidator(_day)] | None = None
    against: str = "tour"

    @model_validator(mode="after")
    def _one_choice(self) -> "ReviewForm":
        if sum(each is not None for each in (self.round, self.last, self.since)) > 1:
            raise BadInputError("which rounds? say one of --round, --last and --since")
        if self.against not in ("tour", "book") and not Path(self.against).suffix:
            raise BadInputError(
                f"against = {self.against!r} is not one of: tour, book; nor a file like rival.csv"
            )
        return self
