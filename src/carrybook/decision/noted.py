"""How firm and how fast the greens are, from what was noted at a venue, day by day.

A note counts less as it grows old, and less for another green than the one it was made on.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from carrybook.outcomes.firmness import FirmnessUpdate
from carrybook.world.firmness import UNSEEN
from carrybook.world.venue import VenueNote

__all__ = ["Evidence", "GreenBelief", "belief_on", "evidence_of"]

# Ours [g]: how far greens move from one day to the next, one standard deviation, growing with the
# root of the days; and how far one green lies from the course, and two greens from each other.
_PER_DAY = 4.0
_FROM_COURSE = 5.0
_BETWEEN = 8.0
_LEAST_SD = 3.0  # ours: nobody knows a green better than that [g]


@dataclass(frozen=True, slots=True)
class Evidence:
    """What one note says of firmness.

    Parameters
    ----------
    day : datetime.date
        Of which day.
    hole : str
        Of which green; empty: of the course.
    firmness_g, sd_g : float
        Firmness, and how unsure the note leaves it on that day and green. [Clegg gravities]
    """

    day: date
    hole: str
    firmness_g: float
    sd_g: float


@dataclass(frozen=True, slots=True)
class GreenBelief:
    """What is believed of one green, or of the course, on a day.

    Parameters
    ----------
    hole : str
        Which green; empty: the course.
    firmness_g, sd_g : float
        Firmness and its standard deviation. [Clegg gravities]
    stimp_m : float, optional
        Green speed as it was noted last; none: nobody noted one. [m]
    noted : datetime.date, optional
        Day of the newest note on firmness that counts; none: nobody noted any.
    """

    hole: str
    firmness_g: float
    sd_g: float
    stimp_m: float | None = None
    noted: date | None = None


def evidence_of(note: VenueNote, learnt: FirmnessUpdate | None) -> Evidence | None:
    """What a note says of firmness by itself; none where it says nothing of it.

    Parameters
    ----------
    note : VenueNote
        The note.
    learnt : FirmnessUpdate, optional
        What its balls made of the firmness it states, or of a green of which nobody said anything.

    Notes
    -----
    Where no firmness is stated, what was believed before the balls is taken out again, so that it
    is not counted once for each note: precision 1/s^2 - 1/s0^2.
    """
    if learnt is None:
        if note.firmness_g is None or note.firmness_sd_g is None:
            return None
        return Evidence(note.day, note.hole, note.firmness_g, note.firmness_sd_g)
    after_g, sd_g = learnt.after_g
    if note.firmness_g is not None:
        return Evidence(note.day, note.hole, after_g, sd_g)
    before_g, before_sd_g = UNSEEN
    precision = sd_g**-2 - before_sd_g**-2
    if precision <= 0.0:
        return None
    middle = (after_g * sd_g**-2 - before_g * before_sd_g**-2) / precision
    return Evidence(note.day, note.hole, middle, precision**-0.5)


def belief_on(
    day: date, hole: str, evidence: Iterable[Evidence], notes: Iterable[VenueNote]
) -> GreenBelief:
    """What is believed of a green on a day.

    Parameters
    ----------
    day : datetime.date
        The day; what is noted for later days does not count.
    hole : str
        The green; empty: the course.
    evidence : iterable of Evidence
        What notes say of firmness.
    notes : iterable of VenueNote
        The notes, in the order of their days.

    Notes
    -----
    Precisions add: that of a green of which nobody said anything, and for each note
    1 / (s^2 + days s_day^2 + s_place^2), with s_place nothing on the same green, 5 g between a
    green and the course, 8 g between two greens.
    """
    mean, precision, noted = UNSEEN[0], UNSEEN[1] ** -2, None
    for each in evidence:
        age = (day - each.day).days
        if age < 0:
            continue
        place = _place_sd(each.hole, hole)
        weight = 1.0 / (each.sd_g**2 + age * _PER_DAY**2 + place**2)
        mean = (mean * precision + each.firmness_g * weight) / (precision + weight)
        precision += weight
        noted = each.day if noted is None else max(noted, each.day)
    return GreenBelief(hole, mean, max(precision**-0.5, _LEAST_SD), _stimp(day, hole, notes), noted)


def _place_sd(noted: str, hole: str) -> float:
    if noted == hole:
        return 0.0
    return _FROM_COURSE if not noted or not hole else _BETWEEN


def _stimp(day: date, hole: str, notes: Iterable[VenueNote]) -> float | None:
    """Green speed as noted last, of this green before others of that day."""
    told = [n for n in notes if n.stimp_m is not None and n.day <= day]
    newest = max((n.day for n in told), default=day)
    last = [n for n in told if n.day == newest]
    own = [n for n in last if n.hole == hole] or [n for n in last if not n.hole] or last
    return own[-1].stimp_m if own else None
