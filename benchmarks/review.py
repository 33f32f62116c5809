"""A season of thirty rounds reviewed: seconds, and of what they are made."""

from collections.abc import Iterator

import numpy as np

from benchmarks.invented_seasons import Habits, invented_bag, invented_rounds
from benchmarks.timing import best_of
from carrybook.decision.review.baselines import TOUR_BASELINE
from carrybook.decision.review.best import best_of as best_choice
from carrybook.decision.review.review import review
from carrybook.decision.review.season import columns_of, condition_of
from carrybook.decision.review.weigh import scales_of
from carrybook.outcomes.after_landing import chance


def lines() -> Iterator[str]:
    """Measure and say."""
    bag = invented_bag()
    rounds = invented_rounds(bag, np.random.default_rng(1), habits=Habits(reads_wind=0.7))
    season = columns_of(rounds, bag)
    whole = best_of(lambda: review(rounds, bag), 3)
    believed, _ = condition_of(season, true=False)
    scales, drawn = scales_of(season, TOUR_BASELINE), chance(512)
    choice = best_of(lambda: best_choice(season, bag, believed, scales, drawn), 3)
    yield f"review of {len(rounds)} rounds, {len(season)} scoring shots, four owned: {whole:.2f} s"
    each = 1000.0 * choice / len(season)
    yield f"  finding the best choice of all of them {choice:.2f} s: {each:.1f} ms a shot"


if __name__ == "__main__":
    for line in lines():
        print(line, flush=True)
