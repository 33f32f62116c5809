"""What `bag` says, of answers made by hand: verdicts, marks, rounding, what is left unsaid."""

from dataclasses import replace
from math import radians

import pytest

from carrybook.app.services.bag import Changes, Tried
from carrybook.app.texts.bag import fit_text, gaps_text, saving_words, tried_text, whatif_text
from carrybook.base.constants import YARD
from carrybook.decision.bag_fit.bags import Saving
from carrybook.decision.bag_fit.gaps import BagGaps, ClubWorth, PlaceGap
from carrybook.decision.bag_fit.greens import Greens
from carrybook.decision.bag_fit.options import BagFit, BagOption, Taken
from carrybook.decision.bag_fit.tryout import TryOut, Verdict
from carrybook.decision.bag_fit.wedges import NEVER_HIT, Wedge
from carrybook.decision.bag_fit.whatif import BagChange, ChangeWorth
from carrybook.decision.demand import Demand
from carrybook.player.bag import Club, Flight, Shape, Shot
from carrybook.player.learn.feel import FeelGap
from carrybook.player.summary import ShotSummary, summarise
from carrybook.world.faced import FacedShot
from carrybook.world.lie import Lie

REAL, NOISE = Saving(0.08, 0.01, 0.02), Saving(0.01, 0.01, 0.02)
PLACES = (FacedShot(80.0 * YARD), FacedShot(90.0 * YARD))
FACED = Demand(PLACES, "two distances")


def shot(label: str, loft: float, yards: float, *, trusted: bool = True) -> ShotSummary:
    carry = yards * YARD
    club = Club(label, radians(loft))
    made = Shot(
        club, Flight.STOCK, Shape.STRAIGHT, carry, 0.6 * carry, carry, "hands quiet", trusted
    )
    return summarise([made], [])[0]


def wedge(label: str, loft: float, yards: float, *, owned: bool = True) -> Wedge:
    return Wedge(label, radians(loft), (shot(label, loft, yards),), None if owned else NEVER_HIT)


MINE = (wedge("48", 48, 118), wedge("60", 60, 78))
NEW = wedge("54 deg", 54, 98, owned=False)


def fit_of(saving: Saving, demand: Demand = FACED) -> BagFit:
    mine = tuple(Taken("48", "48", 70.0, 2.7) for _ in demand.shots)
    theirs = tuple(Taken("54 deg", "54 deg", 71.0, 2.6, 0.03) for _ in demand.shots)
    carried = BagOption(MINE, 0, 2.70, None, mine)
    other = BagOption((MINE[0], NEW, MINE[1]), 1, 2.70 - saving.strokes, saving, theirs)
    alike = ((radians(46), radians(48)), (radians(53), radians(56)), (radians(60), radians(60)))
    return BagFit(demand, Greens(), carried, (other,), 0, 1234, alike, 512, 1, ("a doubt",))


def test_a_saving_shows_no_more_digits_than_are_known() -> None:
    assert saving_words(REAL) == "+0.08 (+0.04 to +0.12)"
    assert saving_words(Saving(0.0013, 0.001, 0.001)) == "+0.001 (-0.001 to +0.003)"
    assert saving_words(Saving(-0.001, 0.01, 0.01)) == "+0.00 (-0.02 to +0.02)"


def test_a_bag_that_saves_is_told_with_its_interval() -> None:
    lines = fit_text(fit_of(REAL), "yards").splitlines()
    assert "CARRY 48 54* 60, saves +0.08 (+0.04 to +0.12) each shot" in lines
    assert "1234 bags compared; as good as the best within 0.02: 46 to 48, 53 to 56, 60 deg" in (
        "\n".join(lines)
    )
    assert any(line.startswith("you carry  48 60") for line in lines)
    assert ["80", "48", "77", "2.70", "54*", "78", "2.60"] in [line.split() for line in lines]
    assert "doubt: a doubt" in lines


def test_without_a_real_difference_it_says_keep() -> None:
    text = fit_text(fit_of(NOISE), "yards")
    assert "KEEP 48 60: no real difference; the best found, 48 54* 60, saves +0.01" in text
    assert "no real difference" in next(
        line for line in text.splitlines() if line.startswith("best")
    )


def test_where_no_bag_costs_less_it_says_so() -> None:
    fit = fit_of(NOISE)
    assert fit.carried is not None
    text = fit_text(replace(fit, options=(fit.carried,)), "yards")
    assert "KEEP 48 60: no bag costs fewer strokes" in text


def test_lies_are_named_where_there_are_several_and_a_long_table_is_cut() -> None:
    rough = tuple(replace(p, lie=Lie.LIGHT_ROUGH) for p in PLACES)
    two = Demand((*PLACES, *rough), "")
    assert "light rough, dry" in fit_text(fit_of(REAL, two), "yards")
    assert "light rough, dry" not in fit_text(fit_of(REAL), "yards").split("CARRY")[1]
    many = Demand(tuple(FacedShot((60.0 + k) * YARD) for k in range(40)), "")
    assert "and 10 places more: --json has them all" in fit_text(fit_of(REAL, many), "metres")


def test_gaps_name_overlaps_and_real_gaps_alone() -> None:
    clubs = (
        ClubWorth(MINE[0], 118 * YARD, 2.0, 40 * YARD, 2.5, 0.5, REAL),
        ClubWorth(MINE[1], 78 * YARD, 1.0, None, None, 0.5, NOISE),
    )
    taken = Taken("48", "48", 75.0 * YARD, 2.7)
    places = (
        PlaceGap(PLACES[0], taken, "60", 0.3, REAL, "54 deg"),
        PlaceGap(PLACES[1], taken, "60", 0.001, NOISE, "52 deg"),
    )
    lines = gaps_text(BagGaps(FACED, Greens(), clubs, places, 512, 1), "yards").splitlines()
    (gap,) = (line for line in lines if line.startswith("80"))
    (overlap,) = (line for line in lines if line.startswith("90"))
    assert "+0.30" in gap
    assert gap.endswith("+0.08 (+0.04 to +0.12)  54*")
    assert overlap.endswith("60")
    assert "52" not in overlap
    assert any("118 +- 2.2  40 +- 2.7" in line for line in lines)
    assert any(line.startswith("60") and line.endswith("the others do its work") for line in lines)


def test_gaps_say_which_lie_and_hole_each_row_is_of() -> None:
    taken = Taken("48", "48", 75.0 * YARD, 2.7)
    greens = Greens(where=("4 front", "4 middle", "4 back"))
    clubs = (ClubWorth(MINE[0], 118 * YARD, 2.0, None, None, 1.0, REAL),)

    def rows(*places: FacedShot) -> list[str]:
        gaps = tuple(PlaceGap(p, taken, "60", 0.3, NOISE, "") for p in places)
        text = gaps_text(BagGaps(FACED, greens, clubs, gaps, 512, 1), "yards")
        return [line.split("48 75")[0] for line in text.splitlines() if "48 75" in line]

    where = tuple(replace(PLACES[0], green=k) for k in range(3))
    assert [row.split() for row in rows(*where)] == [
        ["80", "4", w] for w in ("front", "middle", "back")
    ]
    rough = replace(PLACES[0], lie=Lie.LIGHT_ROUGH)
    assert [row.split() for row in rows(PLACES[0], rough)] == [
        ["80", "fairway,", "dry"],
        ["80", "light", "rough,", "dry"],
    ]
    many = tuple(FacedShot((60.0 + k) * YARD) for k in range(40))
    assert len(rows(*many)) == 30
    gaps = tuple(PlaceGap(p, taken, "60", 0.3, NOISE, "") for p in many)
    assert "and 10 places more: --json has them all" in gaps_text(
        BagGaps(FACED, greens, clubs, gaps, 512, 1), "yards"
    )


def test_changes_are_marked_where_they_are_real() -> None:
    change = BagChange("56", radians(54))
    worths = (ChangeWorth(change, (70.0, 130.0), (NOISE, REAL)),)
    text = whatif_text(Changes(FACED, Greens(), worths, 512, ()), "yards")
    (row,) = (line for line in text.splitlines() if line.startswith("56 at 54 deg"))
    assert row.split("  ")[1:] == ["+0.01 (-0.03 to +0.05)", "+0.08 (+0.04 to +0.12) !"]
    assert "soft (70 g)" in text
    assert "no real difference in any of them" not in text
    none = (ChangeWorth(change, (70.0,), (NOISE,)),)
    assert "no real difference in any of them" in whatif_text(
        Changes(FACED, Greens(), none, 512, ()), "yards"
    )


def test_a_label_cannot_steer_a_terminal() -> None:
    bad = "5\x1b[2J4\n"
    fit = fit_of(REAL)
    mine = replace(fit.carried or fit.advised, taken=(Taken("48", bad, 70.0, 2.7),) * 2)
    theirs = replace(fit.advised, taken=(Taken(bad, bad, 71.0, 2.6),) * 2)
    place = PlaceGap(PLACES[0], mine.taken[0], bad, 0.3, REAL, bad)
    clubs = (ClubWorth(wedge(bad, 54, 98), 118 * YARD, 2.0, None, None, 0.5, REAL),)
    changed = (ChangeWorth(BagChange(bad, radians(54)), (70.0,), (NOISE,)),)
    on_trial = tried(Verdict.EARNS).answer
    on_trial = replace(on_trial, tried=shot(bad, 54, 72, trusted=False), instead_of=(bad,))
    said = (
        fit_text(replace(fit, carried=mine, options=(theirs,)), "yards"),
        gaps_text(BagGaps(FACED, Greens(), clubs, (place,), 512, 1), "yards"),
        whatif_text(Changes(FACED, Greens(), changed, 512, ()), "yards"),
        tried_text(Tried(on_trial, None, None, ()), "yards"),
    )
    for text in said:
        assert "5 [2J4" in text
        assert text.replace("\n", "").isprintable()


def tried(verdict: Verdict, more: int | None = None, *, trusted: bool = False) -> Tried:
    own = replace(shot("54 low", 54, 72, trusted=trusted), balls=24, days=1, launch_measured=0)
    answer = TryOut(
        own, (), FACED, Greens(), 2.70, 2.62, REAL, 0.4, ("54", "60"), verdict, more, 512, 1
    )
    return Tried(answer, FeelGap("54 low", 0.0, 100.0, 20, 0.03, 0.01, 0.05), None, ())


@pytest.mark.parametrize(
    ("verdict", "more", "said"),
    [
        (Verdict.EARNS, None, 'earns its place; when you trust it: carrybook shots edit "54 low"'),
        (Verdict.DOES_NOT, None, "does not earn a place"),
        (Verdict.FEELING, 40, "only a feeling so far; about 40 more balls would settle it"),
        (Verdict.FEELING, None, "only a feeling so far; more balls alone would not settle it"),
    ],
)
def test_a_trial_begins_with_its_verdict(verdict: Verdict, more: int | None, said: str) -> None:
    assert tried_text(tried(verdict, more), "yards").startswith(f"54 low: {said}")


def test_a_trial_says_what_was_meant_and_what_it_measured() -> None:
    text = tried_text(tried(Verdict.EARNS), "yards")
    assert 'meant      "hands quiet"' in text
    assert "24 balls on 1 day" in text
    assert "on the reference day, where you said 72 yd" in text
    assert "guessed from the loft" in text
    assert "called less measured +3 % (+1 to +5)" in text
    assert "meant less called" not in text
    assert "2.70 without it, 2.62 with it: saves +0.08 (+0.04 to +0.12) each shot (95 %)" in text
    assert "from 40 % of these, instead of 54, 60" in text


def test_a_trusted_shot_that_earns_its_place_needs_no_more_words() -> None:
    first = tried_text(tried(Verdict.EARNS, trusted=True), "metres").splitlines()[0]
    assert first == "54 low: earns its place"
