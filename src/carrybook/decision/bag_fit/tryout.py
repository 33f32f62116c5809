"""Whether a shot that the player is trying earns a place beside those they own."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import StrEnum
from math import ceil, radians, sqrt

import numpy as np

from carrybook.base.errors import NoSolutionError
from carrybook.base.numerics import Flags, Ints
from carrybook.decision.bag_fit.bags import SURE, Saving, choices, saving
from carrybook.decision.bag_fit.doubt import Chance, doubt_of
from carrybook.decision.bag_fit.greens import Greens
from carrybook.decision.bag_fit.table import Table, build_table
from carrybook.decision.bag_fit.wedges import Unknown, Wedge, own_wedges
from carrybook.decision.demand import Demand
from carrybook.decision.select import WORTH_SAYING
from carrybook.player.summary import ShotSummary
from carrybook.world.lie import Lie, Moisture

__all__ = ["TryOut", "Verdict", "known_of", "more_balls", "try_out", "verdict_of"]

# Ours: how unsure launch and spin are that come from the loft, and scatter of one ball; the balls
# that the prior of scatter is worth, and how much heavy tails cost in judging it.
_LAUNCH_FROM_LOFT, _SPIN_FROM_LOFT = radians(3.0), 0.25
_LAUNCH_SD, _SPIN_SD = radians(1.5), 0.08
_PRIOR_BALLS = 6.0
_HEAVY = 1.3
_MOST_BALLS = 300  # more than that nobody logs for one shot; then balls do not settle it

Progress = Callable[[str, float], None]
SummariesOf = Callable[[Lie, Moisture], Sequence[ShotSummary]]


class Verdict(StrEnum):
    """What the balls say of a shot that is tried."""

    EARNS = "earns its place"
    DOES_NOT = "does not earn a place"
    FEELING = "only a feeling so far"


@dataclass(frozen=True, slots=True)
class TryOut:
    """A shot that is tried.

    Parameters
    ----------
    tried : ShotSummary
        What its balls say of it.
    beside : tuple of ShotSummary
        The shots it is held against.
    demand, greens : Demand, Greens
        What it is for.
    without, with_it : float
        Expected strokes from there. [1]
    saves : Saving
        With it, against without.
    share : float
        Of what it is for, the part that it would be played from. [1]
    instead_of : tuple of str
        The shots that it would take the place of.
    verdict : Verdict
        What that comes to.
    more_balls : int, optional
        How many more would settle it; none where balls alone do not, or it is settled.
    draws, seed : int
        Draws behind each figure, and where they come from.
    """

    tried: ShotSummary
    beside: tuple[ShotSummary, ...]
    demand: Demand
    greens: Greens
    without: float
    with_it: float
    saves: Saving
    share: float
    instead_of: tuple[str, ...]
    verdict: Verdict
    more_balls: int | None
    draws: int
    seed: int


def try_out(
    summaries_of: SummariesOf,
    label: str,
    demand: Demand,
    greens: Greens,
    *,
    chance: Chance | None = None,
    progress: Progress | None = None,
) -> TryOut:
    """Hold a shot that is tried against those that are trusted.

    Parameters
    ----------
    summaries_of : callable
        Gives every shot of the player off a lie and moisture.
    label : str
        The shot that is tried, as the book has it.
    demand, greens : Demand, Greens
        What it is for.
    chance : Chance, optional
        How much is played.
    progress : callable, optional
        Told what is being done and the share that is done, 0 to 1.

    Raises
    ------
    NoSolutionError
        No other shot is trusted, so that there is nothing to hold it against.
    """
    chance = chance or Chance()
    usual = summaries_of(Lie.FAIRWAY, Moisture.DRY)
    tried = next(s for s in usual if s.shot.label == label)
    unknown = known_of(tried)

    def clubs(lie: Lie, moisture: Moisture) -> list[Wedge]:
        here = summaries_of(lie, moisture)
        others = own_wedges(s for s in here if s.shot.label != label)
        own = next(s for s in here if s.shot.label == label)
        return [*others, Wedge(label, own.shot.club.loft_rad, (own,), unknown)]

    others = tuple(range(len(clubs(Lie.FAIRWAY, Moisture.DRY)) - 1))
    if not others:
        raise NoSolutionError(
            f"no shot but {label} is trusted: there is nothing to hold it against"
        )
    tell = progress or (lambda _what, _share: None)
    this = len(others)
    table = build_table(
        clubs, demand, greens, count=chance.count, seed=chance.seed,
        bags=[others, (*others, this)], progress=lambda what, share: tell(what, 0.5 * share),
    )  # fmt: skip
    (doubt,) = doubt_of(
        clubs, [(*others, this)], {this: unknown}, demand, greens, chance.fewer(),
        progress=lambda share: tell(f"asking what is not known of {label}", 0.5 + 0.5 * share),
    )  # fmt: skip
    saves = saving(table, (*others, this), others, clubs=doubt)
    verdict = verdict_of(saves)
    taken, before = choices(table, (*others, this)), choices(table, others)
    costs = table.strokes.mean(axis=2)
    at = np.arange(len(taken))
    return TryOut(
        tried=tried,
        beside=tuple(s for w in table.wedges[:this] for s in w.shots),
        demand=demand,
        greens=greens,
        without=float(demand.shares @ costs[before, at]),
        with_it=float(demand.shares @ costs[taken, at]),
        saves=saves,
        share=float(demand.shares[taken == this].sum()),
        instead_of=_replaced(table, before, taken == this),
        verdict=verdict,
        more_balls=more_balls(saves, tried.balls) if verdict is Verdict.FEELING else None,
        draws=chance.count,
        seed=chance.seed,
    )


def known_of(tried: ShotSummary) -> Unknown:
    """How unsure the log leaves a shot.

    Parameters
    ----------
    tried : ShotSummary
        What its balls say of it.
    """
    n, m = tried.balls, tried.launch_measured
    launch = 1.0 / sqrt(1.0 / _LAUNCH_FROM_LOFT**2 + m / _LAUNCH_SD**2)
    spin = 1.0 / sqrt(1.0 / _SPIN_FROM_LOFT**2 + m / _SPIN_SD**2)
    return Unknown(tried.bias_se, _HEAVY / sqrt(2.0 * (n + _PRIOR_BALLS)), launch, spin)


def verdict_of(saves: Saving) -> Verdict:
    """What an interval comes to.

    Parameters
    ----------
    saves : Saving
        With the shot, against without.
    """
    if saves.strokes > 0.0 and saves.is_real:
        return Verdict.EARNS
    if saves.interval[1] < WORTH_SAYING:
        return Verdict.DOES_NOT
    return Verdict.FEELING


def more_balls(saves: Saving, balls: int) -> int | None:
    """How many more balls would settle it, if what they show stays as it is.

    Parameters
    ----------
    saves : Saving
        With the shot, against without.
    balls : int
        Logged so far.

    Returns
    -------
    more : int or None
        None where what balls of this shot cannot tell is too much already.

    Notes
    -----
    What is not known of the shot shrinks with the square root of its balls; the rest stays.
    """
    worth = saves.strokes >= WORTH_SAYING
    margin = (saves.strokes if worth else WORTH_SAYING - saves.strokes) / SURE
    rest = sqrt(max(0.0, saves.unsure**2 - saves.clubs**2))
    if margin <= rest:
        return None
    counted = balls + _PRIOR_BALLS
    needed = counted * ((saves.clubs / sqrt(margin**2 - rest**2)) ** 2 - 1.0)
    return ceil(needed) if 0.0 < needed <= _MOST_BALLS else None


def _replaced(table: Table, before: Ints, where: Flags) -> tuple[str, ...]:
    labels = [
        table.wedges[club].shots[int(table.shot[club, k])].shot.label
        for k, club in enumerate(before)
        if where[k]
    ]
    return tuple(dict.fromkeys(labels))
