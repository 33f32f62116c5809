"""Options that belong together: declared once, and given to a command as one parameter."""

import inspect
from collections.abc import Callable
from dataclasses import asdict, dataclass, is_dataclass
from functools import wraps
from inspect import Parameter
from typing import TYPE_CHECKING

from carrybook.app import options
from carrybook.app.forms.weather import AirForm, WindForm

if TYPE_CHECKING:
    from carrybook.app.services.weather import Weather

__all__ = ["AirParts", "AirSaid", "DaySaid", "MeanWind", "Said", "WindSaid", "grouped"]


@dataclass(frozen=True)
class Said:
    """Some options of a command, as they were typed."""

    def typed(self) -> dict[str, object]:
        """Give them by name; None where one was not typed."""
        return asdict(self)


@dataclass(frozen=True)
class _Air(Said):
    """The air, in some of the ways to say it."""

    def weather(self) -> "Weather":
        """Read it, from its file where it is forecast."""
        from carrybook.app.services.weather import weather_of

        return weather_of(AirForm.of(**self.typed()))


@dataclass(frozen=True)
class AirSaid(_Air):
    """The air: in one go, reduced to sea level, reported or forecast."""

    air: options.Air = None
    dew_point: options.DewPoint = None
    sea_level_pressure: options.SeaLevelPressure = None
    elevation: options.Elevation = None
    metar: options.Metar = None
    forecast: options.Forecast = None
    at: options.At = None


@dataclass(frozen=True)
class AirParts(_Air):
    """The air, part by part or in one go, as one moment has it."""

    temp: options.Temp = None
    pressure: options.Pressure = None
    humidity: options.Humidity = None
    air: options.Air = None
    dew_point: options.DewPoint = None
    sea_level_pressure: options.SeaLevelPressure = None
    elevation: options.Elevation = None
    metar: options.Metar = None


@dataclass(frozen=True)
class MeanWind(Said):
    """The wind along the line, and what slows it."""

    wind: options.WindSpeed = None
    wind_from: options.WindFrom = None
    surroundings: options.Surroundings = None

    def form(self) -> WindForm:
        """Check it."""
        return WindForm.of(**self.typed())


@dataclass(frozen=True)
class WindSaid(MeanWind):
    """The same with its gusts."""

    gust: options.Gust = None


@dataclass(frozen=True)
class DaySaid(Said):
    """A course as it will be on a day, and who plays it with which ball."""

    map: options.Map
    heights: options.Heights = None
    lie: options.LieAhead = None
    moisture: options.Moisture = None
    firmness: options.Firmness = None
    kind: options.GreenKind = None
    green_speed: options.GreenSpeed = None
    ball_model: options.BallModel = None
    left_handed: options.LeftHanded = False


def grouped(command: Callable[..., None]) -> Callable[..., None]:
    """Let a command take groups of options: each parameter that is a :class:`Said` is its options.

    Parameters
    ----------
    command : callable
        Its parameters after the context are given by name.

    Returns
    -------
    flat : callable
        The same command with every option as a parameter of its own, as typer reads them.
    """
    signature = inspect.signature(command, eval_str=True)
    groups = {
        name: p.annotation for name, p in signature.parameters.items() if _is_group(p.annotation)
    }
    members = {name: tuple(inspect.signature(kind).parameters) for name, kind in groups.items()}

    @wraps(command)
    def flat(**said: object) -> None:
        for name, kind in groups.items():
            said[name] = kind(**{member: said.pop(member) for member in members[name]})
        command(**said)

    flat.__signature__ = signature.replace(  # type: ignore[attr-defined]  # what typer reads
        parameters=[
            each.replace(kind=Parameter.KEYWORD_ONLY)
            for name, p in signature.parameters.items()
            for each in (
                inspect.signature(groups[name], eval_str=True).parameters.values()
                if name in groups
                else (p,)
            )
        ]
    )
    return flat


def _is_group(annotation: object) -> bool:
    return (
        is_dataclass(annotation) and isinstance(annotation, type) and issubclass(annotation, Said)
    )
