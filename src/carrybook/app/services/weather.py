"""Air, and one ball in it."""

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from carrybook.app.files import save_figure
from carrybook.app.forms.weather import AirForm
from carrybook.app.services.rounds import require_planning
from carrybook.world.air import REFERENCE_DAY, Air
from carrybook.world.wind import Wind

if TYPE_CHECKING:
    from carrybook.physics.ball_model import BallModel
    from carrybook.physics.band import FlownBand
    from carrybook.physics.flight import Launch
    from carrybook.world.forecast import Hour
    from carrybook.world.weather import WeatherReport

__all__ = [
    "AirReport",
    "Weather",
    "air_report",
    "draw_flight",
    "fly_ball",
    "weather_of",
]


@dataclass(frozen=True, slots=True)
class AirReport:
    """Air: density [kg/m3], viscosity [Pa s], density over that of the reference day, its error."""

    air: Air
    density: float
    viscosity: float
    ratio: float
    density_error: float


@dataclass(frozen=True, slots=True)
class Weather:
    """The air of an answer, and the report or forecast that told it; none where it was typed."""

    air: Air
    told: "WeatherReport | Hour | None" = None


def weather_of(form: AirForm) -> Weather:
    """Give the air that was typed or reported, or that a file forecasts.

    Raises
    ------
    BadInputError
        Parts that cannot be together, a report that lacks one, a file that cannot be read, or an
        hour that is not in it.
    """
    if form.forecast is None or form.at is None:  # never one without the other
        return Weather(form.value(), form.metar)
    from carrybook.world.forecast import hour_at, read_forecast

    hour = hour_at(read_forecast(form.forecast, elevation_m=form.elevation), form.at)
    return Weather(hour.air, hour)


def air_report(air: Air, book: Path | None = None) -> AirReport:
    """Say how dense the air is.

    Parameters
    ----------
    air : Air
        The air.
    book : Path, optional
        The book, which knows whether a round is on.

    Raises
    ------
    NoSolutionError
        A round is on.
    """
    from carrybook.physics.air import air_density, air_viscosity, density_error

    require_planning(book)
    density = air_density(air)
    ratio = density / air_density(REFERENCE_DAY)
    return AirReport(air, density, air_viscosity(air), ratio, density_error(air))


def fly_ball(
    launch: "Launch",
    air: Air,
    wind: Wind,
    *,
    height_change_m: float = 0.0,
    ball: "BallModel | None" = None,
    book: Path | None = None,
) -> "FlownBand":
    """Fly one ball with the middle set of coefficients, and with the others for the band.

    Parameters are those of :func:`carrybook.physics.band.fly_band`, and the book.

    Raises
    ------
    OutOfRangeError
        A height change that is not modelled.
    NoSolutionError
        The ball never comes down on ground of that height, or a round is on.
    """
    from carrybook.physics.ball_model import STANDARD_BALL
    from carrybook.physics.band import fly_band

    require_planning(book)
    return fly_band(launch, air, wind, height_change_m=height_change_m, ball=ball or STANDARD_BALL)


def draw_flight(path: Path, flown: "FlownBand", units: str) -> None:
    """Draw a flown ball with every set of coefficients into a file.

    Raises
    ------
    BadInputError
        The file cannot be written.
    """
    from carrybook.artefacts.flown import flight_side_and_plan

    save_figure(path, flight_side_and_plan(flown, units=units))
