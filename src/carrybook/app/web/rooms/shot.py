"""Shot: the green from above, the flight from the side, and what to play; drag, and it follows."""

from dataclasses import dataclass
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

from carrybook.app.services.choice import Haste, print_card
from carrybook.app.services.putt import usual_putt
from carrybook.app.web.asked import Answer, Asked, Data, Go, Sent, Shown, change, look
from carrybook.app.web.jobs import StoppedError, Tell
from carrybook.app.web.pages import rendered
from carrybook.app.web.questions import Field, RefusedError, fields
from carrybook.app.web.rooms import plan, situation
from carrybook.app.web.rooms.common import Form, answers_to, shot_fields
from carrybook.app.web.rooms.lock import planning
from carrybook.app.web.shelf import Kept
from carrybook.app.web.views.answer import AnswerView, answer_view
from carrybook.app.web.views.plan import (
    GroundPicture,
    PatternPicture,
    ground_picture,
    pattern_picture,
)
from carrybook.app.web.views.putts import PuttsView, putts_view
from carrybook.app.web.views.side import SidePicture, side_picture
from carrybook.artefacts.words import Units, units_named
from carrybook.base.errors import BadInputError, NoSolutionError

if TYPE_CHECKING:
    from carrybook.decision.advice import Advice

__all__ = ["ROUTES"]

_HASTES: dict[str, Haste] = {"rough": "rough", "settled": "settled"}


@dataclass(frozen=True, slots=True)
class _Played:
    """One answer in words and pictures, and how thoroughly it was played."""

    answer: AnswerView
    pattern: PatternPicture
    side: SidePicture
    haste: str


@dataclass(frozen=True, slots=True)
class _Shot:
    """The page: its form, the ground, the answer, or what to do first."""

    fields: dict[str, Field]
    problem: str
    maps: tuple[Kept, ...]
    heights: tuple[Kept, ...]
    holes: tuple[str, ...]
    title: str
    credit: str
    ground: GroundPicture | None
    played: _Played | None
    sentence: str
    first: Form | None


def _shot(asked: Asked) -> Answer:
    return _page(asked, situation.answers_of(asked))


def _choose(asked: Asked) -> Answer:
    """Keep what was typed, even where it cannot be used; play all of it."""
    answers = answers_to(situation.QUESTIONS, asked)
    situation.keep(asked, answers)
    page = _page(asked, situation.answers_of(asked), whole=True)
    return page if page.status == 400 else Go("/shot")


def _page(asked: Asked, answers: dict[str, str], *, whole: bool = False) -> Shown:
    problem, sentence, played, first, ground, title, credit = None, "", None, None, None, "", ""
    units = units_named(asked.units)
    try:
        hole = situation.hole_in(asked, answers)
        answers = situation.with_defaults(answers, hole)
        ground = _ground(asked, answers, units)
        haste = "full" if whole else situation.best_known(asked, answers)
        title, credit = f"{hole.venue}, hole {hole.ref}", hole.attribution
        played = _played(asked, situation.advice_on(asked, answers, haste), ground, haste)
    except BadInputError as error:
        problem = error if isinstance(error, RefusedError) else RefusedError(str(error))
    except NoSolutionError as error:
        sentence = str(error)
        first = shot_fields(asked) if not situation.has_shots(asked) else None
    line = str(problem) if problem is not None and not problem.field else ""
    view = _Shot(
        fields=fields(situation.QUESTIONS, answers, asked.units, problem),
        problem=line,
        maps=asked.desk.shelf.kept("map"),
        heights=asked.desk.shelf.kept("heights"),
        holes=_holes(asked, answers),
        title=title,
        credit=credit,
        ground=ground,
        played=played,
        sentence=sentence,
        first=first,
    )
    return Shown("shot.html", view, 400 if problem is not None else 200)


def _holes(asked: Asked, answers: dict[str, str]) -> tuple[str, ...]:
    try:
        return situation.holes(asked, answers)
    except BadInputError:
        return ()


def _ground(asked: Asked, answers: dict[str, str], units: Units) -> GroundPicture:
    key = ("ground", answers.get("map"), answers.get("heights"), answers.get("hole"), units.far)
    hole = situation.hole_in(asked, answers)
    return asked.desk.remembered(key, lambda: ground_picture(hole, units))


def _played(asked: Asked, advice: "Advice", ground: GroundPicture, haste: str) -> _Played:
    units = units_named(asked.units)
    return _Played(
        answer_view(advice, units),
        pattern_picture(advice, ground),
        side_picture(advice, units),
        haste,
    )


def _answer(asked: Asked) -> Answer:
    """Answer a script of ours while something is dragged, and when it has come to rest."""
    haste = _HASTES.get(asked.said("haste"), "settled")
    newest = asked.desk.fresh.take(asked.visitor, _turn(asked.said("turn")))
    try:
        answers = situation.moved(asked, answers_to(situation.QUESTIONS, asked))
        if haste == "settled":
            situation.keep(asked, answers)
        return _parts(asked, answers, haste, lambda _words, _share: _go_on(newest()))
    except StoppedError:
        return Data({"old": True})
    except (BadInputError, NoSolutionError) as error:
        return Data({"problem": str(error), "field": getattr(error, "field", "")})


@dataclass(frozen=True, slots=True)
class _PuttsHere:
    """The putting map of this hole location with the putt that the first option leaves."""

    ground: GroundPicture
    said: PuttsView


def _putts(asked: Asked) -> Answer:
    """The putts that the answer leaves; played already, so only mapped here."""
    answers = situation.answers_of(asked)
    answers = situation.with_defaults(answers, situation.hole_in(asked, answers))
    haste = situation.best_known(asked, answers)
    chart, answer = usual_putt(situation.advice_on(asked, answers, haste))
    units = units_named(asked.units)
    ground = _ground(asked, answers, units)
    return Shown("shot-putts.html", _PuttsHere(ground, putts_view(chart, answer, units)))


def _turn(text: str) -> int:
    """Number of a question; 0 where it has none."""
    return int(text, 36) if text.isascii() and text.isalnum() and len(text) < 16 else 0


def _go_on(newest: bool) -> None:
    if not newest:
        raise StoppedError


def _parts(asked: Asked, answers: dict[str, str], haste: Haste, tell: Tell) -> Data:
    """The parts of the page that an answer changes."""
    answers = situation.with_defaults(answers, situation.hole_in(asked, answers))
    ground = _ground(asked, answers, units_named(asked.units))
    played = _played(asked, situation.advice_on(asked, answers, haste, tell), ground, haste)
    return Data(
        {
            "head": rendered("shot-head.html", played, asked),
            "answer": rendered("shot-answer.html", played, asked),
            "pattern": rendered("shot-pattern.html", played.pattern, asked),
            "side": rendered("shot-side.html", played.side, asked),
            "hole": played.pattern.hole,
            "ball": played.pattern.ball,
            "said": played.answer.headline,
            "fields": {k: answers.get(k, "") for k in _FOLLOWING},
        }
    )


_FOLLOWING = ("hole_location", "number", "off_line", "wind", "wind_from")


def _full(asked: Asked) -> Answer:
    """Begin to play all of it, beside the page."""
    answers = answers_to(situation.QUESTIONS, asked)
    job = asked.desk.jobs.start(lambda tell: _parts(asked, answers, "full", tell).values)
    return Data({"job": job.key})


def _job(asked: Asked) -> Answer:
    job = asked.desk.jobs.find(asked.said("key"))
    if job is None:
        return Data({"done": True, "problem": "that work is not known here any more"}, 404)
    state = {"words": job.words, "share": job.share, "done": job.done, "problem": job.problem}
    return Data(state | {"result": job.result if job.done and not job.problem else None})


def _stop(asked: Asked) -> Answer:
    job = asked.desk.jobs.find(asked.said("key"))
    if job is not None:
        job.stop.set()
    return Data({"stopped": job is not None})


def _card(asked: Asked) -> Answer:
    """The pocket card with today's numbers and this plan."""
    from pathlib import Path

    advice = situation.advice_on(asked, situation.answers_of(asked), "full")
    with TemporaryDirectory() as folder:
        path = Path(folder) / "card.pdf"
        print_card(path, asked.desk.book, advice, asked.units)
        return Sent(path.read_bytes(), "application/pdf", "card.pdf")


def _keep(asked: Asked) -> Answer:
    """Keep this answer in the plan for the round."""
    answers = situation.answers_of(asked)
    advice = situation.advice_on(asked, answers, "settled")
    plan.add(asked, advice, answers)
    return Go("/before")


ROUTES = (
    look("/shot", planning(_shot)),
    change("/shot", planning(_choose)),
    change("/shot/answer", planning(_answer)),
    change("/shot/full", planning(_full)),
    look("/shot/job/{key}", planning(_job)),
    change("/shot/stop", _stop),
    look("/shot/putts", planning(_putts)),
    look("/shot/card.pdf", planning(_card)),
    change("/shot/keep", planning(_keep)),
)
