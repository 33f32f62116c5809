"""The described green: where holes are cut on it, and what its nets hold."""

from collections.abc import Callable

import numpy as np
import pytest

from carrybook.base.constants import YARD
from carrybook.decision.prepared import Zone
from carrybook.decision.review.baselines import TOUR_BASELINE, Baseline
from carrybook.decision.review.greens import Cut, cut_of, nets_of, surfaces_at
from carrybook.player.round_shots import RoundShot
from carrybook.world.ground import Surface

MakeShot = Callable[..., RoundShot]


@pytest.mark.parametrize("zone", Zone)
def test_each_ninth_is_where_it_says(zone: Zone, shot: MakeShot) -> None:
    cut = cut_of(shot(hole_location=zone.value))
    assert f"{cut.third} {cut.side}" == zone
    assert surfaces_at(np.array([cut.x]), np.array([cut.y]))[0] == Surface.GREEN
    assert np.sign(cut.y) == {"left": 1.0, "centre": 0.0, "right": -1.0}[cut.side]


def test_front_is_before_back(shot: MakeShot) -> None:
    x = [cut_of(shot(hole_location=word)).x for word in ("front", "middle", "back")]
    assert x == sorted(x)
    assert len(set(x)) == 3


def test_nobody_said_is_the_middle_and_says_so(shot: MakeShot) -> None:
    cut = cut_of(shot(hole_location=""))
    assert (cut.x, cut.y) == (15.0 * YARD, 0.0)
    assert (cut.third, cut.side) == ("", "")


def test_a_pin_sheet_is_scaled_to_the_green(shot: MakeShot) -> None:
    half = cut_of(shot(hole_location="20 on, 5 from the right", green_deep_m=40 * YARD))
    assert half.x == pytest.approx(15.0 * YARD)
    assert half.y == pytest.approx(-7.0 * YARD)
    assert (half.third, half.side) == ("middle", "right")
    metres = cut_of(shot(hole_location="17m on, 4m from the left", green_deep_m=24.0))
    assert (metres.third, metres.side) == ("back", "left")
    centre = cut_of(shot(hole_location="4 on, centre", green_deep_m=30 * YARD))
    assert (centre.third, centre.y) == ("front", 0.0)


def test_a_hole_is_held_off_the_edge(shot: MakeShot) -> None:
    near = cut_of(shot(hole_location="40 on, 1 from the left", green_deep_m=30 * YARD))
    assert near.x == pytest.approx(26.0 * YARD)
    assert surfaces_at(np.array([near.x]), np.array([near.y]))[0] == Surface.GREEN


def test_nets_hold_the_baseline_and_are_shared() -> None:
    cuts = [Cut(10.0, 0.0, "", ""), Cut(15.0, 3.0, "", ""), Cut(10.0, 0.0, "", "")]
    nets, which = nets_of(cuts, TOUR_BASELINE)
    assert which[0] == which[2] != which[1]
    assert len(nets.strokes) == 2
    i, j = (round((v - start) / nets.step) for v, start in ((14.0, nets.x0), (3.0, nets.y0)))
    wanted = float(TOUR_BASELINE.putts(np.array(5.0)))
    assert nets.strokes[which[0], i, j] == pytest.approx(wanted)
    assert nets.strokes.min() == pytest.approx(1.0, abs=0.01)


def test_a_rival_who_putts_worse_has_dearer_nets() -> None:
    poor = Baseline("poor", {"green": np.array([[1.0, 2.0], [30.0, 4.0]])})
    cuts = [Cut(13.0, 0.0, "", "")]
    ours, theirs = (nets_of(cuts, b)[0].strokes for b in (TOUR_BASELINE, poor))
    assert (theirs >= ours - 1e-9).all()
    assert theirs.sum() > ours.sum()


def test_around_the_green_is_rough_and_a_fairway_in_front() -> None:
    x, y = np.array([13.0, -10.0, 13.0, 40.0]), np.array([0.0, 0.0, 20.0, 0.0])
    assert [Surface(int(s)) for s in surfaces_at(x, y)] == [
        Surface.GREEN, Surface.FAIRWAY, Surface.ROUGH, Surface.ROUGH,
    ]  # fmt: skip
