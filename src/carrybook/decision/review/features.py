"""What shots of a season have in common: each a plain question with yes or no for every shot."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import datetime
from math import cos, sin

import numpy as np

from carrybook.base.constants import YARD
from carrybook.base.numerics import Flags
from carrybook.decision.review.season import Season
from carrybook.player.round_shots import RoundShot
from carrybook.world.lie import Lie, Moisture

__all__ = ["BANDS", "Feature", "band_of", "features_of"]

# Ours: from when a wind counts as one [m/s], a morning as cold [K], until when it is one [h], and
# a green as firm or soft [Clegg gravities].
_WINDY = 2.5
_COLD, _MORNING = 283.15, 11
_FIRM, _SOFT = 105.0, 80.0
# Bands of the number, in yards; what practice is asked for.
BANDS = ((10, 50), (50, 70), (70, 90), (90, 110), (110, 130), (130, 250))
# Ours: a question is asked where enough shots, of enough rounds, answer it either way.
_LEAST_SHOTS, _LEAST_ROUNDS = 15, 5


@dataclass(frozen=True, slots=True)
class Feature:
    """Something that some shots have in common.

    Parameters
    ----------
    name : str
        In words, as after "when": "into the wind".
    holds : ndarray of bool, shape (n,)
        For which shots it holds.
    """

    name: str
    holds: Flags


def band_of(number_m: float) -> int:
    """Which of :data:`BANDS` a number is in.

    Parameters
    ----------
    number_m : float
        Ball to hole. [m]
    """
    yards = number_m / YARD
    return next((k for k, (_, high) in enumerate(BANDS) if yards < high), len(BANDS) - 1)


def features_of(season: Season) -> tuple[Feature, ...]:
    """Ask every question that enough shots of enough rounds answer either way.

    Parameters
    ----------
    season : Season
        The shots.
    """
    found = []
    for feature in _asked(season):
        sides = [np.flatnonzero(feature.holds), np.flatnonzero(~feature.holds)]
        enough = all(
            len(side) >= _LEAST_SHOTS and len(np.unique(season.round_of[side])) >= _LEAST_ROUNDS
            for side in sides
        )
        if enough:
            found.append(feature)
    return tuple(found)


def _asked(season: Season) -> Iterator[Feature]:
    for name, holds in _OF_SHOT.items():
        yield Feature(name, np.array([holds(shot) for shot in season.shots], dtype=np.bool_))
    for word in ("front", "back"):
        yield Feature(f"{word} holes", np.array([c.third == word for c in season.cuts]))
    for word in ("left", "right"):
        yield Feature(f"holes cut {word}", np.array([c.side == word for c in season.cuts]))
    cold = [_is_cold_morning(s, season.rounds[r].round.begun) for s, r in _with_round(season)]
    yield Feature("cold mornings", np.array(cold, dtype=np.bool_))
    counts = [each.round.setting == "competition" for each in season.rounds]
    yield Feature("competition", np.array(counts, dtype=np.bool_)[season.round_of])
    bands = np.array([band_of(shot.number_m) for shot in season.shots])
    for k, (low, high) in enumerate(BANDS):
        yield Feature(f"{low} to {high} yd", bands == k)


def _with_round(season: Season) -> Iterator[tuple[RoundShot, int]]:
    return zip(season.shots, season.round_of.tolist(), strict=True)


def _is_cold_morning(shot: RoundShot, begun: str) -> bool:
    at = shot.at or datetime.fromisoformat(begun)
    cold = shot.temperature_k is not None and shot.temperature_k < _COLD
    return cold and at.hour < _MORNING


def _along(shot: RoundShot) -> float:
    """Wind against the line, as it turned out or else as believed. [m/s]"""
    speed, come = _wind(shot)
    return speed * cos(come)


def _across(shot: RoundShot) -> float:
    """Wind from the right of the line. [m/s]"""
    speed, come = _wind(shot)
    return speed * sin(come)


def _wind(shot: RoundShot) -> tuple[float, float]:
    met = shot.met
    return met.wind_mps or 0.0, met.wind_from_rad or 0.0


_OF_SHOT: dict[str, Callable[[RoundShot], bool]] = {
    "into the wind": lambda s: _along(s) > _WINDY,
    "with the wind helping": lambda s: _along(s) < -_WINDY,
    "wind from the right": lambda s: _across(s) > _WINDY,
    "wind from the left": lambda s: _across(s) < -_WINDY,
    "wet lies": lambda s: s.known.moisture in (Moisture.DEW, Moisture.WET),
    "light rough": lambda s: s.lie is Lie.LIGHT_ROUGH,
    "deep rough": lambda s: s.lie is Lie.DEEP_ROUGH,
    "sand": lambda s: s.lie is Lie.SAND,
    "firm greens": lambda s: (s.known.firmness_g or 0.0) > _FIRM,
    "soft greens": lambda s: 0.0 < (s.known.firmness_g or 0.0) < _SOFT,
    "last nine": lambda s: s.hole > 9,
}
