"""Putts on a green that is looked at: the map for a hole location, and the putt from one spot."""

from collections.abc import Callable, Hashable
from dataclasses import dataclass
from functools import partial
from typing import TypeVar

from carrybook.app.forms.putt import PuttForm
from carrybook.app.services.ground import location_on
from carrybook.app.services.place import default_location
from carrybook.app.services.putt import putters_of, putts_to
from carrybook.app.web.asked import Asked
from carrybook.app.web.questions import Field, Question, RefusedError, beside, checked, fields
from carrybook.app.web.rooms import situation
from carrybook.app.web.rooms.common import answers_to
from carrybook.app.web.views.putts import PuttsView, putts_view
from carrybook.artefacts.words import units_named
from carrybook.base.errors import BadInputError, NoSolutionError
from carrybook.outcomes.putt_answer import PuttAnswer
from carrybook.outcomes.putting_map import PuttingMap
from carrybook.world.hole import Hole, HoleLocation
from carrybook.world.locate import words_at

__all__ = ["PUTTS", "Putts", "putts_asked", "putts_fields", "putts_kept", "putts_on"]

T = TypeVar("T")
PUTTS = (
    Question(
        "cut",
        "Hole cut",
        example="24 on, 5 from the right",
        hint="in paces, or drag the flag",
        about=("hole location", "depth of the hole location", "side of the hole location"),
    ),
    Question(
        "lies",
        "Ball lies",
        example="10 on, 8 from the left",
        hint="or drag the ball",
        about=("ball",),
    ),
    Question("stimp", "Green speed", ("ft", "ft"), "10", "stimp; or 3.05m", about=("green speed",)),
    Question("player", "Who putts", value="tour", about=("player",)),
)
_BEFORE = 6.0  # m: a ball that nobody placed lies so far before the hole


@dataclass(frozen=True, slots=True)
class Putts:
    """What was found, and the words for where hole and ball are."""

    view: PuttsView
    answers: dict[str, str]
    sentence: str


def putts_kept(asked: Asked, answers: dict[str, str]) -> dict[str, str]:
    """What was last asked on this green; another green begins as in the Shot room."""
    shelf = asked.desk.shelf
    kept = shelf.draft("putts")
    if all(kept.get(k) == answers.get(k) for k in ("map", "hole")):
        return {q.name: kept[q.name] for q in PUTTS if q.name in kept}
    shot = situation.answers_of(asked)
    found = {"stimp": shot.get("green_speed", "")}
    if all(shot.get(k) == answers.get(k) for k in ("map", "hole")):
        found["cut"] = shot.get("hole_location", "")
    return {k: v for k, v in found.items() if v}


def putts_fields(
    asked: Asked, answers: dict[str, str], problem: RefusedError | None = None
) -> dict[str, Field]:
    """The form, with everybody who has a name to choose from."""
    names = tuple(putters_of(asked.desk.book))
    questions = [q if q.name != "player" else _with_choices(q, names) for q in PUTTS]
    return fields(questions, answers, asked.units, problem)


def _with_choices(q: Question, names: tuple[str, ...]) -> Question:
    return Question(q.name, q.label, choices=names, value=q.value, about=q.about)


def putts_asked(asked: Asked, hole: Hole) -> dict[str, str]:
    """What is asked now: as typed, but where hole or ball were dragged to.

    Raises
    ------
    RefusedError
        A place beside the green.
    """
    answers = answers_to(PUTTS, asked)
    for name, handle in (("cut", "cup"), ("lies", "ball")):
        at = situation.spot(asked, handle)
        if at is not None:
            answers[name] = _on_green(name, partial(words_at, hole, *at))
    return answers


def _on_green(name: str, find: Callable[[], T]) -> T:
    """Find a place; a ball is not called a hole location."""
    try:
        return find()
    except BadInputError as error:
        said = str(error) if name == "cut" else str(error).replace("hole location", "ball")
        raise RefusedError(said, name) from None


def putts_on(
    asked: Asked, hole: Hole, answers: dict[str, str], where: Hashable, *, rough: bool = False
) -> Putts:
    """Map the green for that hole location, and read the putt.

    Parameters
    ----------
    asked : Asked
        The request.
    hole : Hole
        The green.
    answers : dict of str to str
        To `PUTTS`.
    where : hashable
        Which green that is.
    rough : bool, default False
        While a hand moves.

    Raises
    ------
    RefusedError
        The first answer that cannot be used.
    """
    answers = {"cut": default_location(hole), **answers}
    cut = _on_green("cut", partial(location_on, hole, answers["cut"]))
    own = {k: v for k, v in answers.items() if k in ("stimp", "player")}
    form = checked(PuttForm, own, PUTTS)
    try:
        putter = form.putter(putters_of(asked.desk.book))
        key = ("putts", where, cut, form.stimp, putter)
        rough = rough and not asked.desk.knows((*key, False))  # only the ball moves
        chart = asked.desk.remembered(
            (*key, rough),
            lambda: putts_to(hole, cut, stimp_m=form.stimp, putter=putter, rough=rough),
        )
    except BadInputError as error:
        raise beside(error, PUTTS) from None
    answers.setdefault("lies", _usual_spot(hole, cut))
    ball = _on_green("lies", partial(location_on, hole, answers["lies"]))
    answer, sentence = _answer(chart, ball)
    return Putts(putts_view(chart, answer, units_named(asked.units)), answers, sentence)


def _answer(chart: PuttingMap, ball: HoleLocation) -> tuple[PuttAnswer | None, str]:
    from carrybook.outcomes.putt_answer import answer_putt

    try:
        return answer_putt(chart, ball.x, ball.y), ""
    except (BadInputError, NoSolutionError) as error:
        return None, str(error)


def _usual_spot(hole: Hole, cut: HoleLocation) -> str:
    """A spot before the hole, or beyond it where the green does not reach so far."""
    for away in (-_BEFORE, _BEFORE, -0.5 * _BEFORE, 0.5 * _BEFORE, -1.0):
        try:
            return words_at(hole, cut.x + away, cut.y)
        except BadInputError:
            continue
    return words_at(hole, cut.x, cut.y)
