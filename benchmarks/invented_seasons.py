"""Invented seasons whose causes are known, to see whether a review finds them. All is ours."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from math import radians

import numpy as np

from carrybook.base.constants import FOOT, YARD
from carrybook.base.numerics import Floats, Ints
from carrybook.decision.prepared import Zone
from carrybook.decision.review.baselines import TOUR_BASELINE
from carrybook.decision.review.best import Best, best_of
from carrybook.decision.review.chosen import Chosen
from carrybook.decision.review.greens import surfaces_at
from carrybook.decision.review.season import Season, columns_of, condition_of
from carrybook.decision.review.weigh import Flown, Scales, scales_of
from carrybook.outcomes.after_landing import RUN_ON, chance
from carrybook.player.bag import Club, Flight, Shape, Shot
from carrybook.player.robust import DEGREES_OF_FREEDOM
from carrybook.player.round_shots import Facts, PlayedRound, Rest, RoundShot
from carrybook.player.rounds import Round
from carrybook.player.summary import ShotSummary, summarise
from carrybook.world.firmness import FIRMNESS
from carrybook.world.ground import Surface
from carrybook.world.lie import Lie, Moisture

__all__ = ["Habits", "invented_bag", "invented_rounds"]

_WILDEST = 8.0  # as of a draw
_START = datetime(2026, 4, 4, 8, 0, tzinfo=UTC)
_WEDGES = ((60, 78), (56, 92), (52, 105), (48, 118))
_LIES = (Lie.FAIRWAY, Lie.LIGHT_ROUGH, Lie.DEEP_ROUGH)
_LIE_SHARES = (0.70, 0.25, 0.05)
_INTO = 3.0  # m/s against the line, from which the habit of the wind bites
_REST = {
    Surface.GREEN: Rest.GREEN, Surface.FRINGE: Rest.FRINGE, Surface.FAIRWAY: Rest.FAIRWAY,
    Surface.ROUGH: Rest.ROUGH, Surface.BUNKER: Rest.BUNKER,
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Habits:
    """What an invented player does wrong, beyond the scatter that the book knows.

    Parameters
    ----------
    short_into_wind : float, default 0
        Share of the carry that is lost into a wind of 3 m/s or more, beyond the physics. [1]
    reads_wind : float, default 1
        Wind that is believed over what it is, where it is into. [1]
    long_m : float, default 0
        How far past the best landing the carry is chosen. [m]
    short_side_m : float, default 0
        How far towards the near edge a hole that is cut to a side is aimed at. [m]
    """

    short_into_wind: float = 0.0
    reads_wind: float = 1.0
    long_m: float = 0.0
    short_side_m: float = 0.0


def invented_bag() -> tuple[ShotSummary, ...]:
    """Four wedges that their player knows well."""
    shots = []
    for loft, yards in _WEDGES:
        carry = yards * YARD
        club = Club(str(loft), radians(loft))
        shots.append(Shot(club, Flight.STOCK, Shape.STRAIGHT, carry, 0.5 * carry, 1.05 * carry))
    return tuple(replace(s, bias_se=0.008, balls=60) for s in summarise(shots, []))


def invented_rounds(
    summaries: Sequence[ShotSummary],
    rng: np.random.Generator,
    *,
    rounds: int = 30,
    each: int = 12,
    habits: Habits | None = None,
) -> tuple[PlayedRound, ...]:
    """Play a season.

    Parameters
    ----------
    summaries : sequence of ShotSummary
        The player's shots, and how they truly scatter.
    rng : numpy.random.Generator
        Where chance comes from.
    rounds, each : int
        How many rounds, and scoring shots in each, 18 at most.
    habits : Habits, optional
        What is wrong; luck alone where nothing is said.
    """
    habits = habits or Habits()
    met = tuple(_met(k, each, summaries[0].shot.label, rng, habits) for k in range(rounds))
    season = columns_of(met, summaries)
    scales = scales_of(season, TOUR_BASELINE)
    believed, _ = condition_of(season, true=False)
    best = best_of(season, summaries, believed, scales, chance(256))
    able = np.flatnonzero(np.isfinite(best.strokes))
    shots = _played(season, summaries, scales, best, able, rng, habits)
    of_round = season.round_of[able]
    return tuple(
        replace(one, shots=tuple(s for s, r in zip(shots, of_round, strict=True) if r == k))
        for k, one in enumerate(met)
    )


def _met(
    number: int, each: int, label: str, rng: np.random.Generator, habits: Habits
) -> PlayedRound:
    """A round as it was met; what was played and what came of it is not there yet."""
    morning, counts = bool(rng.random() < 0.5), bool(rng.random() < 0.35)
    begun = _START + timedelta(days=5 * number, hours=0 if morning else 5)
    warm = 283.0 + 8.0 * np.sin(np.pi * number / 30.0) + (0.0 if morning else 5.0) + rng.normal()
    blowing, firm = rng.gamma(4.0, 1.2), list(FIRMNESS.values())[rng.integers(0, 3)]
    shots = []
    for hole in np.sort(rng.choice(18, each, replace=False)) + 1:
        speed, come = blowing * rng.lognormal(0.0, 0.2), rng.uniform(0.0, 2.0 * np.pi)
        into = speed * np.cos(come) > _INTO
        read = habits.reads_wind if into else 1.0
        wet = morning and rng.random() < 0.5
        facts = Facts(
            number_m=float(rng.integers(50, 118)) * YARD,
            wind_mps=float(speed * read), wind_from_rad=float(come),
            lie=_LIES[rng.choice(3, p=_LIE_SHARES)],
            moisture=Moisture.DEW if wet else Moisture.DRY, firmness_g=firm,
        )  # fmt: skip
        true = Facts(wind_mps=float(speed)) if read != 1.0 else Facts()
        shots.append(
            RoundShot(
                hole=int(hole), known=facts, true=true, shot=label, finish=Rest.HOLED, finish_m=0.0,
                putts=0, hole_location=list(Zone)[rng.integers(0, 9)], temperature_k=float(warm),
                at=begun + timedelta(minutes=13 * int(hole)),
            )
        )  # fmt: skip
    said = Round(
        begun.isoformat(), (begun + timedelta(hours=4)).isoformat(), "",
        "competition" if counts else "course",
    )  # fmt: skip
    return PlayedRound(number + 1, said, tuple(shots))


def _played(
    season: Season, summaries: Sequence[ShotSummary], scales: Scales, best: Best, able: Ints,
    rng: np.random.Generator, habits: Habits,
) -> list[RoundShot]:  # fmt: skip
    """Choose as the habits have it, strike, let it run, and hole out."""
    chosen = _chosen(season, summaries, best, able, habits)
    true, _ = condition_of(season, true=True)
    flown = chosen.flown(true)
    past, right = chosen.landing(true.number[able], flown)
    past, right = _struck(past, right, flown, chosen, rng)
    wind = true.winds[able, 0] if len(able) else np.empty(0)  # along the line, helping positive
    past = past - np.where(wind < -_INTO, habits.short_into_wind * flown.arrivals[:, 0], 0.0)
    past, right = (np.rint(v / YARD) * YARD for v in (past, right))
    x, y = _run(scales, able, past, right, flown, rng)
    return [
        _recorded(season.shots[row], summaries, chosen, k, (past[k], right[k]), scales.cut[row],
                  (float(x[k]), float(y[k])), rng)
        for k, row in enumerate(able)
    ]  # fmt: skip


def _chosen(
    season: Season, summaries: Sequence[ShotSummary], best: Best, able: Ints, habits: Habits
) -> Chosen:
    number = np.array([season.shots[r].number_m for r in able])
    carry = np.hypot(number + best.past[able], best.right[able])
    felt = best.felt[able] * (1.0 + habits.long_m / carry)
    sides = np.array([{"left": -1.0, "right": 1.0}.get(season.cuts[r].side, 0.0) for r in able])
    right = best.right[able] + habits.short_side_m * sides
    believed, _ = condition_of(season, true=False)
    straight = Chosen(summaries, able, best.shot[able], felt, np.zeros(len(able)))
    drift = straight.flown(believed).arrivals[:, 1]
    return replace(straight, start=np.arctan2(right - drift, carry))


def _struck(
    past: Floats, right: Floats, flown: Flown, chosen: Chosen, rng: np.random.Generator
) -> tuple[Floats, Floats]:
    """Scatter as the book has it; what the player is unsure of is what the wind does alone."""
    n = len(past)
    deep, wide, vague, rho = flown.scatter.T
    wild = np.sqrt(DEGREES_OF_FREEDOM / rng.chisquare(DEGREES_OF_FREEDOM, n))
    z, w, gust = rng.standard_normal((3, n))
    sure = np.array([chosen.summaries[k].bias_se for k in chosen.shot]) * flown.arrivals[:, 0]
    blown = np.sqrt(np.maximum(vague**2 - sure**2, 0.0))
    across = rho * z + np.sqrt(1.0 - rho**2) * w
    long, off = (np.clip(wild * each, -_WILDEST, _WILDEST) for each in (z, across))
    return past + deep * long + blown * gust, right + wide * off


def _run(
    scales: Scales, rows: Ints, past: Floats, right: Floats, flown: Flown, rng: np.random.Generator
) -> tuple[Floats, Floats]:
    """Where they stop, in the axes of the hole."""
    x, y = scales.cut[rows, 0] + past, scales.cut[rows, 1] - right
    as_one = {Surface.FRINGE: Surface.FAIRWAY, Surface.PATH: Surface.FAIRWAY}
    landed = [Surface(int(s)) for s in surfaces_at(x, y)]
    on = np.array([RUN_ON.index(as_one.get(s, s)) for s in landed], dtype=np.int64)
    runs = scales.runs(flown)
    line = np.arange(len(rows))
    return x + runs[line, on, rng.integers(0, runs.shape[2], len(rows))], y


def _recorded(
    shot: RoundShot, summaries: Sequence[ShotSummary], chosen: Chosen, k: int,
    landed: tuple[float, float], cut: Floats, stopped: tuple[float, float],
    rng: np.random.Generator,
) -> RoundShot:  # fmt: skip
    """One shot as its player would write it down, holed out as the baseline does on average."""
    surface = Surface(int(surfaces_at(np.array([stopped[0]]), np.array([stopped[1]]))[0]))
    left = float(np.hypot(stopped[0] - cut[0], stopped[1] - cut[1]))
    left = max(1.0, round(left / FOOT)) * FOOT
    needed = float(TOUR_BASELINE.on_surface(surface, np.array([left]))[0])
    after = int(needed) + int(rng.random() < needed % 1.0)
    putting = surface in (Surface.GREEN, Surface.FRINGE)
    aim = float(np.tan(chosen.start[k])) * shot.number_m
    return replace(
        shot,
        shot=summaries[chosen.shot[k]].shot.label,
        intended_m=float(chosen.felt[k]),
        aim_right_m=aim,
        landing_past_m=float(landed[0]),
        landing_right_m=float(landed[1]),
        finish=_REST[surface],
        finish_m=left,
        finish_past_m=stopped[0] - float(cut[0]),
        finish_right_m=float(cut[1]) - stopped[1],
        putts=max(after, 1) if putting else max(after - 1, 0),
        others=0 if putting else 1,
    )
