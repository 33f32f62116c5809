"""A week at a venue in short lines, for the screen and the card: wind, greens, what changed."""

from collections.abc import Iterator
from datetime import date
from math import degrees
from typing import TYPE_CHECKING

from carrybook.artefacts import words as w
from carrybook.artefacts.cautions import caution_lines
from carrybook.base.constants import CELSIUS_ZERO, FOOT

if TYPE_CHECKING:
    from carrybook.decision.changes import Changes
    from carrybook.decision.half_days import HalfDay
    from carrybook.decision.noted import GreenBelief
    from carrybook.decision.prepare import PreparedDay
    from carrybook.world.forecast import Hour
    from carrybook.world.venue import VenueNote

__all__ = [
    "card_lines",
    "change_lines",
    "clock_words",
    "day_words",
    "green_lines",
    "half_words",
    "note_words",
    "true_wind_words",
    "weather_lines",
]

_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
_COMPASS = ("N", "NNE", "NE", "ENE", "E", "ESE", "SE", "SSE",
            "S", "SSW", "SW", "WSW", "W", "WNW", "NW", "NNW")  # fmt: skip
_WORTH_RAIN_M = 0.5e-3  # ours: less is a wet cap
_WORTH_G = 5.0  # ours: a green that lies less from the course is not named


def day_words(day: date, *, year: bool = False) -> str:
    """Say a day: "Sun 31 May", with its year where asked."""
    words = f"{_DAYS[day.weekday()]} {day.day} {_MONTHS[day.month - 1]}"
    return f"{words} {day.year}" if year else words


def clock_words(hour: "Hour") -> str:
    """Say a time of day: "09:00"."""
    return f"{hour.at:%H:%M}"


def true_wind_words(hour: "Hour", u: w.Units) -> str:
    """Say the wind by the compass: "12 mph from WSW (240), gusts to 20 mph"."""
    if hour.wind_speed_mps < w.CALM_MPS:
        return w.CALM
    gusts = "" if hour.gust_mps is None else f", gusts to {w.speed(hour.gust_mps, u)}"
    if hour.wind_from_true_rad is None:
        return f"{w.speed(hour.wind_speed_mps, u)}, its direction varies{gusts}"
    turn = degrees(hour.wind_from_true_rad)
    point = _COMPASS[round(turn / 22.5) % 16]
    return f"{w.speed(hour.wind_speed_mps, u)} from {point} ({turn:.0f}){gusts}"


def half_words(half: "HalfDay", u: w.Units) -> tuple[str, str]:
    """Say what a half-day is like: its air, and its wind."""
    first, last = clock_words(half.hours[0]), clock_words(half.hours[-1])
    warmth = sorted(round(hour.air.temperature_k - CELSIUS_ZERO) for hour in half.hours)
    span = f"{warmth[0]} to {warmth[-1]} C" if warmth[0] != warmth[-1] else f"{warmth[0]} C"
    return (
        f"{first} to {last}, {span}; numbers at {clock_words(half.middle)}:"
        f" {w.air_words(half.middle.air)}",
        true_wind_words(half.middle, u),
    )


def card_lines(day: "PreparedDay", moved: "Changes | None", u: w.Units) -> Iterator[str]:
    """What a card of either profile says of a day, beside carries and cautions."""
    if day.tee_off is not None:
        yield f"Tee {day.tee_off:%H:%M}"
    for half in day.halves:
        yield f"Wind, {half.half} at {clock_words(half.middle)}: {true_wind_words(half.middle, u)}"
    yield from _rain_lines(day)
    yield from green_lines(day, u)
    if moved is not None:
        said = [*_numbers(moved, u), *_winds(moved, u), *_greens(moved, u)]
        yield from (f"Since {day_words(moved.since)}: {line}" for line in said)


def weather_lines(day: "PreparedDay") -> Iterator[str]:
    """Rain in the hours played, where there is any, and cautions."""
    yield from _rain_lines(day)
    if day.exposure is not None:
        yield from caution_lines(day.exposure)


def _rain_lines(day: "PreparedDay") -> Iterator[str]:
    if day.rain_m and day.rain_m >= _WORTH_RAIN_M:
        yield f"Rain: {1000.0 * day.rain_m:.0f} mm in the hours played; greens may turn softer."


def green_lines(day: "PreparedDay", u: w.Units) -> Iterator[str]:
    """Firmness and speed of the greens as noted, those that differ by name."""
    yield f"Greens: {_green(day.course, u)}"
    for hole in day.holes:
        apart = abs(hole.green.firmness_g - day.course.firmness_g) >= _WORTH_G
        if apart or hole.green.stimp_m != day.course.stimp_m:
            yield f"Hole {w.one_line(hole.hole)}: {_green(hole.green, u)}"


def change_lines(c: "Changes", u: w.Units) -> Iterator[str]:
    """What moved since the day before; one line where nothing did."""
    found = [*_numbers(c, u), *_winds(c, u), *_greens(c, u), *_holes(c), *_shots(c, u)]
    yield from found or ["nothing by more than is worth saying"]


def note_words(note: "VenueNote", u: w.Units) -> str:
    """Say a note with its day and year: "Thu 28 May ..., hole 4: firm (110 +- 10 g)"."""
    where = f"hole {w.one_line(note.hole)}" if note.hole else "course"
    parts = []
    if note.firmness_g is not None and note.firmness_sd_g is not None:
        parts.append(_firm(note.firmness_g, note.firmness_sd_g))
    if note.stimp_m is not None:
        parts.append(_stimp(note.stimp_m, u))
    parts += [f"saw: {w.one_line(words)}" for words in note.saw]
    parts += [w.one_line(note.text)] if note.text else []
    return f"{day_words(note.day, year=True)}, {where}: {'; '.join(parts)}"


def _green(green: "GreenBelief", u: w.Units) -> str:
    told = "" if green.noted is None else f", noted {day_words(green.noted)}"
    speed = "speed not noted" if green.stimp_m is None else _stimp(green.stimp_m, u)
    unsaid = ", nobody said" if green.noted is None else ""
    return f"{_firm(green.firmness_g, green.sd_g)}{unsaid}, {speed}{told}"


def _firm(firmness_g: float, sd_g: float) -> str:
    return f"{w.firmness_words(firmness_g)} ({firmness_g:.0f} +- {sd_g:.0f} g)"


def _stimp(stimp_m: float, u: w.Units) -> str:
    return f"{stimp_m / FOOT:.1f} ft" if u is w.YARDS else f"{stimp_m:.2f} m"


def _numbers(c: "Changes", u: w.Units) -> Iterator[str]:
    """One line for each pair of half-days."""
    for pair in dict.fromkeys((m.half, m.half_before) for m in c.numbers):
        half, before = pair
        against = "" if half == before else f" (against the {before})"
        moved = ", ".join(
            f"{w.one_line(m.shot)}: {w.whole(m.before_m, u)} to {w.whole(m.now_m, u)}"
            for m in c.numbers
            if (m.half, m.half_before) == pair
        )
        yield f"{half}{against}, carry in {u.far}: {moved}"


def _winds(c: "Changes", u: w.Units) -> Iterator[str]:
    for moved in c.winds:
        before, now = (true_wind_words(hour, u) for hour in (moved.before, moved.now))
        yield f"wind, {moved.half}: {now}; was {before}"


def _greens(c: "Changes", u: w.Units) -> Iterator[str]:
    for firm in c.firmness:
        softer = "firmer" if firm.now_g > firm.before_g else "softer"
        yield f"{_place(firm.hole)} {softer}: {firm.before_g:.0f} to {firm.now_g:.0f} g"
    for speed in c.stimps:
        yield (
            f"{_place(speed.hole)} speed: {_stimp(speed.before_m, u)} to {_stimp(speed.now_m, u)}"
        )


def _place(hole: str) -> str:
    return f"green of hole {w.one_line(hole)}" if hole else "greens"


def _holes(c: "Changes") -> Iterator[str]:
    for hole in c.holes:
        was = f"; was {w.one_line(hole.before)}" if hole.before else ""
        yield f"hole {w.one_line(hole.hole)} is cut {w.one_line(hole.now)}{was}"


def _shots(c: "Changes", u: w.Units) -> Iterator[str]:
    """One line for all zones of a green that change shots alike."""
    alike: dict[tuple[str, float, str, str], list[str]] = {}
    for m in c.shots:
        alike.setdefault((m.hole, m.number_m, m.before, m.now), []).append(m.zone)
    for (hole, number_m, before, now), zones in alike.items():
        yield (
            f"hole {w.one_line(hole)}, {w.distance(number_m, u)}: {w.one_line(now)} instead of"
            f" {w.one_line(before)} ({', '.join(zones)})"
        )
