"""A first bag from a few carries that a player said; what was not said is a guess, and marked."""

from collections.abc import Sequence
from dataclasses import replace
from math import degrees

import numpy as np

from carrybook.base.constants import YARD
from carrybook.base.errors import BadInputError
from carrybook.base.numerics import Floats
from carrybook.player.bag import Club, Flight, Shape, Shot, Source

__all__ = ["prior_bag"]

# Ours (judgement): a partial goes down to half of the stock carry; a low one carries this much of
# the stock one; how near two lofts may be to say how carry changes with loft.
_SHORTEST_SHARE = 0.5
_LOW_SHARE = 0.92
_LEAST_APART = 2.0  # deg


def prior_bag(
    said: Sequence[tuple[Club, float]], others: Sequence[Club] = (), *, low: bool = False
) -> tuple[Shot, ...]:
    """Make shots of the wedges that were said, and guess those that were not.

    Parameters
    ----------
    said : sequence of (Club, float)
        At least two wedges of different loft and their full carries. [m]
    others : sequence of Club
        Wedges of which only the loft is known.
    low : bool, default False
        Whether each wedge is also played low.

    Returns
    -------
    shots : tuple of Shot
        From the least loft to the most. Stock carries that were not said, and all ranges of
        partials, are marked as priors; shots that were not said are not trusted in competition.

    Raises
    ------
    BadInputError
        Fewer than two wedges, two of one loft or name, or more carry with more loft.

    Notes
    -----
    Carry falls with loft along the straight line that fits what was said best.
    """
    lofts = np.array([degrees(club.loft_rad) for club, _ in said])
    carries = np.array([carry for _, carry in said])
    _require_a_line(lofts, carries, [club.label for club, _ in said] + [c.label for c in others])
    slope, start = np.polyfit(lofts, carries, 1)
    if slope >= 0.0:
        raise BadInputError(
            "carry grows with loft in what you said; check that each carry stands beside its loft"
        )
    shots = [_shot(club, carry, Source.SAID) for club, carry in said]
    for club in others:
        guess = start + slope * degrees(club.loft_rad)
        shots.append(_shot(club, float(np.clip(guess, 10.0 * YARD, 250.0 * YARD)), Source.PRIOR))
    if low:
        shots += [_low(shot) for shot in shots]
    return tuple(sorted(shots, key=lambda s: (s.club.loft_rad, s.club.label, s.flight != "stock")))


def _require_a_line(lofts: Floats, carries: Floats, labels: Sequence[str]) -> None:
    if len(carries) < 2 or np.ptp(lofts) < _LEAST_APART:
        raise BadInputError(
            "two wedges with their lofts and full carries are needed, their lofts at least"
            f" {_LEAST_APART:g} deg apart; write one like: 54 54deg 82yd"
        )
    if len({label.lower() for label in labels}) < len(labels):
        raise BadInputError("two wedges have one name; give each a name of its own")


def _shot(club: Club, carry_m: float, source: Source) -> Shot:
    return Shot(
        club=club,
        flight=Flight.STOCK,
        shape=Shape.STRAIGHT,
        stock_carry_m=carry_m,
        shortest_m=_SHORTEST_SHARE * carry_m,
        longest_m=carry_m,
        trusted=source is Source.SAID,
        carry_source=source,
        partials_source=Source.PRIOR,
    )


def _low(shot: Shot) -> Shot:
    return replace(
        shot,
        flight=Flight.LOW,
        stock_carry_m=_LOW_SHARE * shot.stock_carry_m,
        shortest_m=_LOW_SHARE * shot.shortest_m,
        longest_m=_LOW_SHARE * shot.longest_m,
        trusted=False,
        carry_source=Source.PRIOR,
    )
