"""The choice of a shot, its picture and its card."""

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from carrybook.app.files import save_figure, write_file
from carrybook.app.forms.choice import SituationForm
from carrybook.app.forms.weather import WindForm
from carrybook.app.services.ground import location_on, number_to, open_ground
from carrybook.app.services.learn import day_summaries
from carrybook.app.services.numbers import numbers_on
from carrybook.app.services.weather import Weather
from carrybook.base.errors import BadInputError
from carrybook.world.wind import Wind

if TYPE_CHECKING:
    from carrybook.decision.advice import Advice, Situation
    from carrybook.player.summary import ShotSummary
    from carrybook.world.hole import Hole

__all__ = [
    "Haste",
    "advise",
    "decide",
    "draw_advice",
    "hole_of",
    "print_card",
    "situation_of",
    "wind_on_line",
]

Haste = Literal["rough", "settled", "full"]


def advise(
    book: Path | None,
    asked: SituationForm,
    weather: Weather,
    wind: WindForm,
    *,
    seed: int = 1,
    progress: Callable[[str, float], None] | None = None,
) -> "Advice":
    """Choose a shot: what to play, where to land it, where to start it.

    Parameters
    ----------
    book : Path, optional
        The book.
    asked : SituationForm
        Map, hole, hole location, number, lie and green.
    weather : Weather
        The day.
    wind : WindForm
        Relative to the line from ball to hole. Where none was typed, it is that of the report or
        forecast, over the surroundings that were typed.
    seed : int, default 1
        The same seed gives the same answer.
    progress : callable, optional
        Told what is being done and which share of it is done.

    Raises
    ------
    BadInputError
        A file that cannot be read, a hole or hole location that is not there, a number outside its
        range, a lie that is not modelled, a reported wind that has no direction, a model of ball
        that the log does not know well enough.
    NoSolutionError
        No owned shot can be played from there.
    """
    from carrybook.player.day import Day

    summaries = day_summaries(
        book,
        Day(weather.air, lie=asked.lie, moisture=asked.moisture, competition=asked.competition),
        ball_model=asked.ball_model,
        left_handed=asked.left_handed,
    )
    situation = situation_of(hole_of(asked), asked, weather, wind)
    return decide(situation, summaries, seed=seed, at_most=asked.at_most, progress=progress)


def hole_of(asked: SituationForm) -> "Hole":
    """Read the hole that was asked for. Errors are those of `advise`."""
    return open_ground(asked)


def situation_of(
    hole: "Hole", asked: SituationForm, weather: Weather, wind: WindForm
) -> "Situation":
    """Put together what was asked on a hole that is read already. Errors are those of `advise`."""
    from carrybook.decision.advice import Situation
    from carrybook.world.locate import ball_behind

    location = location_on(hole, asked.hole_location)
    number = number_to(hole, location, asked.number)
    x, y = ball_behind(hole, location, number, off_line_rad=asked.off_line)
    firmness_g, firmness_sd_g = asked.green_today()
    return Situation(
        hole=hole,
        location=location,
        ball_x=x,
        ball_y=y,
        lie=asked.lie,
        moisture=asked.moisture,
        air=weather.air,
        wind=wind_on_line(weather, wind, hole.bearing_rad, asked.off_line),
        firmness_g=firmness_g,
        firmness_sd_g=firmness_sd_g,
        stimp_m=asked.green_speed,
        kind=asked.kind,
    )


def decide(
    situation: "Situation",
    summaries: "Sequence[ShotSummary]",
    *,
    seed: int = 1,
    at_most: int | None = None,
    progress: Callable[[str, float], None] | None = None,
    haste: Haste = "full",
) -> "Advice":
    """Choose on what is read already: rough while a hand moves, settled for an eye that waits.

    Raises
    ------
    BadInputError
        A lie that is not modelled.
    NoSolutionError
        No owned shot can be played from there.
    """
    from carrybook.decision import choose as room

    effort = {"rough": room.ROUGH, "settled": room.SETTLED, "full": room.FULL}[haste]
    return room.choose(
        situation, summaries, seed=seed, at_most=at_most, facts=haste == "full", effort=effort,
        progress=progress,
    )  # fmt: skip


def wind_on_line(
    weather: Weather, typed: WindForm, bearing_rad: float | None, off_line_rad: float
) -> Wind:
    """Give the wind along a line: as typed, else as reported or forecast, else calm.

    Raises
    ------
    BadInputError
        A reported wind without a direction, or nobody said which way the hole plays.
    """
    if typed.wind is not None or weather.told is None:
        return typed.value()
    if bearing_rad is None:
        raise BadInputError(
            "which way does the hole play? add 'plays north-east' to the description of the green,"
            " or --wind 12mph --wind-from 90deg"
        )
    try:
        return weather.told.wind(bearing_rad - off_line_rad, typed.surroundings)
    except BadInputError as error:
        raise BadInputError(f"{error}; add it like --wind 12mph --wind-from 90deg") from None


def draw_advice(path: Path, advice: "Advice", units: str) -> None:
    """Draw an answer into a file.

    Raises
    ------
    BadInputError
        The file cannot be written.
    """
    from carrybook.artefacts.figures import plan_and_side

    save_figure(path, plan_and_side(advice, units=units))


def print_card(
    path: Path,
    book: Path | None,
    advice: "Advice",
    units: str,
    *,
    ball_model: str | None = None,
    left_handed: bool = False,
) -> None:
    """Print a pocket card with today's numbers, of the ball that was asked for, and one plan.

    Raises
    ------
    BadInputError
        The file cannot be written.
    """
    from carrybook.artefacts.card import CardContent, pocket_card
    from carrybook.player.day import Day

    s = advice.situation
    numbers = numbers_on(book, Day(s.air), ball_model=ball_model, left_handed=left_handed)
    content = CardContent(s.hole.venue, s.air, numbers, advices=(advice,))
    write_file(path, pocket_card(content, units=units))
