"""What a player would do with a loft they do not own, from the clubs they do.

Between two lofts that are owned, everything about a shot lies on a straight line in loft. Beyond
them the delivery of the nearest club is kept, its face given the other loft, and the ball struck
again: levels come from the player's own balls, physics only says the difference.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import degrees, exp, log, radians

import numpy as np

from carrybook.base.errors import BadInputError, NoSolutionError, OutOfRangeError
from carrybook.base.numerics import Floats
from carrybook.physics.delivery import deliver, delivery_for
from carrybook.physics.flight import level_carries
from carrybook.physics.solve import speed_for_carry
from carrybook.physics.strike import delivered_loft, off_this_lie
from carrybook.player.bag import Club, Flight, Shape, Source
from carrybook.player.summary import ShotSummary
from carrybook.world.air import REFERENCE_DAY

__all__ = ["LoftPattern", "patterns_of", "with_spin"]

# Ours: how far from a loft that the player owns one may be guessed, and how far from those that
# are played low, high or curved another would be played so too.
MOST_AWAY = radians(8.0)
_OTHER_AWAY = radians(4.0)


@dataclass(frozen=True, slots=True)
class LoftPattern:
    """One kind of shot (a flight and a shape) over the lofts that it is played with.

    Parameters
    ----------
    owned : tuple of ShotSummary
        One for each loft, rising.
    """

    owned: tuple[ShotSummary, ...]

    @property
    def reach_rad(self) -> tuple[float, float]:
        """Least and greatest loft that may be guessed. [rad]"""
        shot = self.owned[0].shot
        plain = shot.flight is Flight.STOCK and shot.shape is Shape.STRAIGHT
        room = MOST_AWAY if plain else _OTHER_AWAY
        lofts = [s.shot.club.loft_rad for s in self.owned]
        return lofts[0] - room, lofts[-1] + room

    def at(self, loft_rad: float, label: str) -> ShotSummary:
        """Make the shot that a club of another loft would give.

        Parameters
        ----------
        loft_rad : float
            Its loft, within `reach_rad`. [rad]
        label : str
            What the club is called.

        Returns
        -------
        summary : ShotSummary
            With no balls behind it. At a loft that is owned it carries and scatters as that.

        Raises
        ------
        BadInputError
            A loft that is too far from those owned.
        NoSolutionError
            No strike or flight gives such a shot.
        """
        low, high = self.reach_rad
        if not low - 1e-9 <= loft_rad <= high + 1e-9:
            raise BadInputError(
                f"loft = {degrees(loft_rad):.3g} deg is too far from the clubs you own to guess;"
                f" {degrees(low):.3g} to {degrees(high):.3g} deg can be"
            )
        lofts = np.array([s.shot.club.loft_rad for s in self.owned])
        rows = np.array([_numbers(s) for s in self.owned])
        numbers = np.array([np.interp(loft_rad, lofts, column) for column in rows.T])
        nearest = self.owned[int(np.argmin(np.abs(lofts - loft_rad)))]
        if not lofts[0] <= loft_rad <= lofts[-1]:
            numbers[:3] = _struck_with(nearest, loft_rad)
        return _made(nearest, numbers, Club(label, loft_rad))


def patterns_of(summaries: Sequence[ShotSummary]) -> tuple[LoftPattern, ...]:
    """Sort shots into kinds, each rising in loft; of two shots of one loft the first counts.

    Parameters
    ----------
    summaries : sequence of ShotSummary
        The shots to go by.
    """
    kinds: dict[tuple[Flight, Shape], dict[float, ShotSummary]] = {}
    for s in summaries:
        kinds.setdefault((s.shot.flight, s.shot.shape), {}).setdefault(s.shot.club.loft_rad, s)
    return tuple(LoftPattern(tuple(kind[loft] for loft in sorted(kind))) for kind in kinds.values())


def with_spin(summary: ShotSummary, factor: float) -> ShotSummary:
    """The shot with a ball that takes more spin, or less, from the same swing.

    Parameters
    ----------
    summary : ShotSummary
        The shot.
    factor : float
        On spin. [1]

    Notes
    -----
    The launch falls as spin grows, as the strike asks; the carry is flown anew, and the player is
    taken to learn it.
    """
    launch, ratio = off_this_lie(summary.launch_rad, summary.spin_per_speed, factor)
    carry = _carry(summary, _speed(summary), launch, ratio)
    longer = carry / summary.stock_m
    shot = summary.shot
    return replace(
        summary,
        shot=replace(
            shot,
            stock_carry_m=shot.stock_carry_m * longer,
            shortest_m=shot.shortest_m * longer,
            longest_m=shot.longest_m * longer,
            efforts=(),
        ),
        stock_m=carry,
        launch_rad=launch,
        spin_per_speed=ratio,
    )


def _numbers(s: ShotSummary) -> tuple[float, ...]:
    """What is guessed for another loft, each so that a straight line makes sense."""
    shot = s.shot
    return (
        log(s.stock_m), s.launch_rad, log(s.spin_per_speed), log(s.spread), log(s.side_rad),
        s.correlation, s.bias, s.bias_se, s.bias_slope, s.spread_growth,
        log(shot.shortest_m / shot.stock_carry_m), log(shot.longest_m / shot.stock_carry_m),
        s.curve.axis_rad,
    )  # fmt: skip


def _made(nearest: ShotSummary, numbers: Floats, club: Club) -> ShotSummary:
    stock, launch, ratio, spread, side, rho, bias, se, slope, growth, short, long, axis = (
        float(v) for v in numbers
    )
    carry = exp(stock - bias + nearest.shift.total)
    shot = replace(
        nearest.shot, club=club, stock_carry_m=carry, shortest_m=carry * exp(short),
        longest_m=carry * exp(long), cue="", stock_effort="", efforts=(),
        carry_source=Source.PRIOR, partials_source=Source.PRIOR,
    )  # fmt: skip
    return replace(
        nearest, shot=shot, balls=0, stock_m=exp(stock), stock_se_m=exp(stock) * se, bias=bias,
        bias_se=se, spread=exp(spread), side_rad=exp(side), side_bias_rad=0.0, correlation=rho,
        launch_rad=launch, spin_per_speed=exp(ratio), launch_measured=0, bias_slope=slope,
        not_flown=0, days=0, curve=replace(nearest.curve, axis_rad=axis), spread_growth=growth,
    )  # fmt: skip


def _struck_with(s: ShotSummary, loft_rad: float) -> tuple[float, float, float]:
    """Ln carry, launch and ln spin over speed of the same swing with another loft."""
    flight = s.shot.flight.value
    more = delivered_loft(loft_rad, flight) - delivered_loft(s.shot.club.loft_rad, flight)
    speed = _speed(s)
    try:
        swing, contact = delivery_for(speed, s.launch_rad, s.spin_per_speed * speed)
        turned = replace(swing, dynamic_loft_rad=swing.dynamic_loft_rad + more)
        hit = deliver(turned, contact)
    except OutOfRangeError as error:
        raise NoSolutionError(
            f"no strike explains launch and spin of {s.shot.label}, so that another loft cannot be"
            f" guessed from it: {error}"
        ) from None
    ratio = hit.spin_rad_s / hit.speed_mps
    return log(_carry(s, hit.speed_mps, hit.launch_rad, ratio)), hit.launch_rad, log(ratio)


def _speed(s: ShotSummary) -> float:
    return speed_for_carry(
        s.stock_m, s.launch_rad, s.spin_per_speed, REFERENCE_DAY,
        aerodynamics=s.ball.best, axis_rad=s.curve.axis_rad,
    )  # fmt: skip


def _carry(s: ShotSummary, speed: float, launch: float, ratio: float) -> float:
    carries = level_carries(
        np.array([speed]), launch, ratio, aerodynamics=s.ball.best, axis_rad=s.curve.axis_rad
    )
    return float(carries[0])
