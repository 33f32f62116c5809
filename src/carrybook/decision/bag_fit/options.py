"""What a bag plays from each place, one bag against another, and the bags that were found."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from carrybook.base.constants import YARD
from carrybook.decision.bag_fit.bags import Saving
from carrybook.decision.bag_fit.greens import Greens
from carrybook.decision.bag_fit.wedges import Wedge
from carrybook.decision.demand import Demand
from carrybook.decision.select import WORTH_SAYING
from carrybook.world.faced import FacedShot

__all__ = ["BagFit", "BagOption", "Taken", "from_short_partials", "over_greens"]

_AT_THE_END = 2.0 * YARD  # ours: a swing felt so near the shortest partial would rather be shorter


@dataclass(frozen=True, slots=True)
class Taken:
    """What a bag plays from one place.

    Parameters
    ----------
    club, shot : str
        Labels.
    feel_m : float
        What to feel. [m]
    strokes : float
        Expected. [1]
    unsure : float
        How unsure the difference from what it is held against is; 0 where it is that. [1]
    """

    club: str
    shot: str
    feel_m: float
    strokes: float
    unsure: float = 0.0


@dataclass(frozen=True, slots=True)
class BagOption:
    """One bag against the one that is carried.

    Parameters
    ----------
    wedges : tuple of Wedge
        Its wedges, rising in loft.
    new : int
        How many of them are not owned.
    strokes : float
        Expected from an average place. [1]
    saving : Saving, optional
        Against the bag that is carried; none for that itself, and where none is.
    taken : tuple of Taken
        What it plays from each place.
    """

    wedges: tuple[Wedge, ...]
    new: int
    strokes: float
    saving: Saving | None
    taken: tuple[Taken, ...]

    @property
    def size(self) -> int:
        """Number of wedges."""
        return len(self.wedges)


@dataclass(frozen=True, slots=True)
class BagFit:
    """Which bag.

    Parameters
    ----------
    demand, greens : Demand, Greens
        What is faced.
    carried : BagOption, optional
        The wedges that the player owns; none where they are not one of the bags asked about.
    options : tuple of BagOption
        The best bag of every size with every number of new clubs that saves something.
    best : int
        Which of them costs fewest.
    bags : int
        Bags that were compared.
    alike : tuple of tuple of float
        By slot of the best bag, least and greatest loft among bags of that size that cost hardly
        more. [rad]
    draws, seed : int
        Draws behind each figure, and where they come from.
    doubts : tuple of str
        What the answer rests on that is not well known.
    """

    demand: Demand
    greens: Greens
    carried: BagOption | None
    options: tuple[BagOption, ...]
    best: int
    bags: int
    alike: tuple[tuple[float, float], ...]
    draws: int
    seed: int
    doubts: tuple[str, ...] = ()

    @property
    def advised(self) -> BagOption:
        """The bag with the fewest new clubs that is as good as the best, as far as is known."""
        best = self.options[self.best]
        if self.carried is None:
            return best
        near = [o for o in self.options if o.strokes - best.strokes < WORTH_SAYING]
        real = [o for o in near if o.saving is not None and o.saving.is_real]
        return min(real, key=lambda o: (o.new, o.strokes)) if real else self.carried

    @property
    def other(self) -> BagOption:
        """What to hold against the bag that is carried: what is advised, else the best."""
        return self.options[self.best] if self.advised is self.carried else self.advised


def from_short_partials(fit: BagFit) -> float:
    """Share of what the best bag saves from places that are nearer than the player's partials go.

    Parameters
    ----------
    fit : BagFit
        What was found.

    Returns
    -------
    share : float
        0 where nothing is saved, or no bag is carried. [1]
    """
    mine, best = fit.carried, fit.options[fit.best]
    if mine is None or best.saving is None or best.saving.strokes <= 0.0:
        return 0.0
    shortest = {s.shot.label: s.shot.shortest_m for w in mine.wedges for s in w.shots}
    saved_there = sum(
        share * (a.strokes - b.strokes)
        for share, a, b in zip(fit.demand.shares, mine.taken, best.taken, strict=True)
        if a.feel_m < shortest.get(a.shot, 0.0) + _AT_THE_END
    )
    return float(np.clip(saved_there / best.saving.strokes, 0.0, 1.0))


def over_greens(demand: Demand, taken: Sequence[Taken]) -> list[tuple[FacedShot, Taken]]:
    """What is played from each distance and lie, over all greens of a course.

    Parameters
    ----------
    demand : Demand
        What is faced.
    taken : sequence of Taken
        What is played from each place.

    Returns
    -------
    rows : list of (FacedShot, Taken)
        The shot that is played most, and the mean of strokes and of how unsure they are.
    """
    alike: dict[FacedShot, list[Taken]] = {}
    for place, each in zip(demand.shots, taken, strict=True):
        alike.setdefault(replace(place, green=0), []).append(each)
    return [(place, _most_played(some)) for place, some in alike.items()]


def _most_played(some: Sequence[Taken]) -> Taken:
    shots = Counter(each.shot for each in some)
    usual = next(each for each in some if each.shot == shots.most_common(1)[0][0])
    mean, unsure = (
        float(np.mean([getattr(each, name) for each in some])) for name in ("strokes", "unsure")
    )
    return replace(usual, strokes=mean, unsure=unsure)
