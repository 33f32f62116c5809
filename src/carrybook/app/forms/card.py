"""A card as people ask for it."""

from typing import Annotated

from pydantic import BeforeValidator

from carrybook.app.forms.base import Form, choice_of
from carrybook.artefacts.paper import Layout, Profile
from carrybook.base.errors import BadInputError

__all__ = ["CardForm", "PlanForm"]

_EXAMPLE = "4; 27 on, 9 from the left; 91yd"


class PlanForm(Form):
    """One plan of a card: hole, hole location and number; its wind where that is not everyone's."""

    hole: str
    hole_location: str
    number: str
    wind: str | None = None
    wind_from: str | None = None


def _plan(text: str) -> PlanForm:
    """Take "4; 27 on, 9 from the left; 91yd; 8mph 45deg" apart."""
    parts = [part.strip() for part in text.split(";")]
    breeze = parts[3].split() if len(parts) == 4 else []
    if len(parts) not in (3, 4) or not all(parts) or len(breeze) > 2:
        raise BadInputError(
            f"advice = {text!r} is not understood; write hole, hole location and number like"
            f' "{_EXAMPLE}", and the wind after them if you like: "; 8mph 45deg"'
        )
    wind, wind_from = (*breeze, None, None)[:2]
    return PlanForm(
        hole=parts[0], hole_location=parts[1], number=parts[2], wind=wind, wind_from=wind_from
    )


class CardForm(Form):
    """Profile, layout, title and plans."""

    profile: Annotated[Profile, choice_of(Profile, "profile")] | None = None
    layout: Annotated[Layout, choice_of(Layout, "layout")] = Layout.SINGLE
    title: str | None = None
    advice: tuple[Annotated[PlanForm, BeforeValidator(_plan)], ...] = ()
