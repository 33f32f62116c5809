"""Tries: one swing aimed from one place. Which of them are worth playing on, which is best.

A try that is far behind under the first draws is not played under the others.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from carrybook.base.numerics import Flags, Floats, Ints

__all__ = ["Tries", "best_of_clubs", "rounds_of", "worth_playing_on"]

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
