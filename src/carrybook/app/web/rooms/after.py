"""After: scoring shots of a round recorded with the thumb; and, once it is over, the review."""

import secrets
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from carrybook.app.forms.review import ReviewForm
from carrybook.app.forms.round_shot import WIND_WORDS, RoundShotForm
from carrybook.app.services.review import review_rounds
from carrybook.app.services.round_shots import (
    Recorded,
    add_played_round,
    played_rounds,
    record_shot,
    take_back,
    take_back_typed,
)
from carrybook.app.services.shots import owned_shots
from carrybook.app.texts.round_shots import begun_words, played_words, shot_words
from carrybook.app.web.asked import Answer, Asked, Go, Shown, change, look
from carrybook.app.web.questions import Field, Question, RefusedError, beside, checked, fields
from carrybook.app.web.rooms.common import LENGTH, Form, answers_to, shot_fields
from carrybook.app.web.rooms.late import said_at, taken, whole_number
from carrybook.app.web.rooms.lock import planning
from carrybook.app.web.views.review import ReviewView, review_of
from carrybook.artefacts.words import units_named
from carrybook.base.errors import BadInputError, NoSolutionError
from carrybook.player.round_shots import PlayedRound, Rest
from carrybook.world.firmness import FIRMNESS
from carrybook.world.lie import Lie, Moisture

__all__ = ["ROUTES"]

# As `carrybook.decision.prepared.Zone`, with nothing said first; read there when it is sent.
_PLACES = (
    "", "front left", "front centre", "front right", "middle left", "middle centre",
    "middle right", "back left", "back centre", "back right",
)  # fmt: skip
_NEAR = ("ft", "m")
_WIND = ("mph", "mps")
_QUESTIONS = (
    Question("hole", "Hole", example="4", about=("hole",)),
    Question("number", "Number", LENGTH, "88", about=("number",)),
    Question("lie", "Lie", choices=tuple(Lie), value=Lie.FAIRWAY),
    Question("moisture", "Face and ball", choices=("", *Moisture)),
    Question(
        "wind", "Wind", _WIND, "12", "0 for calm; empty: not said", about=("wind", "wind speed")
    ),
    Question("wind_from", "Wind from", choices=("", *WIND_WORDS), about=("wind direction",)),
    Question("hole_location", "Hole cut", choices=_PLACES, about=("hole location",)),
    Question("firmness", "Green", choices=("", *FIRMNESS)),
    Question("temperature", "Temperature", ("C", "C"), "12", "or 54F"),
    Question("shot", "Shot", about=("shot", "which shot")),
    Question("intended", "Meant to carry", LENGTH, "84", about=("intended carry",)),
    Question("aim", "Aim", LENGTH, "0", "right of the hole; 2 left is -2"),
    Question("called", "Your call", LENGTH, "83", about=("called carry",)),
    Question("landing_past", "Landed", LENGTH, "-3", "past the hole; 3 short is -3"),
    Question(
        "landing_right",
        "To the side",
        LENGTH,
        "2",
        "right; left is -2",
        about=("side of the landing",),
    ),
    Question("finish_on", "Finished on", choices=tuple(Rest), value=Rest.GREEN),
    Question("finish", "From the hole", _NEAR, "12", about=("finish",)),
    Question("putts", "Putts", choices=("0", "1", "2", "3", "4"), value="2", about=("putts",)),
    Question("others", "Other strokes after it", example="0", about=("strokes after it",)),
    Question("penalties", "Penalties", example="0"),
    Question("true_number", "Number", LENGTH, "92", about=("true number",)),
    Question("true_wind", "Wind", _WIND, "18", about=("true wind",)),
    Question("true_wind_from", "Wind from", choices=("", *WIND_WORDS)),
    Question("true_lie", "Lie", choices=("", *Lie)),
    Question("true_firmness", "Green", choices=("", *FIRMNESS)),
    Question("note", "Note", example="into the sun"),
)
_STAYS = ("moisture", "wind", "wind_from", "firmness", "temperature")  # for the next shot
_LAST_HOLE = 18
_AGAINST = ("tour", "book")
_DRAFT = "after"


@dataclass(frozen=True, slots=True)
class _Row:
    """A recorded shot in words."""

    hole: int
    words: str


@dataclass(frozen=True, slots=True)
class _After:
    """The page: the round that is recorded, its shots, the form of the next."""

    round: str
    number: int
    rows: tuple[_Row, ...]
    shots: tuple[str, ...]
    fields: dict[str, Field]
    problem: str
    said: str
    key: str
    rounds: int
    first: Form | None


def _after(asked: Asked) -> Answer:
    return _page(asked, asked.desk.shelf.draft(_DRAFT))


def _page(asked: Asked, answers: Mapping[str, str], problem: RefusedError | None = None) -> Shown:
    try:
        shots = tuple(shot.label for shot in owned_shots(asked.desk.book))
        rounds = played_rounds(asked.desk.book)
    except NoSolutionError:
        nothing = _After("", 0, (), (), {}, "", "", "", 0, shot_fields(asked))
        return Shown("after.html", nothing)
    last = _newest(rounds)
    answers = {"shot": shots[0], **answers}
    view = _After(
        round="" if last is None else begun_words(last.round),
        number=0 if last is None else last.number,
        rows=_rows(last, asked.units),
        shots=shots,
        fields=fields(_QUESTIONS, answers, asked.units, problem),
        problem=str(problem) if problem is not None and not problem.field else "",
        said=answers.get("said", ""),
        key=secrets.token_hex(16),
        rounds=sum(bool(each.shots) for each in rounds),
        first=None,
    )
    return Shown("after.html", view, 400 if problem else 200)


def _newest(rounds: tuple[PlayedRound, ...]) -> PlayedRound | None:
    """The round that was put in last, to which the next shot goes."""
    return max(rounds, key=lambda each: each.number, default=None)


def _rows(last: PlayedRound | None, units: str) -> tuple[_Row, ...]:
    shots = () if last is None else last.shots
    return tuple(_Row(s.hole, played_words(s, units)) for s in reversed(shots))


def _record(asked: Asked) -> Answer:
    """Put a shot into the book; what is refused stays in the form."""
    answers = answers_to(_QUESTIONS, asked)
    asked.desk.shelf.keep_draft(_DRAFT, answers)
    try:
        recorded = _put(asked, answers, datetime.now().astimezone())
    except NoSolutionError:
        return Go("/after")
    except BadInputError as error:
        return _page(asked, answers, beside(error, _QUESTIONS))
    _go_on(asked, answers, recorded)
    return Go("/after")


def _put(
    asked: Asked, answers: Mapping[str, str], at: datetime, of_round: int | None = None
) -> Recorded:
    """Put a shot into the book, once. Raises BadInputError."""
    form = checked(RoundShotForm, {"units": asked.units, **answers}, _QUESTIONS)
    key = asked.said("key")[:80]
    return record_shot(asked.desk.book, form, at, answers, key, of_round)


def _waited(asked: Asked) -> Answer:
    """Take what was said while nobody answered, once, into the round that it was said in."""
    if asked.said("what") == "undo":
        return taken(lambda: take_back_typed(asked.desk.book, asked.said("key")[:80]))
    return taken(lambda: _late(asked))


def _late(asked: Asked) -> bool:
    of_round = whole_number(asked.said("round"))
    answers = answers_to(_QUESTIONS, asked)
    _go_on(asked, answers, _put(asked, answers, said_at(asked), of_round))
    return True


def _go_on(asked: Asked, answers: Mapping[str, str], recorded: Recorded) -> None:
    """Make the form ready for the next shot."""
    said = f"recorded: {shot_words(recorded.shot, asked.units)}"
    stays = {name: answers[name] for name in _STAYS if name in answers}
    hole = str(min(recorded.shot.hole + 1, _LAST_HOLE))
    asked.desk.shelf.keep_draft(_DRAFT, {**stays, "hole": hole, "said": said})


def _undo(asked: Asked) -> Answer:
    try:
        shot = take_back(asked.desk.book)
    except NoSolutionError:
        return Go("/after")
    except BadInputError as error:
        return _page(asked, asked.desk.shelf.draft(_DRAFT), RefusedError(str(error)))
    said = f"took back: {shot_words(shot, asked.units)}"
    kept = asked.desk.shelf.draft(_DRAFT)
    asked.desk.shelf.keep_draft(_DRAFT, {**kept, "hole": str(shot.hole), "said": said})
    return Go("/after")


def _begin(asked: Asked) -> Answer:
    """Open the record of a round that was played without the book."""
    setting = "competition" if asked.said("setting") == "competition" else "course"
    add_played_round(asked.desk.book, datetime.now().astimezone(), setting)
    return Go("/after")


@dataclass(frozen=True, slots=True)
class _Reviewed:
    """The review, and against whom."""

    review: ReviewView
    against: str
    last: int | None
    choices: tuple[str, ...]


def _review(asked: Asked) -> Answer:
    against = asked.said("against")
    against = against if against in _AGAINST else _AGAINST[0]
    last = int(asked.said("last")) if asked.said("last") in ("1", "5", "10") else None
    form = ReviewForm.of(last=last, against=against)
    desk = asked.desk
    found = desk.remembered(
        ("review", against, last, desk.stamp()), lambda: review_rounds(desk.book, form)
    )
    view = review_of(found, units_named(asked.units))
    return Shown("after-review.html", _Reviewed(view, against, last, _AGAINST))


ROUTES = (
    look("/after", _after),
    change("/after", _record),
    change("/after/undo", _undo),
    change("/after/waiting", _waited),
    change("/after/round", _begin),
    look("/after/review", planning(_review)),
)
