"""How a player scatters against whom the practising one is measured."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import log

import numpy as np

from carrybook.base.constants import YARD
from carrybook.base.errors import BadInputError
from carrybook.outcomes.plain_green import misses
from carrybook.player.level import Player, Scatter, scatter_prior
from carrybook.player.summary import ShotSummary
from carrybook.world.lie import Lie

__all__ = ["Baseline", "baseline_named", "from_lie", "own_scatter", "usual_baseline"]

# james-rees-2008: median finish of tour players over distance, from 50 to 100 yd 5.2 to 6.5 %, from
# 100 to 200 yd 4.6 to 5.3 %. Ours: the middle of each at the middle distance, straight between.
_TOUR_YARDS, _TOUR_MEDIAN = (75.0, 150.0), (0.0585, 0.0495)
# james-rees-2008: 4.3 percentage points more from rough, on the mean of those two medians. Ours:
# the same ratio for every player; deep rough no more, as nobody has published it.
_ROUGH = 1.0 + 0.043 / 0.054
_ROUGH_LIES = (Lie.LIGHT_ROUGH, Lie.DEEP_ROUGH)
_KNOWN_BALLS = 15  # ours: an own best rests on that many

Level = Callable[[float], Scatter]


@dataclass(frozen=True, slots=True)
class Baseline:
    """Whom a player is measured against: a name, what it is, and its scatter by distance."""

    name: str
    words: str
    clean: Level

    def scatter(self, target_m: float, lie: Lie) -> Scatter:
        """Scatter of that player from a distance and a lie."""
        return from_lie(self.clean(target_m), lie)


def baseline_named(name: str, summaries: Sequence[ShotSummary]) -> Baseline:
    """Give the baseline that goes by a name.

    Parameters
    ----------
    name : str
        "tour", "scratch", "own" (the best of the player's own shots), or a handicap: "5", "+2".
    summaries : sequence of ShotSummary
        The player's own shots, at least one.

    Raises
    ------
    BadInputError
        Another word, or no shot known well enough to be an own best.
    OutOfRangeError
        A handicap that nobody has.
    """
    word = name.strip().lower()
    if word in _NAMED:
        return _NAMED[word]
    if word == "own":
        return _own_best(summaries)
    try:
        handicap = -float(word[1:]) if word.startswith("+") else float(word)
    except ValueError:
        raise BadInputError(
            f"baseline = {name!r} is not one of: {', '.join(_NAMED)}, own, or a handicap like 5"
        ) from None
    return _of_handicap(handicap, word, f"a player of handicap {word}, by the course-rating table")


def usual_baseline(summaries: Sequence[ShotSummary]) -> str:
    """Name of the baseline where nobody chose one: own best, or scratch where none is known.

    Parameters
    ----------
    summaries : sequence of ShotSummary
        The player's own shots.
    """
    return "own" if any(s.balls >= _KNOWN_BALLS for s in summaries) else "scratch"


def from_lie(clean: Scatter, lie: Lie) -> Scatter:
    """Scatter from a lie of a player who scatters so from the fairway.

    Parameters
    ----------
    clean : Scatter
        From a clean lie.
    lie : Lie
        The lie.

    References
    ----------
    james-rees-2008.
    """
    more = _ROUGH if lie in _ROUGH_LIES else 1.0
    return Scatter(clean.spread * more, clean.side_rad * more)


def own_scatter(summary: ShotSummary, feel_m: float, lie: Lie) -> Scatter:
    """Scatter of one of the player's shots when so much is felt.

    Parameters
    ----------
    summary : ShotSummary
        The shot.
    feel_m : float
        What is felt. [m]
    lie : Lie
        The lie.
    """
    return from_lie(Scatter(summary.spread_at(feel_m), summary.side_rad), lie)


def _tour(target_m: float) -> Scatter:
    """Scatter with the published median miss, and the shape of a scratch player's."""
    shape = scatter_prior(Player(0.0), max(target_m, YARD))
    known = float(np.median(misses(target_m, shape))) / target_m
    share = float(np.interp(target_m / YARD, _TOUR_YARDS, _TOUR_MEDIAN)) / known
    return Scatter(shape.spread * share, shape.side_rad * share)


def _of_handicap(handicap: float, name: str, words: str) -> Baseline:
    player = Player(handicap)
    return Baseline(name, words, lambda target_m: scatter_prior(player, target_m))


def _own_best(summaries: Sequence[ShotSummary]) -> Baseline:
    """The shot whose pattern is smallest, depth and side together, among those well known."""
    known = [s for s in summaries if s.balls >= _KNOWN_BALLS]
    if not known:
        raise BadInputError(
            f"baseline = 'own' needs a shot with {_KNOWN_BALLS} logged balls; take scratch or tour"
        )
    best = min(known, key=lambda s: log(s.spread) + log(s.side_rad))
    scatter = Scatter(best.spread, best.side_rad)
    return Baseline(
        "own", f"your own {best.shot.label}, the closest of your shots", lambda _: scatter
    )


_NAMED = {
    "tour": Baseline("tour", "tour players' published percent errors", _tour),
    "scratch": _of_handicap(0.0, "scratch", "a scratch player, by the course-rating table"),
}
