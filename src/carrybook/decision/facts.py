"""Which fact would change the choice, and which is worth finding out first.

The facts are those that are judged before a shot: how firm and how fast the green is, the wind and
where it comes from, what the lie does. Each is pinned in turn to values around what is believed,
all else left to chance, and the candidates that were good are played again.
"""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from carrybook.base.numerics import Flags, Floats
from carrybook.decision.advice import Fact, Flip, Worth
from carrybook.decision.candidates import Candidate
from carrybook.decision.select import Cost, play
from carrybook.outcomes.draws import Draws
from carrybook.outcomes.simulate import BEARING_SD, MEAN_SD, STIMP_SD, World, between

__all__ = ["facts_that_matter", "pinned"]


_DRAWN_AS = {
    Fact.FIRMNESS: ("firmness",),
    Fact.WIND: ("wind",),
    Fact.DIRECTION: ("bearing",),
    Fact.GREEN_SPEED: ("stimp",),
    Fact.LIE: ("lie_spin", "lie_speed"),
}
# Gauss and Hermite's three points of a normal belief, and further out, where only flips are sought;
# in standard deviations of the belief.
_NODES = np.array([-4.0, -2.5, -np.sqrt(3.0), 0.0, np.sqrt(3.0), 2.5, 4.0])
_WEIGHTS = np.array([0.0, 0.0, 1.0 / 6.0, 2.0 / 3.0, 1.0 / 6.0, 0.0, 0.0])
_CLEARLY = 0.01  # ours: strokes by which another shot must be ahead to have flipped the choice


def pinned(draws: Draws, fact: Fact, deviation: float) -> Draws:
    """The same chance, with one fact pinned so many standard deviations from what is believed.

    Parameters
    ----------
    draws : Draws
        The chance.
    fact : Fact
        What is pinned.
    deviation : float
        In standard deviations of the belief. [1]
    """
    value = np.full(len(draws), deviation)
    return replace(draws, **{name: value for name in _DRAWN_AS[fact]})


def facts_that_matter(
    world: World,
    first: Candidate,
    candidates: Sequence[Candidate],
    draws: Draws,
    again: float,
    cost: Cost,
) -> tuple[tuple[Flip, ...], tuple[Worth, ...]]:
    """Say which facts would flip a choice, and what knowing each is worth.

    Parameters
    ----------
    world : World
        Everything around the swing.
    first : Candidate
        What was chosen.
    candidates : sequence of Candidate
        What else was good, spots around the chosen one among them.
    draws : Draws
        Shared chance; one half picks, the other values what was picked.
    again : float
        Expected strokes for a ball that is lost. [1]
    cost : callable
        What was minimised.

    Returns
    -------
    flips : tuple of Flip
        The nearest first; none for a fact that changes nothing within four standard deviations.
    worths : tuple of Worth
        Of every fact in play, the most first.

    Notes
    -----
    Worth is the expected value of perfect information over three points of a normal belief: the
    best of each point, less the best for all of them.
    """
    shots = [c.summary.shot.label for c in candidates]
    own = np.array([label == first.summary.shot.label for label in shots])
    flips, worths = [], []
    for fact in _in_play(world):
        costs = np.array(
            [cost(play(world, candidates, pinned(draws, fact, z), again).finish) for z in _NODES]
        )
        flips += [
            Flip(fact, level, _value(world, fact, level), instead)
            for level, instead in _levels(costs.mean(axis=2), own, shots)
        ]
        worths.append(_worth(fact, costs[_WEIGHTS > 0.0]))
    return (
        tuple(sorted(flips, key=lambda f: abs(f.deviation))),
        tuple(sorted(worths, key=lambda w: -w.strokes)),
    )


def _in_play(world: World) -> list[Fact]:
    """Facts that are unsure here."""
    windy = world.wind.speed_mps > 0.0
    spin = world.lie.spin
    unsure = {
        Fact.FIRMNESS: world.firmness_sd_g > 0.0,
        Fact.WIND: windy,
        Fact.DIRECTION: windy,
        Fact.GREEN_SPEED: True,
        Fact.LIE: spin[0] < spin[2],
    }
    return [fact for fact, is_so in unsure.items() if is_so]


def _levels(means: Floats, own: Flags, shots: Sequence[str]) -> list[tuple[float, str]]:
    """Where another shot first draws level, to either side; `means` is (nodes, candidates)."""
    if own.all():
        return []
    lead = means[:, ~own].min(axis=1) - means[:, own].min(axis=1)
    others = [label for label, mine in zip(shots, own, strict=True) if not mine]
    middle = len(_NODES) // 2
    if lead[middle] <= 0.0:
        return []  # too close to call as it is
    found = []
    for step in (-1, 1):
        for k in range(middle + step, len(_NODES) if step > 0 else -1, step):
            if lead[k] < -_CLEARLY:
                share = lead[k - step] / (lead[k - step] - lead[k])
                level = _NODES[k - step] + share * (_NODES[k] - _NODES[k - step])
                found.append((float(level), others[int(means[k, ~own].argmin())]))
                break
    return found


def _value(world: World, fact: Fact, deviation: float) -> float:
    """A fact so many standard deviations from what is believed, in its own unit."""
    values = {
        Fact.FIRMNESS: world.firmness_g + world.firmness_sd_g * deviation,
        Fact.WIND: world.wind.speed_mps * max(1.0 + MEAN_SD * deviation, 0.0),
        Fact.DIRECTION: world.wind.from_rad + BEARING_SD * deviation,
        Fact.GREEN_SPEED: world.stimp_m * np.exp(STIMP_SD * deviation),
        Fact.LIE: float(between(world.lie.spin, np.array([deviation]))[0]),
    }
    return float(values[fact])


def _worth(fact: Fact, costs: Floats) -> Worth:
    """Value of knowing a fact; `costs` is (three points, candidates, draws)."""
    weights = _WEIGHTS[_WEIGHTS > 0.0]
    half = costs.shape[2] // 2
    picks, values = costs[:, :, :half].mean(axis=2), costs[:, :, half:]
    blind = int((weights[:, None] * picks).sum(axis=0).argmin())
    saved = np.array(
        [
            w * (v[blind] - v[int(p.argmin())])
            for w, p, v in zip(weights, picks, values, strict=True)
        ]
    ).sum(axis=0)
    error = float(saved.std(ddof=1) / np.sqrt(len(saved)))
    return Worth(fact, max(float(saved.mean()), 0.0), error)
