"""Pictures of a landing and of a learnt firmness: what they were given, sides, units, sizes."""

from dataclasses import replace
from io import BytesIO
from math import radians
from typing import Any

import numpy as np
import pytest
from matplotlib.axes import Axes
from matplotlib.text import Text

from carrybook.artefacts import style
from carrybook.artefacts.firmness import belief_in_firmness
from carrybook.artefacts.landed import landing_side
from carrybook.base.constants import FOOT, RPM, YARD
from carrybook.base.errors import BadInputError
from carrybook.outcomes.firmness import FirmnessUpdate, Seen
from carrybook.outcomes.landing import Arrival, Landed, Patch, land


@pytest.fixture(scope="module")
def landed() -> Landed:
    """Onto a firm green that falls away to the right."""
    patch = Patch(firmness_g=110.0, slope=0.02, fall_right_rad=radians(45.0))
    return land(Arrival(18.0, radians(49.0), 6000 * RPM), patch, np.random.default_rng(1))


@pytest.fixture(scope="module")
def learnt() -> FirmnessUpdate:
    grid = np.arange(40.0, 161.0, 2.5)
    prior, now = (np.exp(-0.5 * ((grid - m) / s) ** 2) for m, s in ((90.0, 12.0), (104.0, 8.0)))
    seen = (Seen("released 4 paces", 3.6, 3.6), Seen("$checked$", 0.6, 2.7))
    return FirmnessUpdate(seen, grid, prior / prior.sum(), now / now.sum(), (0.2, 0.3, 0.4), ())


def drawn(axes: Axes, gid: str) -> Any:  # noqa: ANN401 - a line
    (artist,) = axes.findobj(lambda a: a.get_gid() == gid)
    return artist


@pytest.mark.parametrize(("units", "far", "near"), [("yards", YARD, FOOT), ("metres", 1.0, 1.0)])
def test_bounces_run_and_finishes_are_those_it_was_given(
    landed: Landed, units: str, far: float, near: float
) -> None:
    side, plan = landing_side(landed, units=units).axes
    for number, hop in enumerate(landed.hops):
        seen = drawn(side, f"hop {number + 1}").get_xydata()
        assert seen == pytest.approx(hop.points[:, (0, 2)] / (far, near))
    bar = drawn(side, "run").get_xydata()
    low, _, high = landed.run_quantiles_m
    assert (bar[0, 0], bar[-1, 0]) == pytest.approx((low / far, high / far))
    assert drawn(side, "rest").get_xydata()[0, 0] == pytest.approx(landed.run_m / far)
    dots = drawn(plan, "finishes").get_xydata()
    assert dots[:, 0] == pytest.approx(landed.runs[:500] / far)
    assert dots[:, 1] == pytest.approx(landed.sides[:500] / far)


def test_right_is_down_and_units_are_named(landed: Landed) -> None:
    side, plan = landing_side(landed, units="metres").axes
    bottom, top = plan.get_ylim()
    assert bottom > 0.0 > top
    assert "[m]" in side.get_xlabel() + plan.get_ylabel()
    texts = [t.get_text() for t in landing_side(landed).findobj(Text)]
    assert any("firm (110 ± 10 g)" in t for t in texts)
    assert any("falls 2.0 % away to the right" in t for t in texts)


def test_ground_shown_is_the_plane(landed: Landed) -> None:
    side, _ = landing_side(landed, units="metres").axes
    x, z = drawn(side, "ground").get_xydata().T
    assert z == pytest.approx(-0.02 * np.cos(radians(45.0)) * x, abs=1e-9)


def test_a_ball_that_does_not_bounce_can_be_drawn(landed: Landed) -> None:
    dead = replace(landed, hops=(), run_m=0.0, side_m=0.0)
    landing_side(dead).savefig(BytesIO())


def test_belief_before_and_now_is_drawn_a_gravity(learnt: FirmnessUpdate) -> None:
    (axes,) = belief_in_firmness(learnt).axes
    for gid, share in (("prior", learnt.prior), ("posterior", learnt.posterior)):
        grid, belief = drawn(axes, gid).get_xydata().T
        assert grid == pytest.approx(learnt.grid_g)
        assert belief == pytest.approx(40.0 * share)  # per cent a gravity, cells of 2.5
    texts = [t.get_text() for t in belief_in_firmness(learnt).findobj(Text)]
    assert "firm: 104 ± 8 g" in texts
    assert "saw: $checked$" in texts
    assert [w for w in texts if w in ("soft", "medium", "firm", "very firm")] == [
        "soft", "medium", "firm", "very firm",
    ]  # fmt: skip


def test_both_are_as_wide_as_a_phone_and_no_text_is_too_small(
    landed: Landed, learnt: FirmnessUpdate
) -> None:
    for figure in (landing_side(landed), belief_in_firmness(learnt)):
        assert figure.get_size_inches()[0] == style.WIDTH_IN
        sizes = [t.get_fontsize() for t in figure.findobj(Text) if t.get_text()]
        assert min(sizes) >= style.SIZE_SMALL


def test_units_of_another_name_are_refused(landed: Landed) -> None:
    with pytest.raises(BadInputError, match="units = 'feet'"):
        landing_side(landed, units="feet")
