"""What was chosen: a shot, a carry to feel and a start line, for the shots where that is known."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from carrybook.base.numerics import Flags, Floats, Ints
from carrybook.decision.review.season import Condition, Season
from carrybook.decision.review.weigh import Flown, Scales, flown_in
from carrybook.outcomes.after_landing import Chance
from carrybook.player.summary import ShotSummary
from carrybook.world.lie import Lie

__all__ = ["Chosen", "chosen_of"]

_WIDEST = 12.0  # m; ours: how far from the hole an aim that nobody said is looked for
_ASIDES, _DRAWS = 13, 128  # ours: places that are tried, and what they are weighed with


@dataclass(frozen=True, slots=True)
class Chosen:
    """Shots of a season whose choice is known.

    Parameters
    ----------
    summaries : sequence of ShotSummary
        The player's shots.
    rows : ndarray of int64, shape (m,)
        Which shots of the season.
    shot : ndarray of int64, shape (m,)
        Which of the player's shots.
    felt : ndarray, shape (m,)
        What was meant to be felt. [m]
    start : ndarray, shape (m,)
        Start line, right of the line to the hole. [rad]
    """

    summaries: Sequence[ShotSummary]
    rows: Ints
    shot: Ints
    felt: Floats
    start: Floats

    def some(self, keep: Ints | Flags) -> "Chosen":
        """Give some of them."""
        return Chosen(
            self.summaries, self.rows[keep], self.shot[keep], self.felt[keep], self.start[keep]
        )

    def flown(self, condition: Condition) -> Flown:
        """How they come down in the conditions of the season."""
        return flown_in(self.summaries, condition.rows(self.rows), self.shot, self.felt)

    def landing(self, number: Floats, flown: Flown) -> tuple[Floats, Floats]:
        """Where they land on average, past the hole and right of it. [m]

        Parameters
        ----------
        number : ndarray, shape (m,)
            Ball to hole. [m]
        flown : Flown, length m
            How they come down.
        """
        carry, drift = flown.arrivals[:, 0], flown.arrivals[:, 1]
        along = carry * np.cos(self.start) - drift * np.sin(self.start)
        right = carry * np.sin(self.start) + drift * np.cos(self.start)
        return along - number, right

    def worth(self, condition: Condition, scales: Scales, drawn: Chance) -> Floats:
        """Expected strokes of each in some conditions, shape (m,). [1]"""
        flown = self.flown(condition)
        past, right = self.landing(condition.number[self.rows], flown)
        return scales.worth(self.rows, past, right, flown, drawn)


def chosen_of(
    season: Season,
    summaries: Sequence[ShotSummary],
    believed: Condition,
    windy: Flags,
    scales: Scales,
    drawn: Chance,
) -> Chosen:
    """Say what was chosen, where the carry meant and the wind are known, off anything but sand.

    Parameters
    ----------
    season : Season
        The shots.
    summaries : sequence of ShotSummary
        What the player owns.
    believed : Condition
        What was believed.
    windy : ndarray of bool, shape (n,)
        Where somebody said what the wind was, calm or not.
    scales, drawn : Scales, Chance
        What finds the best aim, for shots whose aim nobody said.
    """
    known = np.array([s.intended_m is not None and s.lie is not Lie.SAND for s in season.shots])
    rows = np.flatnonzero(known & windy)
    felt = np.array([season.shots[r].intended_m for r in rows], dtype=np.float64)
    aims = [season.shots[r].aim_right_m for r in rows]
    aim = np.array([np.nan if a is None else a for a in aims], dtype=np.float64)
    start = np.arctan2(aim, believed.number[rows])
    chosen = Chosen(summaries, rows, season.played[rows], felt, start)
    flown = chosen.flown(believed)
    flies = np.isfinite(flown.arrivals).all(axis=1)
    unsaid = np.flatnonzero(np.isnan(start) & flies)
    if len(unsaid):
        start[unsaid] = _best_starts(chosen, flown, unsaid, believed, scales, drawn)
    return chosen.some(np.flatnonzero(flies))


def _best_starts(
    chosen: Chosen, flown: Flown, some: Ints, believed: Condition, scales: Scales, drawn: Chance
) -> Floats:
    """Start lines with the fewest strokes for that carry."""
    sides = np.linspace(-_WIDEST, _WIDEST, _ASIDES)
    row, side = np.repeat(some, _ASIDES), np.tile(sides, len(some))
    each = flown.rows(row)
    past = each.arrivals[:, 0] - believed.number[chosen.rows[row]]
    worth = scales.worth(chosen.rows[row], past, side, each, drawn.first(_DRAWS))
    picked = sides[worth.reshape(-1, _ASIDES).argmin(axis=1)]
    return np.asarray(np.arctan2(picked - flown.arrivals[some, 1], flown.arrivals[some, 0]))
