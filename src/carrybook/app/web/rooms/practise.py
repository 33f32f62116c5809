"""Practise: plan a session, strike it ball by ball with the call first, and look back.

The call is sent, and in the log, before the field for what it was appears.
"""

import json
from collections.abc import Callable
from dataclasses import asdict, dataclass

from carrybook.app.forms.practise import PractiseForm
from carrybook.app.services.log import now
from carrybook.app.services.practise import (
    Planned,
    planned_session,
    planned_test,
    practice_history,
)
from carrybook.app.services.practise_late import Late, take_late
from carrybook.app.services.practise_lines import SKIP
from carrybook.app.services.practise_run import Now, end_session_on, hit, session_on, undo_hit
from carrybook.app.services.shots import owned_shots
from carrybook.app.web.asked import Answer, Asked, Go, Sent, Shown, change, look
from carrybook.app.web.questions import Field, Question, RefusedError, beside, checked, fields
from carrybook.app.web.rooms.common import (
    AIR,
    Form,
    answers_to,
    kept_day,
    shot_fields,
    weather_in,
)
from carrybook.app.web.rooms.late import said_at, taken, whole_number
from carrybook.app.web.rooms.lock import is_playing, planning
from carrybook.app.web.rooms.practise_said import CALL, RESULT, call_line, result_line
from carrybook.app.web.rooms.practise_why import keep_why, why
from carrybook.app.web.views.practise import (
    LeakRow,
    Struck,
    SummaryRow,
    TestRow,
    balls_told,
    coming,
    struck_rows,
    summary_rows,
    test_rows,
)
from carrybook.artefacts.practice_words import CAUTIONS, warm_up_words
from carrybook.artefacts.words import units_named
from carrybook.base.errors import BadInputError, NoSolutionError
from carrybook.world.air import Air

__all__ = ["ROUTES"]

_PLAN = (
    Question("balls", "Balls", example="60", value="60"),
    Question("minutes", "Minutes", example="45", value="45"),
    Question("aim", "Aim", choices=("mixed", "build", "test"), value="mixed"),
    Question("focus", "Focus", example="70-90yd", hint="a stretch or one shot; empty: all"),
    Question("baseline", "Against", example="own", hint="own, scratch, tour, or a handicap"),
)


@dataclass(frozen=True, slots=True)
class _Room:
    """The page: a form for a plan, or the session that is planned or on."""

    first: Form | None
    plan: dict[str, Field]
    problem: str
    session: "_Session | None"
    cautions: tuple[str, ...] = CAUTIONS


@dataclass(frozen=True, slots=True)
class _Session:
    """A session: what comes next, how it goes, what was planned.

    `told` is what a script needs to go on while nobody answers: every ball, as JSON; `pattern` is
    one of them, whose form the script fills.
    """

    key: int
    told: str
    title: str
    done: int
    targets: int
    begun: bool
    judged: bool
    said: str
    warm_up: str
    target: Struck | None
    pattern: Struck
    called: bool
    fields: dict[str, Field]
    summary: tuple[SummaryRow, ...]
    last: tuple[Struck, ...]
    baseline: str
    leaks: tuple[LeakRow, ...]
    steps: tuple[tuple[str, str, str], ...]
    load: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Back:
    """What practice came to."""

    sessions: tuple[tuple[str, ...], ...]
    tests: tuple[TestRow, ...]
    problem: str


def _practise(asked: Asked) -> Answer:
    return _page(asked)


def _page(asked: Asked, problem: RefusedError | None = None, said: str = "") -> Answer:
    try:
        owned_shots(asked.desk.book)
    except NoSolutionError:
        return Shown("practise.html", _Room(shot_fields(asked), {}, "", None))
    going = _going(asked)
    if going is None and is_playing(asked):
        return Shown("locked.html", None)
    typed = asked.desk.shelf.draft("practise")
    view = _Room(
        first=None,
        plan=fields(_PLAN, typed, asked.units, problem),
        problem=str(problem) if problem is not None and not problem.field else "",
        session=None if going is None else _session(asked, going, problem, said),
    )
    return Shown("practise.html", view, 400 if problem else 200)


def _going(asked: Asked) -> Now | None:
    try:
        return session_on(asked.desk.book)
    except NoSolutionError:
        return None


def _session(asked: Asked, going: Now, problem: RefusedError | None, said: str) -> _Session:
    p, u = going.practice, units_named(asked.units)
    target, last = p.next, p.last
    if not said and last is not None and last.measured and going.judged:
        said = coming(last, u, judged=True).became
    told = why(asked, p)
    return _Session(
        key=p.key,
        told=json.dumps([asdict(b) for b in balls_told(p, u, judged=going.judged)]),
        title="Standing test" if p.standing else f"Session: {p.aim}",
        done=p.done,
        targets=len(p.targets),
        begun=p.begun is not None,
        judged=going.judged,
        said=said,
        warm_up=warm_up_words(p.warm_up, u) if going.judged else "",
        target=None if target is None else coming(target, u, judged=going.judged),
        pattern=coming(target or p.targets[0], u, judged=going.judged),
        called=target is not None and target.called,
        fields=fields(CALL + RESULT, asked.typed if problem else {}, asked.units, problem),
        summary=summary_rows(p, u) if going.judged else (),
        last=struck_rows(p, u) if going.judged else (),
        baseline=p.baseline,
        leaks=told.leaks,
        steps=told.steps,
        load=told.load,
    )


def _keep(asked: Asked, planned: Planned) -> None:
    going = _going(asked)
    if going is not None:
        keep_why(asked, planned, going.practice)


def _plan(asked: Asked) -> Answer:
    answers = answers_to(_PLAN, asked)
    asked.desk.shelf.keep_draft("practise", answers)
    try:
        form = checked(PractiseForm, answers, _PLAN).model_copy(update={"air": _air(asked)})
        seed = int(now().timestamp())
        _keep(asked, planned_session(asked.desk.book, form, now(), seed=seed))
    except BadInputError as error:
        return _page(asked, beside(error, _PLAN))
    return Go("/practise")


def _test(asked: Asked) -> Answer:
    form = PractiseForm.of().model_copy(update={"air": _air(asked)})
    try:
        seed = int(now().timestamp())
        _keep(asked, planned_test(asked.desk.book, form, now(), seed=seed))
    except BadInputError as error:
        return _page(asked, RefusedError(str(error)))
    return Go("/practise")


def _air(asked: Asked) -> Air | None:
    """The air that was said in Today; an air that nobody has said is not known."""
    day = kept_day(asked)
    return weather_in(day).air if {q.name for q in AIR} & day.keys() else None


def _call(asked: Asked) -> Answer:
    return _hit(asked, call_line(asked))


def _result(asked: Asked) -> Answer:
    try:
        return _hit(asked, result_line(asked))
    except RefusedError as error:
        return _page(asked, error)


def _hit(asked: Asked, line: str) -> Answer:
    """Take a line; a form that was sent twice says its ball once."""
    going, place = _going(asked), asked.said("place")
    target = None if going is None else going.practice.next
    if place and target is not None and place != str(target.place):
        return Go("/practise")
    try:
        hit(asked.desk.book, [line], now(), units=asked.units)
    except BadInputError as error:
        return _page(asked, RefusedError(str(error)))
    return Go("/practise")


def _skip(asked: Asked) -> Answer:
    return _hit(asked, SKIP)


def _undo(asked: Asked) -> Answer:
    try:
        undo_hit(asked.desk.book)
    except BadInputError as error:
        return _page(asked, RefusedError(str(error)))
    return Go("/practise")


def _waited(asked: Asked) -> Answer:
    """Take what was said while nobody answered, once."""
    return taken(lambda: _take(asked, asked.said("what")))


def _take(asked: Asked, what: str) -> bool:
    place, session = whole_number(asked.said("place")), whole_number(asked.said("session"))
    if what == "undo":
        return bool(undo_hit(asked.desk.book, (session, place)).hits)
    lines: dict[str, Callable[[Asked], str]] = {
        "call": call_line, "result": result_line, "skip": lambda _: SKIP,
    }  # fmt: skip
    if what not in lines:
        raise BadInputError("what waited cannot be read")
    line = lines[what](asked)
    late = Late(session, place, line, result=what == "result")
    return take_late(asked.desk.book, late, said_at(asked), units=asked.units)


def _end(asked: Asked) -> Answer:
    try:
        end_session_on(asked.desk.book, now())
    except BadInputError as error:
        return _page(asked, RefusedError(str(error)))
    return Go("/practise/history")


def _history(asked: Asked) -> Answer:
    try:
        found = practice_history(asked.desk.book)
    except NoSolutionError as error:
        return Shown("practise-history.html", _Back((), (), str(error)))
    sessions, tests = test_rows(found)
    return Shown("practise-history.html", _Back(sessions, tests, ""))


def _sheet(asked: Asked) -> Answer:
    going = _going(asked)
    sheet = b"" if going is None else why(asked, going.practice).sheet
    if not sheet:
        raise NoSolutionError("plan the session again to print it: it was planned elsewhere")
    return Sent(sheet, "application/pdf", "practice.pdf")


ROUTES = (
    look("/practise", _practise),
    look("/practise/history", planning(_history)),
    look("/practise/sheet.pdf", planning(_sheet)),
    change("/practise/plan", planning(_plan)),
    change("/practise/test", planning(_test)),
    change("/practise/call", _call),
    change("/practise/result", _result),
    change("/practise/skip", _skip),
    change("/practise/undo", _undo),
    change("/practise/waiting", _waited),
    change("/practise/end", _end),
)
