"""Tries: one swing aimed from one place. Which there are, which are worth playing on, the best.

A try that is far behind under the first draws is not played under the others.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from carrybook.base.constants import YARD
from carrybook.base.numerics import Flags, Floats, Ints
from carrybook.decision.bag_fit.swings import Bounces, Rows
from carrybook.outcomes.value_map import ValueMap, ends_read, strokes_left

__all__ = [
    "Aimed", "Tries", "best_of_clubs", "narrowed", "play", "rounds_of", "tries_from",
    "worth_playing_on",
]  # fmt: skip

# Ours: how far the ends of a swing are moved to stand for those between two that are played; how
# much nearer or further than its place a swing may carry.
_MOVED = np.array([-5.0, 0.0, 5.0]) / 3.0 * YARD
_SLACK = 0.3  # m: so much past the ends of the partials is the end
_SHORT, _PAST = 30.0 * YARD, 12.0 * YARD
# Ours: so many standard errors behind the best of every set of clubs that it is in, a try is given
# up; and the fewest draws that may say so.
_HOPELESS = 4.5
_FEWEST = 32

Clubs = Sequence[int]


@dataclass(frozen=True, slots=True)
class Tries:
    """Swings from one place, k of them, and how each is aimed.

    Parameters
    ----------
    swing, club : ndarray of int64, shape (k,)
        Number of the swing, and of the club it is played with.
    away_m : ndarray, shape (k,)
        Distance of the hole that the swing, as it was played, is read for. [m]
    aside_m : ndarray, shape (k,)
        How far left of the hole is aimed. [m]
    feel_m : ndarray, shape (k,)
        What to feel. [m]
    """

    swing: Ints
    club: Ints
    away_m: Floats
    aside_m: Floats
    feel_m: Floats

    def only(self, which: Flags | Ints) -> "Tries":
        """Some of them."""
        return Tries(*(getattr(self, name)[which] for name in Tries.__slots__))


@dataclass(frozen=True, slots=True)
class Aimed:
    """Tries from one place, and the maps of the green that they are aimed at."""

    tries: Tries
    maps: Sequence[ValueMap]

    def read(self, bounces: Bounces, draws: int) -> Floats:
        """Strokes of each under the first so many draws, which must have been played. [1]"""
        t = self.tries
        return strokes_left(bounces.ends, t.swing, t.away_m, self.maps, t.aside_m, draws=draws)


def tries_from(distance_m: float, rows: Rows, carry_m: Floats, asides_m: Sequence[float]) -> Tries:
    """Swings that carry near enough, a little more or less than was played, within the partials.

    Of a shot that carries nowhere near, the swing that comes nearest.

    Parameters
    ----------
    distance_m : float
        Of the place. [m]
    rows : Rows
        The swings.
    carry_m : ndarray, shape (rows,)
        How far the middle ball of each carries. [m]
    asides_m : sequence of float
        How far left of the hole may be aimed. [m]
    """
    tried = (carry_m > distance_m - _SHORT) & (carry_m < distance_m + _PAST)
    for w, k in {(int(a), int(b)) for a, b in zip(rows.wedge, rows.shot, strict=True)}:
        mine = np.flatnonzero((rows.wedge == w) & (rows.shot == k))
        if not tried[mine].any():
            tried[mine[np.argmin(np.abs(carry_m[mine] - distance_m))]] = True
    swing = np.repeat(np.flatnonzero(tried), len(_MOVED))
    moved = np.tile(_MOVED, int(tried.sum()))
    feel = rows.feel_m[swing] * (1.0 + moved / carry_m[swing])
    sides, aside = len(asides_m), np.repeat(np.array(asides_m), len(swing))
    every = Tries(
        np.tile(swing, sides), np.tile(rows.wedge[swing], sides),
        np.tile(distance_m - moved, sides), aside, np.tile(feel, sides),
    )  # fmt: skip
    low, high = rows.shortest_m[every.swing], rows.longest_m[every.swing]
    return every.only((every.feel_m >= low - _SLACK) & (every.feel_m <= high + _SLACK))


def narrowed(
    bounces: Bounces,
    aimed: dict[int, Aimed],
    count: int,
    together: Sequence[Clubs],
    *,
    told: Callable[[float], None] = lambda _share: None,
) -> dict[int, tuple[Tries, Floats]]:
    """Play tries round by round, and find the best of every club that is left.

    Parameters
    ----------
    bounces : Bounces
        What plays them.
    aimed : dict of int to Aimed
        Tries by place.
    count : int
        Draws in all.
    together : sequence of sequences of int
        Clubs that are held against each other.
    told : callable, optional
        Told before each round which share of the draws is done.

    Returns
    -------
    best : dict of int to (Tries, ndarray)
        By place, the best try of each club that was not given up, and its mean strokes.
    """
    best: dict[int, tuple[Tries, Floats]] = {}
    left, begun = dict(aimed), 0
    for upto in rounds_of(count):
        told(begun / count)
        play(bounces, left.values(), begun, upto)
        for k, some in left.items():
            strokes = some.read(bounces, upto)
            if upto < count:
                worth = worth_playing_on(some.tries.club, strokes, together)
                left[k] = Aimed(some.tries.only(worth), some.maps)
            else:
                means = strokes.mean(axis=1)
                which = np.array(list(best_of_clubs(some.tries.club, means).values()))
                best[k] = some.tries.only(which), means[which]
        begun = upto
    return best


def play(bounces: Bounces, aimed: Iterable[Aimed], first: int, last: int) -> None:
    """Play what tries read under draws first..last, and nothing else.

    Parameters
    ----------
    bounces : Bounces
        What plays them.
    aimed : iterable of Aimed
        Tries of some places.
    first, last : int
        The first draw, and the one after the last.
    """
    shape = bounces.ends.land.shape[:2]
    asked: tuple[Flags, Flags] = np.zeros(shape, dtype=bool), np.zeros(shape, dtype=bool)
    for each in aimed:
        t, land = each.tries, bounces.ends.land
        ends_read(land, t.swing, t.away_m, each.maps, t.aside_m, asked, draws=(first, last))
    bounces.play(*asked)


def rounds_of(count: int) -> list[int]:
    """After how many draws tries are given up, and at last all draws.

    Parameters
    ----------
    count : int
        How many draws there are.
    """
    early = (count // 8, count // 4, count // 2)
    return [*(n for n in early if n >= _FEWEST), count]


def worth_playing_on(clubs: Ints, strokes: Floats, together: Sequence[Clubs]) -> Flags:
    """Which tries may still turn out to be what a bag plays.

    Parameters
    ----------
    clubs : ndarray of int64, shape (k,)
        Club of each try.
    strokes : ndarray, shape (k, n)
        What each costs under the draws so far. [1]
    together : sequence of sequences of int
        Clubs that are held against each other; a bag that holds more of them counts for nothing
        new, as its best can only be better.

    Returns
    -------
    worth : ndarray of bool, shape (k,)
        False where a try is far behind the best of all its sets.
    """
    means = strokes.mean(axis=1)
    best = best_of_clubs(clubs, means)
    rivals: dict[int, set[int]] = {}
    for some in together:
        there = [club for club in some if club in best]
        if there:
            leader = best[min(there, key=lambda club: float(means[best[club]]))]
            rivals.setdefault(leader, set()).update(there)
    worth = np.zeros(len(clubs), dtype=bool)
    for leader, held in rivals.items():
        mine = np.flatnonzero(~worth & np.isin(clubs, list(held)))
        behind = strokes[mine] - strokes[leader]
        error = behind.std(axis=1) / np.sqrt(strokes.shape[1])
        worth[mine] = behind.mean(axis=1) <= _HOPELESS * error
    return worth


def best_of_clubs(clubs: Ints, means: Floats) -> dict[int, int]:
    """By club, which try costs least on average; the first of those alike.

    Parameters
    ----------
    clubs : ndarray of int64, shape (k,)
        Club of each try.
    means : ndarray, shape (k,)
        What each costs. [1]
    """
    found: dict[int, int] = {}
    for club in np.unique(clubs).tolist():
        mine = np.flatnonzero(clubs == club)
        found[club] = int(mine[np.argmin(means[mine])])
    return found
