"""The turf of a green: Haake's two kinds out of one set of equations, and what golfers see."""

from math import cos, radians, sin

import numpy as np
import pytest

from carrybook.base.constants import FOOT, RPM
from carrybook.base.errors import OutOfRangeError
from carrybook.physics.aerodynamics import MID
from carrybook.physics.bounce import bounce
from carrybook.physics.flight import body_row, wind_row
from carrybook.physics.roll import rolling_resistance
from carrybook.physics.shot import play_batch
from carrybook.physics.turf import TURF_ROW, Turf, TurfKind, turf_of_firmness, turf_rows
from carrybook.world.air import REFERENCE_DAY
from carrybook.world.ground import flat_ground
from carrybook.world.wind import CALM

FIRMNESSES = np.array([70.0, 90.0, 110.0, 130.0])
# What wedge shots of our middle flights come down with: speed, angle, rpm.
PITCH, FULL, RIPPED = (15.5, 47.0, 6200.0), (18.9, 51.5, 8700.0), (19.4, 53.4, 9500.0)


def leaves_with_backspin(turf: Turf, spin: float, speed: float = 18.6, angle: float = 44.4) -> bool:
    a = radians(angle)
    velocity = speed * np.array([cos(a), 0.0, -sin(a)])
    _, w = bounce(velocity, np.array([0.0, -spin, 0.0]), np.array([0.0, 0.0, 1.0]), turf)
    return bool(w[1] < 0.0)


# Haake, Science and Golf II (1994): on one kind of green balls leave with topspin whatever the
# backspin; on the other they keep backspin above about 350 rad/s, for which we allow 250 to 450.
@pytest.mark.parametrize("firmness", [90.0, 100.0, 110.0, 120.0])
@pytest.mark.parametrize("angle", [40.0, 44.4, 50.0])
def test_a_freely_drained_green_keeps_backspin_from_about_350_rad_a_second(
    firmness: float, angle: float
) -> None:
    turf = turf_of_firmness(firmness, TurfKind.FREE)
    kept = [s for s in range(0, 1000, 10) if leaves_with_backspin(turf, float(s), angle=angle)]
    assert 250 <= kept[0] <= 450
    assert kept == list(range(kept[0], 1000, 10))


@pytest.mark.parametrize("firmness", [60.0, 80.0, 100.0, 120.0])
@pytest.mark.parametrize("angle", [40.0, 44.4, 48.0])
def test_a_gripping_green_sends_every_ball_on_with_topspin(firmness: float, angle: float) -> None:
    turf = turf_of_firmness(firmness, TurfKind.GRIPPING)
    spins = range(0, 800, 25)
    assert not any(leaves_with_backspin(turf, float(s), angle=angle) for s in spins)


def runs(landing: tuple[float, float, float], kind: TurfKind = TurfKind.UNKNOWN) -> list[float]:
    """Run on level greens, soft to very firm, stimp 10. [m]"""
    speed, angle, rpm = landing
    n = len(FIRMNESSES)
    rows = turf_rows(FIRMNESSES, kind)
    rows[:, 3] = rolling_resistance(10.0 * FOOT)
    ends, _ = play_batch(
        np.tile([speed, -radians(angle), rpm * RPM, 0.0, 0.0], (n, 1)), rows,
        body_row(REFERENCE_DAY), MID.row()[None, :], np.zeros(n, dtype=np.int64),
        np.tile(wind_row(CALM), (n, 1)), flat_ground(), np.array([0.0, 0.0, 1e-3]), (900.0, 0.0),
    )  # fmt: skip
    return [float(run) for run in ends[:, 0] - ends[:, 4]]


@pytest.mark.parametrize("kind", TurfKind)
@pytest.mark.parametrize("landing", [PITCH, FULL, RIPPED])
def test_firmer_runs_longer_whatever_the_kind(
    kind: TurfKind, landing: tuple[float, float, float]
) -> None:
    found = runs(landing, kind)
    assert found == sorted(found)


def test_what_golfers_see_on_the_level() -> None:
    # Common practice, no source: a full, spinning wedge comes back a little on a soft green, hops
    # and stops on a medium one; with less spin it releases 3 to 6 m on a firm one.
    soft, medium, firm, _ = runs(FULL)
    assert -3.0 < soft < -0.3
    assert -1.5 < medium < 1.0
    assert firm < 2.0
    assert 3.0 < runs((18.9, 50.0, 6000.0))[2] < 6.0


@pytest.mark.parametrize("kind", TurfKind)
def test_no_ball_of_a_medium_level_green_comes_back_as_no_ball_does(kind: TurfKind) -> None:
    assert min(runs(RIPPED, kind)[1:]) > -4.0


def test_columns_come_in_the_order_that_kernels_read() -> None:
    turf = Turf(0.3, 0.9, 0.25, 0.1, 0.4, 0.7)
    row = dict(zip(TURF_ROW, turf.row(0.55, 0.02), strict=True))
    names = ("tilt_rad", "restitution", "friction", "tangential", "skid_friction", "wrap_rad")
    assert [row[name] for name in names] == [0.3, 0.9, 0.25, 0.1, 0.4, 0.7]
    assert (row["green_resistance"], row["cup_shift"]) == (0.55, 0.02)


def test_softer_turf_leans_and_wraps_more_and_bounces_less() -> None:
    rows = turf_rows(FIRMNESSES)
    assert np.degrees(rows[:, 0]) == pytest.approx([20.5, 17.5, 14.5, 11.5])
    assert rows[:, 1] == pytest.approx([0.70, 0.85, 1.00, 1.15])
    assert rows[:, 7] == pytest.approx([0.95, 0.75, 0.55, 0.35])
    assert (np.diff(rows[:, 2]) < 0.0).all()


def test_an_unknown_kind_lies_between_the_two() -> None:
    for g in FIRMNESSES:
        free, unknown, gripping = (
            turf_of_firmness(float(g), kind).friction
            for kind in (TurfKind.FREE, TurfKind.UNKNOWN, TurfKind.GRIPPING)
        )
        assert free < unknown < gripping


@pytest.mark.parametrize("g", [10.0, 400.0, float("nan")])
def test_firmness_of_no_green_is_refused(g: float) -> None:
    with pytest.raises(OutOfRangeError, match="firmness"):
        turf_of_firmness(g)
