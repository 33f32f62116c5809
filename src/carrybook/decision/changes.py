"""What changed at a venue since the day before, as far as it is worth saying."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from math import pi, radians

from carrybook.base.constants import FOOT, MILE_PER_HOUR, YARD
from carrybook.decision.half_days import Half, HalfDay
from carrybook.decision.noted import GreenBelief
from carrybook.decision.prepare import PreparedDay
from carrybook.decision.prepared import Zone
from carrybook.world.forecast import Hour

__all__ = [
    "Changes",
    "FirmnessMoved",
    "HoleMoved",
    "NumberMoved",
    "ShotMoved",
    "StimpMoved",
    "WindMoved",
    "changes",
]

# Ours: two to three yards matter with a wedge (common practice, no source); half of that is said.
WORTH_M = 1.0 * YARD
_WORTH_G = 5.0  # of firmness: a quarter of a class
_WORTH_STIMP_M = 0.499 * FOOT  # so that half a foot, as typed, counts
_WORTH_WIND_MPS, _WORTH_TURN_RAD = 3.0 * MILE_PER_HOUR, radians(45.0)


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
