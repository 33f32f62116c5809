"""Slow studies of learning: coverage on invented books, and ranks of the truth among the draws.

Run `python -m benchmarks.learning_study coverage 100` or `... full 40`; the results stand in
docs/learning.md.
"""

import sys
import time

import numpy as np

from carrybook.player.learn.invented import bag_of, book_of, drawn_truth
from carrybook.player.learn.learn import learn_full, learn_quick

SHOTS = 8
ONE = ("growth", "cold", "wet", "day_sd", "odd")
MANY = ("bias", "slope", "side")


def ranks(truth, learnt):  # noqa: ANN001, ANN201
    """Share of draws below the truth, and the miss of the mean in posterior sds, by quantity."""
    draws = dict(learnt.draws)
    known = {n: np.atleast_1d(getattr(truth, n)) for n in (*ONE, *MANY)}
    known["log_scale"] = np.log(truth.scale)
    known["side_log_scale"] = np.log(truth.side_scale)
    out = {}
    for name, true in known.items():
        d = draws[name].reshape(len(draws[name]), -1)
        out[name] = (d < true).mean(axis=0), (d.mean(axis=0) - true) / d.std(axis=0)
    return out


def found_in(size, books, learn):  # noqa: ANN001, ANN201
    """Learn from invented books of a size: ranks and misses, (books, many) each, by quantity."""
    shots, rows = bag_of(SHOTS), []
    for k in range(books):
        rng = np.random.default_rng([size, k])
        truth = drawn_truth(shots, rng)
        rows.append(ranks(truth, learn(shots, book_of(shots, truth, size, rng), rng)))
    return {
        name: (np.array([r[name][0] for r in rows]), np.array([r[name][1] for r in rows]))
        for name in rows[0]
    }


def study(sizes, books, learn):  # noqa: ANN001, ANN201
    """Print a table of coverage for each size of book; +- is what so few books leave open."""
    for size in sizes:
        start = time.perf_counter()
        for name, (rank, z) in found_in(size, books, learn).items():
            inside = 100 * np.mean((rank > 0.05) & (rank < 0.95), axis=1)
            error, off = (x.std(ddof=1) / books**0.5 for x in (inside, z.mean(axis=1)))
            bars = " ".join(f"{100 * h / rank.size:.0f}" for h in np.histogram(rank, 10, (0, 1))[0])
            print(
                f"| {size} | {name} | {inside.mean():.0f} +- {error:.0f} % |"
                f" {z.mean():+.2f} +- {off:.2f} | {bars} |",
                flush=True,
            )
        print(f"<!-- {(time.perf_counter() - start) / books:.2f} s a book -->", flush=True)


if __name__ == "__main__":
    what, books = sys.argv[1], int(sys.argv[2])
    if what == "coverage":
        study([int(n) for n in sys.argv[3:]] or [30, 150, 600, 3000], books, learn_quick)
    else:
        study([int(n) for n in sys.argv[3:]] or [150], books, learn_full)
