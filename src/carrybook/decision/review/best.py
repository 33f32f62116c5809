"""The best that could have been chosen at what was known: every owned shot, searched in one go."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from carrybook.base.constants import YARD
from carrybook.base.numerics import Flags, Floats, Ints
from carrybook.decision.allowed import why_not
from carrybook.decision.review.season import Condition, Season
from carrybook.decision.review.weigh import Flown, Scales, flown_in
from carrybook.outcomes.after_landing import Chance
from carrybook.player.summary import ShotSummary

__all__ = ["Best", "best_of"]

# Ours: landing spots that are tried, past the hole and right of it, coarse and then finer.
_DEPTHS = np.arange(-20.0, 10.1, 5.0) * YARD
_ASIDES = np.array([-8.0, -4.0, 0.0, 4.0, 8.0]) * YARD
_FINER = np.array([-2.5, 0.0, 2.5]) * YARD
_KEPT = 3  # coarse places looked at more finely, for each shot of the season
_FELT = 5  # felt carries that are flown of each owned shot; between them, straight lines
_COARSE_DRAWS = 64


@dataclass(frozen=True, slots=True)
class Best:
    """The best choice for each shot of a season.

    Parameters
    ----------
    strokes : ndarray, shape (n,)
        Expected strokes; nan where nothing owned lands near the hole. [1]
    shot : ndarray of int64, shape (n,)
        Which of the player's shots.
    felt, past, right : ndarray, shape (n,)
        What to feel, and where to land it from the hole. [m]
    """

    strokes: Floats
    shot: Ints
    felt: Floats
    past: Floats
    right: Floats


@dataclass(frozen=True, slots=True)
class _Reach:
    """What each owned shot can do for each shot of the season, at a few felt carries.

    `felt` is of shape (s, f), `flown` of (n, s, f) rows, `allowed` of (n, s).
    """

    felt: Floats
    flown: Flown
    allowed: Flags


@dataclass(frozen=True, slots=True)
class _Tried:
    """Candidates: shot of the season, owned shot, landing from the hole."""

    row: Ints
    owned: Ints
    past: Floats
    right: Floats


def best_of(
    season: Season,
    summaries: Sequence[ShotSummary],
    believed: Condition,
    scales: Scales,
    drawn: Chance,
) -> Best:
    """Find the best choice for each shot at what was believed.

    Parameters
    ----------
    season : Season
        The shots.
    summaries : sequence of ShotSummary
        What the player owns.
    believed : Condition
        What was believed.
    scales : Scales
        Weighs them.
    drawn : Chance
        What decides in the end; the coarse look takes the first of it.

    Notes
    -----
    A coarse net of landing spots, the best three of which are looked at more finely. All candidates
    of all shots are weighed together, under the same chance, so the search costs what one does.
    """
    reach = _reach(season, summaries, believed)
    coarse = _net(len(season), len(summaries))
    coarse, flown, felt = _within(coarse, reach, believed)
    worth = scales.worth(coarse.row, coarse.past, coarse.right, flown, drawn.first(_COARSE_DRAWS))
    finer = _around(coarse, _first(coarse.row, worth, _KEPT))
    finer, flown, felt = _within(finer, reach, believed)
    worth = scales.worth(finer.row, finer.past, finer.right, flown, drawn)
    top = _first(finer.row, worth, 1)
    n = len(season)
    best = Best(np.full(n, np.nan), np.full(n, -1), *(np.full(n, np.nan) for _ in range(3)))
    rows = finer.row[top]
    for column, values in (
        (best.strokes, worth), (best.shot, finer.owned), (best.felt, felt),
        (best.past, finer.past), (best.right, finer.right),
    ):  # fmt: skip
        column[rows] = values[top]
    return best


def _reach(season: Season, summaries: Sequence[ShotSummary], believed: Condition) -> _Reach:
    n, s = len(season), len(summaries)
    felt = np.array([np.geomspace(x.shot.shortest_m, x.shot.longest_m, _FELT) for x in summaries])
    row, owned, node = (v.ravel() for v in np.indices((n, s, _FELT)))
    flown = flown_in(summaries, believed.rows(row), owned, felt[owned, node])
    allowed = np.array(
        [[not why_not(x.shot, shot.lie) for x in summaries] for shot in season.shots]
    ).reshape(n, s)
    return _Reach(felt, flown, allowed)


def _net(n: int, s: int) -> _Tried:
    row, owned, deep, aside = (v.ravel() for v in np.indices((n, s, len(_DEPTHS), len(_ASIDES))))
    return _Tried(row, owned, _DEPTHS[deep], _ASIDES[aside])


def _around(tried: _Tried, kept: Ints) -> _Tried:
    past, right = (v.ravel() for v in np.meshgrid(_FINER, _FINER))
    return _Tried(
        np.repeat(tried.row[kept], len(past)),
        np.repeat(tried.owned[kept], len(past)),
        (tried.past[kept, None] + past).ravel(),
        (tried.right[kept, None] + right).ravel(),
    )


def _within(tried: _Tried, reach: _Reach, believed: Condition) -> tuple[_Tried, Flown, Floats]:
    """Candidates that the owned shot can carry to; how they come down, and what is felt."""
    s = len(reach.felt)
    carries = reach.flown.arrivals[:, 0].reshape(-1, s, _FELT)
    carry = np.hypot(believed.number[tried.row] + tried.past, tried.right)
    nodes = carries[tried.row, tried.owned]
    inside = (carry >= nodes[:, 0]) & (carry <= nodes[:, -1]) & np.isfinite(nodes).all(axis=1)
    inside &= reach.allowed[tried.row, tried.owned]
    tried = _Tried(tried.row[inside], tried.owned[inside], tried.past[inside], tried.right[inside])
    nodes, carry = nodes[inside], carry[inside]
    low = np.clip((nodes < carry[:, None]).sum(axis=1) - 1, 0, _FELT - 2)
    line = np.arange(len(low))
    share = (carry - nodes[line, low]) / (nodes[line, low + 1] - nodes[line, low])
    at = (tried.row * s + tried.owned) * _FELT + low
    flown = _blend(reach.flown.rows(at), reach.flown.rows(at + 1), share[:, None])
    felt = reach.felt[tried.owned, low] ** (1.0 - share) * reach.felt[tried.owned, low + 1] ** share
    return tried, flown, felt


def _blend(one: Flown, other: Flown, share: Floats) -> Flown:
    return Flown(
        one.arrivals * (1.0 - share) + other.arrivals * share,
        one.scatter * (1.0 - share) + other.scatter * share,
        one.firmness,
    )


def _first(row: Ints, worth: Floats, count: int) -> Ints:
    """Places of the fewest strokes, so many of each row at most."""
    order = np.lexsort((worth, row))
    starts = np.r_[True, np.diff(row[order]) > 0]
    since = np.arange(len(order)) - np.maximum.accumulate(
        np.where(starts, np.arange(len(order)), 0)
    )
    chosen: Ints = order[since < count]
    return chosen
