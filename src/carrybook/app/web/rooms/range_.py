"""Range: log balls fast; the call comes before the number, and a wrong ball is taken back."""

import secrets
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from carrybook.app.forms.logged import LoggedForm
from carrybook.app.services.balls import log_ball, logged_balls, take_ball_back
from carrybook.app.services.log import undo_ball
from carrybook.app.services.shots import owned_shots
from carrybook.app.web.asked import Answer, Asked, Go, Shown, change, look
from carrybook.app.web.questions import Field, Question, RefusedError, beside, checked, fields
from carrybook.app.web.rooms.common import (
    AIR,
    LENGTH,
    Form,
    answers_to,
    kept_day,
    lie_in,
    shot_fields,
    weather_in,
)
from carrybook.app.web.rooms.late import said_at, taken
from carrybook.app.web.views.balls import BallRow, ball_rows
from carrybook.artefacts.words import air_words, one_line, units_named, whole
from carrybook.base.errors import BadInputError, NoSolutionError
from carrybook.player.bag import Shot
from carrybook.world.air import Air
from carrybook.world.lie import Lie, Moisture

__all__ = ["ROUTES"]

_QUESTIONS = (
    Question("shot", "Shot", about=("shot",)),
    Question("intended", "Meant to carry", LENGTH, "80", about=("intended carry",)),
    Question("called", "Your call", LENGTH, "78", about=("called carry",)),
    Question("carry", "It carried", LENGTH, "76", about=("carry",)),
    Question("side", "Side", LENGTH, "0", "right of the line; left is negative", about=("side",)),
    Question("note", "Note", example="into the breeze", about=("note",)),
)
_SHOWN = 12


@dataclass(frozen=True, slots=True)
class _Chip:
    """A shot to tap, and what it is meant to carry unless something else is said."""

    name: str
    stock: str


@dataclass(frozen=True, slots=True)
class _Range:
    """The page: shots to tap, the form of the next ball, the balls so far."""

    shots: tuple[_Chip, ...]
    fields: dict[str, Field]
    problem: str
    called: bool
    key: str
    said: str
    air: str
    rows: tuple[BallRow, ...]
    first: Form | None


def _range(asked: Asked) -> Answer:
    return _page(asked, asked.desk.shelf.draft("range"))


def _page(
    asked: Asked, answers: Mapping[str, str], problem: RefusedError | None = None, said: str = ""
) -> Shown:
    try:
        shots = tuple(_chip(shot, asked) for shot in owned_shots(asked.desk.book))
    except NoSolutionError:
        return Shown("range.html", _nothing_yet(asked))
    stock = {chip.name: chip.stock for chip in shots}
    answers = {"shot": shots[0].name, **answers}
    answers = {"intended": stock.get(answers["shot"], ""), **answers}
    balls = logged_balls(asked.desk.book, last=_SHOWN)
    view = _Range(
        shots=shots,
        fields=fields(_QUESTIONS, answers, asked.units, problem),
        problem=str(problem) if problem is not None and not problem.field else "",
        called="carry" in answers or "called" in answers,
        key=secrets.token_hex(16),
        said=said or answers.get("said", ""),
        air=_air_said(asked),
        rows=ball_rows(balls, units_named(asked.units)),
        first=None,
    )
    return Shown("range.html", view, 400 if problem else 200, part="range-part.html")


def _chip(shot: Shot, asked: Asked) -> _Chip:
    units = units_named(asked.units)
    return _Chip(shot.label, f"{whole(shot.stock_carry_m, units)}{units.far}")


def _nothing_yet(asked: Asked) -> _Range:
    return _Range((), {}, "", False, "", "", "", (), shot_fields(asked))


def _log(asked: Asked) -> Answer:
    """Put a ball into the book; what is refused stays in the form."""
    answers = answers_to(_QUESTIONS, asked)
    shelf = asked.desk.shelf
    shelf.keep_draft("range", answers)
    try:
        added = _put(asked, answers, datetime.now().astimezone())
    except NoSolutionError:
        return Go("/range")
    except BadInputError as error:
        return _page(asked, answers, beside(error, _QUESTIONS))
    said = _said(answers) if added else "that ball is in the book already"
    after = {k: answers[k] for k in ("shot", "intended") if k in answers} | {"said": said}
    shelf.keep_draft("range", after)
    return _page(asked, after) if asked.part else Go("/range")


def _put(asked: Asked, answers: Mapping[str, str], at: datetime) -> bool:
    """Put a ball into the book; false where it is there already. Raises BadInputError."""
    form = checked(LoggedForm, answers, _QUESTIONS)
    ball = form.value(at, *_day_of(asked))
    return log_ball(asked.desk.book, ball, key=asked.said("key")[:80], raw=answers)


def _waited(asked: Asked) -> Answer:
    """Take what was said while nobody answered, once."""
    if asked.said("what") == "undo":
        return taken(lambda: take_ball_back(asked.desk.book, asked.said("key")[:80]))
    return taken(lambda: _put(asked, answers_to(_QUESTIONS, asked), said_at(asked)))


def _said(answers: Mapping[str, str]) -> str:
    parts = [
        f"{words} {one_line(answers[name])}"
        for name, words in (("intended", "meant"), ("called", "called"), ("carry", "was"))
        if name in answers
    ]
    return f"{one_line(answers.get('shot', ''))}: {', '.join(parts)}"


def _undo(asked: Asked) -> Answer:
    """Take the last ball back and put it into the form again."""
    try:
        ball = undo_ball(asked.desk.book)
    except NoSolutionError:
        return Go("/range")
    except BadInputError as error:
        return _page(asked, asked.desk.shelf.draft("range"), RefusedError(str(error)))
    units = units_named(asked.units)
    unit = LENGTH[asked.units == "metres"]
    lengths = {
        "intended": ball.intended_m,
        "called": ball.called_m,
        "carry": ball.carry_m,
        "side": ball.side_m,
    }
    answers = {k: f"{m / units.far_m:.1f}{unit}" for k, m in lengths.items() if m is not None}
    answers |= {"shot": ball.shot, "note": ball.note, "said": "taken back; change it or go on"}
    asked.desk.shelf.keep_draft("range", answers)
    return _page(asked, answers) if asked.part else Go("/range")


def _day_of(asked: Asked) -> tuple[Air | None, Lie, Moisture]:
    """Air and lie of the day; an air that nobody has said is not known."""
    day = kept_day(asked)
    lie = lie_in(day)
    said = {q.name for q in AIR} & day.keys()
    return (weather_in(day).air if said else None), lie.lie, lie.moisture


def _air_said(asked: Asked) -> str:
    try:
        air, lie, moisture = _day_of(asked)
    except BadInputError:
        return "the air in Today cannot be used"
    known = "air not said" if air is None else air_words(air)
    return f"{known}; {lie}, {moisture}"


ROUTES = (
    look("/range", _range),
    change("/range", _log),
    change("/range/undo", _undo),
    change("/range/waiting", _waited),
)
