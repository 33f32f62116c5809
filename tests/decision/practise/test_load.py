"""Balls by week."""

from datetime import UTC, datetime, timedelta

from carrybook.decision.practise.load import Load, weekly_load

NOW = datetime(2026, 6, 1, 17, tzinfo=UTC)


def test_balls_fall_into_their_weeks() -> None:
    ages = [0.1, 6.9, 7.1, 13.0, 20.0, 34.9, 35.1, 400.0]
    load = weekly_load([NOW - timedelta(days=d) for d in ages], NOW, 60)
    assert (load.this_week, load.before) == (2, (2, 1, 0, 1))
    assert load.usual == 1.0
    assert load.week == 62
    assert load.jumps


def test_a_time_without_zone_is_taken_as_here() -> None:
    bare = (NOW - timedelta(days=1)).replace(tzinfo=None)
    assert weekly_load([bare], NOW, 0).this_week == 1


def test_a_ball_of_the_future_does_not_count() -> None:
    assert weekly_load([NOW + timedelta(hours=1)], NOW, 0).this_week == 0


def test_nothing_is_said_of_a_jump_where_nothing_is_known() -> None:
    assert not weekly_load([], NOW, 300).jumps
    assert weekly_load([], NOW, 300).many


def test_a_usual_week_is_no_jump_and_not_many() -> None:
    load = Load(60, (120, 120, 110, 130), 60)
    assert not load.jumps
    assert not load.many
    assert Load(60, (120, 120, 110, 130), 125).jumps
