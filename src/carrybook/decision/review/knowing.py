"""What a fact would have been worth knowing: the best choice with it, against what was chosen.

That a wind was stronger than believed makes a shot dearer whoever knows it; what counts here is the
part that another choice would have saved.
"""

from collections.abc import Mapping, Sequence

import numpy as np

from carrybook.base.numerics import Flags, Floats
from carrybook.decision.review.best import Best, best_of
from carrybook.decision.review.chosen import Chosen
from carrybook.decision.review.season import Condition, Season
from carrybook.decision.review.weigh import Scales
from carrybook.outcomes.after_landing import Chance
from carrybook.player.summary import ShotSummary

__all__ = ["worth_of_knowing"]


def worth_of_knowing(
    season: Season,
    summaries: Sequence[ShotSummary],
    believed: Condition,
    true: Condition,
    learnt: Mapping[str, Flags],
    chosen: Chosen,
    instead: Best,
    scales: Scales,
    drawn: Chance,
) -> Floats:
    """Strokes that knowing each fact would have saved, shape (n, 4); nan where it was not learnt.

    Parameters
    ----------
    season, summaries : Season, sequence of ShotSummary
        The shots, and what the player owns.
    believed, true : Condition
        What was believed, and what turned out to be so.
    learnt : mapping of str to ndarray of bool
        Fact to where it was learnt; the columns are in its order.
    chosen : Chosen
        What was chosen.
    instead : Best
        What would have been best at what was believed.
    scales, drawn : Scales, Chance
        What weighs it.

    Notes
    -----
    The best choice at what was believed and that one fact, played in what turned out to be so, less
    what was chosen, played there too. A choice that was poor by itself does not count: both are
    taken from the best, with the fact and without it.
    """
    saved = np.full((len(season), len(learnt)), np.nan)
    if not any(learnt[fact][chosen.rows].any() for fact in learnt):
        return saved
    without = _played(instead, believed, chosen)
    base = without.worth(true, scales, drawn)
    for k, fact in enumerate(learnt):
        knew = believed.mixed(true, {fact: True})
        if learnt[fact][without.rows].any():
            with_it = _played(best_of(season, summaries, knew, scales, drawn), knew, without)
            there = np.isin(without.rows, with_it.rows) & learnt[fact][without.rows]
            rows = without.rows[there]
            both = np.isin(with_it.rows, rows)
            saved[rows, k] = base[there] - with_it.some(both).worth(true, scales, drawn)
    return saved


def _played(best: Best, at: Condition, chosen: Chosen) -> Chosen:
    """The best choices as they would have been struck, for the shots whose choice is known."""
    rows = chosen.rows[np.isfinite(best.strokes[chosen.rows])]
    straight = Chosen(chosen.summaries, rows, best.shot[rows], best.felt[rows], np.zeros(len(rows)))
    drift = straight.flown(at).arrivals[:, 1]
    carry = np.hypot(at.number[rows] + best.past[rows], best.right[rows])
    start = np.arctan2(best.right[rows] - drift, carry)
    return Chosen(chosen.summaries, rows, best.shot[rows], best.felt[rows], start)
