"""A quick look at one place: the best shot from it, coarsely searched, its worth on shared draws.

Many places are compared here, a whole approach or a whole venue, so each is searched with fewer
landing spots and draws than a choice on its own. Every place meets the same chance.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from carrybook.base.constants import YARD
from carrybook.base.numerics import Floats
from carrybook.decision.advice import Situation
from carrybook.decision.allowed import allowed_from
from carrybook.decision.candidates import Candidate, build, build_around, spots_over, world_of
from carrybook.decision.select import Played, best_of_each_shot, halve, play
from carrybook.outcomes.baseline import strokes_from
from carrybook.outcomes.draws import Draws, draw
from carrybook.outcomes.simulate import World
from carrybook.player.summary import ShotSummary

__all__ = ["Looked", "Pains", "look", "shared_draws", "unsure"]

_DEPTHS = np.arange(-20.0, 10.1, 5.0) * YARD  # ours, as for all of these: coarse, then finer
_ASIDES = np.array([-8.0, -4.0, 0.0, 4.0, 8.0]) * YARD
_FINER = np.array([-2.0, 0.0, 2.0]) * YARD
# Ours: a place is within reach if some shot lands a ball so near the hole, short of it or past it.
_SHORT, _PAST = 10.5 * YARD, 0.5 * YARD
# What is the same for every shot of a day but not known; the rest of a draw is one shot's chance.
_NOT_KNOWN = (
    "centre", "curve", "lift", "firmness", "tilt", "restitution", "friction", "stimp", "band",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Pains:
    """How much work one look is worth.

    Parameters
    ----------
    first, finer, final : int
        Draws of the coarse search's first round, of the finer one, and behind the quoted figure.
    shots : int
        How many shots are looked at more finely.
    """

    first: int = 32
    finer: int = 256
    final: int = 4096
    shots: int = 2


@dataclass(frozen=True, slots=True)
class Looked:
    """The best shots from one place, played under the shared draws.

    Parameters
    ----------
    situation : Situation
        The place.
    world : World
        The same for the simulation.
    best : tuple of Candidate
        Best first, one for each shot.
    played : Played
        All of them under the shared draws.
    """

    situation: Situation
    world: World
    best: tuple[Candidate, ...]
    played: Played

    @property
    def strokes(self) -> Floats:
        """Strokes of the best shot under every shared draw, shape (n,)."""
        row: Floats = self.played.finish.strokes[0]
        return row


def shared_draws(seed: int, pains: Pains) -> Draws:
    """Draw the chance that every place meets in the end; no search has seen it.

    Parameters
    ----------
    seed : int
        The same seed gives the same chance.
    pains : Pains
        How many.
    """
    return draw(np.random.default_rng([seed, 1]), pains.final)


def look(
    situation: Situation,
    summaries: Sequence[ShotSummary],
    draws: Draws,
    *,
    seed: int = 1,
    pains: Pains | None = None,
) -> Looked | None:
    """Look for the best shot from one place.

    Parameters
    ----------
    situation : Situation
        The place.
    summaries : sequence of ShotSummary
        The shots the player owns; those not for this lie, or not trusted, are left out.
    draws : Draws
        From :func:`shared_draws`.
    seed : int, default 1
        Of the search: the same at every place, so that neighbours are judged alike.
    pains : Pains, optional
        How much work.

    Returns
    -------
    looked : Looked or None
        None where no shot lands a ball near the hole.

    Raises
    ------
    BadInputError
        A lie that is not modelled.
    """
    pains = pains or Pains()
    world = world_of(situation)
    again = float(strokes_from(situation.lie, np.array([situation.number_m]))[0])
    rng = np.random.default_rng([seed, 0])
    spots = spots_over(_DEPTHS, _ASIDES)
    allowed, _ = allowed_from(summaries, situation)
    found = [c for s in allowed for c in build(world, situation, s, spots)]
    if not any(-_SHORT <= c.spot.past_m <= _PAST for c in found):
        return None
    coarse = halve(
        world, found, lambda n: draw(rng, n), again, first_draws=pains.first, survivors=8
    )
    around = [
        candidate
        for place in best_of_each_shot(coarse)[: pains.shots]
        for candidate in build_around(world, situation, coarse[place], _FINER)
    ]
    finer = halve(
        world, around, lambda n: draw(rng, n), again, first_draws=pains.finer, survivors=4
    )
    best = tuple(finer[place] for place in best_of_each_shot(finer))
    return Looked(situation, world, best, play(world, best, draws, again))


def unsure(difference: Floats, draws: Draws) -> float:
    """How unsure the mean of a difference is: for the draws, and for what is not known.

    Parameters
    ----------
    difference : ndarray, shape (n,)
        Paired difference under every draw.
    draws : Draws, length n
        The draws.

    Returns
    -------
    sd : float
        Standard deviation, in the unit of `difference`.

    Notes
    -----
    A straight line in each unknown (the player's true centre and curve, lift and drag, the green)
    says how the difference would move if that were known; what that explains beyond its own noise
    is added to the standard error of the mean. Ours.
    """
    n = len(difference)
    unknown = np.column_stack([getattr(draws, name) for name in _NOT_KNOWN])
    unknown = (unknown - unknown.mean(axis=0)) / unknown.std(axis=0)
    centred = difference - difference.mean()
    slopes, *_ = np.linalg.lstsq(unknown, centred, rcond=None)
    left = float((centred - unknown @ slopes).var(ddof=len(_NOT_KNOWN) + 1))
    explained = float(slopes @ slopes) - len(_NOT_KNOWN) * left / n
    return float(np.sqrt(max(0.0, explained) + centred.var(ddof=1) / n))
