"""A week at a venue, day by day: what each day is like, and for what it is planned."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, time
from math import pi, radians

from carrybook.base.constants import CELSIUS_ZERO
from carrybook.decision.half_days import HalfDay
from carrybook.decision.noted import GreenBelief
from carrybook.decision.plan import LeftOut, PlanCell
from carrybook.decision.prepared import LayUp, Zone
from carrybook.world.exposure import Exposure, exposure_of
from carrybook.world.forecast import Hour

__all__ = ["HoleDay", "PreparedDay", "for_planning", "order_of_play"]

_HOLES = 18

# Ours: what plans are rounded to, finer than a forecast knows it, so that days which are alike
# share their plans: 1 K off is 0.2 yd at 90 yd.
_STEP_K, _STEP_PA, _STEP_HUMIDITY = 2.0, 500.0, 0.2
_STEP_MPS, _STEP_RAD = 1.0, radians(15.0)


@dataclass(frozen=True, slots=True)
class HoleDay:
    """One hole on one day.

    Parameters
    ----------
    hole : str
        Number of the hole.
    hour : Hour
        Of the forecast, in which it is played.
    green : GreenBelief
        What is believed of its green.
    location : str
        Where the hole is cut, in paces as on the sheet; empty: not known yet.
    zone : Zone, optional
        Ninth of the green that is.
    """

    hole: str
    hour: Hour
    green: GreenBelief
    location: str = ""
    zone: Zone | None = None


@dataclass(frozen=True, slots=True)
class PreparedDay:
    """What is prepared for one day.

    Parameters
    ----------
    day : datetime.date
        The day.
    tee_off : datetime.time, optional
        First tee shot; none: not known.
    doubt_k : float
        How far its forecast temperature is off, one standard deviation. [K]
    halves : tuple of HalfDay
        As far as they are played; empty: there is no forecast yet.
    course : GreenBelief
        Of its greens as a whole.
    holes : tuple of HoleDay
        Empty where there is no forecast.
    cells : tuple of PlanCell
        What to play, by hole, zone and distance.
    lay_ups : tuple of LayUp
        What to leave.
    left_out : tuple of LeftOut
        What is not planned, with the reason.
    """

    day: date
    tee_off: time | None
    doubt_k: float
    halves: tuple[HalfDay, ...]
    course: GreenBelief
    holes: tuple[HoleDay, ...] = ()
    cells: tuple[PlanCell, ...] = ()
    lay_ups: tuple[LayUp, ...] = ()
    left_out: tuple[LeftOut, ...] = ()

    @property
    def hours(self) -> tuple[Hour, ...]:
        """All hours in which it is played."""
        return tuple(hour for half in self.halves for hour in half.hours)

    @property
    def exposure(self) -> Exposure | None:
        """The worst of its hours; none where there is no forecast."""
        told = [(hour.air, hour.wind_speed_mps) for hour in self.hours]
        return exposure_of(told) if told else None

    @property
    def rain_m(self) -> float | None:
        """What falls in the hours played; none where the forecast says nothing of it. [m]"""
        told = [hour.rain_m for hour in self.hours if hour.rain_m is not None]
        return sum(told) if told else None


def order_of_play(refs: Sequence[str], first_hole: int) -> dict[str, float]:
    """Say where in the round each hole comes, 0 to 1: its middle.

    Parameters
    ----------
    refs : sequence of str
        Numbers of holes; one that is no number from 1 to 18 comes where it stands in the list.
    first_hole : int
        On which the round starts.
    """
    places = {}
    for k, ref in enumerate(refs):
        numbered = ref.isdigit() and 1 <= int(ref) <= _HOLES
        place = (int(ref) - first_hole) % _HOLES / _HOLES if numbered else k / len(refs)
        places[ref] = place + 0.5 / _HOLES
    return places


def for_planning(hour: Hour) -> Hour:
    """Round an hour to what a plan needs; a wind that varies becomes a calm."""
    air = hour.air
    celsius = _step(air.temperature_k - CELSIUS_ZERO, _STEP_K)
    humidity = min(_step(air.humidity, _STEP_HUMIDITY), 1.0)
    rounded = replace(
        air,
        temperature_k=celsius + CELSIUS_ZERO,
        pressure_pa=_step(air.pressure_pa, _STEP_PA),
        humidity=humidity,
    )
    wind = _step(hour.wind_speed_mps, _STEP_MPS)
    if wind == 0.0 or hour.wind_from_true_rad is None:
        return Hour(hour.at, rounded, 0.0)
    turned = _step(hour.wind_from_true_rad, _STEP_RAD) % (2.0 * pi)
    gust = None if hour.gust_mps is None else max(_step(hour.gust_mps, _STEP_MPS), wind)
    return Hour(hour.at, rounded, wind, turned, gust)


def _step(value: float, step: float) -> float:
    return round(value / step) * step
