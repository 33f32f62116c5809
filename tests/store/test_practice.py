"""Practice in the book: every ball is one of the log, nothing is pooled, nothing is lost."""

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime, timedelta, timezone

import pytest

from carrybook.base.constants import YARD
from carrybook.base.errors import BadInputError
from carrybook.decision.demand import Demand
from carrybook.decision.practise.kinds import Kind
from carrybook.decision.practise.leak import leaks
from carrybook.decision.practise.levels import baseline_named
from carrybook.decision.practise.parts import Plan
from carrybook.decision.practise.running import Practice
from carrybook.decision.practise.session import plan_session, plan_test
from carrybook.decision.practise.standing import StandingTest
from carrybook.player.bag import Shot
from carrybook.player.balls import Ball
from carrybook.player.occasion import Occasion, PracticeOrder
from carrybook.player.summary import summarise
from carrybook.store.balls import load_balls, undo_last_import
from carrybook.store.book import Book, Session, open_book
from carrybook.store.practice import (
    end_practice,
    finish_target,
    going_practice,
    load_practices,
    load_standing,
    practised_since,
    save_plan,
    save_standing,
    skip_target,
    strike_target,
    struck_since,
    undo_target,
)
from carrybook.store.sessions import newest_session, undo_last_ball
from carrybook.world.air import Air
from carrybook.world.faced import FacedShot
from carrybook.world.lie import Lie

NOW = datetime(2026, 6, 1, 17, tzinfo=UTC)
AIR = Air(285.15, 100_400.0, 0.8)
MakeShot = Callable[..., Shot]


@pytest.fixture
def plan(make_shot: MakeShot) -> Plan:
    summaries = summarise([make_shot("54"), make_shot("60", loft=60.0, carry=60.0)], [])
    faced = tuple(
        FacedShot(m, lie, times=1.0)
        for m in (45.0, 58.0, 70.0)
        for lie in (Lie.FAIRWAY, Lie.LIGHT_ROUGH)
    )
    found = leaks(summaries, Demand(faced, "here"), baseline_named("scratch", summaries))
    return plan_session(found, balls=30, minutes=60.0)


def occasion(at: datetime = NOW) -> Occasion:
    return Occasion(at, setting="range", air=AIR, ball_model="brand new")


def going(session: Session) -> Practice:
    found = going_practice(session)
    assert found is not None
    return found


def strike(session: Session, carry_m: float, at: datetime = NOW) -> None:
    practice = going(session)
    target = practice.next
    assert target is not None
    shot = target.planned.play.shot
    ball = Ball(shot=shot, at=at, intended_m=target.planned.play.feel_m, carry_m=carry_m)
    strike_target(session, practice, target, ball, f"got {carry_m}", at)


def test_a_plan_comes_back_as_it_was(bag: Book, plan: Plan) -> None:
    with bag.session() as session:
        assert going_practice(session) is None
        save_plan(session, plan, occasion(), None)
    with bag.session() as session:
        found = going(session)
    assert tuple(t.planned for t in found.targets) == plan.struck
    assert [t.place for t in found.targets] == list(range(1, len(plan.struck) + 1))
    assert (found.aim, found.seed, found.begun, found.ended) == (plan.aim, plan.seed, None, None)
    assert found.occasion == occasion()
    assert found.warm_up == plan.steps[0].warm_up
    assert load_practices_of(bag) == ()


def load_practices_of(book: Book) -> tuple[Practice, ...]:
    with book.session() as session:
        return load_practices(session)


def test_a_new_plan_takes_the_place_of_one_that_was_not_begun(bag: Book, plan: Plan) -> None:
    with bag.session() as session:
        save_plan(session, plan, occasion(), None)
        save_plan(session, replace(plan, seed=9), occasion(), None)
        assert going(session).seed == 9
        assert session.exec_driver_sql("SELECT count(*) FROM practice").scalar_one() == 1


def test_a_session_that_is_on_stays(bag: Book, plan: Plan) -> None:
    with bag.session() as session:
        save_plan(session, plan, occasion(), None)
        strike(session, 60.0)
    with (
        pytest.raises(
            BadInputError, match=rf"a session is on, 1 of {len(plan.struck)} balls struck"
        ),
        bag.session() as session,
    ):
        save_plan(session, plan, occasion(), None)
    with bag.session() as session:
        end_practice(session, going(session), NOW)
        save_plan(session, plan, occasion(), None)
        assert going(session).begun is None


def test_blocks_and_random_balls_are_sessions_of_their_own(bag: Book, plan: Plan) -> None:
    with bag.session() as session:
        save_plan(session, plan, occasion(), None)
        for _ in plan.struck:
            strike(session, 60.0)
        found = going(session)
        rows = session.exec_driver_sql(
            "SELECT practice_order, count(*), min(import_run.temperature_k) FROM ball JOIN"
            " import_run ON import_run.id = import_run_id GROUP BY practice_order"
        ).all()
    blocks = sum(ball.kind is Kind.BLOCK for ball in plan.struck)
    assert {(o, n) for o, n, _ in rows} == {
        (PracticeOrder.BLOCK, blocks),
        (PracticeOrder.RANDOM, len(plan.struck) - blocks),
    }
    assert {t for *_, t in rows} == {AIR.temperature_k}
    assert found.next is None
    assert found.done == len(plan.struck)
    assert set(found.summaries()) == {Kind.BLOCK, Kind.RANDOM}


def test_a_call_is_safe_before_the_result_is_known(bag: Book, plan: Plan) -> None:
    with bag.session() as session:
        save_plan(session, plan, occasion(), None)
        practice = going(session)
        target = practice.next
        assert target is not None
        ball = Ball(shot=target.planned.play.shot, at=NOW, called_m=50.0)
        strike_target(session, practice, target, ball, "called 50", NOW)
    bag.close()
    with open_book(bag.path) as again, again.session() as session:  # the machine died
        target = going(session).next
        assert target is not None
        assert target.called
        assert target.ball == ball
        finish_target(session, target, replace(ball, carry_m=52.0, called_first=True), "got 52")
        assert going(session).done == 1
        assert [b.carry_m for b in load_balls(session)] == [52.0]
        raw = session.exec_driver_sql("SELECT raw FROM ball").scalar_one()
    assert raw == '{"line": "called 50 | got 52"}'


def test_undo_takes_back_a_ball_a_call_and_a_skip(bag: Book, plan: Plan) -> None:
    with bag.session() as session:
        save_plan(session, plan, occasion(), None)
        strike(session, 60.0)
        practice = going(session)
        assert practice.next is not None
        skip_target(session, practice, practice.next, NOW)
        assert going(session).done == 2
        assert undo_target(session, going(session)).place == 2
        assert undo_target(session, going(session)).place == 1
        assert load_balls(session) == ()
        with pytest.raises(BadInputError, match="no ball to undo"):
            undo_target(session, going(session))


def test_a_ball_that_leaves_the_log_is_to_be_struck_again(bag: Book, plan: Plan) -> None:
    with bag.session() as session:
        save_plan(session, plan, occasion(), None)
        strike(session, 60.0)
        strike(session, 61.0)
        undo_last_ball(session)
        found = going(session)
        assert (found.done, found.next and found.next.place) == (1, 2)
        undo_last_import(session)
        found = going(session)
        assert (found.done, found.block_run) == (0, None)
        strike(session, 62.0)
        assert going(session).done == 1


def test_the_end_ends_the_session_of_the_log_too(bag: Book, plan: Plan) -> None:
    with bag.session() as session:
        save_plan(session, plan, occasion(), None)
        strike(session, 60.0)
        assert newest_session(session) is not None
        end_practice(session, going(session), NOW + timedelta(hours=1))
        assert newest_session(session) is None
        assert going_practice(session) is None
        (found,) = load_practices(session)
    assert found.ended == (NOW + timedelta(hours=1)).isoformat()
    assert found.begun == NOW.isoformat()


def test_a_standing_test_is_kept(bag: Book, plan: Plan) -> None:
    standing = StandingTest((45.0, 58.0, 70.0), 9)
    with bag.session() as session:
        assert load_standing(session) is None
        key = save_standing(session, standing, NOW)
        assert load_standing(session) == (key, standing)
        clean = replace(
            plan.leaks, rows=tuple(r for r in plan.leaks.rows if r.faced.lie is Lie.FAIRWAY)
        )
        save_plan(session, plan_test(clean, standing, seed=2), occasion(), key)
        for _ in range(27):
            strike(session, 60.0)
        found = going(session)
    assert (found.standing, found.standing_key) == (standing, key)
    result = found.result()
    assert result is not None
    assert (result.balls, result.side) == (27, False)
    misses = [abs(60.0 - t) / t for t in (45.0, 58.0, 70.0)]
    assert result.percent == pytest.approx(100.0 * sum(misses) / 3.0)


def test_load_counts_balls_of_the_log_and_warm_ups(bag: Book, plan: Plan) -> None:
    with bag.session() as session:
        save_plan(session, plan, occasion(), None)
        assert struck_since(session, NOW, 35.0) == ()
        strike(session, 60.0)
        strike(session, 60.0, at=NOW - timedelta(days=40))
        found = struck_since(session, NOW, 35.0)
    assert len(found) == 1 + plan.steps[0].count
    assert set(found) == {NOW}


def test_how_long_ago_does_not_hang_on_the_zone(bag: Book, plan: Plan) -> None:
    far_east = NOW.astimezone(timezone(timedelta(hours=10)))  # the next morning there
    later = NOW + timedelta(days=70, hours=1)
    with bag.session() as session:
        save_plan(session, plan, occasion(), None)
        strike(session, 60.0, at=far_east)
        assert practised_since(session, later, 70.0) == {}
        assert len(practised_since(session, later - timedelta(hours=2), 70.0)) == 1
        assert struck_since(session, later, 70.0) == ()


def test_balls_in_blocks_are_counted_by_target(bag: Book, plan: Plan) -> None:
    with bag.session() as session:
        save_plan(session, plan, occasion(), None)
        for _ in range(8):
            strike(session, 60.0)
        skip = going(session).next
        assert skip is not None
        skip_target(session, going(session), skip, NOW)
        found = practised_since(session, NOW, 70.0)
        assert practised_since(session, NOW + timedelta(days=71), 70.0) == {}
    expected = [(b.play.shot, round(b.target_m)) for b in plan.struck[:8] if b.kind is Kind.BLOCK]
    assert found == {key: expected.count(key) for key in set(expected)}


def test_targets_are_in_metres(plan: Plan) -> None:
    assert all(30.0 * YARD < ball.target_m < 100.0 for ball in plan.struck)
