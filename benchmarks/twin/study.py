"""What the tool's choices cost in worlds whose truth it does not know: `python -m benchmarks.twin`.

Against an oracle that knows the truth, and against three rules of thumb. Every call is played by
the judge in :mod:`benchmarks.twin.plain` under the same chance.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from benchmarks.twin.greens import some_situation
from benchmarks.twin.plain import Terrain
from benchmarks.twin.rules import RULES
from benchmarks.twin.truth import (
    Call,
    Floats,
    TrueDay,
    TruePlayer,
    ends_of,
    log_of,
    some_player,
    true_day,
)  # fmt: skip
from carrybook.decision.advice import Advice, Option, Situation
from carrybook.decision.choose import choose
from carrybook.outcomes.baseline import strokes_from
from carrybook.outcomes.putting_map import kept_map
from carrybook.outcomes.strokes import finish_of
from carrybook.player.summary import ShotSummary, summarise

__all__ = ["SIZES", "Row", "study", "table"]

SIZES = (60, 200, 800)
_KNOWING = 6000  # balls, in truth, that stand for knowing a player
_DRAWS = 1500


@dataclass(frozen=True)
class Row:
    """One situation: strokes of every caller in the true world, by name."""

    strokes: dict[str, float]
    number_m: float
    calls: dict[str, Call]


def study(
    players: int, situations: int, seed: int, tell: Callable[[int], None] | None = None
) -> list[Row]:
    """Play so many situations for each of so many players."""
    rows = []
    for p in range(players):
        rng = np.random.default_rng((seed, p))
        player = some_player(rng)
        shots = [t.shot for t in player.shots]
        known = summarise(shots, log_of(player, _KNOWING, rng, session=1000))
        log = log_of(player, max(SIZES), rng)
        learnt = {size: summarise(shots, log[:size]) for size in SIZES}
        for _ in range(situations):
            rows.append(_row(player, known, learnt, some_situation(rng), rng))
            if tell:
                tell(len(rows))
    return rows


def _row(
    player: TruePlayer,
    known: Sequence[ShotSummary],
    learnt: dict[int, Sequence[ShotSummary]],
    told: Situation,
    rng: np.random.Generator,
) -> Row:
    day = true_day(told, rng)
    terrain = Terrain(told.hole.ground)
    calls: dict[str, Call] = {}
    for size, summaries in learnt.items():
        calls[f"tool, {size} balls"] = call_of(choose(told, summaries).options[0])
    shots = [s.shot for s in known]
    for name, rule in RULES.items():
        calls[name] = rule(told, shots)
    truth = replace(
        told, wind=day.wind, firmness_g=day.firmness_g, firmness_sd_g=0.0, stimp_m=day.stimp_m
    )
    seeds = [int(v) for v in rng.integers(0, 2**31, 2)]
    judge = _Judge(player, day, terrain)
    pool = [*calls.values(), *_around(choose(truth, known))]
    picked = min(pool, key=lambda call: judge.strokes(call, seeds[0]).mean())
    calls["oracle"] = picked
    strokes = {name: float(judge.strokes(call, seeds[1]).mean()) for name, call in calls.items()}
    return Row(strokes, told.number_m, calls)


def call_of(option: Option) -> Call:
    """The call that an option makes."""
    return Call(option.summary.shot.label, option.feel_m, option.start_right_rad)


def _around(advice: Advice) -> list[Call]:
    """Every option that a choice with the truth offers, and a little more or less of the best."""
    offered = [*advice.options, *([advice.at_flag] if advice.at_flag else [])]
    best = call_of(advice.options[0])
    nudged = [
        replace(best, felt_m=best.felt_m * f, start_right_rad=best.start_right_rad + a)
        for f, a in ((0.97, 0.0), (1.03, 0.0), (1.0, -0.025), (1.0, 0.025))
    ]
    return [*(call_of(o) for o in offered), *nudged]


@dataclass
class _Judge:
    player: TruePlayer
    day: TrueDay
    terrain: Terrain

    def strokes(self, call: Call, seed: int) -> Floats:
        told = self.day.situation
        ends = ends_of(self.player, self.day, self.terrain, call, seed, _DRAWS)
        again = float(strokes_from(told.lie, np.array([told.number_m]))[0])
        hole = (told.location.x, told.location.y)
        chart = kept_map(told.hole.ground, hole, stimp_m=self.day.stimp_m)
        return finish_of(ends, told.hole.ground, hole, again=again, chart=chart).strokes


def table(rows: Sequence[Row]) -> list[str]:
    """Mean strokes lost to the oracle, with standard errors, a line for each caller."""
    names = list(rows[0].strokes)
    lost = np.array([[r.strokes[n] - r.strokes["oracle"] for n in names] for r in rows])
    mean, se = lost.mean(axis=0), lost.std(axis=0, ddof=1) / np.sqrt(len(rows))
    lines = [f"{len(rows)} situations, strokes lost to the oracle a shot:"]
    lines += [
        f"  {name:26s} {m:+.3f} +- {e:.3f}"
        for name, m, e in zip(names, mean, se, strict=True)
        if name != "oracle"
    ]
    return lines
