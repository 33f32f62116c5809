"""Changes of a bag: nothing changes nothing, a change that must help does, names, refusals."""

from collections.abc import Callable
from math import degrees, radians

import pytest

from carrybook.base.constants import YARD
from carrybook.base.errors import BadInputError, NoSolutionError
from carrybook.decision.bag_fit.demand import demand_over
from carrybook.decision.bag_fit.doubt import Chance
from carrybook.decision.bag_fit.greens import Greens
from carrybook.decision.bag_fit.wedges import Wedge, own_wedges
from carrybook.decision.bag_fit.whatif import BagChange, ChangeWorth, bag_whatif, usual_changes
from carrybook.decision.demand import Demand
from carrybook.player.summary import ShotSummary
from carrybook.world.faced import FacedShot

MakeShots = Callable[..., tuple[ShotSummary, ...]]
FEW = Chance(128)


def asked(
    wedges: tuple[Wedge, ...],
    *changes: BagChange,
    firmness: tuple[float, ...] = (90.0,),
    yards: tuple[float, ...] = (70, 86, 108),
) -> tuple[ChangeWorth, ...]:
    demand = Demand(tuple(FacedShot(yd * YARD) for yd in yards), "")
    return bag_whatif(lambda _a, _b: wedges, changes, demand, Greens(), firmness, chance=FEW)


@pytest.fixture(scope="module")
def wedges(shots_of: MakeShots) -> tuple[Wedge, ...]:
    """Make full clubs, one of which fits nothing that is faced."""
    return own_wedges(shots_of((50, 110), (54, 98), (60, 72), shortest=0.95))


def test_the_same_loft_and_the_same_spin_save_nothing(wedges: tuple[Wedge, ...]) -> None:
    same = (BagChange("54", radians(54.0)), BagChange(spin=1.0))
    for worth in asked(wedges, *same):
        assert worth.saves[0].strokes == pytest.approx(0.0, abs=2e-3)
        assert not worth.saves[0].is_real


def test_bending_a_club_to_where_the_gap_is_helps(wedges: tuple[Wedge, ...]) -> None:
    """At 57 deg it carries near 86 yd, where nothing of theirs goes."""
    changes = BagChange("54", radians(57.0)), BagChange("60", radians(64.0))
    helps, harms = asked(wedges, *changes, yards=(86,))
    assert helps.saves[0].strokes > max(0.1, 3.0 * helps.saves[0].noise)
    assert helps.saves[0].clubs > 0.0
    assert harms.saves[0].strokes < helps.saves[0].strokes


def test_more_spin_helps_most_where_it_is_firm(shots_of: MakeShots) -> None:
    """Of low shots that run: a ball with more spin stops sooner."""
    clubs = own_wedges(shots_of((46, 118), (50, 104), shortest=0.6))
    (worth,) = asked(clubs, BagChange(spin=1.2), firmness=(70.0, 130.0))
    soft, firm = worth.saves
    assert worth.firmness_g == (70.0, 130.0)
    assert firm.strokes > soft.strokes - 0.01
    assert firm.clubs == 0.0


def test_the_usual_changes(wedges: tuple[Wedge, ...]) -> None:
    found = usual_changes(wedges)
    assert len(found) == 4 * 3 + 2
    assert [round(degrees(c.loft_rad)) for c in found[:4]] == [48, 49, 51, 52]
    assert [c.name for c in found[-2:]] == ["ball with -10 % spin", "ball with +10 % spin"]
    assert found[0].name == "50 at 48 deg"


def test_says_what_is_wrong(wedges: tuple[Wedge, ...]) -> None:
    with pytest.raises(BadInputError, match=r"club 'PW' has no trusted shot .* have: 50, 54, 60"):
        asked(wedges, BagChange("PW", radians(46.0)))
    with pytest.raises(NoSolutionError, match="54 at 40 deg: that cannot be guessed"):
        asked(wedges, BagChange("54", radians(40.0)))


def test_progress_is_told(wedges: tuple[Wedge, ...]) -> None:
    told: list[float] = []
    bag_whatif(
        lambda _a, _b: wedges, [BagChange(spin=1.1)], demand_over(70.0, 70.0), Greens(),
        (70.0, 90.0), chance=Chance(32), progress=lambda _what, share: told.append(share),
    )  # fmt: skip
    assert told == sorted(told)
    assert told[-1] == 1.0
