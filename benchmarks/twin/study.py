"""What the tool's choices cost in worlds whose truth it does not know: `python -m benchmarks.twin`.

Against an oracle that knows the truth, and against three rules of thumb. Every call is played by
the judge in :mod:`benchmarks.twin.plain` under the same chance, fresh for every loss that is told:
no figure comes from the draws that picked a call.
"""

from collections.abc import Iterator, Sequence
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
from carrybook.decision.advice import Option, Situation
from carrybook.decision.choose import FULL, SETTLED, choose
from carrybook.outcomes.baseline import strokes_from
from carrybook.outcomes.putting_map import kept_map
from carrybook.outcomes.strokes import finish_of
from carrybook.player.day import Day
from carrybook.player.learn.learn import learn_quick
from carrybook.player.learn.result import Learnt
from carrybook.player.summary import ShotSummary, summarise

__all__ = ["KNOWING", "SIZES", "Row", "study", "table"]

SIZES = (60, 200, 800)
KNOWING = "tool, player known"  # what the unknown day alone costs
_KNOWING = 6000  # balls, in truth, that stand for knowing a player
_LOOKS = (400, 1200, 2400)  # draws of the oracle's search, from all calls to the last few
_LEFT = (4, 3, 1)
_NUDGES = ((0.03, 0.025), (0.012, 0.010), (0.0, 0.0))  # of what is felt, of the start line [rad]
_DRAWS = 2500  # behind each loss
_EFFORT = replace(FULL, final_draws=4096)  # as `choose` itself but for what it only quotes


@dataclass(frozen=True)
class Row:
    """One situation: strokes of every caller in the true world, and the calls, by name."""

    strokes: dict[str, float]
    calls: dict[str, Call]
    told: Situation
    day: TrueDay

    def lost(self, name: str) -> float:
        """Strokes that a caller loses to the oracle."""
        return self.strokes[name] - self.strokes["oracle"]


@dataclass(frozen=True)
class _Player:
    """A player in truth, as thousands of balls show them, and as books of each size do."""

    true: TruePlayer
    known: tuple[ShotSummary, ...]
    learnt: dict[int, Learnt]


def study(players: int, situations: int, seed: int) -> Iterator[Row]:
    """Play so many situations for each of so many players, one row after the other."""
    for p in range(players):
        rng = np.random.default_rng((seed, p))
        player = _some_player(rng)
        for _ in range(situations):
            yield _row(player, some_situation(rng), rng)


def _some_player(rng: np.random.Generator) -> _Player:
    true = some_player(rng)
    shots = [t.shot for t in true.shots]
    known = summarise(shots, log_of(true, _KNOWING, rng, session=1000))
    log = log_of(true, max(SIZES), rng)
    learnt = {size: learn_quick(shots, log[:size], np.random.default_rng(1)) for size in SIZES}
    return _Player(true, known, learnt)


def _row(player: _Player, told: Situation, rng: np.random.Generator) -> Row:
    truth = true_day(told, rng)
    shots, today = [t.shot for t in player.true.shots], Day(told.air, told.lie, told.moisture)
    calls = {
        f"tool, {size} balls": _best(told, learnt.summaries(shots, today))
        for size, learnt in player.learnt.items()
    }
    calls[KNOWING] = _best(told, player.known)
    calls |= {name: rule(told, player.known) for name, rule in RULES.items()}
    seeds = [int(v) for v in rng.integers(0, 2**31, len(_LOOKS) + 1)]
    judge = _Judge(player.true, truth, Terrain(told.hole.ground))
    calls["oracle"] = _oracle([*calls.values(), *_told_all(truth, player.known)], judge, seeds[:-1])
    strokes = {n: float(judge.strokes(c, seeds[-1], _DRAWS).mean()) for n, c in calls.items()}
    return Row(strokes, calls, told, truth)


def _best(situation: Situation, summaries: Sequence[ShotSummary]) -> Call:
    return call_of(choose(situation, summaries, facts=False, effort=_EFFORT).options[0])


def call_of(option: Option) -> Call:
    """The call that an option makes."""
    return Call(option.summary.shot.label, option.feel_m, option.start_right_rad)


def _told_all(day: TrueDay, known: Sequence[ShotSummary]) -> list[Call]:
    """Every option that a choice offers which is told the true wind and green."""
    truth = replace(
        day.situation, wind=day.wind, firmness_g=day.firmness_g, firmness_sd_g=0.0,
        stimp_m=day.stimp_m,
    )  # fmt: skip
    advice = choose(truth, known, facts=False, effort=SETTLED)
    return [call_of(o) for o in (*advice.options, advice.at_flag) if o is not None]


@dataclass
class _Judge:
    player: TruePlayer
    day: TrueDay
    terrain: Terrain

    def strokes(self, call: Call, seed: int, count: int) -> Floats:
        told = self.day.situation
        ends = ends_of(self.player, self.day, self.terrain, call, seed, count)
        again = float(strokes_from(told.lie, np.array([told.number_m]))[0])
        hole = (told.location.x, told.location.y)
        chart = kept_map(told.hole.ground, hole, stimp_m=self.day.stimp_m)
        return finish_of(ends, told.hole.ground, hole, again=again, chart=chart).strokes


def _oracle(pool: Sequence[Call], judge: _Judge, seeds: Sequence[int]) -> Call:
    """Search in the true world itself: the best calls, then a little more or less of the best."""
    alive = list(dict.fromkeys(pool))
    for seed, draws, left, nudge in zip(seeds, _LOOKS, _LEFT, _NUDGES, strict=True):
        costs = [float(judge.strokes(call, seed, draws).mean()) for call in alive]
        alive = [alive[k] for k in np.argsort(costs)[:left]]
        alive += _around(alive[0], *nudge) if left > 1 else []
    return alive[0]


def _around(call: Call, felt: float, start: float) -> list[Call]:
    steps = ((-felt, 0.0), (felt, 0.0), (0.0, -start), (0.0, start))
    return [
        replace(call, felt_m=call.felt_m * (1.0 + f), start_right_rad=call.start_right_rad + a)
        for f, a in steps
    ]


def table(rows: Sequence[Row]) -> list[str]:
    """Mean strokes lost to the oracle, with standard errors, a line for each caller."""
    lines = [f"{len(rows)} situations, strokes lost to the oracle a shot:"]
    for name in rows[0].strokes:
        lost = np.array([row.lost(name) for row in rows])
        error = lost.std(ddof=1) / np.sqrt(len(lost)) if len(lost) > 1 else np.nan
        lines.append(
            f"  {name:26s} {lost.mean():+.3f} +- {error:.3f}"
            f"   median {np.median(lost):+.3f}, worst tenth {np.percentile(lost, 90.0):+.3f}"
        )
    return lines
