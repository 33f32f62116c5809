"""What several rooms ask: the day, the lie, a shot; and the bits of a page they share."""

from dataclasses import dataclass

from carrybook.app.forms.base import LieForm
from carrybook.app.forms.weather import AirForm, WindForm
from carrybook.app.services.weather import Weather, weather_of
from carrybook.app.web.asked import Asked
from carrybook.app.web.questions import Field, Question, RefusedError, checked, fields, typed_in
from carrybook.player.bag import Flight, Shape
from carrybook.world.lie import Lie, Moisture
from carrybook.world.wind import EXPOSURE

__all__ = [
    "AIR",
    "LENGTH",
    "LIE",
    "SHOT",
    "WIND",
    "Form",
    "answers_to",
    "kept_day",
    "lie_in",
    "shot_fields",
    "weather_in",
    "whole_problem",
    "wind_in",
]

LENGTH = ("yd", "m")
_WIND_UNIT = ("mph", "mps")

AIR = (
    Question("temp", "Temperature", ("C", "C"), "12", "or 54F", about=("air temperature",)),
    Question("humidity", "Humidity", ("%", "%"), "80", about=("relative humidity",)),
    Question(
        "pressure",
        "Pressure at the course",
        ("hPa", "hPa"),
        "1004",
        "as measured there, not reduced to sea level; or 29.65inHg",
        about=("station pressure",),
    ),
    Question("dew_point", "Dew point", ("C", "C"), "7", "instead of humidity"),
    Question(
        "sea_level_pressure",
        "Pressure at sea level",
        ("hPa", "hPa"),
        "1015",
        "as forecasts give it; needs the height of the course",
        about=("sea-level pressure",),
    ),
    Question("elevation", "Height of the course", ("m", "m"), "120", "above sea level; or 400ft"),
    Question(
        "metar",
        "Report of an airport",
        example="ZZZZ 121030Z 24012KT 9999 12/08 Q1015",
        hint="in place of all the above; needs the height of the course",
        about=("METAR", "weather report"),
    ),
)
WIND = (
    Question("wind", "Wind", _WIND_UNIT, "12", "at 10 m up, as forecasts give it"),
    Question(
        "wind_from",
        "Wind from",
        ("deg", "deg"),
        "90",
        "seen from the ball: 0 into, 90 from the right, 180 helping",
        about=("wind direction",),
    ),
    Question("gust", "Gusts", _WIND_UNIT, "18"),
    Question("surroundings", "Surroundings", choices=tuple(EXPOSURE), value="open links"),
)
LIE = (
    Question("lie", "Lie", choices=tuple(Lie), value=Lie.FAIRWAY),
    Question("moisture", "Face and ball", choices=tuple(Moisture), value=Moisture.DRY),
)
SHOT = (
    Question("club", "Club", example="54", hint="what you call it", about=("loft of club",)),
    Question("loft", "Loft", ("deg", "deg"), "54"),
    Question("carry", "Stock carry", LENGTH, "82", "on an ordinary day", about=("stock carry of",)),
    Question("flight", "Flight", choices=tuple(Flight), value=Flight.STOCK),
    Question("shape", "Shape", choices=tuple(Shape), value=Shape.STRAIGHT),
    Question(
        "partials",
        "Partials",
        example="55yd..82yd",
        hint="the range of carries you would use it for; empty: 90 % of stock up to all of it",
        about=("shortest partial", "longest partial", "partials of"),
    ),
    Question("cue", "Cue", example="chest keeps turning", hint="your own words, shown back to you"),
    Question("trusted", "In competition", choices=("trusted", "not yet"), value="trusted"),
)


@dataclass(frozen=True, slots=True)
class Form:
    """Fields of a form, and what is wrong with it as a whole; empty where nothing is."""

    fields: dict[str, Field]
    problem: str = ""


def answers_to(questions: tuple[Question, ...], asked: Asked) -> dict[str, str]:
    """What was typed into a form."""
    return typed_in(questions, asked.typed, asked.units)


def kept_day(asked: Asked) -> dict[str, str]:
    """What was last said about the air and the wind."""
    return asked.desk.shelf.draft("day")


def _some(questions: tuple[Question, ...], answers: dict[str, str]) -> dict[str, str]:
    return {q.name: answers[q.name] for q in questions if q.name in answers}


def weather_in(answers: dict[str, str]) -> Weather:
    """The weather of an answered form. Raises RefusedError."""
    return weather_of(checked(AirForm, _some(AIR, answers), AIR))


def wind_in(answers: dict[str, str]) -> WindForm:
    """The wind of an answered form. Raises RefusedError."""
    return checked(WindForm, _some(WIND, answers), WIND)


def lie_in(answers: dict[str, str]) -> LieForm:
    """The lie of an answered form. Raises RefusedError."""
    return checked(LieForm, _some(LIE, answers), LIE)


def shot_fields(asked: Asked, problem: RefusedError | None = None) -> Form:
    """The form of a shot, with what was typed before."""
    typed = asked.desk.shelf.draft("newshot")
    whole = str(problem) if problem is not None and not problem.field else ""
    return Form(fields(SHOT, typed, asked.units, problem), whole)


def whole_problem(problem: RefusedError | None, questions: tuple[Question, ...]) -> str:
    """What is wrong with a form as a whole: what no question of it is about; else empty."""
    beside = problem is not None and problem.field in {q.name for q in questions}
    return "" if problem is None or beside else str(problem)
