"""Patterns over rounds, and which of them are more than what so many looks turn up by luck.

Shots of one round share a day, so the round is what counts as one. How far each statistic would
stray if nothing were there is seen by turning the sign of whole rounds at random; the largest over
all looks sets the bar for each.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from carrybook.base.numerics import Floats, Ints
from carrybook.decision.review.features import Feature, features_of
from carrybook.decision.review.season import Season
from carrybook.decision.review.split import Causes

__all__ = ["ALL_SHOTS", "Measure", "Pattern", "Patterns", "find_patterns"]

ALL_SHOTS = "all shots"
_FLIPS = 2000  # ours: a chance of 3 % is then known to 0.4
# Below the 5 % that is promised: at 5 %, 13 of 234 invented seasons of pure luck named one.
_SURE = 0.03
_WILD = (
    3.0  # a landing further out than three scales counts as three (ours): one shank is no pattern
)
_Z95 = 1.96
_LEAST_ROUNDS = 6  # with fewer, no sign of rounds can be told from luck; ours


class Measure(StrEnum):
    """What is looked at."""

    CHOICE = "choice"
    INPUT = "what was believed"
    STRIKE = "strike"
    DEPTH = "landing depth"
    SIDE = "landing side"
    SHORT_LEFT = "short left"
    SHORT_RIGHT = "short right"
    LONG_LEFT = "long left"
    LONG_RIGHT = "long right"


# Ours: least size worth a word, and size that is usual before anything was seen: strokes, metres,
# shares.
_LEAST = {
    **dict.fromkeys((Measure.CHOICE, Measure.INPUT, Measure.STRIKE), (0.02, 0.05)),
    **dict.fromkeys((Measure.DEPTH, Measure.SIDE), (0.5, 1.0)),
}
_LEAST_CORNER = (0.03, 0.04)
_CORNERS = {
    Measure.SHORT_LEFT: (-1.0, -1.0), Measure.SHORT_RIGHT: (-1.0, 1.0),
    Measure.LONG_LEFT: (1.0, -1.0), Measure.LONG_RIGHT: (1.0, 1.0),
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Pattern:
    """One look.

    Parameters
    ----------
    where : str
        Which shots, against all others; "all shots" against what the book expects.
    measure : Measure
        What was looked at.
    shots, rounds : int
        How many shots those are, of how many rounds.
    difference : float
        Strokes gained a shot [1], metres past or right of where the book expects [m], or share of
        landings in a corner [1]: of these less of the others, shrunk.
    low, high : float
        95 % interval of that.
    raw : float
        Before it was shrunk.
    chance : float
        That luck alone makes any of all the looks as large. [1]
    stands : bool
        Whether that is below 3 % and the difference worth a word.
    """

    where: str
    measure: Measure
    shots: int
    rounds: int
    difference: float
    low: float
    high: float
    raw: float
    chance: float
    stands: bool


@dataclass(frozen=True, slots=True)
class Patterns:
    """All looks, the least likely first; `told` is whether there were rounds enough to tell."""

    looks: tuple[Pattern, ...]
    told: bool

    @property
    def standing(self) -> tuple[Pattern, ...]:
        """Those that stand."""
        return tuple(p for p in self.looks if p.stands)


@dataclass(frozen=True, slots=True)
class _Look:
    """One question: contributions of the rounds to its statistic, estimate and standard error."""

    where: str
    measure: Measure
    shots: int
    rounds: int
    parts: Floats
    estimate: float
    error: float


def find_patterns(season: Season, split: Causes, *, seed: int = 1) -> Patterns:
    """Look for patterns.

    Parameters
    ----------
    season : Season
        The shots.
    split : Causes
        Of the same shots.
    seed : int, default 1
        Of the signs that are turned.

    Notes
    -----
    A wild cluster bootstrap of scores with random signs (cameron-2008), its largest statistic over
    all looks (westfall-young-1993): the chance that any look is called a pattern where there is
    none is held under 5 % (docs/review.md). Estimates are shrunk toward none by how far those of
    their kind spread.
    """
    looks = tuple(_looks(season, split))
    if len(season.rounds) < _LEAST_ROUNDS or not looks:
        return Patterns((), told=False)
    parts = np.array([look.parts for look in looks])
    size = np.sqrt((parts**2).sum(axis=1))
    seen = np.abs(parts.sum(axis=1)) / size
    signs = np.random.default_rng(seed).choice((-1.0, 1.0), (parts.shape[1], _FLIPS))
    largest = (np.abs(parts @ signs) / size[:, None]).max(axis=0)
    chances = (1.0 + (largest[None, :] >= seen[:, None] - 1e-9).sum(axis=1)) / (1.0 + _FLIPS)
    found = [_told(look, looks, float(c)) for look, c in zip(looks, chances, strict=True)]
    order = sorted(found, key=lambda p: (p.chance, -abs(p.difference)))
    return Patterns(tuple(order), told=True)


def _told(look: _Look, looks: tuple[_Look, ...], chance: float) -> Pattern:
    least, usual = _LEAST.get(look.measure, _LEAST_CORNER)
    alike = [other for other in looks if other.measure is look.measure]
    spread = max(usual**2, float(np.mean([o.estimate**2 - o.error**2 for o in alike])))
    own = spread / (spread + look.error**2)
    shrunk, half = own * look.estimate, _Z95 * float(np.sqrt(own)) * look.error
    return Pattern(
        where=look.where, measure=look.measure, shots=look.shots, rounds=look.rounds,
        difference=shrunk, low=shrunk - half, high=shrunk + half, raw=look.estimate,
        chance=chance, stands=chance < _SURE and abs(look.estimate) >= least,
    )  # fmt: skip


def _looks(season: Season, split: Causes) -> Iterator[_Look]:
    features = features_of(season)
    for measure, values in _measures(split).items():
        known = np.isfinite(values)
        if not known.any():
            continue
        overall = measure in _CORNERS or measure in (Measure.DEPTH, Measure.SIDE)
        if overall:
            everything = Feature(ALL_SHOTS, np.ones(len(values), dtype=np.bool_))
            yield from _look(everything, measure, values, known, season.round_of, against_none=True)
        if measure not in _CORNERS:
            for feature in features:
                yield from _look(feature, measure, values, known, season.round_of)


def _look(
    feature: Feature, measure: Measure, values: Floats, known: Floats, round_of: Ints,
    *, against_none: bool = False,
) -> Iterator[_Look]:  # fmt: skip
    """Ask one question; nothing where the values do not differ, or all shots are alike."""
    x, y, r = feature.holds[known].astype(float), values[known], round_of[known]
    if against_none:
        lean, rest = np.ones(len(y)), y
    else:
        lean, rest = x - x.mean(), y - y.mean()
    weight = float(lean @ lean)
    parts = _by_round(lean * rest, r, int(round_of.max()) + 1)
    if weight < 1.0 or not (parts**2).sum() > 1e-12:
        return
    estimate = float(parts.sum()) / weight
    left = _by_round(lean * (rest - estimate * lean), r, len(parts))
    count = len(np.unique(r))
    error = float(np.sqrt((left**2).sum() * count / max(count - 1, 1))) / weight
    holds = x > 0.0
    yield _Look(
        feature.name, measure, int(holds.sum()), len(np.unique(r[holds])), parts, estimate, error
    )


def _by_round(values: Floats, round_of: Ints, rounds: int) -> Floats:
    return np.asarray(np.bincount(round_of, values, minlength=rounds), dtype=np.float64)


def _measures(split: Causes) -> dict[Measure, Floats]:
    """What is looked at, a value for each shot; nan where it is not known."""
    deep, wide = (_held(split.off_m[:, k], split.scatter[:, s]) for k, s in ((0, 0), (1, 1)))
    strike = split.total("distance", "side", "execution")
    learnt = np.isfinite(split.inputs).any(axis=1)
    believed = np.where(learnt, np.nansum(split.inputs, axis=1), np.nan)
    found = {
        Measure.CHOICE: split.part("choice"), Measure.INPUT: believed, Measure.STRIKE: strike,
        Measure.DEPTH: deep, Measure.SIDE: wide,
    }  # fmt: skip
    return found | {corner: _corner(split, *ways) for corner, ways in _CORNERS.items()}


def _held(off: Floats, scale: Floats) -> Floats:
    """How far off it was, the wildest held in. [m]"""
    return np.clip(off, -_WILD * scale, _WILD * scale)


def _corner(split: Causes, deep: float, wide: float) -> Floats:
    """Whether a shot landed in a corner, less how often it should."""
    inside = (deep * split.off_m[:, 0] > 0.0) & (wide * split.off_m[:, 1] > 0.0)
    usual = 0.25 + deep * wide * np.arcsin(np.clip(split.scatter[:, 3], -1.0, 1.0)) / (2.0 * np.pi)
    return np.where(np.isfinite(split.off_m).all(axis=1), inside - usual, np.nan)
