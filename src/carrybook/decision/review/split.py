"""Each shot split into an exact chain of causes, from the baseline down to what was scored.

    baseline                        what the reference player needs from there
      level         to the best that this player could choose, at what was known
      choice        to what was chosen, at what was known
      number, wind, lie, firmness   to the same shot at what turned out to be so
      distance, side                to what is expected from where it landed
      bounce        to what is expected from where it finished
      after         to the strokes that were taken
    strokes taken

Every part is a difference, gained where it is positive, so the parts of a shot add up exactly to
baseline less strokes. Where something was not recorded, what lies on both sides of it is one part.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product
from math import comb

import numpy as np

from carrybook.base.numerics import Flags, Floats, Ints
from carrybook.decision.review.baselines import TOUR_BASELINE, Baseline
from carrybook.decision.review.best import Best, best_of
from carrybook.decision.review.chosen import Chosen, chosen_of
from carrybook.decision.review.knowing import worth_of_knowing
from carrybook.decision.review.season import Condition, Season, condition_of
from carrybook.decision.review.weigh import Flown, Scales, flown_in, scales_of
from carrybook.outcomes.after_landing import Chance, chance
from carrybook.player.round_shots import Rest
from carrybook.player.summary import ShotSummary
from carrybook.world.lie import Lie

__all__ = ["FACTS", "PARTS", "Causes", "split"]

FACTS = ("number", "wind", "lie", "firmness")
PARTS = ("level", "choice", *FACTS, "distance", "side", "execution", "bounce", "after")
_DRAWS = 512  # ours: even ones; they leave less than 0.01 strokes


@dataclass(frozen=True, slots=True)
class Causes:
    """Shots split into parts.

    Parameters
    ----------
    parts : ndarray, shape (n, 11)
        Strokes gained by cause, columns :data:`PARTS`; nan where a part is not separable and is
        within another. [1]
    baseline : ndarray, shape (n,)
        Strokes of the reference player from there. [1]
    strokes : ndarray, shape (n,)
        Strokes taken. [1]
    best, chosen : ndarray, shape (n,)
        Expected of the best choice, and of what was chosen, at what was known; the second is nan
        where not known. [1]
    off_m : ndarray, shape (n, 2)
        How far past and right of where the book expects it a shot landed; nan where not known. [m]
    scatter : ndarray, shape (n, 4)
        Scatter of that by the book: scales in depth and to the side, what is unsure in depth [m],
        correlation [1].
    instead : Best
        What the best choice was.
    knowing : ndarray, shape (n, 4)
        Strokes that knowing each of :data:`FACTS` would have saved; nan where it was not learnt.
        [1]
    """

    parts: Floats
    baseline: Floats
    strokes: Floats
    best: Floats
    chosen: Floats
    off_m: Floats
    scatter: Floats
    instead: Best
    knowing: Floats

    def part(self, name: str) -> Floats:
        """One column, shape (n,)."""
        column: Floats = self.parts[:, PARTS.index(name)]
        return column

    @property
    def inputs(self) -> Floats:
        """Columns of :data:`FACTS`, shape (n, 4)."""
        first = PARTS.index(FACTS[0])
        return self.parts[:, first : first + len(FACTS)]

    def total(self, *names: str) -> Floats:
        """Sum of some parts, shape (n,); what is not separable adds nothing of its own."""
        columns = [PARTS.index(name) for name in names]
        return np.asarray(np.nansum(self.parts[:, columns], axis=1))


def split(
    season: Season, summaries: Sequence[ShotSummary], baseline: Baseline | None = TOUR_BASELINE
) -> Causes:
    """Split the shots of a season.

    Parameters
    ----------
    season : Season
        The shots.
    summaries : sequence of ShotSummary
        What the player owns, as the book has it.
    baseline : Baseline, optional
        What strokes are counted against; none: the player's own book.

    Notes
    -----
    What facts cost is shared among them by their average marginal part (shapley-1953), as is the
    strike between distance and side. Not separable: choice and input where the carry meant, or the
    wind, was not said, and from sand; distance, side and bounce where the landing was not. Where
    nobody said the aim, it counts as the best for that carry, and what it was not is in the side.
    """
    after = baseline or TOUR_BASELINE
    scales, drawn = scales_of(season, after), chance(_DRAWS)
    believed, said = condition_of(season, true=False)
    true, learnt = condition_of(season, true=True)
    instead = best_of(season, summaries, believed, scales, drawn)
    chosen = chosen_of(season, summaries, believed, said["wind"], scales, drawn)
    n = len(season)
    parts = np.full((n, len(PARTS)), np.nan)
    column = {name: parts[:, k] for k, name in enumerate(PARTS)}
    fresh = np.array([float(after.from_lie(s.lie, np.array(s.number_m))) for s in season.shots])
    planned = np.full(n, np.nan)
    planned[chosen.rows] = chosen.worth(believed, scales, drawn)
    best = _best(instead.strokes, planned, fresh)
    start = best if baseline is None else fresh
    column["level"][:] = start - best
    column["choice"][:] = best - planned
    now = best.copy()
    now[chosen.rows] = _inputs(
        chosen, believed, true, learnt, planned[chosen.rows], scales, drawn, column
    )
    off, scatter = _strike(season, chosen, true, now, scales, drawn, column)
    finish = np.array([1.0 + after.from_rest(s.finish, s.finish_m) for s in season.shots])
    finish += np.array([_seen_penalties(s.finish, s.penalties) for s in season.shots])
    strokes = np.array([float(s.strokes) for s in season.shots])
    landed = np.isfinite(column["bounce"])
    column["bounce"][landed] -= finish[landed]
    column["execution"][~landed] = (now - finish)[~landed]
    column["after"][:] = finish - strokes
    knowing = worth_of_knowing(
        season, summaries, believed, true, {fact: learnt[fact] for fact in FACTS}, chosen, instead,
        scales, drawn,
    )  # fmt: skip
    return Causes(parts, start, strokes, best, planned, off, scatter, instead, knowing)


def _best(instead: Floats, planned: Floats, fresh: Floats) -> Floats:
    """Strokes of the best choice: no worse than what was chosen; the baseline where neither is."""
    found = np.fmin(instead, np.where(np.isfinite(instead), planned, np.nan))
    found = np.where(np.isfinite(found), found, planned)
    return np.where(np.isfinite(found), found, fresh)


def _seen_penalties(finish: Rest, penalties: int) -> int:
    """Penalty strokes that what a ball came to rest on does not hold already."""
    return 0 if finish in (Rest.WATER, Rest.OUT_OF_BOUNDS) else penalties


def _inputs(
    chosen: Chosen, believed: Condition, true: Condition, learnt: dict[str, Flags],
    planned: Floats, scales: Scales, drawn: Chance, column: dict[str, Floats],
) -> Floats:  # fmt: skip
    """What each fact cost, into its column; gives the worth of what was chosen as it was."""
    rows, worth = chosen.rows, planned.copy()
    facts = [fact for fact in FACTS if learnt[fact][rows].any()]  # what nobody learnt costs nothing
    if not facts:
        return worth
    some = np.flatnonzero(np.any([learnt[fact][rows] for fact in facts], axis=0))
    part = chosen.some(some)
    table = {
        mix: part.worth(believed.mixed(true, dict(zip(facts, mix, strict=True))), scales, drawn)
        for mix in product((False, True), repeat=len(facts))
    }
    shares = _shapley(table, len(facts))
    for k, fact in enumerate(facts):
        known = learnt[fact][part.rows]
        column[fact][part.rows[known]] = -shares[known, k]
    worth[some] = table[(True,) * len(facts)]
    return worth


def _shapley(table: dict[tuple[bool, ...], Floats], count: int) -> Floats:
    """Average marginal change by each of a few causes, over all orders in which they may come."""
    shares = np.zeros((len(table[(False,) * count]), count))
    for mix, without in table.items():
        before = sum(mix)
        for k in range(count):
            if not mix[k]:
                added = (*mix[:k], True, *mix[k + 1 :])
                weight = 1.0 / (count * comb(count - 1, before))
                shares[:, k] += weight * (table[added] - without)
    return shares


def _strike(
    season: Season, chosen: Chosen, true: Condition, now: Floats, scales: Scales, drawn: Chance,
    column: dict[str, Floats],
) -> tuple[Floats, Floats]:  # fmt: skip
    """Distance and side into their columns, and into that of the bounce what it begins from.

    Gives how far shots landed from where they were expected, and their scatter by the book.
    """
    n = len(season)
    off, scatter = np.full((n, 2), np.nan), np.full((n, 4), np.nan)
    landing = np.array([s.landing_m or (np.nan, np.nan) for s in season.shots]).reshape(-1, 2)
    flown = chosen.flown(true)
    past, right = chosen.landing(true.number[chosen.rows], flown)
    scatter[chosen.rows] = flown.scatter
    off[chosen.rows] = landing[chosen.rows] - np.column_stack([past, right])
    seen = np.flatnonzero(np.isfinite(landing[chosen.rows]).all(axis=1))
    rows, way = chosen.rows[seen], flown.rows(seen)
    real = landing[rows]
    full = scales.worth(rows, real[:, 0], real[:, 1], way, drawn, deep=False, wide=False)
    deep = scales.worth(rows, real[:, 0], right[seen], way, drawn, deep=False)
    wide = scales.worth(rows, past[seen], real[:, 1], way, drawn, wide=False)
    column["distance"][rows] = 0.5 * ((now[rows] - deep) + (wide - full))
    column["side"][rows] = (now[rows] - full) - column["distance"][rows]
    column["bounce"][rows] = full
    _joined_strike(season, chosen, true, landing, now, scales, drawn, column)
    return off, scatter


def _joined_strike(
    season: Season, chosen: Chosen, true: Condition, landing: Floats, now: Floats, scales: Scales,
    drawn: Chance, column: dict[str, Floats],
) -> None:  # fmt: skip
    """Where the landing is known and the choice is not: all of the strike in one part."""
    clean = np.array([s.lie is not Lie.SAND for s in season.shots])
    clean[chosen.rows] = False
    rows: Ints = np.flatnonzero(np.isfinite(landing).all(axis=1) & clean)
    shot = season.played[rows]
    felt = np.array([chosen.summaries[k].shot.stock_carry_m for k in shot], dtype=np.float64)
    way: Flown = flown_in(chosen.summaries, true.rows(rows), shot, felt)
    past, right = landing[rows].T
    full = scales.worth(rows, past, right, way, drawn, deep=False, wide=False)
    column["execution"][rows] = now[rows] - full
    column["bounce"][rows] = full
