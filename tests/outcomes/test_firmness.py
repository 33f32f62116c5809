"""Firmness learnt from balls seen to land: moves the right way, narrows, covers the truth."""

from math import radians

import numpy as np
import pytest

from carrybook.base.constants import RPM, YARD
from carrybook.base.errors import NoSolutionError, OutOfRangeError
from carrybook.outcomes import firmness
from carrybook.outcomes.firmness import MARKS, SEEN, FirmnessUpdate, Seen, update_firmness
from carrybook.outcomes.landing import STIMP_SD, Arrival, Patch, drop_many
from carrybook.outcomes.turf import drawn_turf
from carrybook.physics.roll import rolling_resistance

WEDGE = Arrival(18.5, radians(50.0), 7500.0 * RPM)
OPEN = (95.0, 20.0)
LEVEL = Patch()


@pytest.fixture(autouse=True)
def _fewer_draws(monkeypatch: pytest.MonkeyPatch) -> None:
    """A quarter of the draws: noisier by half, quick enough for tests."""
    monkeypatch.setattr(firmness, "_DRAWS", 48)


def learnt(*seen: Seen, prior: tuple[float, float] = OPEN, patch: Patch = LEVEL) -> FirmnessUpdate:
    return update_firmness(prior, seen, patch, np.random.default_rng(3))


def said(words: str, arrival: Arrival | None = None, mark: float | None = None) -> Seen:
    low, high = SEEN[words]
    return Seen(words, low * YARD, high * YARD, mark, arrival)


def paced(run_yd: float, arrival: Arrival | None = None) -> Seen:
    return Seen(f"{run_yd} paces", run_yd * YARD, run_yd * YARD, None, arrival)


def test_belief_sums_to_one_and_starts_as_it_was() -> None:
    got = learnt(paced(2.0), prior=(100.0, 8.0))
    assert got.prior.sum() == pytest.approx(1.0)
    assert got.posterior.sum() == pytest.approx(1.0)
    assert got.before_g == pytest.approx((100.0, 8.0), abs=0.05)
    assert got.grid_g[0] == 40.0
    assert got.grid_g[-1] == 160.0


def test_longer_runs_mean_a_firmer_green() -> None:
    words = ("came back", "one hop and stopped", "checked", "released", "ran out")
    means = [learnt(said(w, WEDGE)).after_g[0] for w in words]
    assert means == sorted(means)
    assert means[0] < 90.0
    assert means[-1] > 115.0


def test_every_ball_seen_narrows_it() -> None:
    widths = [learnt(*[paced(4.0, WEDGE)] * n).after_g[1] for n in (1, 3, 6)]
    assert widths == sorted(widths, reverse=True)
    assert widths[0] < OPEN[1]
    assert widths[-1] < 12.0


def test_a_ball_whose_landing_is_known_tells_more() -> None:
    assert learnt(paced(6.0, WEDGE)).after_g[1] < learnt(paced(6.0)).after_g[1]


def test_marks_move_it_alone_and_agree_with_their_words() -> None:
    # linde-2009: hardness explained half of the size of a ball mark: a mark is a weak witness.
    means = [learnt(said("one hop and stopped", None, g)).after_g[0] for g in MARKS.values()]
    assert means == sorted(means)
    assert means[-1] - means[0] < 60.0


def test_a_slope_is_taken_into_account() -> None:
    # four paces on down a slope mean less than four paces on the level
    level = learnt(paced(4.0, WEDGE)).after_g[0]
    down = learnt(paced(4.0, WEDGE), patch=Patch(slope=0.03)).after_g[0]
    assert down < level


def test_what_no_green_does_is_named() -> None:
    assert learnt(paced(40.0, WEDGE)).odd == ("40.0 paces",)
    assert learnt(paced(2.0, WEDGE)).odd == ()


def test_spinning_balls_that_run_on_mean_little_friction() -> None:
    slick = learnt(*[paced(5.0, Arrival(17.5, radians(48.0), 8500.0 * RPM))] * 3, prior=(90.0, 5.0))
    low, middle, high = slick.friction
    assert low < middle < high
    grips = learnt(
        *[paced(-0.5, Arrival(17.5, radians(48.0), 8500.0 * RPM))] * 3, prior=(90.0, 5.0)
    )
    assert middle < grips.friction[1]


def test_truth_is_covered_as_often_as_it_claims() -> None:
    # Greens drawn from the prior, three balls seen on each: z-scores of the truth have width one.
    rng, scores = np.random.default_rng(11), []
    for _ in range(24):
        true = rng.normal(100.0, 12.0)
        grip = rng.standard_normal()
        z = rng.standard_normal((4, 3))
        rows = drawn_turf(np.full(3, true), z[0], z[1], grip + 0.5 * z[2])
        rows[:, 3] = rolling_resistance(Patch().stimp_m) * np.exp(STIMP_SD * z[3])
        arrivals = np.tile(WEDGE.row(), (3, 1))
        arrivals[:, 0] *= np.exp(0.4 * 0.08 * rng.standard_normal(3))
        arrivals[:, 1] += 0.4 * radians(3.0) * rng.standard_normal(3)
        arrivals[:, 2] *= np.exp(0.4 * 0.15 * rng.standard_normal(3))
        runs = drop_many(arrivals, rows, Patch())[:, 0]
        told = runs + (0.5 * YARD + 0.1 * np.abs(runs)) * rng.standard_normal(3)
        got = learnt(*(paced(float(r) / YARD, WEDGE) for r in told), prior=(100.0, 12.0))
        mean, sd = got.after_g
        scores.append((true - mean) / sd)
    assert 0.65 < np.std(scores) < 1.4
    assert abs(np.mean(scores)) < 0.6


def test_refuses_nothing_seen_and_greens_that_are_none() -> None:
    with pytest.raises(NoSolutionError, match="no ball was seen"):
        learnt()
    with pytest.raises(OutOfRangeError, match="firmness = 300 g"):
        learnt(paced(2.0), prior=(300.0, 5.0))
