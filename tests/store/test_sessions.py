"""Sessions logged ball by ball; and whose book it is."""

from datetime import UTC, datetime, timedelta

import pytest

from carrybook.base.errors import BadInputError
from carrybook.player.balls import Ball
from carrybook.player.level import AccuracyTable, Player
from carrybook.player.occasion import Occasion, PracticeOrder
from carrybook.store.balls import load_balls, load_imports, undo_last_import
from carrybook.store.book import Book
from carrybook.store.players import load_player, save_player
from carrybook.store.sessions import (
    begin_session,
    end_session,
    finish_ball,
    log_ball,
    newest_session,
    undo_last_ball,
)
from carrybook.world.air import Air
from carrybook.world.lie import Lie, Moisture

AT = datetime(2026, 5, 31, 17, 45, tzinfo=UTC)
OCCASION = Occasion(
    AT, PracticeOrder.RANDOM, "range", Air(285.0), Lie.LIGHT_ROUGH, Moisture.DEW, "soft"
)


def ball(carry: float | None, minute: int = 0, **more: object) -> Ball:
    at = AT + timedelta(minutes=minute)
    return Ball(shot="54", at=at, carry_m=carry, **more)


def test_a_session_comes_back_with_its_balls(bag: Book) -> None:
    with bag.session() as session:
        begun = begin_session(session, OCCASION)
        log_ball(session, begun.number, ball(70.0), "54 got 70")
        log_ball(session, begun.number, ball(70.0), "54 got 70")  # the same words, another ball
    with bag.session() as session:
        found = newest_session(session)
        assert found is not None
        assert (found.occasion, found.balls) == (OCCASION, 2)
        assert [name for name, _ in load_imports(session)] == ["session of 2026-05-31 17:45"]
        raw = session.exec_driver_sql("SELECT DISTINCT raw FROM ball").scalar_one()
    assert raw == '{"line": "54 got 70"}'


def test_a_called_ball_is_there_before_its_result(bag: Book) -> None:
    with bag.session() as session:
        number = begin_session(session, OCCASION).number
        key = log_ball(session, number, ball(None, called_m=72.0), "72")
    with bag.session() as session:
        (called,) = load_balls(session)
        assert (called.called_m, called.carry_m, called.called_first) == (72.0, None, None)
        finish_ball(session, key, ball(68.0, called_m=72.0, called_first=True), "72 | 68")
    with bag.session() as session:
        assert load_balls(session) == (ball(68.0, called_m=72.0, called_first=True),)


def test_the_last_ball_and_then_the_session_are_taken_back(bag: Book) -> None:
    with bag.session() as session:
        number = begin_session(session, OCCASION).number
        for minute, carry in enumerate((70.0, 71.0, 72.0)):
            log_ball(session, number, ball(carry, minute), "x")
        assert undo_last_ball(session).carry_m == 72.0
        assert [b.carry_m for b in load_balls(session)] == [70.0, 71.0]
        assert undo_last_import(session).balls == 2
        with pytest.raises(BadInputError, match="there is no logged ball to undo"):
            undo_last_ball(session)


def test_an_ended_session_takes_no_more_and_a_new_one_ends_the_old(bag: Book) -> None:
    with bag.session() as session:
        first = begin_session(session, OCCASION).number
        second = begin_session(session, OCCASION).number
        assert second > first
        newest = newest_session(session)
        assert newest is not None
        assert newest.number == second
        end_session(session)
        assert newest_session(session) is None


def test_a_ball_of_no_shot_is_refused(bag: Book) -> None:
    with bag.session() as session:
        number = begin_session(session, OCCASION).number
        with pytest.raises(BadInputError, match="shot '33' is not in the book"):
            log_ball(session, number, Ball(shot="33", carry_m=70.0), "33 70")


def test_a_player_comes_back_and_the_newest_word_counts(book: Book) -> None:
    with book.session() as session:
        assert load_player(session) is None
        save_player(session, Player(12.0))
        save_player(session, Player(-2.0, AccuracyTable.WOMEN, left_handed=True))
        assert load_player(session) == Player(-2.0, AccuracyTable.WOMEN, left_handed=True)
