"""An invented player whose truth is known, with a log of balls to find it in. All of it is ours."""

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from math import radians

import numpy as np

from carrybook.base.constants import YARD
from carrybook.base.numerics import Flags, Floats, Ints
from carrybook.physics.ball_temperature import speed_when_at
from carrybook.physics.flight import level_carries
from carrybook.physics.solve import carry_speeds
from carrybook.physics.strike import launch_from_loft, lie_effect, off_this_lie
from carrybook.player.bag import Club, Flight, Shape, Shot
from carrybook.player.balls import Ball
from carrybook.player.learn.effects import cold
from carrybook.player.learn.log import SCATTER_AT
from carrybook.world.air import REFERENCE_DAY, Air
from carrybook.world.lie import Lie, Moisture

__all__ = ["Truth", "bag_of", "book_of", "drawn_truth"]

_FREEDOM = 4.0
_START = datetime(2026, 10, 1, 9, 0, tzinfo=UTC)


@dataclass(frozen=True, slots=True)
class Truth:
    """What the log is made of; by shot: `bias`, `slope`, `scale` (of Student's t, at stock).

    Parameters
    ----------
    bias, slope, scale, side, side_scale : ndarray, shape (shots,)
        As `Learnt.draws`; scales not as logarithms. [1], [1], [1], [rad], [rad]
    growth, cold, wet, day_sd, odd : float
        As `Learnt.draws`. [1]
    """

    bias: Floats
    slope: Floats
    scale: Floats
    side: Floats
    side_scale: Floats
    growth: float
    cold: float
    wet: float
    day_sd: float
    odd: float


def bag_of(shots: int) -> tuple[Shot, ...]:
    """Give wedges, each stock and low, with the carries that an invented player states."""
    made = []
    for loft, yards in ((60, 78), (56, 92), (52, 105), (48, 118), (44, 130), (40, 141)):
        for flight, share in ((Flight.STOCK, 1.0), (Flight.LOW, 0.88)):
            club, carry = Club(str(loft), radians(loft)), yards * share * YARD
            made.append(Shot(club, flight, Shape.STRAIGHT, carry, 0.55 * carry, 1.03 * carry))
    return tuple(made[:shots])


def drawn_truth(shots: tuple[Shot, ...], rng: np.random.Generator) -> Truth:
    """Draw a player from the priors of the model."""
    s = len(shots)

    def half(sd: float) -> float:
        return abs(rng.normal(0.0, sd))

    clubs = sorted({x.club.label for x in shots})
    club = rng.normal(0.0, half(0.02), len(clubs))[[clubs.index(x.club.label) for x in shots]]
    flight = rng.normal(0.0, half(0.015), 3)[[list(Flight).index(x.flight) for x in shots]]
    stock = np.array([x.stock_carry_m for x in shots])
    growth = rng.normal(0.5, 0.25)
    scatter = rng.normal(np.log(0.058 / 1.1416), 0.3) - growth * np.log(stock / SCATTER_AT)
    side = rng.normal(np.log(radians(2.7) / 1.1416), 0.3)
    return Truth(
        bias=rng.normal(0.0, 0.03) + club + flight + rng.normal(0.0, half(0.025), s),
        slope=rng.normal(0.0, 0.12) + rng.normal(0.0, half(0.06), s),
        scale=np.exp(scatter + rng.normal(0.0, half(0.15), s)),
        side=rng.normal(0.0, radians(0.7)) + rng.normal(0.0, half(radians(0.5)), s),
        side_scale=np.exp(side + rng.normal(0.0, half(0.15), s)),
        growth=growth,
        cold=rng.normal(0.0, 0.04),
        wet=rng.normal(0.0, 0.05),
        day_sd=half(0.02),
        odd=rng.beta(1.0, 40.0),
    )


def book_of(
    shots: tuple[Shot, ...],
    truth: Truth,
    balls: int,
    rng: np.random.Generator,
    *,
    days: int = 6,
    wet: float = 0.15,
    coldest_c: float = 2.0,
) -> tuple[Ball, ...]:
    """Strike balls over some days between cold and warm, and log what they carried.

    An odd ball too long for any swing is as much too short: odd balls are as many as drawn.

    Parameters
    ----------
    shots, truth : tuple of Shot, Truth
        The player.
    balls : int
        How many.
    rng : Generator
        For all chance.
    days : int
        Spread over so many days, three apart.
    wet : float
        Share of wet balls. [1]
    coldest_c : float
        The days lie between this and 26 C. [C]
    """
    day = np.sort(rng.integers(0, days, balls))
    kelvin = 273.15 + rng.uniform(coldest_c, 26.0, days)
    luck = rng.normal(0.0, truth.day_sd, days)
    shot = rng.integers(0, len(shots), balls)
    damp = rng.random(balls) < wet
    stock = np.array([s.stock_carry_m for s in shots])[shot]
    share = np.where(rng.random(balls) < 0.5, 1.0, rng.uniform(0.6, 1.0, balls))
    felt = stock * share
    centre = (
        truth.bias[shot]
        + truth.slope[shot] * np.log(share)
        + truth.cold * cold(kelvin[day])
        + truth.wet * damp
        + luck[day]
    )
    scale = truth.scale[shot] * share**-truth.growth
    odd = rng.random(balls) < truth.odd
    stray = np.where(odd, rng.normal(0.0, 0.5, balls), scale * rng.standard_t(_FREEDOM, balls))
    carry = _flown(shots, shot, felt * np.exp(centre + stray), kelvin[day], damp)
    lost = odd & ~np.isfinite(carry)
    short = felt * np.exp(centre - np.abs(stray))
    carry[lost] = _flown(shots, shot[lost], short[lost], kelvin[day[lost]], damp[lost])
    right = truth.side[shot] + truth.side_scale[shot] * share**-0.2 * rng.standard_t(
        _FREEDOM, balls
    )
    rows = zip(shot, felt, carry, right, day, damp, strict=True)
    return tuple(
        Ball(
            shot=shots[k].label,
            at=_START + timedelta(days=3 * int(d), hours=10.0 * n / balls),  # before midnight
            intended_m=float(f),
            carry_m=float(c),
            side_m=float(np.clip(c * np.tan(np.clip(r, -0.6, 0.6)), -100.0, 100.0)),
            air=Air(float(kelvin[d]), 101_325.0, 0.6),
            lie=Lie.FAIRWAY,
            moisture=Moisture.WET if w else Moisture.DRY,
        )
        for n, (k, f, c, r, d, w) in enumerate(rows)
        if np.isfinite(c) and c > 1.0
    )


def _flown(
    shots: tuple[Shot, ...], shot: Ints, reference: Floats, kelvin: Floats, damp: Flags
) -> Floats:
    """Carry, each on its day, of swings with these reference-day carries; nan where none flies."""
    by_shot = [launch_from_loft(s.club.loft_rad, s.flight.value) for s in shots]
    launch, ratio = np.array(by_shot)[shot].T
    speed = carry_speeds(reference, launch, ratio, REFERENCE_DAY)
    carry = np.full(len(shot), np.nan)
    for t, w in {(float(a), bool(b)) for a, b in zip(kelvin, damp, strict=True)}:
        own = (kelvin == t) & (damp == w)
        effect = lie_effect(Lie.FAIRWAY, Moisture.WET if w else Moisture.DRY)
        struck, spun = off_this_lie(launch[own], ratio[own], np.array(effect.spin[1]))
        swung = speed[own] * effect.speed[1] * speed_when_at(t)
        carry[own] = level_carries(swung, struck, spun, Air(t, 101_325.0, 0.6))
    return carry
