"""Strips of a card: what a partial is felt like today, and what wind, warmth, height or lie add.

Everything is computed by flying this player's own shots: the stock swing of the card's day is flown
again with one fact changed.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from math import pi
from typing import Self

import numpy as np

from carrybook.base.errors import NoSolutionError
from carrybook.base.numerics import Floats
from carrybook.physics.aerodynamics import BAND, MID, Aerodynamics
from carrybook.physics.flight import body_row, fly_batch, level_carries, level_net, wind_row
from carrybook.physics.solve import carry_speeds
from carrybook.physics.strike import lie_effect, off_this_lie
from carrybook.player.summary import ShotSummary
from carrybook.world.air import REFERENCE_DAY, Air
from carrybook.world.lie import Lie, Moisture
from carrybook.world.wind import CALM, Wind

__all__ = [
    "Adjustment",
    "Fact",
    "FactKind",
    "Partial",
    "ShotPartials",
    "ShotStrip",
    "partials_today",
    "strips_today",
]


class FactKind(StrEnum):
    """What can differ on the course from the day a card was made for."""

    WARMER = "warmer"
    COLDER = "colder"
    INTO = "into"
    HELPING = "helping"
    ACROSS = "across"
    HIGHER = "higher"
    LOWER = "lower"
    DEW = "dew"
    WET = "wet"
    LIGHT_ROUGH = "light rough"
    DEEP_ROUGH = "deep rough"


_LIES = {
    FactKind.DEW: (Lie.FAIRWAY, Moisture.DEW),
    FactKind.WET: (Lie.FAIRWAY, Moisture.WET),
    FactKind.LIGHT_ROUGH: (Lie.LIGHT_ROUGH, Moisture.DRY),
    FactKind.DEEP_ROUGH: (Lie.DEEP_ROUGH, Moisture.DRY),
}
_CLEAN = (Lie.FAIRWAY, Moisture.DRY)
_FROM = {FactKind.INTO: 0.0, FactKind.ACROSS: pi / 2.0, FactKind.HELPING: pi}
_WARMER = {FactKind.WARMER: 1.0, FactKind.COLDER: -1.0}
_HIGHER = {FactKind.HIGHER: 1.0, FactKind.LOWER: -1.0}


@dataclass(frozen=True, slots=True)
class Fact:
    """One thing that differs from the day of the card.

    Parameters
    ----------
    kind : FactKind
        What differs. A wind across comes from the right.
    amount : float
        By how much: temperature [K], mean wind at 10 m [m/s], height of the landing spot against
        the ball [m]; nothing for a lie.
    """

    kind: FactKind
    amount: float = 0.0


@dataclass(frozen=True, slots=True)
class Adjustment:
    """What one fact does to the stock swing of one shot.

    Parameters
    ----------
    fact : Fact
        What differs.
    carry_m, carry_low_m, carry_high_m : float
        What it adds to the carry: middle, and ends of what lift, drag and lie leave open; negative
        carries less. [m]
    drift_right_m, drift_low_m, drift_high_m : float
        How far to the right of its start line it lands, likewise. [m]
    """

    fact: Fact
    carry_m: float
    carry_low_m: float
    carry_high_m: float
    drift_right_m: float
    drift_low_m: float
    drift_high_m: float


@dataclass(frozen=True, slots=True)
class ShotStrip:
    """The strip of one shot.

    Parameters
    ----------
    summary : ShotSummary
        The shot.
    adjustments : tuple of Adjustment
        In the order of the facts.
    """

    summary: ShotSummary
    adjustments: tuple[Adjustment, ...]


@dataclass(frozen=True, slots=True)
class Partial:
    """A carry wanted today, what to feel for it, and how far single balls stray.

    Parameters
    ----------
    carry_m, feel_m, spread_m : float
        Carry wanted today, level and calm; what to feel; half-width that holds 68 % of balls. [m]
    """

    carry_m: float
    feel_m: float
    spread_m: float


@dataclass(frozen=True, slots=True)
class ShotPartials:
    """What one shot is felt like for the same carries as every other.

    Parameters
    ----------
    summary : ShotSummary
        The shot.
    partials : tuple of Partial or None
        One for each carry; none where the player would not use it.
    """

    summary: ShotSummary
    partials: tuple[Partial | None, ...]


def partials_today(
    summaries: Sequence[ShotSummary], air: Air, carries_m: Sequence[float]
) -> tuple[ShotPartials, ...]:
    """Say what to feel for round carries today: clean dry lie, level and calm.

    Parameters
    ----------
    summaries : sequence of ShotSummary
        What the log says of each shot.
    air : Air
        Today's air.
    carries_m : sequence of float
        The carries that are wanted. [m]

    Returns
    -------
    partials : tuple of ShotPartials
        In the order of `summaries`.
    """
    wanted = np.asarray(carries_m, dtype=np.float64)
    return tuple(ShotPartials(s, tuple(_partials(s, air, wanted))) for s in summaries)


def _partials(s: ShotSummary, air: Air, wanted: Floats) -> Iterator[Partial | None]:
    launch, ratio = np.full(len(wanted), s.launch_rad), np.full(len(wanted), s.spin_per_speed)
    flown, tilt = s.ball.best, s.curve.axis_rad
    speeds = carry_speeds(wanted, launch, ratio, air, aerodynamics=flown, axis_rad=tilt)
    struck = np.nan_to_num(speeds)
    playing = level_carries(struck, launch, ratio, aerodynamics=flown, axis_rad=tilt)
    felt = s.felt_for(np.where(struck > 0.0, playing, np.nan))
    for carry, feel in zip(wanted.tolist(), felt.tolist(), strict=True):
        used = s.shot.shortest_m <= feel <= s.shot.longest_m
        yield Partial(carry, feel, s.spread_at(feel) * carry) if used else None


def strips_today(
    summaries: Sequence[ShotSummary], air: Air, facts: Sequence[Fact], *, roughness_m: float = 0.03
) -> tuple[ShotStrip, ...]:
    """Compute what each fact does to the stock swing of each shot, one fact at a time.

    Parameters
    ----------
    summaries : sequence of ShotSummary
        What the log says of each shot.
    air : Air
        The air of the card; its own lie is clean and dry, level and calm.
    facts : sequence of Fact
        What may differ.
    roughness_m : float, default 0.03
        Roughness length of what stands around, for the wind. [m]

    Returns
    -------
    strips : tuple of ShotStrip
        In the order of `summaries`.

    Raises
    ------
    OutOfRangeError
        A fact takes air or wind out of its range.
    NoSolutionError
        A stock carry that no flight gives, or a landing height that a ball does not reach.

    Notes
    -----
    Ranges run over the three sets of lift and drag, and over the ends of what a lie does. A body
    that is cold, and a ball that is, are left out.
    """
    swings = {a: _Swings.of(summaries, a) for a in BAND}
    columns = [_column(swings, air, fact, roughness_m) for fact in facts]
    return tuple(
        ShotStrip(s, tuple(column[k] for column in columns)) for k, s in enumerate(summaries)
    )


@dataclass(frozen=True, slots=True)
class _Swings:
    """The stock swings of all shots: launch, spin over speed, and speed with one set."""

    launch: Floats
    ratio: Floats
    speed: Floats

    @classmethod
    def of(cls, summaries: Sequence[ShotSummary], aero: Aerodynamics) -> Self:
        rows = [(s.stock_m, s.launch_rad, s.spin_per_speed) for s in summaries]
        stock, launch, ratio = np.array(rows).reshape(-1, 3).T
        return cls(
            launch, ratio, carry_speeds(stock, launch, ratio, REFERENCE_DAY, aerodynamics=aero)
        )


def _column(
    swings: dict[Aerodynamics, _Swings], air: Air, fact: Fact, roughness_m: float
) -> list[Adjustment]:
    """One fact for all shots."""
    effect = lie_effect(*_LIES.get(fact.kind, _CLEAN))
    moved = {
        (a, k): _moved(swings[a], a, air, fact, roughness_m, effect.spin[k], effect.speed[k])
        for a in BAND
        for k in ((0, 1, 2) if fact.kind in _LIES else (1,))
    }
    middle = moved[MID, 1]
    if np.isnan(middle).any():
        raise NoSolutionError(
            f"strip {fact.kind.value!r}: a shot has no flight there; check its carry, and the"
            " launch and spin in its logged balls"
        )
    ends = np.array(list(moved.values()))
    low, high = np.nanmin(ends, axis=0), np.nanmax(ends, axis=0)
    return [
        Adjustment(fact, *(float(x) for pair in zip(m, lo, hi, strict=True) for x in pair))
        for m, lo, hi in zip(middle, low, high, strict=True)
    ]


def _moved(
    swings: _Swings,
    aero: Aerodynamics,
    air: Air,
    fact: Fact,
    roughness_m: float,
    spin: float,
    speed: float,
) -> Floats:
    """Carry gained and drift to the right of every shot, shape (n, 2); nan where none lands. [m]"""
    n = len(swings.speed)
    launch, ratio = off_this_lie(swings.launch, swings.ratio, np.full(n, spin))
    struck = swings.speed * speed
    rise = fact.amount * _HIGHER.get(fact.kind, 0.0)
    landed = fly_batch(
        np.column_stack([struck, launch, ratio * struck, np.zeros((n, 2))]),
        body_row(_air_with(air, fact)),
        aero.row()[None, :],
        np.zeros(n, dtype=np.int64),
        np.tile(wind_row(_wind_of(fact, roughness_m), 0.0, -rise), (n, 1)),
        level_net(),
        np.array([0.0, 0.0, -rise]),
    )
    calm = level_carries(swings.speed, swings.launch, swings.ratio, air, aerodynamics=aero)
    gained = np.where(landed[:, 9] > 0.0, landed[:, 0] - calm, np.nan)
    return np.column_stack([gained, -landed[:, 1]])


def _air_with(air: Air, fact: Fact) -> Air:
    warmer = fact.amount * _WARMER.get(fact.kind, 0.0)
    return replace(air, temperature_k=air.temperature_k + warmer)


def _wind_of(fact: Fact, roughness_m: float) -> Wind:
    if fact.kind not in _FROM:
        return CALM
    return Wind(fact.amount, _FROM[fact.kind], roughness_m)
