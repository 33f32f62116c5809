"""Rounds reviewed: where strokes were gained and lost, what repeats, what to practise next."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from carrybook.base.errors import NoSolutionError
from carrybook.base.numerics import Floats
from carrybook.decision.review.baselines import TOUR_BASELINE, Baseline
from carrybook.decision.review.features import BANDS, band_of
from carrybook.decision.review.patterns import Patterns, find_patterns
from carrybook.decision.review.season import Season, columns_of
from carrybook.decision.review.split import FACTS, PARTS, Causes, split
from carrybook.player.round_shots import PlayedRound
from carrybook.player.summary import ShotSummary
from carrybook.world.lie import Lie

__all__ = ["OWN_BOOK", "Cost", "PartSum", "Review", "review"]

OWN_BOOK = "book"
_MOST_COSTS = 3
_USUAL_COST = 0.3  # strokes a round; ours: what a cause usually costs before anything was seen
_FOR_PRACTICE = ("level", "choice", *FACTS, "distance", "side", "execution")


@dataclass(frozen=True, slots=True)
class PartSum:
    """One part of the split over all rounds.

    Parameters
    ----------
    name : str
        One of :data:`carrybook.decision.review.split.PARTS`.
    per_round : float
        Strokes gained a round. [1]
    low, high : float or None
        95 % interval of that, rounds taken as drawn; none with fewer than three.
    shots : int
        Shots for which it could be told apart.
    """

    name: str
    per_round: float
    low: float | None
    high: float | None
    shots: int


@dataclass(frozen=True, slots=True)
class Cost:
    """Something that cost strokes, and what to practise for it.

    Parameters
    ----------
    cause : str
        Part of the split.
    strokes : float
        Lost a round, shrunk. [1]
    low, high : float or None
        95 % interval of that.
    band_yd : tuple of int
        Numbers from which it cost most. [yd]
    clear : bool
        Whether the interval is all on the losing side.
    """

    cause: str
    strokes: float
    low: float | None
    high: float | None
    band_yd: tuple[int, int]
    clear: bool

    @property
    def focus(self) -> str:
        """As a practice plan takes it: "70-90yd"."""
        return f"{self.band_yd[0]}-{self.band_yd[1]}yd"


@dataclass(frozen=True, slots=True)
class Review:
    """What rounds were made of.

    Parameters
    ----------
    against : str
        Whose strokes they are counted against.
    season : Season
        The shots.
    split : Causes
        Each of them split.
    gained : PartSum
        All parts together: baseline less strokes, a round.
    parts : tuple of PartSum
        Each part.
    worth_knowing : tuple of PartSum
        What knowing each fact would have saved, the dearest first.
    patterns : Patterns
        What repeats.
    costs : tuple of Cost
        The three that cost most.
    notes : tuple of str
        What a person should know of where all this comes from.
    """

    against: str
    season: Season
    split: Causes
    gained: PartSum
    parts: tuple[PartSum, ...]
    worth_knowing: tuple[PartSum, ...]
    patterns: Patterns
    costs: tuple[Cost, ...]
    notes: tuple[str, ...]

    @property
    def lines(self) -> tuple[PartSum, ...]:
        """All parts together, then each that was told apart in some shot."""
        return (self.gained, *(part for part in self.parts if part.shots))


def review(
    rounds: Sequence[PlayedRound],
    summaries: Sequence[ShotSummary],
    baseline: Baseline | None = TOUR_BASELINE,
    *,
    seed: int = 1,
) -> Review:
    """Review rounds.

    Parameters
    ----------
    rounds : sequence of PlayedRound
        With their scoring shots; rounds without any do not count.
    summaries : sequence of ShotSummary
        What the player owns, as the book has it.
    baseline : Baseline, optional
        What strokes are counted against; none: the player's own book.
    seed : int, default 1
        The same seed gives the same answer.

    Raises
    ------
    NoSolutionError
        No shot was recorded.
    BadInputError
        A shot that is not among the player's.
    """
    rounds = [each for each in rounds if each.shots]
    if not rounds:
        raise NoSolutionError(
            "no scoring shot of these rounds was recorded; record some: carrybook round shot"
        )
    season = columns_of(rounds, summaries)
    found = split(season, summaries, baseline)
    sums = _by_round(season, np.nan_to_num(found.parts))
    known = np.isfinite(found.parts).sum(axis=0)
    return Review(
        against=OWN_BOOK if baseline is None else baseline.name,
        season=season,
        split=found,
        gained=_part_sum("gained", sums.sum(axis=1), len(season)),
        parts=tuple(_part_sum(name, sums[:, k], int(known[k])) for k, name in enumerate(PARTS)),
        worth_knowing=_worth_knowing(season, found),
        patterns=find_patterns(season, found, seed=seed),
        costs=_costs(season, found, sums),
        notes=tuple(_notes(season, found, baseline)),
    )


def _worth_knowing(season: Season, found: Causes) -> tuple[PartSum, ...]:
    sums = _by_round(season, np.nan_to_num(found.knowing))
    known = np.isfinite(found.knowing).sum(axis=0)
    facts = [_part_sum(fact, sums[:, k], int(known[k])) for k, fact in enumerate(FACTS)]
    return tuple(sorted((f for f in facts if f.shots), key=lambda f: -f.per_round))


def _by_round(season: Season, values: Floats) -> Floats:
    sums = np.zeros((len(season.rounds), values.shape[1]))
    np.add.at(sums, season.round_of, values)
    return sums


def _part_sum(name: str, sums: Floats, shots: int) -> PartSum:
    mean, half = float(sums.mean()), _half_width(sums)
    if half is None:
        return PartSum(name, mean, None, None, shots)
    return PartSum(name, mean, mean - half, mean + half, shots)


def _half_width(sums: Floats) -> float | None:
    from scipy.special import stdtrit

    if len(sums) < 3:
        return None
    error = float(sums.std(ddof=1) / np.sqrt(len(sums)))
    return float(stdtrit(len(sums) - 1, 0.975)) * error


def _costs(season: Season, found: Causes, sums: Floats) -> tuple[Cost, ...]:
    """Causes that lost most, shrunk by how unsure they are, each where it lost most."""
    costs = []
    bands = np.array([band_of(shot.number_m) for shot in season.shots])
    for name in _FOR_PRACTICE:
        column = np.nan_to_num(found.part(name))
        by_band = np.bincount(bands, column, minlength=len(BANDS))
        each = sums[:, PARTS.index(name)]
        loss, half = -float(each.mean()), _half_width(each)
        if loss > 0.0:
            costs.append(_cost(name, loss, half, BANDS[int(by_band.argmin())]))
    return tuple(sorted(costs, key=lambda c: -c.strokes)[:_MOST_COSTS])


def _cost(name: str, loss: float, half: float | None, band: tuple[int, int]) -> Cost:
    if half is None:
        return Cost(name, loss, None, None, band, clear=False)
    own = _USUAL_COST**2 / (_USUAL_COST**2 + (half / 2.0) ** 2)
    strokes, half = own * loss, float(np.sqrt(own)) * half
    return Cost(name, strokes, strokes - half, strokes + half, band, clear=strokes > half)


def _notes(season: Season, found: Causes, baseline: Baseline | None) -> list[str]:
    shots, n = season.shots, len(season)
    notes = [
        "greens are taken as level and of medium size, 30 by 24 paces; putts, and strokes off the"
        " green, as the baseline has them"
    ]
    missing = {
        "the wind": sum(s.known.wind_mps is None for s in shots),
        "the carry meant": sum(s.intended_m is None for s in shots),
        "the aim": sum(s.aim_right_m is None for s in shots),
        "where it landed": sum(s.landing_m is None for s in shots),
        "where the hole was cut": sum(not s.hole_location for s in shots),
    }
    notes += [f"{what} was not said of {k} of {n} shots" for what, k in missing.items() if k]
    joined = int(np.isnan(found.part("choice")).sum())
    if joined:
        notes.append(
            f"of {joined} shots choice and strike cannot be told apart: both are execution"
        )
    if any(s.lie is Lie.SAND for s in shots):
        notes.append("from sand only the result counts: a splash shot is not modelled")
    learnt = int(np.isfinite(found.inputs).any(axis=1).sum())
    notes.append(
        f"what turned out otherwise was noted for {learnt} shots; where it was not, it is within"
        " distance and side"
    )
    if baseline is not None:
        notes.append(
            "level is your best choices by the book against that player's average: a level green is"
            " easier than theirs, so it flatters"
        )
    return notes
