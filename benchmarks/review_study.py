"""Invented seasons reviewed: does the review find what is wrong, and is luck left alone?

Run it alone, it takes minutes: python -m benchmarks.review_study SEASONS OF_EACH_HABIT WORKERS FILE
or, for how much sooner two workers are through than one: python -m benchmarks.review_study gain.
234 seasons of pure luck and 25 of each habit, 30 rounds each, are 10,020 player-rounds.
"""

import json
import sys
from collections.abc import Iterator
from dataclasses import asdict, dataclass
from functools import cache
from pathlib import Path
from time import perf_counter, process_time
from typing import Any

import numpy as np

from benchmarks.invented_seasons import Habits, invented_bag, invented_rounds
from carrybook.app.sweep import Hands, sweep
from carrybook.decision.review.review import Review, review
from carrybook.decision.review.split import PARTS
from carrybook.player.summary import ShotSummary

ROUNDS = 30
SCENES = {
    "pure luck": Habits(),
    "6 % short into the wind": Habits(short_into_wind=0.06),
    "6 m too much club": Habits(long_m=6.0),
    "aims 4 m to the short side": Habits(short_side_m=4.0),
    "believes 60 % of a wind against": Habits(reads_wind=0.6),
}
# Where each cause belongs, and how a pattern of it is named.
BELONGS = {
    "6 % short into the wind": ("distance", "into the wind", "landing depth"),
    "6 m too much club": ("choice", "", ""),
    "aims 4 m to the short side": ("choice", "holes cut", "choice"),
    "believes 60 % of a wind against": ("wind", "", ""),
}


@dataclass(frozen=True, slots=True)
class Told:
    """What a review told of one season: parts, their ends, strokes lost, patterns, seconds."""

    parts: tuple[float, ...]
    low: tuple[float, ...]
    high: tuple[float, ...]
    lost: float
    knowing: float
    patterns: tuple[tuple[str, str], ...]
    seconds: float


def season_of(habits: Habits, seed: int) -> Told:
    """Play a season and review it."""
    bag = _bag()
    rounds = invented_rounds(bag, np.random.default_rng(seed), rounds=ROUNDS, habits=habits)
    began = process_time()
    found = review(rounds, bag, seed=seed)
    return _told(found, process_time() - began)


def _told(found: Review, seconds: float) -> Told:
    parts = found.parts
    return Told(
        tuple(p.per_round for p in parts),
        tuple(p.low if p.low is not None else np.nan for p in parts),
        tuple(p.high if p.high is not None else np.nan for p in parts),
        float((found.split.strokes - found.split.baseline).sum()) / len(found.season.rounds),
        sum(f.per_round for f in found.worth_knowing),
        tuple((p.where, p.measure.value) for p in found.patterns.standing),
        seconds,
    )


@cache
def _bag() -> tuple[ShotSummary, ...]:
    return invented_bag()


def lines(luck: int = 234, each: int = 25, workers: int = 2, kept: str = "") -> Iterator[str]:
    """Play, review and say; what is done is kept in a file, and not done again."""
    pieces = [(0, seed) for seed in range(luck)]
    pieces += [(k, seed) for k in range(1, len(SCENES)) for seed in range(each)]
    pieces.sort(key=lambda piece: piece[1] / (luck if piece[0] == 0 else each))
    file = Path(kept) if kept else None
    done = _read(file)
    left = [piece for piece in pieces if piece not in done]
    began = perf_counter()
    for n, told in sweep(season_of, list(SCENES.values()), left, Hands(workers)):
        done[left[n]] = told
        if file is not None:
            with file.open("a", encoding="utf-8") as out:
                out.write(json.dumps([*left[n], asdict(told)]) + "\n")
    if left:
        rounds, took = ROUNDS * len(left), perf_counter() - began
        yield f"{len(left)} seasons, {rounds} player-rounds, workers: {workers}, {took:.0f} s"
    yield from said(done)


def _read(file: Path | None) -> dict[tuple[int, int], Told]:
    if file is None or not file.exists():
        return {}
    rows = (json.loads(line) for line in file.read_text("utf-8").splitlines())
    return {(k, seed): _again(told) for k, seed, told in rows}


def _again(told: dict[str, Any]) -> Told:
    patterns = tuple((where, measure) for where, measure in told.pop("patterns"))
    return Told(
        patterns=patterns, **{k: tuple(v) if isinstance(v, list) else v for k, v in told.items()}
    )


def said(done: dict[tuple[int, int], Told]) -> Iterator[str]:
    """Say what so many seasons show."""
    quiet = {seed: told for (k, seed), told in done.items() if k == 0}
    named = sum(bool(t.patterns) for t in quiet.values())
    seconds = np.median([t.seconds for t in done.values()])
    yield f"{len(done)} seasons, {ROUNDS * len(done)} player-rounds;"
    yield f"  a review of {ROUNDS} rounds: {seconds:.2f} s of a core"
    yield f"pure luck: a pattern is named in {named} of {len(quiet)} seasons"
    yield f"  ({100.0 * named / len(quiet):.1f} %); its parts, and how often their interval holds"
    yield "  their mean:"
    for k, part in enumerate(PARTS):
        means = np.array([t.parts[k] for t in quiet.values()])
        if np.ptp(means) > 0.0:
            held = 100.0 * _held(list(quiet.values()), k)
            yield f"  {part}: {_mean(means)} a round, {held:.0f} %"
    for number, name in enumerate(SCENES):
        pairs = [(t, quiet[s]) for (k, s), t in done.items() if k == number and s in quiet]
        if number and len(pairs) > 1:
            yield from _scene(name, [t for t, _ in pairs], [q for _, q in pairs])


def _held(told: list[Told], k: int) -> float:
    """Share of seasons whose interval holds the mean over all."""
    mean = np.mean([t.parts[k] for t in told])
    return float(np.mean([t.low[k] <= mean <= t.high[k] for t in told]))


def _scene(name: str, told: list[Told], quiet: list[Told]) -> Iterator[str]:
    part, where, measure = BELONGS[name]
    k = PARTS.index(part)
    real = np.array([t.lost - q.lost for t, q in zip(told, quiet, strict=False)])
    found = np.array([q.parts[k] - t.parts[k] for t, q in zip(told, quiet, strict=False)])
    rest = np.array(
        [
            sum(q.parts) - q.parts[k] - sum(t.parts) + t.parts[k]
            for t, q in zip(told, quiet, strict=False)
        ]
    )
    yield f"{name}: really lost {_mean(real)} a round; found in {part} {_mean(found)},"
    yield f"  elsewhere {_mean(rest)}; its interval holds its mean in"
    yield f"  {100.0 * _held(told, k):.0f} % of seasons"
    if part == "wind":
        knowing = np.array([t.knowing for t in told])
        yield f"  knowing the wind would have saved {_mean(knowing)} a round"
    if where:
        hits = np.mean([any(where in w and m == measure for w, m in t.patterns) for t in told])
        yield f"  named as a pattern ({where}, {measure}) in {100.0 * hits:.0f} % of seasons"


def _mean(values: np.ndarray) -> str:
    return f"{values.mean():.2f} +- {values.std(ddof=1) / np.sqrt(len(values)):.2f}"


def gain(seasons: int = 30) -> Iterator[str]:
    """How much sooner two workers are through than one."""
    pieces = [(0, seed) for seed in range(seasons)]
    took = []
    for workers in (1, 2):
        began = perf_counter()
        done = dict(sweep(season_of, [Habits()], pieces, Hands(workers)))
        took.append((perf_counter() - began, sum(t.seconds for t in done.values())))
    (one, busy), (two, busy_two) = took
    yield f"{ROUNDS * seasons} player-rounds: one worker {one:.0f} s, two {two:.0f} s with their"
    yield f"  start: {one / two:.2f} times as quick; the reviews alone took {busy:.0f} s and"
    yield f"  {busy_two:.0f} s of cores"


if __name__ == "__main__":
    words = sys.argv[1:]
    for line in gain() if words == ["gain"] else lines(*map(int, words[:3]), *words[3:]):
        print(line, flush=True)
