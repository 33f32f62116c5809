"""Today: the air, the wind, and what every shot carries now."""

from dataclasses import dataclass

from carrybook.app.services.numbers import in_the_wind, moved_numbers, numbers_of
from carrybook.app.services.weather import Weather, air_report
from carrybook.app.web.asked import Answer, Asked, Go, Shown, change, look
from carrybook.app.web.questions import Field, Question, RefusedError, fields
from carrybook.app.web.rooms.common import (
    AIR,
    LIE,
    WIND,
    Form,
    answers_to,
    kept_day,
    lie_in,
    shot_fields,
    weather_in,
    wind_in,
)
from carrybook.app.web.rooms.lock import planning
from carrybook.app.web.views.ladder import LadderPicture, ladder_picture
from carrybook.app.web.views.moved import MovedPicture, moved_picture
from carrybook.app.web.views.numbers import NumberRow, number_rows
from carrybook.artefacts.words import air_words, units_named
from carrybook.base.errors import BadInputError, NoSolutionError
from carrybook.player.day import Day

__all__ = ["ROUTES"]

_QUESTIONS: tuple[Question, ...] = (*AIR, *LIE, WIND[0])


@dataclass(frozen=True, slots=True)
class _Numbers:
    """What every shot carries now."""

    air: str
    density: str
    lie: str
    wind: str
    rows: tuple[NumberRow, ...]
    ladder: LadderPicture
    moved: MovedPicture | None


@dataclass(frozen=True, slots=True)
class _Today:
    """The page: its form, the numbers, or what to do first."""

    fields: dict[str, Field]
    problem: str
    more: bool
    numbers: _Numbers | None
    first: Form | None


def _today(asked: Asked) -> Answer:
    return _page(asked, kept_day(asked))


def _new_day(asked: Asked) -> Answer:
    """Keep what was typed, even where it cannot be used; then show what it gives."""
    answers = answers_to(_QUESTIONS, asked)
    asked.desk.shelf.keep_draft("day", kept_day_of(asked) | answers)
    page = _page(asked, kept_day(asked))
    return page if asked.part or page.status != 200 else Go("/today")


def kept_day_of(asked: Asked) -> dict[str, str]:
    """What is kept of the day and is not asked here."""
    here = {q.name for q in _QUESTIONS}
    return {name: text for name, text in kept_day(asked).items() if name not in here}


def _page(asked: Asked, answers: dict[str, str]) -> Shown:
    problem, status, numbers, first = None, 200, None, None
    try:
        numbers = _numbers(asked, answers)
    except RefusedError as error:
        problem, status = error, 400
    except BadInputError as error:
        problem, status = RefusedError(str(error)), 400
    except NoSolutionError:
        first = shot_fields(asked)
    view = _Today(
        fields=fields(_QUESTIONS, answers, asked.units, problem),
        problem=str(problem) if problem is not None and not problem.field else "",
        more=any(q.name in answers for q in AIR[3:]),
        numbers=numbers,
        first=first,
    )
    return Shown("today.html", view, status, part="today-part.html")


def _numbers(asked: Asked, answers: dict[str, str]) -> _Numbers:
    weather, ball, wind = weather_in(answers), lie_in(answers), _speed(answers)
    units, day = units_named(asked.units), Day(weather.air, lie=ball.lie, moisture=ball.moisture)
    shots = asked.desk.summaries(day)
    key = ("numbers", day, wind, asked.desk.stamp())
    given, blown = asked.desk.remembered(
        key, lambda: (numbers_of(shots, day), in_the_wind(shots, day, wind) if wind else {})
    )
    return _Numbers(
        air=air_words(weather.air),
        density=_density(weather),
        lie=f"{ball.lie}, {ball.moisture}",
        wind=answers.get("wind", "") if wind else "",
        rows=number_rows(given, blown, units),
        ladder=ladder_picture(given, units),
        moved=moved_picture(moved_numbers(given), units),
    )


def _speed(answers: dict[str, str]) -> float:
    return wind_in({"wind": answers["wind"]}).wind or 0.0 if "wind" in answers else 0.0


def _density(weather: Weather) -> str:
    thicker = 100.0 * (air_report(weather.air).ratio - 1.0)
    if abs(thicker) < 0.05:
        return "as thick as on the reference day"
    than = "thicker" if thicker > 0.0 else "thinner"
    return f"{abs(thicker):.1f} % {than} than on the reference day"


ROUTES = (look("/today", planning(_today)), change("/today", planning(_new_day)))
