"""Slow studies of practice: is going where strokes leak worth it, and how far to trust a test.

`python -m benchmarks.practice_study improve` or `... retest`, and how many; the results stand in
docs/practice.md. How practice changes a player is an assumption of ours: nobody has published a
curve for partial wedge shots.
"""

import sys
from functools import lru_cache

import numpy as np

from carrybook.base.constants import YARD
from carrybook.decision.practise.demand import usual_demand
from carrybook.decision.practise.leak import closer_by, loss_of
from carrybook.decision.practise.session import shares
from carrybook.decision.practise.standing import FORM, ln_error, smallest_change
from carrybook.outcomes.plain_green import expected_strokes
from carrybook.player.level import Player, Scatter, scatter_prior
from carrybook.world.lie import Lie

CLEAN = [f for f in usual_demand().shots if f.lie is Lie.FAIRWAY]
TARGETS = np.array([f.distance_m for f in CLEAN])
TIMES = np.array([f.times for f in CLEAN]) * 1.5  # rough counted with its distance
PLAYERS, WEEKS, BLOCKS, BALLS = 200, 10, 6, 6  # six blocks of six balls a week
FIRST = 20  # balls logged of each distance before the first week
KNOWN = 60  # balls that still speak for a player who changes
SIDE = 0.75  # direction over depth


@lru_cache(maxsize=100_000)
def strokes(target_m: float, spread: float) -> float:
    """Expected strokes of a scatter; rounded so that it is worked out once."""
    return expected_strokes(target_m, Scatter(spread, SIDE * spread))


def score(spread):  # noqa: ANN001, ANN201
    """Strokes of a round's shots."""
    return sum(n * strokes(t, round(s, 4)) for n, t, s in zip(TIMES, TARGETS, spread, strict=True))


def power(balls):  # noqa: ANN001, ANN201
    """Share of what can be won that is still left: a power law."""
    return (1.0 + balls / 100.0) ** -0.4


def exponential(balls):  # noqa: ANN001, ANN201
    """The same, an exponential: half is won in 200 balls."""
    return np.exp(-balls / 290.0)


class Golfer:
    """Somebody who gets closer where they practise, down to a floor of their own."""

    def __init__(self, rng, uneven, law, transfer, floors) -> None:  # noqa: ANN001
        start = 0.055 * np.exp(0.15 * rng.standard_normal())
        self.start = start * np.exp(uneven * rng.standard_normal(len(TARGETS)))
        low, high = floors
        self.floor = self.start * rng.uniform(low, high, len(TARGETS))
        if floors[1] == 1.0:  # nobody gets closer than a good player
            self.floor = np.minimum(self.start, np.full(len(TARGETS), 0.045))
        self.law, self.balls = law, np.zeros(len(TARGETS))
        apart = np.abs(TARGETS[:, None] - TARGETS) / (20.0 * YARD)
        self.spill = np.eye(len(TARGETS)) + transfer * np.exp(-apart) * (apart > 0.0)

    def spread(self, more=0.0):  # noqa: ANN001, ANN201
        """Scatter in depth now, or after more balls."""
        left = self.law(self.spill @ (self.balls + more))
        return self.floor + (self.start - self.floor) * left


def estimate(golfer, logged, rng):  # noqa: ANN001, ANN201
    """What the log says of the scatter: noise of so many balls, shrunk with the weight of six."""
    n = np.minimum(logged, KNOWN)
    seen = np.log(golfer.spread()) + np.sqrt(7.0 / 8.0 / n / 2.0) * rng.standard_normal(len(n))
    return np.exp((n * seen + 6.0 * np.log(0.055)) / (n + 6.0)), n


def worths(seen, n, base, *, closer=False):  # noqa: ANN001, ANN201
    """Leak by the code of the program, and with `closer` the worth of practice."""
    found = []
    for t, times, s, balls in zip(TARGETS, TIMES, seen, n, strict=True):
        level = base(t, seen)
        against = expected_strokes(t, level)
        hidden = loss_of(t, Scatter(s, SIDE * s), against, balls=int(balls), bias_se=0.015)[2]
        less = closer_by(t, Scatter(s, SIDE * s)) if closer else 0.0
        found.append(times * (hidden + less))
    return np.array(found)


def own(_t, seen):  # noqa: ANN001, ANN201
    """Baseline: the closest of the player's own."""
    return Scatter(seen.min(), SIDE * seen.min())


def scratch(t, _seen):  # noqa: ANN001, ANN201
    """Baseline: a scratch player."""
    return scatter_prior(Player(0.0), t)


def by_gain(golfer):  # noqa: ANN001, ANN201
    """What somebody would do who knew everything: block by block where most is won."""
    given, now = np.zeros(len(TARGETS)), score(golfer.spread())
    for _ in range(BLOCKS):
        trial = [now - score(golfer.spread(BALLS * (given + e))) for e in np.eye(len(TARGETS))]
        given[int(np.argmax(trial))] += 1.0
        now -= max(trial)
    return given


def allocate(policy, golfer, seen, n, week):  # noqa: ANN001, ANN201
    """Blocks for each distance in one week."""
    alike = np.roll(np.arange(len(TARGETS)), -week * BLOCKS)[:BLOCKS]
    match policy:
        case "uniform":
            return np.bincount(alike, minlength=len(TARGETS)).astype(float)
        case "the plan, own best":
            index, before = worths(seen, n, own, closer=True), golfer.balls
        case "the plan, scratch":
            index, before = worths(seen, n, scratch, closer=True), golfer.balls
        case "leak alone, own best":
            index, before = worths(seen, n, own), np.zeros(len(TARGETS))
        case "how often alone":
            index, before = TIMES, golfer.balls
        case "widest alone":
            index, before = np.exp(20.0 * np.log(seen / seen.max())), np.zeros(len(TARGETS))
        case _:
            return by_gain(golfer)
    return np.array(shares(index, before, BLOCKS, 2), dtype=float)


POLICIES = (
    "uniform", "the plan, own best", "the plan, scratch", "leak alone, own best",
    "how often alone", "widest alone", "knows all",
)  # fmt: skip
CASES = {
    "uneven, power law": (0.25, power, 0.0, (0.55, 0.9)),
    "uneven, exponential": (0.25, exponential, 0.0, (0.55, 0.9)),
    "uneven, same end for all": (0.25, power, 0.0, (0.0, 1.0)),
    "uneven, half carries over": (0.25, power, 0.5, (0.55, 0.9)),
    "even": (0.0, power, 0.0, (0.55, 0.9)),
}


def improve(players: int) -> None:
    """Strokes a round that ten weeks win, by policy, and the difference to uniform."""
    print("| player | policy | strokes a round won | over uniform |\n|---|---|---|---|")
    for case, (uneven, law, transfer, floors) in CASES.items():
        won = {policy: np.empty(players) for policy in POLICIES}
        for k in range(players):
            for policy in POLICIES:
                rng = np.random.default_rng([13, k])
                golfer = Golfer(rng, uneven, law, transfer, floors)
                before, logged = score(golfer.spread()), np.full(len(TARGETS), float(FIRST))
                for week in range(WEEKS):
                    seen, n = estimate(golfer, logged, rng)
                    more = BALLS * allocate(policy, golfer, seen, n, week)
                    golfer.balls += more
                    logged += more
                won[policy][k] = before - score(golfer.spread())
        for policy in POLICIES:
            over = won[policy] - won["uniform"]
            se = over.std() / np.sqrt(players)
            ratio = won[policy].mean() / won["uniform"].mean()
            print(
                f"| {case} | {policy} | {won[policy].mean():.3f} | {over.mean():+.4f} +- {se:.4f}"
                f" ({ratio:.2f} times) |",
                flush=True,
            )


def struck(rng, count, size=1.0, balls=27, *, form=FORM):  # noqa: ANN001, ANN201
    """Percent errors of the balls of many tests: depth and side of a t with four degrees."""
    wild = np.sqrt(4.0 / rng.chisquare(4.0, (count, balls)))
    depth, side = rng.standard_normal((2, count, balls)) * wild
    miss = np.hypot(4.8 * depth, SIDE * 4.8 * side)
    return miss * np.reshape(size * np.exp(form * rng.standard_normal(count)), (-1, 1))


def points(miss, cuts):  # noqa: ANN001, ANN201
    """Three points within the first cut, two within the second, one within the third."""
    return sum((miss <= cut).sum(axis=1) for cut in cuts)


def cuts_for(elite, spacing):  # noqa: ANN001, ANN201
    """Cuts in a fixed ratio that give elite players the published mean of 56.3 points."""
    low, high = 0.1, 60.0
    for _ in range(50):
        middle = (low * high) ** 0.5
        got = points(elite, (middle / spacing, middle, middle * spacing)).mean()
        low, high = (middle, high) if got < 56.3 else (low, middle)
    return middle / spacing, middle, middle * spacing


def retest(count: int) -> None:
    """Reliability of the standing test, and of a test scored as the published one."""
    rng = np.random.default_rng(11)
    print("| balls | side | SEM of ln score | simulated | smallest real change | false improved |")
    print("|---|---|---|---|---|---|")
    for balls in (27, 36, 54, 90):
        first, second = (np.log(struck(rng, count, balls=balls).mean(axis=1)) for _ in range(2))
        limit = 1.96 * np.sqrt(2.0) * ln_error(balls)
        false = np.mean(second - first < -limit)
        print(
            f"| {balls} | yes | {ln_error(balls):.3f} | {first.std():.3f} |"
            f" {smallest_change(balls):.0%} | {false:.1%} |"
        )
    print("\n| true fall of the scatter | told as real, 27 balls | 54 | 90 |\n|---|---|---|---|")
    for fall in (0.1, 0.2, 0.3, 0.4, 0.5):
        seen = []
        for balls in (27, 54, 90):
            a = np.log(struck(rng, count, balls=balls).mean(axis=1))
            b = np.log(struck(rng, count, 1.0 - fall, balls=balls).mean(axis=1))
            seen.append(np.mean(b - a < -1.96 * np.sqrt(2.0) * ln_error(balls)))
        print(f"| {fall:.0%} | " + " | ".join(f"{s:.0%}" for s in seen) + " |")
    published(rng, count)
    among(rng, count)


def published(rng, count: int) -> None:  # noqa: ANN001
    """Robertson et al.: elite 56.3 +- 5.6, amateurs 46.0 +- 6.3, limits of retest +-7.9 points."""
    print("\n| cuts | scatter of amateurs over elite | elite SD | limits of retest | published |")
    print("|---|---|---|---|---|")
    for spacing in (1.3, 1.6, 2.0, 2.5, 3.0):
        cuts = cuts_for(struck(rng, count, form=0.0), spacing)
        sizes = np.linspace(1.0, 3.0, 101)
        means = [points(struck(rng, 400, s, form=0.0), cuts).mean() for s in sizes]
        ratio = float(np.interp(-46.0, -np.array(means), sizes))
        a, b = (points(struck(rng, count, form=0.0), cuts) for _ in range(2))
        print(
            f"| {cuts[0]:.1f}, {cuts[1]:.1f}, {cuts[2]:.1f} % | {ratio:.2f} | {a.std():.1f} |"
            f" +-{1.96 * (b - a).std():.1f} | +-7.9 |"
        )


def among(rng, count: int) -> None:  # noqa: ANN001
    """Correlation of two tests among players who differ by so much."""
    print("\n| players differ by (SD of ln scatter) | correlation of two tests, 27 balls | 54 |")
    print("|---|---|---|")
    for differ in (0.1, 0.2, 0.34):
        size = np.exp(differ * rng.standard_normal(count))
        found = []
        for balls in (27, 54):
            a, b = (np.log(struck(rng, count, size, balls=balls).mean(axis=1)) for _ in range(2))
            found.append(np.corrcoef(a, b)[0, 1])
        print(f"| {differ:.2f} | " + " | ".join(f"{r:.2f}" for r in found) + " |")


if __name__ == "__main__":
    if sys.argv[1:2] == ["retest"]:
        retest(int(sys.argv[2]) if len(sys.argv) > 2 else 20_000)
    else:
        improve(int(sys.argv[2]) if len(sys.argv) > 2 else PLAYERS)
