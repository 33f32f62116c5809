"""Before the round: every ninth of the greens planned, and the pocket card with the plans."""

import re
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory

from carrybook.app.forms.card import CardForm
from carrybook.app.forms.plan import VenueForm
from carrybook.app.services.card import check_file, print_plans
from carrybook.app.services.plan import VenuePlan, plan_venue
from carrybook.app.sweep import Hands
from carrybook.app.web.asked import Answer, Asked, Go, Sent, Shown, change, look
from carrybook.app.web.jobs import Job, StoppedError, Tell
from carrybook.app.web.questions import Field, Question, RefusedError, beside, checked, fields
from carrybook.app.web.rooms import plan, situation
from carrybook.app.web.rooms.common import LENGTH, answers_to, kept_day, whole_problem, wind_in
from carrybook.app.web.rooms.lock import planning
from carrybook.app.web.rooms.work import Work, job_about, stop_work, work_shown
from carrybook.app.web.views.zones import PlanView, plan_shown
from carrybook.artefacts.paper import Layout, Profile
from carrybook.artefacts.words import units_named
from carrybook.base.errors import BadInputError

__all__ = ["ROUTES", "CardPart", "ZonesPart", "card_part", "zones_part"]

_ZONES, _CARD = "zones", "card"
_ASKED = (
    Question("holes", "Holes", example="4,11,16", hint="or all", value="all", about=("hole",)),
    Question(
        "numbers",
        "From",
        example="70, 90, 110",
        hint="likely distances, parted by commas",
        about=("number",),
    ),
    Question("lay_ups", "What to leave", choices=("not asked", "on each hole"), value="not asked"),
)
_PRINT = (
    Question("profile", "Profile", choices=tuple(Profile), value=Profile.ORDINARY),
    Question("layout", "Paper", choices=tuple(Layout), value=Layout.SINGLE),
    Question("title", "Title", example="Saltfen, Saturday"),
)
_BARE = re.compile(r"\d+(?:\.\d+)?")
_FEW = 1  # holes that are not worth other processes


@dataclass(frozen=True, slots=True)
class ZonesPart:
    """Planning by zones: its form, the work that goes on, what it gave."""

    fields: dict[str, Field]
    problem: str
    course: str
    work: Work | None
    found: PlanView | None
    older: bool
    sentence: str


@dataclass(frozen=True, slots=True)
class _Printed:
    """A card that was printed: its bytes, and whether it holds what the limits ask."""

    content: bytes
    profile: str
    pages: int
    plans: int
    holds: bool


@dataclass(frozen=True, slots=True)
class CardPart:
    """The card: its form, the work that goes on, and the card."""

    fields: dict[str, Field]
    problem: str
    work: Work | None
    printed: _Printed | None
    sentence: str


def zones_part(asked: Asked, problem: RefusedError | None = None) -> ZonesPart:
    """How planning by zones stands."""
    answers = asked.desk.shelf.draft(_ZONES)
    job = asked.desk.jobs.newest(_ZONES)
    found = job.result if job is not None and isinstance(job.result, VenuePlan) else None
    try:
        course = situation.hole_in(asked, situation.answers_of(asked)).venue
    except BadInputError:
        course = ""
    return ZonesPart(
        fields=fields(_ASKED, answers, asked.units, problem),
        problem=whole_problem(problem, _ASKED),
        course=course,
        work=work_shown(job),
        found=None if found is None else plan_shown(found, units_named(asked.units)),
        older=job is not None and found is not None and job.about != _zones_about(asked),
        sentence=_sentence(job),
    )


def _zones_about(asked: Asked) -> str:
    """What a plan rests on: another question, course, day, green or shot makes another plan."""
    shot = situation.rests_on(situation.answers_of(asked))
    return asked.desk.rests_on(asked.desk.shelf.draft(_ZONES), shot, asked.desk.shots_stamp())


def _sentence(job: Job | None) -> str:
    return "" if job is None else job.problem


def _zones(asked: Asked) -> Answer:
    return Shown("before-zones.html", zones_part(asked))


def _plan(asked: Asked) -> Answer:
    """Keep what was typed; begin to plan."""
    answers = answers_to(_ASKED, asked)
    asked.desk.shelf.keep_draft(_ZONES, answers)
    shot = situation.answers_of(asked)
    try:
        form = _form(asked, answers, shot)
        weather, wind = situation.day_of(shot)
    except BadInputError as error:
        return Shown("before-zones.html", zones_part(asked, beside(error, _ASKED)), 400)
    lay_ups = answers.get("lay_ups") == "on each hole"
    hands = Hands(1) if 0 < len(form.hole) <= _FEW else Hands.all_cores()
    book = asked.desk.book

    def work(tell: Tell) -> VenuePlan:
        return _whole_or_part(
            tell,
            lambda progress: plan_venue(
                book, form, weather, wind, hands=hands, lay_ups=lay_ups, progress=progress
            ),
        )

    asked.desk.jobs.start(work, _ZONES, _zones_about(asked))
    return _zones(asked) if asked.part else Go("/before")


def _whole_or_part(tell: Tell, run: Callable[[Tell], VenuePlan]) -> VenuePlan:
    """Plan; told to stop, give what is done, as an interrupt from the keyboard does."""
    stopped = False

    def progress(words: str, share: float) -> None:
        nonlocal stopped
        try:
            tell(words, share)
        except StoppedError:
            if not stopped:
                stopped = True
                raise KeyboardInterrupt from None

    try:
        return run(progress)
    except KeyboardInterrupt:
        raise StoppedError from None


def _form(asked: Asked, answers: dict[str, str], shot: dict[str, str]) -> VenueForm:
    """Raises RefusedError."""
    own = {k: shot[k] for k in situation.GROUND if k in shot}
    own["hole"] = answers.get("holes", "all")
    unit = LENGTH[asked.units == "metres"]
    numbers = [part for part in re.split(r"[\s;,]+", answers.get("numbers", "")) if part]
    if numbers:
        own["numbers"] = ",".join(n + unit if _BARE.fullmatch(n) else n for n in numbers)
    return checked(VenueForm, {**own, **situation.files_of(asked, shot)}, _ASKED)


def _stop_zones(asked: Asked) -> Answer:
    stop_work(asked, _ZONES)
    return _zones(asked) if asked.part else Go("/before")


def card_part(asked: Asked, problem: RefusedError | None = None) -> CardPart:
    """How the card stands."""
    fresh = job_about(asked, _CARD, _card_about(asked))
    printed = fresh.result if fresh is not None and isinstance(fresh.result, _Printed) else None
    return CardPart(
        fields=fields(_PRINT, asked.desk.shelf.draft(_CARD), asked.units, problem),
        problem=whole_problem(problem, _PRINT),
        work=work_shown(fresh),
        printed=printed,
        sentence=_sentence(fresh),
    )


def _card_about(asked: Asked) -> str:
    """What a card rests on: another day, plan, shot or wish makes another card."""
    zones = asked.desk.jobs.newest(_ZONES)
    planned = None
    if zones is not None and isinstance(zones.result, VenuePlan):
        planned = (zones.about, zones.result.done)
    drafts = [asked.desk.shelf.draft(name) for name in (_CARD, "plan")]
    day = situation.rests_on(kept_day(asked))
    return asked.desk.rests_on(drafts, day, planned, asked.units, asked.desk.shots_stamp())


def _card(asked: Asked) -> Answer:
    return Shown("before-card.html", card_part(asked))


def _print(asked: Asked) -> Answer:
    """Keep what was chosen; play every kept plan in full, and print the card."""
    answers = answers_to(_PRINT, asked)
    asked.desk.shelf.keep_draft(_CARD, answers)
    try:
        form = checked(CardForm, answers, _PRINT)
        air = situation.day_of(kept_day(asked))[0].air
        roughness = wind_in(kept_day(asked)).surroundings
    except BadInputError as error:
        return Shown("before-card.html", card_part(asked, beside(error, _PRINT)), 400)
    kept = [plan.reopen(asked, each.key) for each in plan.kept(asked)]
    zones = asked.desk.jobs.newest(_ZONES)
    venue = zones.result if zones is not None and isinstance(zones.result, VenuePlan) else None

    def work(tell: Tell) -> _Printed:
        advices = []
        for k, each in enumerate(kept):
            tell(f"plan {k + 1} of {len(kept)}", k / (len(kept) + 1.0))
            advices.append(situation.advice_on(asked, each, "full"))
        tell("printing", len(kept) / (len(kept) + 1.0))
        with TemporaryDirectory() as folder:
            path = Path(folder) / "card.pdf"
            printed = print_plans(
                path, asked.desk.book, form, air, advices,
                venue=venue, units=asked.units, roughness_m=roughness,
            )  # fmt: skip
            holds = check_file(path, printed.profile).holds
            plans = len(advices) + (0 if venue is None else len(venue.cells))
            return _Printed(path.read_bytes(), printed.profile, printed.pages, plans, holds)

    asked.desk.jobs.start(work, _CARD, _card_about(asked))
    return _card(asked) if asked.part else Go("/before")


def _stop_card(asked: Asked) -> Answer:
    stop_work(asked, _CARD)
    return _card(asked) if asked.part else Go("/before")


def _pdf(asked: Asked) -> Answer:
    printed = card_part(asked).printed
    if printed is None:
        raise BadInputError("there is no card of today yet; print it in Before the round first")
    return Sent(printed.content, "application/pdf", f"card-{printed.profile}.pdf")


ROUTES = (
    look("/before/zones", planning(_zones)),
    change("/before/zones", planning(_plan)),
    change("/before/zones/stop", _stop_zones),
    look("/before/card", planning(_card)),
    change("/before/card", planning(_print)),
    change("/before/card/stop", _stop_card),
    look("/before/card.pdf", planning(_pdf)),
)
