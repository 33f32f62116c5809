"""What the Shot room asks, and how its answers become a situation and an answer."""

from collections.abc import Callable
from math import isfinite
from pathlib import Path
from typing import TYPE_CHECKING

from carrybook.app.forms.choice import SituationForm
from carrybook.app.forms.weather import WindForm
from carrybook.app.services.choice import Haste, decide, hole_of, situation_of
from carrybook.app.services.place import Place, default_location, holes_on, place_at
from carrybook.app.services.shots import owned_shots
from carrybook.app.services.weather import Weather
from carrybook.app.web.asked import Asked
from carrybook.app.web.questions import Question, beside, checked
from carrybook.app.web.rooms.common import AIR, LENGTH, LIE, WIND, kept_day, weather_in, wind_in
from carrybook.app.web.shelf import SHIPPED
from carrybook.base.errors import BadInputError, NoSolutionError
from carrybook.player.day import Day
from carrybook.world.hole import Hole

if TYPE_CHECKING:
    from carrybook.decision.advice import Advice, Situation

__all__ = [
    "GROUND",
    "QUESTIONS",
    "WHERE",
    "advice_on",
    "answers_of",
    "best_known",
    "day_of",
    "files_of",
    "has_shots",
    "hole_in",
    "holes",
    "keep",
    "moved",
    "rests_on",
    "situation_in",
    "spot",
    "with_defaults",
]

PLACE = (
    Question("map", "Map", about=("map",)),
    Question("heights", "Heights", about=("heights",)),
    Question("hole", "Hole", about=("hole",)),
    Question(
        "hole_location",
        "Hole cut",
        example="24 on, 5 from the right",
        hint="in paces as on a pin sheet, or drag it",
        about=("hole location", "depth of the hole location", "side of the hole location"),
    ),
    Question("number", "Number", LENGTH, "88", "ball to hole over the ground", about=("number",)),
    Question(
        "off_line",
        "Off the line",
        ("deg", "deg"),
        "0",
        "how far the ball lies right of the approach; left is negative",
        about=("angle off the line",),
    ),
)
GREEN = (
    Question(
        "firmness",
        "Green is",
        choices=("soft", "medium", "firm", "very firm"),
        value="medium",
        about=("firmness",),
    ),
    Question("green_speed", "Green speed", ("ft", "ft"), "10", "stimp; or 3.05m"),
)
QUESTIONS = (*PLACE, *LIE, *WIND, *GREEN, *AIR)
WHERE = frozenset({"hole", "hole_location", "number", "off_line"})  # of one shot alone
GROUND = ("moisture", "firmness", "green_speed")  # of every shot that a plan or a leave asks about
_DAY = frozenset(q.name for q in (*LIE, *WIND, *AIR))
_NO_FORM = frozenset({"map", "heights", "hole"})


def answers_of(asked: Asked) -> dict[str, str]:
    """What was last typed here; what nobody has said yet is the invented course."""
    return {"map": SHIPPED, "heights": SHIPPED, **asked.desk.shelf.draft("shot"), **kept_day(asked)}


def rests_on(answers: dict[str, str]) -> dict[str, str]:
    """What answers of every hole rest on: what nobody has chosen is what stands first."""
    first = {q.name: str(q.value) for q in QUESTIONS if q.choices}
    return {k: v for k, v in (first | answers).items() if k not in WHERE}


def keep(asked: Asked, answers: dict[str, str]) -> None:
    """Keep what was typed: the day for every room, the rest for this one."""
    shelf = asked.desk.shelf
    shelf.keep_draft("shot", {k: v for k, v in answers.items() if k not in _DAY})
    shelf.keep_draft("day", {k: v for k, v in answers.items() if k in _DAY})


def hole_in(asked: Asked, answers: dict[str, str]) -> Hole:
    """Read the hole of an answered form, once.

    Raises
    ------
    RefusedError
        A map or a hole that is not there.
    """
    try:
        form = _asked_for(asked, {**answers, "hole_location": "1 on, centre", "number": "90yd"})
        key = ("hole", answers.get("map"), answers.get("heights"), form.hole)
        return asked.desk.remembered(key, lambda: hole_of(form))
    except BadInputError as error:
        raise beside(error, QUESTIONS) from None


def holes(asked: Asked, answers: dict[str, str]) -> tuple[str, ...]:
    """Holes of the map that was chosen; none where it cannot be read."""
    path = asked.desk.shelf.path_of(answers.get("map", ""), "map")
    return asked.desk.remembered(("holes", path), lambda: holes_on(path))


def files_of(asked: Asked, answers: dict[str, str]) -> dict[str, Path]:
    """Where map and heights lie.

    Raises
    ------
    BadInputError
        One that is not there any more.
    """
    shelf = asked.desk.shelf
    heights = answers.get("heights", "")
    if heights == SHIPPED != answers.get("map"):
        heights = ""  # those belong to the other course
    paths = {"map": shelf.path_of(answers.get("map", ""), "map")}
    return paths | ({"heights": shelf.path_of(heights, "heights")} if heights else {})


def day_of(answers: dict[str, str]) -> tuple[Weather, WindForm]:
    """The weather and the wind of an answered form. Raises RefusedError."""
    return weather_in(answers), wind_in(answers)


def has_shots(asked: Asked) -> bool:
    """Whether there is a book with a shot in it; nothing is computed for that."""
    try:
        key = ("has shots", asked.desk.stamp())
        return asked.desk.remembered(key, lambda: bool(owned_shots(asked.desk.book)))
    except (BadInputError, NoSolutionError):
        return False


def _asked_for(asked: Asked, answers: dict[str, str]) -> SituationForm:
    paths = files_of(asked, answers)
    known = holes(asked, answers)
    hole = answers.get("hole") or (known[0] if known else "")
    rest = {
        k: v for k, v in answers.items() if k not in _NO_FORM and k in SituationForm.model_fields
    }
    return checked(SituationForm, {**rest, **paths, "hole": hole}, QUESTIONS)


def with_defaults(answers: dict[str, str], hole: Hole) -> dict[str, str]:
    """Answers, with the middle of the green and 90 yards where nothing was said."""
    return {
        "hole": hole.ref,
        "hole_location": default_location(hole),
        "number": "90yd",
        **{k: v for k, v in answers.items() if v},
    }


def situation_in(asked: Asked, answers: dict[str, str]) -> "Situation":
    """Put the situation of an answered form together.

    Raises
    ------
    RefusedError
        The first answer that cannot be used.
    """
    hole = hole_in(asked, answers)
    try:
        form = _asked_for(asked, with_defaults(answers, hole))
        return situation_of(hole, form, *day_of(answers))
    except BadInputError as error:
        raise beside(error, QUESTIONS) from None


def advice_on(
    asked: Asked,
    answers: dict[str, str],
    haste: Haste,
    progress: Callable[[str, float], None] | None = None,
) -> "Advice":
    """Answer a form; what was answered before is not played again.

    Raises
    ------
    RefusedError
        The first answer that cannot be used.
    NoSolutionError
        There is no shot yet, or none that reaches.
    """
    situation = situation_in(asked, answers)
    day = Day(situation.air, lie=situation.lie, moisture=situation.moisture)
    summaries = asked.desk.summaries(day)
    key = _key(asked, answers, haste)
    try:
        return asked.desk.remembered(
            key, lambda: decide(situation, summaries, progress=progress, haste=haste)
        )
    except BadInputError as error:
        raise beside(error, QUESTIONS) from None


def best_known(asked: Asked, answers: dict[str, str]) -> Haste:
    """All of it where that was played already; else what settles soon."""
    return "full" if asked.desk.knows(_key(asked, answers, "full")) else "settled"


def _key(asked: Asked, answers: dict[str, str], haste: Haste) -> tuple[object, ...]:
    return ("advice", haste, tuple(sorted(answers.items())), asked.desk.stamp())


def moved(asked: Asked, answers: dict[str, str]) -> dict[str, str]:
    """Answers after hole or ball were dragged on the drawing; the wind stays where it was.

    Raises
    ------
    BadInputError
        A place that cannot be.
    """
    ball = spot(asked, "ball")
    if ball is None:
        return answers
    hole = hole_in(asked, answers)
    full = with_defaults(answers, hole)
    place = place_at(
        hole,
        full["hole_location"],
        hole_at=spot(asked, "cup"),
        ball_at=ball,
        metres=asked.units == "metres",
    )
    new = {**full, "hole_location": place.hole_location, "number": place.number}
    return {**new, "off_line": place.off_line, **_turned(full, place)}


def _turned(answers: dict[str, str], place: Place) -> dict[str, str]:
    """The wind as seen along the new line."""
    before = _degrees(answers.get("off_line", "0deg"))
    wind_from = _degrees(answers.get("wind_from", ""))
    if before is None or wind_from is None or "wind" not in answers:
        return {}
    turned = (wind_from + place.off_line_deg - before) % 360.0
    return {"wind_from": f"{round(turned, 1):g}deg"}


def _degrees(text: str) -> float | None:
    try:
        value = float(text.removesuffix("deg"))
    except ValueError:
        return None
    return value if isfinite(value) else None


def spot(asked: Asked, name: str) -> tuple[float, float] | None:
    """A place on the drawing, in the axes of the hole; none where it was not dragged."""
    try:
        x, y = float(asked.said(f"{name}_x")), float(asked.said(f"{name}_y"))
    except ValueError:
        return None
    return (-y, -x) if isfinite(x) and isfinite(y) else None
