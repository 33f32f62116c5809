"""One ball at a time into the book, once, and out again."""

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest

from carrybook.base.errors import BadInputError
from carrybook.player.bag import Club, Flight, Shape, Shot
from carrybook.player.balls import Ball
from carrybook.store.balls import count_balls, load_balls, load_imports
from carrybook.store.book import Session, open_book
from carrybook.store.shots import save_shot
from carrybook.store.struck import add_ball, take_back_ball

STRUCK = Ball(
    shot="54", at=datetime(2026, 5, 4, 9, 30, tzinfo=UTC), carry_m=70.5, called_m=72.0, side_m=-2.0
)


@pytest.fixture
def session(tmp_path: Path) -> Iterator[Session]:
    """A book with one shot."""
    with open_book(tmp_path / "book.sqlite") as book, book.session() as session:
        save_shot(session, Shot(Club("54", 0.94), Flight.STOCK, Shape.STRAIGHT, 75.0, 50.0, 75.0))
        yield session


def test_a_ball_comes_back_as_it_was_struck(session: Session) -> None:
    assert add_ball(session, STRUCK, key="a", raw={"carry": "70.5m"})
    assert load_balls(session) == (STRUCK,)
    assert take_back_ball(session) == STRUCK
    assert (count_balls(session), load_imports(session)) == (0, ())


def test_the_same_strike_is_one_ball_and_equal_strikes_are_two(session: Session) -> None:
    assert add_ball(session, STRUCK, key="a", raw={})
    assert not add_ball(session, STRUCK, key="a", raw={})
    assert add_ball(session, STRUCK, key="b", raw={})
    assert count_balls(session) == 2


def test_the_last_one_goes_first(session: Session) -> None:
    for k in range(3):
        add_ball(session, Ball(shot="54", carry_m=70.0 + k), key=str(k), raw={})
    assert [take_back_ball(session).carry_m for _ in range(3)] == [72.0, 71.0, 70.0]
    with pytest.raises(BadInputError, match="no ball to take back"):
        take_back_ball(session)


def test_a_ball_of_a_shot_that_is_not_there_is_refused(session: Session) -> None:
    with pytest.raises(BadInputError, match="shot '60' is not in the book; its shots: 54"):
        add_ball(session, Ball(shot="60", carry_m=70.0), key="a", raw={})
    assert count_balls(session) == 0
