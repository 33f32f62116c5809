"""A week at a venue, day by day: what each day is like, and what changed since the day before."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, time
from math import pi, radians

from carrybook.base.constants import CELSIUS_ZERO, FOOT, MILE_PER_HOUR, YARD
from carrybook.decision.half_days import Half, HalfDay
from carrybook.decision.noted import GreenBelief
from carrybook.decision.plan import LeftOut, PlanCell
from carrybook.decision.prepared import LayUp, Zone
from carrybook.world.exposure import Exposure, exposure_of
from carrybook.world.forecast import Hour

__all__ = [
    "Changes",
    "FirmnessMoved",
    "HoleDay",
    "HoleMoved",
    "NumberMoved",
    "PreparedDay",
    "ShotMoved",
    "StimpMoved",
    "WindMoved",
    "changes",
    "for_planning",
    "order_of_play",
]

# Ours: two to three yards matter with a wedge (common practice, no source); half of that is said.
WORTH_M = 1.0 * YARD
_WORTH_G = 5.0  # of firmness: a quarter of a class
_WORTH_STIMP_M = 0.499 * FOOT  # so that half a foot, as typed, counts
_WORTH_WIND_MPS, _WORTH_TURN_RAD = 3.0 * MILE_PER_HOUR, radians(45.0)
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


@dataclass(frozen=True, slots=True)
class NumberMoved:
    """A carry that is another than the day before.

    Parameters
    ----------
    half, half_before : Half
        Of this day, and of the day before.
    shot : str
        Label of the shot.
    before_m, now_m : float
        Carry, calm. [m]
    """

    half: Half
    half_before: Half
    shot: str
    before_m: float
    now_m: float


@dataclass(frozen=True, slots=True)
class WindMoved:
    """A wind that is another than the day before: the middle hours of the two half-days."""

    half: Half
    half_before: Half
    before: Hour
    now: Hour


@dataclass(frozen=True, slots=True)
class FirmnessMoved:
    """A green, or the course where `hole` is empty, that is firmer or softer. [Clegg gravities]"""

    hole: str
    before_g: float
    now_g: float


@dataclass(frozen=True, slots=True)
class StimpMoved:
    """A green speed that was noted as another; the course where `hole` is empty. [m]"""

    hole: str
    before_m: float
    now_m: float


@dataclass(frozen=True, slots=True)
class HoleMoved:
    """A hole that is cut elsewhere; words as on the sheet, empty where nobody knows."""

    hole: str
    before: str
    now: str


@dataclass(frozen=True, slots=True)
class ShotMoved:
    """Another shot for the same distance to the same place.

    Parameters
    ----------
    hole, zone : str, Zone
        Which green, and where the hole is cut.
    number_m : float
        Ball to hole. [m]
    before, now : str
        Labels of the shots.
    """

    hole: str
    zone: Zone
    number_m: float
    before: str
    now: str


@dataclass(frozen=True, slots=True)
class Changes:
    """What is worth saying of a day against the day before.

    Parameters
    ----------
    since : datetime.date
        The day before.
    numbers, winds, firmness, stimps, holes, shots : tuple
        What moved; empty where nothing did by more than is worth saying.
    """

    since: date
    numbers: tuple[NumberMoved, ...]
    winds: tuple[WindMoved, ...]
    firmness: tuple[FirmnessMoved, ...]
    stimps: tuple[StimpMoved, ...]
    holes: tuple[HoleMoved, ...]
    shots: tuple[ShotMoved, ...]


def changes(before: PreparedDay, now: PreparedDay) -> Changes:
    """Compare a day with one before it.

    Parameters
    ----------
    before, now : PreparedDay
        Half-days are compared with the same half, or with the other where only that was played.

    Notes
    -----
    Worth saying, ours: a carry that moved by a yard, firmness by 5 g, green speed by half a foot,
    wind by 3 mph, or by 45 degrees where it blows that much.
    """
    return Changes(
        since=before.day,
        numbers=tuple(_numbers(before, now)),
        winds=tuple(_winds(before, now)),
        firmness=tuple(_firmness(before, now)),
        stimps=tuple(_stimps(before, now)),
        holes=tuple(_holes(before, now)),
        shots=tuple(_shots(before, now)),
    )


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


def _halves(before: PreparedDay, now: PreparedDay) -> Iterator[tuple[HalfDay, HalfDay]]:
    """Half-days to compare: earlier, later."""
    there = {half.half: half for half in before.halves}
    for half in now.halves:
        if there:
            yield there.get(half.half, next(iter(there.values()))), half


def _numbers(before: PreparedDay, now: PreparedDay) -> Iterator[NumberMoved]:
    for old, new in _halves(before, now):
        carried = {row.number.summary.shot.label: row.number.today_m for row in old.numbers}
        for row in new.numbers:
            label, carry = row.number.summary.shot.label, row.number.today_m
            if label in carried and abs(carry - carried[label]) >= WORTH_M:
                yield NumberMoved(new.half, old.half, label, carried[label], carry)


def _winds(before: PreparedDay, now: PreparedDay) -> Iterator[WindMoved]:
    for old, new in _halves(before, now):
        a, b = old.middle, new.middle
        if abs(a.wind_speed_mps - b.wind_speed_mps) >= _WORTH_WIND_MPS or _turned(a, b):
            yield WindMoved(new.half, old.half, a, b)


def _turned(a: Hour, b: Hour) -> bool:
    """Whether a wind that is felt comes from elsewhere."""
    if min(a.wind_speed_mps, b.wind_speed_mps) < _WORTH_WIND_MPS:
        return False
    if a.wind_from_true_rad is None or b.wind_from_true_rad is None:
        return a.wind_from_true_rad is not b.wind_from_true_rad
    apart = (a.wind_from_true_rad - b.wind_from_true_rad + pi) % (2.0 * pi) - pi
    return abs(apart) >= _WORTH_TURN_RAD


def _greens(before: PreparedDay, now: PreparedDay) -> Iterator[tuple[GreenBelief, GreenBelief]]:
    """Greens of both days, the course first."""
    yield before.course, now.course
    old = {hole.hole: hole.green for hole in before.holes}
    yield from ((old[h.hole], h.green) for h in now.holes if h.hole in old)


def _firmness(before: PreparedDay, now: PreparedDay) -> Iterator[FirmnessMoved]:
    """The course, and greens that did not just move with it."""
    told = 0.0
    for a, b in _greens(before, now):
        moved = b.firmness_g - a.firmness_g
        if abs(moved) >= _WORTH_G and (not a.hole or abs(moved - told) >= _WORTH_G):
            yield FirmnessMoved(a.hole, a.firmness_g, b.firmness_g)
            told = told if a.hole else moved


def _stimps(before: PreparedDay, now: PreparedDay) -> Iterator[StimpMoved]:
    told = None
    for a, b in _greens(before, now):
        if a.stimp_m is None or b.stimp_m is None:
            continue
        if abs(b.stimp_m - a.stimp_m) >= _WORTH_STIMP_M and (a.stimp_m, b.stimp_m) != told:
            yield StimpMoved(a.hole, a.stimp_m, b.stimp_m)
            told = told if a.hole else (a.stimp_m, b.stimp_m)


def _holes(before: PreparedDay, now: PreparedDay) -> Iterator[HoleMoved]:
    old = {hole.hole: hole.location for hole in before.holes}
    for hole in now.holes:
        was = old.get(hole.hole, "")
        if hole.location and hole.location != was:
            yield HoleMoved(hole.hole, was, hole.location)


def _shots(before: PreparedDay, now: PreparedDay) -> Iterator[ShotMoved]:
    old = {(c.hole, c.zone, c.number_m): c for c in before.cells}
    for cell in now.cells:
        was = old.get((cell.hole, cell.zone, cell.number_m))
        if was is not None and was.shot != cell.shot and cell.shot != was.other:
            yield ShotMoved(cell.hole, cell.zone, cell.number_m, was.shot, cell.shot)
