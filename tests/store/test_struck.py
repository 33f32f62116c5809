"""One ball at a time into the book, once, and out again."""

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from carrybook.base.errors import BadInputError
from carrybook.player.bag import Club, Flight, Shape, Shot
from carrybook.player.balls import Ball
from carrybook.store.balls import count_balls, load_balls
from carrybook.store.book import Session, open_book
from carrybook.store.sessions import newest_session, undo_last_ball
from carrybook.store.shots import save_shot
from carrybook.store.struck import add_ball

AT = datetime(2026, 5, 4, 9, 30, tzinfo=UTC)
STRUCK = Ball(shot="54", at=AT, carry_m=70.5, called_m=72.0, side_m=-2.0)


@pytest.fixture
def session(tmp_path: Path) -> Iterator[Session]:
    """A book with one shot."""
    with open_book(tmp_path / "book.sqlite") as book, book.session() as session:
        save_shot(session, Shot(Club("54", 0.94), Flight.STOCK, Shape.STRAIGHT, 75.0, 50.0, 75.0))
        yield session


def test_a_ball_comes_back_as_it_was_struck(session: Session) -> None:
    assert add_ball(session, STRUCK, at=AT, key="a", raw={"carry": "70.5m"})
    assert load_balls(session) == (STRUCK,)
    assert undo_last_ball(session) == STRUCK
    assert count_balls(session) == 0


def test_the_same_strike_is_one_ball_and_equal_strikes_are_two(session: Session) -> None:
    assert add_ball(session, STRUCK, at=AT, key="a", raw={})
    assert not add_ball(session, STRUCK, at=AT, key="a", raw={})
    assert add_ball(session, STRUCK, at=AT, key="b", raw={})
    assert count_balls(session) == 2


def test_the_last_one_goes_first(session: Session) -> None:
    for k in range(3):
        add_ball(session, Ball(shot="54", carry_m=70.0 + k), at=AT, key=str(k), raw={})
    assert [undo_last_ball(session).carry_m for _ in range(3)] == [72.0, 71.0, 70.0]
    with pytest.raises(BadInputError, match="no logged ball to undo"):
        undo_last_ball(session)


def test_a_ball_of_a_shot_that_is_not_there_is_refused(session: Session) -> None:
    with pytest.raises(BadInputError, match="shot '60' is not in the book; its shots: 54"):
        add_ball(session, Ball(shot="60", carry_m=70.0), at=AT, key="a", raw={})
    assert count_balls(session) == 0


def test_a_ball_that_waited_for_days_is_of_no_session_of_today(session: Session) -> None:
    add_ball(session, STRUCK, at=AT, key="today", raw={})
    today = newest_session(session)
    for k, hours in enumerate((72, 71)):
        add_ball(session, STRUCK, at=AT - timedelta(hours=hours), key=str(k), raw={})
    late = newest_session(session)
    assert late is not None
    assert today is not None
    assert (late.balls, late.number != today.number) == (2, True)
    add_ball(session, STRUCK, at=AT, key="now", raw={})
    again = newest_session(session)
    assert again is not None
    assert again.occasion.begun == AT


def test_balls_of_one_outing_are_one_session_and_those_of_the_next_another(
    session: Session,
) -> None:
    for k, hours in enumerate((0, 5, 7)):
        add_ball(session, STRUCK, at=AT + timedelta(hours=hours), key=str(k), raw={})
    going = newest_session(session)
    assert going is not None
    assert going.balls == 1
