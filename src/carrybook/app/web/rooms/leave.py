"""Leave: what each distance that could be left costs, and where it does not matter."""

from dataclasses import dataclass

from carrybook.app.forms.plan import LeaveForm
from carrybook.app.services.leave import leave_table
from carrybook.app.web.asked import Answer, Asked, Go, Shown, change, look
from carrybook.app.web.jobs import Tell
from carrybook.app.web.questions import Field, Question, RefusedError, beside, checked, fields
from carrybook.app.web.rooms import situation
from carrybook.app.web.rooms.common import LENGTH, Form, answers_to, shot_fields, whole_problem
from carrybook.app.web.rooms.lock import planning
from carrybook.app.web.rooms.work import Work, job_about, stop_work, work_shown
from carrybook.app.web.views.leave import LeaveView, leave_shown
from carrybook.artefacts.words import units_named
from carrybook.base.errors import BadInputError
from carrybook.decision.leave import LeaveTable
from carrybook.world.lie import Lie

__all__ = ["ROUTES"]

_AS_MAPPED = "as the map has it"
_KIND = "leave"
_HERE = (
    Question("hole", "Hole", about=("hole",)),
    Question(
        "hole_location",
        "Hole cut",
        example="24 on, 5 from the right",
        hint="in paces as on a pin sheet",
        about=("hole location", "depth of the hole location", "side of the hole location"),
    ),
    Question("nearest", "Closest", LENGTH, "30", about=("from",)),
    Question("furthest", "Furthest", LENGTH, "130", about=("to",)),
    Question("step", "In steps of", LENGTH, "5", about=("step",)),
    Question(
        "favourite",
        "A number you like",
        LENGTH,
        "90",
        "what would a closer one save?",
        about=("favourite",),
    ),
    Question(
        "scatter",
        "Lay-up strays, in depth",
        LENGTH,
        "6",
        "two in three within it; empty: as your longest shot does",
        about=("scatter of the lay-up",),
    ),
    Question(
        "side_scatter",
        "Lay-up strays, to the side",
        LENGTH,
        "6",
        about=("side scatter of the lay-up",),
    ),
    Question(
        "off_line",
        "Off the line",
        ("deg", "deg"),
        "0",
        "of the approach; left is negative",
        about=("angle off the line",),
    ),
    Question("lie", "It will lie on", choices=(_AS_MAPPED, *Lie), value=_AS_MAPPED),
)


@dataclass(frozen=True, slots=True)
class _Leave:
    """The page: its form, the work that goes on, what it gave, or what to do first."""

    fields: dict[str, Field]
    problem: str
    holes: tuple[str, ...]
    course: str
    work: Work | None
    found: LeaveView | None
    sentence: str
    first: Form | None


def _leave(asked: Asked) -> Answer:
    return _page(asked, _answers(asked))


def _answers(asked: Asked) -> dict[str, str]:
    """What was typed here, over what the Shot room has; another map is another hole."""
    kept, shot = asked.desk.shelf.draft(_KIND), situation.answers_of(asked)
    if kept.get("map") == shot["map"]:
        return {k: v for k, v in kept.items() if k != "map"}
    return {k: v for k, v in shot.items() if k in ("hole", "hole_location", "off_line")}


def _page(asked: Asked, answers: dict[str, str], problem: RefusedError | None = None) -> Shown:
    base, first, course = situation.answers_of(asked), None, ""
    holes: tuple[str, ...] = ()
    try:
        holes = situation.holes(asked, base)
        hole = situation.hole_in(asked, {**base, "hole": answers.get("hole", "")})
        course = hole.venue
        answers = situation.with_defaults(answers, hole)
    except BadInputError as error:
        problem = problem or beside(error, _HERE)
    if not situation.has_shots(asked):
        first = shot_fields(asked)
    job = job_about(asked, _KIND, _about(asked, answers))
    found = job.result if job is not None and isinstance(job.result, LeaveTable) else None
    view = _Leave(
        fields=fields(_HERE, answers, asked.units, problem),
        problem=whole_problem(problem, _HERE),
        holes=holes,
        course=course,
        work=work_shown(job),
        found=None if found is None else leave_shown(found, units_named(asked.units)),
        sentence="" if job is None else job.problem,
        first=first,
    )
    return Shown("leave.html", view, 400 if problem else 200, part="leave-part.html")


def _about(asked: Asked, answers: dict[str, str]) -> str:
    """What is asked: the same question has the same answer as long as the shots are the same."""
    day = situation.rests_on(situation.answers_of(asked))
    return asked.desk.rests_on(answers, day, asked.desk.shots_stamp())


def _start(asked: Asked) -> Answer:
    """Keep what was typed, even where it cannot be used; begin the work."""
    answers = answers_to(_HERE, asked)
    shot = situation.answers_of(asked)
    asked.desk.shelf.keep_draft(_KIND, {**answers, "map": shot["map"]})
    try:
        hole = situation.hole_in(asked, {**shot, "hole": answers.get("hole", "")})
        answers = situation.with_defaults(answers, hole)
        form = _form(asked, answers)
        form.distances()
        day = situation.day_of(shot)
    except BadInputError as error:
        return _page(asked, answers, beside(error, _HERE))

    def work(tell: Tell) -> LeaveTable:
        return leave_table(asked.desk.book, form, *day, progress=tell)

    asked.desk.jobs.start(work, _KIND, _about(asked, answers))
    return _page(asked, answers) if asked.part else Go("/leave")


def _form(asked: Asked, answers: dict[str, str]) -> LeaveForm:
    """Raises RefusedError."""
    shot = situation.answers_of(asked)
    shared = {k: shot[k] for k in situation.GROUND if k in shot}
    own = {k: v for k, v in answers.items() if k in LeaveForm.model_fields}
    if own.get("lie") == _AS_MAPPED:
        del own["lie"]
    return checked(LeaveForm, {**shared, **own, **situation.files_of(asked, shot)}, _HERE)


def _stop(asked: Asked) -> Answer:
    stop_work(asked, _KIND)
    return _page(asked, _answers(asked)) if asked.part else Go("/leave")


ROUTES = (
    look("/leave", planning(_leave)),
    change("/leave", planning(_start)),
    change("/leave/stop", _stop),
)
