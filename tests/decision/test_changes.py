"""What changed since the day before: by more than is worth saying, and told once."""

from dataclasses import replace
from datetime import date, time
from math import radians
from types import SimpleNamespace

import pytest

from carrybook.base.constants import CELSIUS_ZERO, FOOT, MILE_PER_HOUR, YARD
from carrybook.decision.changes import (
    FirmnessMoved,
    HoleMoved,
    NumberMoved,
    ShotMoved,
    StimpMoved,
    changes,
)
from carrybook.decision.half_days import Half, HalfDay, HalfNumber
from carrybook.decision.noted import GreenBelief
from carrybook.decision.plan import PlanCell
from carrybook.decision.prepare import HoleDay, PreparedDay
from carrybook.decision.prepared import Zone
from carrybook.world.air import Air
from carrybook.world.forecast import Hour
from carrybook.world.hole import HoleLocation
from carrybook.world.lie import Lie

FIRST, SECOND = date(2026, 5, 30), date(2026, 5, 31)
AIR = Air(12.0 + CELSIUS_ZERO, 100_400.0, 0.8)
WIND = Hour(time(10), AIR, 8.0 * MILE_PER_HOUR, radians(240.0), rain_m=1e-3)
COURSE = GreenBelief("", 100.0, 8.0, 10.0 * FOOT, FIRST)


def number(label: str, yards: float) -> HalfNumber:
    shot = SimpleNamespace(summary=SimpleNamespace(shot=SimpleNamespace(label=label)))
    shot.today_m = yards * YARD
    return HalfNumber(shot, 0.0, 0.0, 0.0, 0.0)  # type: ignore[arg-type]


def half(name: Half, hour: Hour = WIND, **carries: float) -> HalfDay:
    rows = tuple(number(label, yards) for label, yards in carries.items())
    return HalfDay(name, (hour, hour), hour, rows)


def green(ref: str, firmness: float = 100.0, stimp: float = 10.0, location: str = "") -> HoleDay:
    belief = GreenBelief(ref, firmness, 8.0, stimp * FOOT, FIRST)
    return HoleDay(ref, WIND, belief, location, Zone.FRONT_LEFT if location else None)


def cell(shot: str, other: str = "", number_yd: float = 90.0) -> PlanCell:
    at = HoleLocation(10.0, 0.0, 10.0, 8.0, 8.0, 12.0)
    return PlanCell(
        "4", Zone.FRONT_LEFT, at, number_yd * YARD, Lie.FAIRWAY, shot, "", 80.0, 80.0, 0.0, 0.0,
        0.0, None, 0.0, 2.8, 0.01, other,
    )  # fmt: skip


BEFORE = PreparedDay(
    FIRST, time(9), 1.2, (half(Half.MORNING, w56=90.0, w60=76.0),), COURSE, (green("4"),)
)
NOW = replace(BEFORE, day=SECOND)


def test_nothing_changed() -> None:
    found = changes(BEFORE, NOW)
    assert found.since == FIRST
    parts = (found.numbers, found.winds, found.firmness, found.stimps, found.holes, found.shots)
    assert parts == ((), (), (), (), (), ())


def test_numbers_that_moved_by_a_yard() -> None:
    now = replace(NOW, halves=(half(Half.MORNING, w56=91.01, w60=76.9, new=60.0),))
    (moved,) = changes(BEFORE, now).numbers
    assert moved == NumberMoved(Half.MORNING, Half.MORNING, "w56", 90.0 * YARD, 91.01 * YARD)


def test_the_same_half_is_compared_else_the_other() -> None:
    both = replace(BEFORE, halves=(half(Half.MORNING, w56=90.0), half(Half.AFTERNOON, w56=94.0)))
    later = replace(NOW, halves=(half(Half.AFTERNOON, w56=96.0),))
    assert [m.half_before for m in changes(both, later).numbers] == [Half.AFTERNOON]
    assert [m.half_before for m in changes(BEFORE, later).numbers] == [Half.MORNING]
    assert changes(replace(BEFORE, halves=()), later).numbers == ()


@pytest.mark.parametrize(
    ("speed_mph", "turn_deg", "told"),
    [
        (8.0, 240.0, False),
        (10.9, 240.0, False),
        (11.1, 240.0, True),
        (8.0, 284.0, False),
        (8.0, 286.0, True),
        (8.0, 60.0, True),
    ],
)
def test_winds_that_moved(speed_mph: float, turn_deg: float, told: bool) -> None:
    hour = Hour(time(10), AIR, speed_mph * MILE_PER_HOUR, radians(turn_deg))
    now = replace(NOW, halves=(half(Half.MORNING, hour),))
    assert len(changes(BEFORE, now).winds) == int(told)


def test_a_breath_that_turns_is_no_news_and_one_that_varies_is() -> None:
    calm = [Hour(time(10), AIR, 1.0, radians(d)) for d in (10.0, 190.0)]
    days = [replace(NOW, halves=(half(Half.MORNING, hour),)) for hour in calm]
    assert changes(days[0], days[1]).winds == ()
    variable = replace(WIND, wind_from_true_rad=None)
    assert len(changes(BEFORE, replace(NOW, halves=(half(Half.MORNING, variable),))).winds) == 1


def test_north_is_next_to_north() -> None:
    north = [replace(WIND, wind_from_true_rad=radians(d)) for d in (350.0, 20.0)]
    days = [replace(NOW, halves=(half(Half.MORNING, hour),)) for hour in north]
    assert changes(days[0], days[1]).winds == ()


def test_greens_that_move_with_the_course_are_told_once() -> None:
    before = replace(BEFORE, holes=(green("4"), green("11")))
    now = replace(
        NOW,
        course=replace(COURSE, firmness_g=106.0, stimp_m=11.0 * FOOT),
        holes=(green("4", 107.0, 11.0), green("11", 92.0, 9.0)),
    )
    found = changes(before, now)
    assert found.firmness == (
        FirmnessMoved("", 100.0, 106.0),
        FirmnessMoved("11", 100.0, 92.0),
    )
    assert found.stimps == (
        StimpMoved("", 10.0 * FOOT, 11.0 * FOOT),
        StimpMoved("11", 10.0 * FOOT, 9.0 * FOOT),
    )


def test_one_green_alone_and_less_than_is_worth_saying() -> None:
    now = replace(NOW, holes=(green("4", 104.9, 10.4),))
    assert (changes(BEFORE, now).firmness, changes(BEFORE, now).stimps) == ((), ())
    now = replace(NOW, holes=(green("4", 105.1, 10.5),))
    assert [m.hole for m in changes(BEFORE, now).firmness] == ["4"]
    assert [m.hole for m in changes(BEFORE, now).stimps] == ["4"]


def test_holes_that_are_cut_elsewhere() -> None:
    before = replace(BEFORE, holes=(green("4", location="8 on, centre"), green("11")))
    now = replace(NOW, holes=(green("4", location="27 on, 9L"), green("11", location="8 on 4L")))
    assert changes(before, now).holes == (
        HoleMoved("4", "8 on, centre", "27 on, 9L"),
        HoleMoved("11", "", "8 on 4L"),
    )
    assert changes(now, before).holes[0].now == "8 on, centre"
    assert changes(now, replace(now, day=SECOND)).holes == ()


def test_another_shot_unless_it_did_as_well_before() -> None:
    before = replace(BEFORE, cells=(cell("56", "52"), cell("60", number_yd=70.0)))
    now = replace(NOW, cells=(cell("48"), cell("60", number_yd=70.0), cell("52", number_yd=110.0)))
    (moved,) = changes(before, now).shots
    assert moved == ShotMoved("4", Zone.FRONT_LEFT, 90.0 * YARD, "56", "48")
    assert changes(before, replace(NOW, cells=(cell("52"),))).shots == ()
