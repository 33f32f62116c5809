"""What a landing is worth: even chance, runs that behave, and means in closed form."""

import numpy as np
import pytest
from scipy import stats

from carrybook.base.numerics import plain
from carrybook.outcomes import after_landing
from carrybook.outcomes.after_landing import RUN_ON, GreenNets, chance, mean_after, runs_of
from carrybook.world.ground import Surface

PITCH = (20.0, np.radians(48.0), 800.0)  # how a wedge comes down: m/s, rad, rad/s


def nets(strokes: np.ndarray, runs_as: int = -1) -> GreenNets:
    runs = np.full(strokes.shape, runs_as, dtype=np.int64)
    return GreenNets(-50.0, -50.0, 1.0, strokes[None], runs[None])


def plane(a: float, b: float, c: float) -> np.ndarray:
    x = np.arange(-50.0, 51.0)
    return a + b * x[:, None] + c * x[None, :]


@pytest.fixture(scope="module")
def runs() -> np.ndarray:
    return runs_of(np.array([[*PITCH, 70.0, 10.0], [*PITCH, 110.0, 10.0]]))


def test_chance_has_no_mean_and_no_correlation() -> None:
    drawn = chance(256)
    rows = np.array([drawn.along, drawn.aside, drawn.unsure])
    assert np.abs(rows.mean(axis=1)).max() < 1e-12
    assert np.abs(np.corrcoef(rows) - np.eye(3)).max() < 1e-12
    assert np.bincount(drawn.run).tolist() == [8] * 32
    assert len(drawn.first(64).along) == 64


def test_chance_is_students_with_four_degrees() -> None:
    drawn = chance(4096)
    for share in (0.6, 0.75, 0.9, 0.95):
        wanted = stats.t.ppf(share, 4.0)
        assert np.quantile(drawn.along, share) == pytest.approx(wanted, abs=0.02 + 0.05 * wanted)
        assert np.quantile(drawn.aside, share) == pytest.approx(wanted, abs=0.02 + 0.05 * wanted)


def test_wild_swings_are_wild_in_both() -> None:
    drawn = chance(4096)
    assert np.corrcoef(np.abs(drawn.along), np.abs(drawn.aside))[0, 1] > 0.2


def test_a_firm_green_runs_further_and_sand_holds(runs: np.ndarray) -> None:
    assert runs.shape == (2, len(RUN_ON), 32)
    soft, firm = runs.mean(axis=2)
    assert firm[RUN_ON.index(Surface.GREEN)] > soft[RUN_ON.index(Surface.GREEN)] + 0.5
    for each in (soft, firm):
        assert abs(each[RUN_ON.index(Surface.BUNKER)]) < 1.5
        assert each[RUN_ON.index(Surface.GREEN)] > each[RUN_ON.index(Surface.ROUGH)]


def test_the_same_seed_gives_the_same_runs() -> None:
    kinds = np.array([[*PITCH, 90.0, 10.0]])
    assert np.array_equal(runs_of(kinds), runs_of(kinds))
    assert not np.array_equal(runs_of(kinds), runs_of(kinds, seed=2))


def test_a_plane_gives_its_value_at_the_middle() -> None:
    """Scatter without a mean does not move a plane, whatever its size."""
    flat = nets(plane(2.5, 0.02, -0.03))
    aims = np.array([[4.0, -6.0, 2.0, 1.0, 1.0, 0.3], [4.0, -6.0, 0.0, 0.0, 0.0, 0.0]])
    found = mean_after(
        flat, np.zeros((1, 4, 32)), np.zeros((2, 2), dtype=np.int64), aims, chance(64)
    )
    assert found == pytest.approx(2.5 + 0.02 * 4.0 + 0.03 * 6.0, abs=1e-9)


def test_a_run_moves_it_along(runs: np.ndarray) -> None:
    green = nets(plane(2.0, 0.01, 0.0), RUN_ON.index(Surface.GREEN))
    which = np.array([[0, 0], [0, 1]])
    found = mean_after(green, runs, which, np.zeros((2, 6)), chance(128))
    ran = runs[:, RUN_ON.index(Surface.GREEN)].mean(axis=1)
    assert found == pytest.approx(2.0 + 0.01 * ran, abs=1e-9)


def test_right_is_right_and_long_goes_with_it() -> None:
    """On a saddle x times y the mean is the covariance: long and right is +x and -y."""
    x = np.arange(-50.0, 51.0)
    saddle = nets(x[:, None] * x[None, :])
    which = np.zeros((3, 2), dtype=np.int64)
    aims = np.zeros((3, 6))
    aims[:, 2:4], aims[:, 5] = 1.5, (-0.5, 0.0, 0.5)
    found = mean_after(saddle, np.zeros((1, 4, 32)), which, aims, chance(1024))
    assert found[1] == pytest.approx(0.0, abs=1e-9)
    assert found[0] == pytest.approx(-found[2], rel=1e-9)
    drawn = chance(1024)
    assert found[2] == pytest.approx(-0.5 * 1.5**2 * float((drawn.along**2).mean()), rel=1e-9)


def test_beyond_the_net_its_edge_counts() -> None:
    flat = nets(plane(2.0, 0.01, 0.0))
    aims = np.array([[500.0, 0.0, 0.0, 0.0, 0.0, 0.0]])
    found = mean_after(
        flat, np.zeros((1, 4, 32)), np.zeros((1, 2), dtype=np.int64), aims, chance(4)
    )
    assert found[0] == pytest.approx(2.5, abs=2e-5)


def test_the_kernel_is_its_own_plain_self(runs: np.ndarray) -> None:
    rng, drawn = np.random.default_rng(1), chance(32)
    some = nets(rng.uniform(1.0, 3.0, (101, 101)), 0)
    aims = np.column_stack([rng.uniform(-5, 5, (6, 2)), rng.uniform(0, 3, (6, 3)), np.full(6, 0.2)])
    which = np.column_stack([np.zeros(6), rng.integers(0, 2, 6)]).astype(np.int64)
    out = np.empty(6)
    plain(after_landing._mean_after)(
        0, 6, some.x0, some.y0, some.step, some.strokes, some.runs_as, runs, which, aims,
        drawn.along, drawn.aside, drawn.unsure, drawn.run, out,
    )  # fmt: skip
    np.testing.assert_allclose(mean_after(some, runs, which, aims, drawn), out, rtol=1e-12)
