"""Before the round: the plan, the card, and what the Rules allow once it has begun."""

from dataclasses import dataclass
from datetime import datetime

from carrybook.app.json_views.base import RULES_NOTE
from carrybook.app.services.rounds import end_round, start_round
from carrybook.app.web.asked import Answer, Asked, Go, Shown, change, look
from carrybook.app.web.rooms import plan, situation
from carrybook.app.web.rooms.common import Form, shot_fields
from carrybook.app.web.rooms.lock import is_playing, planning
from carrybook.app.web.rooms.round_plan import CardPart, ZonesPart, card_part, zones_part

__all__ = ["ROUTES"]


@dataclass(frozen=True, slots=True)
class _Before:
    """The page: plans that were kept, whether a round is being played, what to do first."""

    plans: tuple[plan.Kept, ...]
    playing: bool
    rules: str
    zones: ZonesPart | None
    card: CardPart | None
    first: Form | None


def _before(asked: Asked) -> Answer:
    playing = is_playing(asked)
    shots = not playing and situation.has_shots(asked)
    view = _Before(
        plans=plan.kept(asked),
        playing=playing,
        rules=RULES_NOTE,
        zones=zones_part(asked) if shots else None,
        card=card_part(asked) if shots else None,
        first=None if shots or playing else shot_fields(asked),
    )
    return Shown("before.html", view)


def _drop(asked: Asked) -> Answer:
    plan.drop(asked, asked.said("key"))
    return Go("/before")


def _reopen(asked: Asked) -> Answer:
    situation.keep(asked, plan.reopen(asked, asked.said("key")))
    return Go("/shot")


def _play(asked: Asked) -> Answer:
    """Begin a round, or end it: planning is shut in between."""
    begin, now = asked.said("playing") == "yes", datetime.now().astimezone()
    if begin and not is_playing(asked):
        start_round(asked.desk.book, now)
    if not begin and is_playing(asked):
        end_round(asked.desk.book, now)
    return Go("/before")


ROUTES = (
    look("/before", _before),
    change("/before/drop", planning(_drop)),
    change("/before/open", planning(_reopen)),
    change("/before/round", _play),
)
