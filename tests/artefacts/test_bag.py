"""Picture of a bag: what it was given, units, whose line is whose."""

from dataclasses import replace
from io import BytesIO
from math import radians

import numpy as np
import pytest

from carrybook.artefacts import style
from carrybook.artefacts.bag import bag_figure
from carrybook.base.constants import YARD
from carrybook.base.errors import BadInputError
from carrybook.decision.bag_fit.bags import Saving
from carrybook.decision.bag_fit.greens import Greens
from carrybook.decision.bag_fit.options import BagFit, BagOption, Taken
from carrybook.decision.bag_fit.wedges import NEVER_HIT, Wedge
from carrybook.decision.demand import Demand
from carrybook.player.bag import Club, Flight, Shape, Shot
from carrybook.player.summary import summarise
from carrybook.world.faced import FacedShot
from carrybook.world.lie import Lie

YARDS = (60.0, 80.0, 100.0)


def wedge(label: str, loft: float, yards: float, *, owned: bool = True) -> Wedge:
    carry = yards * YARD
    shot = Shot(Club(label, radians(loft)), Flight.STOCK, Shape.STRAIGHT, carry, 0.6 * carry, carry)
    return Wedge(label, radians(loft), summarise([shot], []), None if owned else NEVER_HIT)


@pytest.fixture
def fit() -> BagFit:
    """Two wedges that are carried, and a third that is not owned and would save something."""
    long, short, new = (
        wedge("48", 48, 118),
        wedge("60", 60, 78),
        wedge("54 deg", 54, 98, owned=False),
    )
    places = (*(FacedShot(y * YARD) for y in YARDS), FacedShot(50.0, Lie.LIGHT_ROUGH, times=0.5))
    mine = tuple(
        Taken(club, club, 60.0, strokes)
        for club, strokes in zip(("60", "48", "48", "60"), (2.5, 2.9, 2.7, 2.8), strict=True)
    )
    theirs = (mine[0], Taken("54 deg", "54 deg", 75.0, 2.6, 0.05), *mine[2:])
    carried = BagOption((long, short), 0, 2.73, None, mine)
    other = BagOption((long, new, short), 1, 2.65, Saving(0.08, 0.01, 0.02), theirs)
    demand = Demand(places, "said")
    return BagFit(demand, Greens(), carried, (other,), 0, 10, ((0.8, 0.9),) * 3, 512, 1)


@pytest.mark.parametrize(("units", "far", "name"), [("yards", YARD, "yd"), ("metres", 1.0, "m")])
def test_it_draws_what_it_was_given(fit: BagFit, units: str, far: float, name: str) -> None:
    below, above = bag_figure(fit, units=units).axes
    mine, theirs = above.get_lines()
    assert np.asarray(mine.get_xdata()) * far == pytest.approx([y * YARD for y in YARDS])
    assert np.asarray(mine.get_ydata()) == pytest.approx([2.5, 2.9, 2.7])
    assert np.asarray(theirs.get_ydata()) == pytest.approx([2.5, 2.6, 2.7])
    assert (mine.get_color(), theirs.get_color()) == (style.INK, style.ACCENT)
    assert below.get_xlabel() == f"from [{name}]"


def test_the_band_is_twice_what_is_unsure(fit: BagFit) -> None:
    above = bag_figure(fit).axes[1]
    (band,) = above.collections
    corners = band.get_paths()[0].vertices
    heights = sorted({round(float(y), 6) for x, y in corners if abs(x - 80.0) < 1e-6})
    assert heights == pytest.approx([2.5, 2.7])


def test_every_wedge_has_a_row_with_what_it_is_played_for(fit: BagFit) -> None:
    below = bag_figure(fit).axes[0]
    assert [t.get_text() for t in below.get_yticklabels()] == ["48", "60", "48", "54*", "60"]
    thick = [line for line in below.get_lines() if line.get_linewidth() > 3.0]
    assert len(thick) == 3 + 3
    (new,) = (line for line in thick if line.get_ydata()[0] == 4)  # type: ignore[index]
    assert np.asarray(new.get_xdata()) == pytest.approx([70.0, 90.0])


def test_title_says_what_it_saves_and_whether_it_is_real(fit: BagFit) -> None:
    said = [t.get_text() for t in bag_figure(fit).texts]
    assert said[0] == "wedges 48 54* 60"
    assert said[1] == "48 54* 60 saves +0.08 strokes each shot (+0.04 to +0.12)"
    doubtful = replace(fit.options[0], saving=Saving(0.01, 0.01, 0.02))
    said = [t.get_text() for t in bag_figure(replace(fit, options=(doubtful,))).texts]
    assert said[0] == "wedges 48 60"
    assert said[1].endswith(": no real difference")


def test_where_the_carried_bag_is_best_it_stands_alone(fit: BagFit) -> None:
    assert fit.carried is not None
    above = bag_figure(replace(fit, options=(fit.carried,))).axes[1]
    assert len(above.get_lines()) == 1


def test_it_is_the_same_picture_twice_and_knows_its_units(fit: BagFit) -> None:
    first, second = (BytesIO(), BytesIO())
    for out in (first, second):
        bag_figure(fit).savefig(out, format="png")
    assert first.getvalue() == second.getvalue()
    with pytest.raises(BadInputError, match="units = 'furlongs'"):
        bag_figure(fit, units="furlongs")
