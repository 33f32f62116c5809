"""The hours in which a round is played, by half-day, and what every shot carries in them."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, time, timedelta
from enum import StrEnum
from math import pi

from carrybook.base.errors import BadInputError
from carrybook.player.day import Day
from carrybook.player.numbers import TodayNumber, carries_today, numbers_today
from carrybook.player.summary import ShotSummary
from carrybook.world.air import Air
from carrybook.world.forecast import Hour
from carrybook.world.wind import Wind

__all__ = [
    "UNTIMED",
    "Half",
    "HalfDay",
    "HalfNumber",
    "forecast_doubt",
    "half_days",
    "half_numbers",
    "played_at",
]

ROUND = timedelta(hours=4, minutes=30)  # common practice, no source: a round of 18 holes
_AROUND = timedelta(minutes=45)  # ours: an hour of the forecast counts this long before and after
UNTIMED = (time(7), time(18))  # ours: hours looked at where no tee time is known
_NOON = time(12)
# How far a forecast of temperature is off, one standard deviation: on its day, and more for each
# day ahead [K]. Memory: one to two degrees a day ahead, about three after a week. Ours.
_DOUBT_K, _DOUBT_K_PER_DAY = 1.2, 0.25
_MOST_DOUBT_K = 4.0
_COLDEST_K, _HOTTEST_K = 248.15, 323.15  # what Air allows

Summaries = Callable[[Day], Sequence[ShotSummary]]


class Half(StrEnum):
    """Halves of a day; noon parts them."""

    MORNING = "morning"
    AFTERNOON = "afternoon"


@dataclass(frozen=True, slots=True)
class HalfNumber:
    """What one shot carries in a half-day.

    Parameters
    ----------
    number : TodayNumber
        In the air of its middle hour, calm.
    low_m, high_m : float
        In the coldest and the warmest of its hours, the forecast off by its usual error; the
        smaller first. [m]
    into_m, helping_m : float
        Into the wind of the middle hour, and with it. [m]
    """

    number: TodayNumber
    low_m: float
    high_m: float
    into_m: float
    helping_m: float


@dataclass(frozen=True, slots=True)
class HalfDay:
    """One half of a day, as far as it is played.

    Parameters
    ----------
    half : Half
        Which.
    hours : tuple of Hour
        Those of the forecast in which it is played.
    middle : Hour
        The one whose air and wind stand for all.
    numbers : tuple of HalfNumber
        Of every shot, the longest first; empty until they are worked out.
    """

    half: Half
    hours: tuple[Hour, ...]
    middle: Hour
    numbers: tuple[HalfNumber, ...] = ()


def half_days(hours: Sequence[Hour], tee_off: time | None, day: date) -> tuple[HalfDay, ...]:
    """Part the hours that are played at noon.

    Parameters
    ----------
    hours : sequence of Hour
        The forecast of the day, in order of time.
    tee_off : datetime.time, optional
        First tee shot; none: 7 to 18 o'clock count, or all hours where none is within.
    day : datetime.date
        For messages.

    Raises
    ------
    BadInputError
        The forecast does not reach the tee time; the message says what it covers.
    """
    played = [hour for hour in hours if _is_played(hour, tee_off)]
    if tee_off is not None:
        _require_covered(hours, tee_off, day)
        played = played or [min(hours, key=lambda hour: abs(_since(hour.at, tee_off)))]
    played = played or list(hours)
    halves = []
    for half in Half:
        within = tuple(h for h in played if (_local(h.at) < _NOON) == (half is Half.MORNING))
        if within:
            halves.append(HalfDay(half, within, within[len(within) // 2]))
    return tuple(halves)


def played_at(halves: Sequence[HalfDay], tee_off: time | None, place: float) -> Hour:
    """Give the hour of the forecast in which a hole is played.

    Parameters
    ----------
    halves : sequence of HalfDay
        Of the day.
    tee_off : datetime.time, optional
        First tee shot; none: the middle of the day's hours.
    place : float
        Which hole of the round it is, 0 to 1: its middle over all. [1]
    """
    hours = [hour for half in halves for hour in half.hours]
    if tee_off is None:
        return hours[len(hours) // 2]
    wanted = place * ROUND
    return min(hours, key=lambda hour: abs(_since(hour.at, tee_off) - wanted))


def forecast_doubt(day: date, read_on: date | None) -> float:
    """How far the forecast temperature of a day is off, one standard deviation. [K]

    Parameters
    ----------
    day : datetime.date
        The day.
    read_on : datetime.date, optional
        When the forecast was read; none counts as that day.
    """
    ahead = 0 if read_on is None else max(0, (day - read_on).days)
    return min(_DOUBT_K + _DOUBT_K_PER_DAY * ahead, _MOST_DOUBT_K)


def half_numbers(
    half: HalfDay, summaries_on: Summaries, doubt_k: float, roughness_m: float
) -> HalfDay:
    """Work out what every shot carries in a half-day.

    Parameters
    ----------
    half : HalfDay
        The half-day.
    summaries_on : callable
        Gives the shots as they are on a day, always in the same order.
    doubt_k : float
        How far the forecast temperature is off. [K]
    roughness_m : float
        Of the surroundings. [m]

    Raises
    ------
    NoSolutionError
        A carry that no flight gives.
    """
    air, speed = half.middle.air, half.middle.wind_speed_mps
    middle = summaries_on(Day(air))
    numbers = numbers_today(middle, air)
    ends = [carries_today(summaries_on(Day(end)), end) for end in _ends(half, doubt_k)]
    into, helping = (
        carries_today(middle, air, wind=Wind(speed, angle, roughness_m)) for angle in (0.0, pi)
    )
    rows = [
        HalfNumber(n, min(*around, n.today_m), max(*around, n.today_m), slow, fast)
        for n, around, slow, fast in zip(
            numbers, zip(*ends, strict=True), into, helping, strict=True
        )
    ]
    ordered = sorted(rows, key=lambda row: row.number.today_m, reverse=True)
    return replace(half, numbers=tuple(ordered))


def _ends(half: HalfDay, doubt_k: float) -> tuple[Air, Air]:
    """The coldest and the warmest air that may come."""
    by_warmth = sorted((hour.air for hour in half.hours), key=lambda air: air.temperature_k)
    cold, warm = by_warmth[0], by_warmth[-1]
    return (
        replace(cold, temperature_k=max(cold.temperature_k - doubt_k, _COLDEST_K)),
        replace(warm, temperature_k=min(warm.temperature_k + doubt_k, _HOTTEST_K)),
    )


def _is_played(hour: Hour, tee_off: time | None) -> bool:
    if tee_off is None:
        return UNTIMED[0] <= _local(hour.at) <= UNTIMED[1]
    return -_AROUND < _since(hour.at, tee_off) < ROUND + _AROUND


def _require_covered(hours: Sequence[Hour], tee_off: time, day: date) -> None:
    first, last = (_local(hours[k].at) for k in (0, -1))
    if not (_since(first, tee_off) <= _AROUND and _since(last, tee_off) >= -_AROUND):
        raise BadInputError(
            f"tee time = {tee_off:%H:%M} on {day} is outside the forecast of that day, which has"
            f" {first:%H:%M} to {last:%H:%M}"
        )


def _local(at: time) -> time:
    return at.replace(tzinfo=None)


def _since(at: time, tee_off: time) -> timedelta:
    """How long after the tee time."""
    someday = date(2000, 1, 1)
    return datetime.combine(someday, _local(at)) - datetime.combine(someday, tee_off)
