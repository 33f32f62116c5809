"""Practice in the book: the plan, its targets, the balls of the log that were struck at them."""

from collections import Counter
from collections.abc import Iterator
from datetime import datetime, timedelta
from typing import Any

import sqlalchemy as sa

from carrybook.base.errors import BadInputError
from carrybook.decision.practise.kinds import Aim, Kind
from carrybook.decision.practise.leak import Play
from carrybook.decision.practise.parts import Plan, PlannedBall
from carrybook.decision.practise.running import Practice, Target
from carrybook.decision.practise.standing import StandingTest
from carrybook.player.balls import Ball
from carrybook.player.level import Scatter
from carrybook.player.occasion import Occasion, PracticeOrder
from carrybook.store import tables as t
from carrybook.store.balls import load_balls_of
from carrybook.store.book import Session, read_rows
from carrybook.store.sessions import begin_session, end_session, finish_ball, log_ball
from carrybook.world.air import Air
from carrybook.world.lie import Lie

__all__ = [
    "end_practice",
    "finish_target",
    "going_practice",
    "load_practices",
    "load_standing",
    "practised_since",
    "said_of",
    "save_plan",
    "save_standing",
    "skip_target",
    "strike_target",
    "struck_since",
    "undo_target",
]


def save_plan(session: Session, plan: Plan, occasion: Occasion, standing: int | None) -> None:
    """Keep a plan as the session that comes next, in place of one that was not begun.

    Parameters
    ----------
    session : Session
        From :meth:`Book.session`.
    plan : Plan
        The plan.
    occasion : Occasion
        Air, setting and ball; its beginning is when it was planned.
    standing : int, optional
        Key of the standing test that it is.

    Raises
    ------
    BadInputError
        A session is on that is not struck to its end.
    """
    going = going_practice(session)
    if going is not None and going.begun and going.next is not None:
        raise BadInputError(
            f"a session is on, {going.done} of {len(going.targets)} balls struck; go on with it:"
            " carrybook practise run, or end it first: carrybook practise end"
        )
    if going is not None and going.begun:
        end_practice(session, going, occasion.begun)
    last = session.scalar(sa.select(sa.func.max(t.practice.c.id))) or 0
    _drop_unbegun(session)
    air = occasion.air
    values = {
        "id": last + 1,  # not that of one just dropped: a phone may still speak of it
        "planned": occasion.begun.isoformat(),
        "aim": plan.aim,
        "seed": plan.seed,
        "minutes": plan.takes_min,
        "baseline": plan.leaks.baseline.words,
        "warm_up": [list(part) for step in plan.steps for part in step.warm_up],
        "standing_test_id": standing,
        "setting": occasion.setting,
        "ball_model": occasion.ball_model,
        "temperature_k": air and air.temperature_k,
        "pressure_pa": air and air.pressure_pa,
        "humidity": air and air.humidity,
    }
    key = session.execute(sa.insert(t.practice).values(values)).lastrowid
    rows = [_row(int(key), place, ball) for place, ball in enumerate(plan.struck, start=1)]
    session.execute(sa.insert(t.practice_target), rows)


def going_practice(session: Session) -> Practice | None:
    """The session that is planned or on; none where there is none, or the last has ended."""
    newest = sa.select(t.practice).where(t.practice.c.ended.is_(None))
    query = newest.order_by(t.practice.c.id.desc()).limit(1)
    return next(_practices(session, query), None)


def load_practices(session: Session) -> tuple[Practice, ...]:
    """All sessions that were begun, the oldest first."""
    query = sa.select(t.practice).where(t.practice.c.begun.is_not(None)).order_by(t.practice.c.id)
    return tuple(_practices(session, query))


def strike_target(
    session: Session, practice: Practice, target: Target, ball: Ball, line: str, at: datetime
) -> int:
    """Log the ball that was called, or struck, at a target; the session begins with its first.

    Parameters
    ----------
    session : Session
        From :meth:`Book.session`.
    practice, target : Practice, Target
        As they stand in the book.
    ball : Ball
        The ball.
    line : str
        What was typed.
    at : datetime
        Now.

    Returns
    -------
    ball : int
        Its key.

    Raises
    ------
    BadInputError
        No such shot.
    """
    if practice.begun is None:
        _change(session, practice.key, begun=at.isoformat())
    run = _run_of(session, practice, target, at)
    key = log_ball(session, run, ball, line)
    _set(session, target, ball_id=key, skipped=False)
    return key


def finish_target(session: Session, target: Target, ball: Ball, line: str) -> None:
    """Give the ball that was called at a target what became of it; both lines are kept."""
    if target.ball_key is not None:
        finish_ball(session, target.ball_key, ball, f"{said_of(session, target)} | {line}")


def said_of(session: Session, target: Target) -> str:
    """What was typed of a target's ball, "call | result"; empty where there is none yet."""
    raw = sa.select(t.ball.c.raw).where(t.ball.c.id == target.ball_key)
    return next((str(each["line"]) for each in session.scalars(raw)), "")


def skip_target(session: Session, practice: Practice, target: Target, at: datetime) -> None:
    """Leave a target out; a ball that was called at it and never measured is taken out too."""
    if practice.begun is None:
        _change(session, practice.key, begun=at.isoformat())
    _drop_ball(session, target)
    _set(session, target, skipped=True)


def undo_target(session: Session, practice: Practice) -> Target:
    """Take back what was said last: a ball, a call or a skip.

    Raises
    ------
    BadInputError
        Nothing was said yet.
    """
    target = practice.last
    if target is None:
        raise BadInputError("there is no ball to undo in this session")
    _drop_ball(session, target)
    _set(session, target, ball_id=None, skipped=False)
    return target


def end_practice(session: Session, practice: Practice, at: datetime) -> None:
    """End a session, and its session of the log."""
    _change(session, practice.key, ended=at.isoformat())
    end_session(session)


def save_standing(session: Session, standing: StandingTest, at: datetime) -> int:
    """Keep a standing test as the one that is struck from now on; give its key."""
    values = {"made": at.isoformat(), "targets_m": list(standing.targets_m), "each": standing.each}
    return int(session.execute(sa.insert(t.standing_test).values(values)).lastrowid)


def load_standing(session: Session) -> tuple[int, StandingTest] | None:
    """Key of the newest standing test, and the test; none where there is none yet."""
    query = sa.select(t.standing_test).order_by(t.standing_test.c.id.desc()).limit(1)
    return next(read_rows(session, query, lambda row: (row.id, _standing(row)), "test"), None)


def struck_since(session: Session, now: datetime, days: float) -> tuple[datetime, ...]:
    """When balls were struck within so many days: those of the log that have a time, and warm-ups.

    Parameters
    ----------
    session : Session
        From :meth:`Book.session`.
    now : datetime
        Now.
    days : float
        How far back. [d]
    """
    balls = sa.select(t.ball.c.at).where(_since(t.ball.c.at, now, days))
    struck = [datetime.fromisoformat(at) for at in session.scalars(balls)]
    lately = _since(t.practice.c.begun, now, days)
    query = sa.select(t.practice.c.begun, t.practice.c.warm_up).where(lately)
    for begun, warm_up in session.execute(query):
        struck += [datetime.fromisoformat(begun)] * sum(int(n) for *_, n in warm_up)
    return tuple(struck)


def practised_since(session: Session, now: datetime, days: float) -> dict[tuple[str, int], int]:
    """Balls struck in blocks within so many days, by shot and distance in whole metres.

    Parameters
    ----------
    session : Session
        From :meth:`Book.session`.
    now : datetime
        Now.
    days : float
        How far back. [d]
    """
    target, lately = t.practice_target, _since(t.practice.c.begun, now, days)
    of = (target.c.kind == Kind.BLOCK, target.c.ball_id.is_not(None), lately)
    query = sa.select(target.c.shot, target.c.target_m).join(t.practice).where(*of)
    rows = session.execute(query)
    return dict(Counter((str(shot), round(target_m)) for shot, target_m in rows))


def _since(at: sa.Column[Any], now: datetime, days: float) -> sa.ColumnElement[bool]:
    """Whether a time is that near to now, whatever its zone; one of no known zone counts as UTC."""
    first = (now - timedelta(days=days)).isoformat()
    return sa.func.julianday(at) >= sa.func.julianday(first)


def _run_of(session: Session, practice: Practice, target: Target, at: datetime) -> int:
    """Session of the log that a target's ball belongs to; begun where there is none yet."""
    block = target.planned.kind is Kind.BLOCK
    run = practice.block_run if block else practice.random_run
    if run is not None:
        return run
    order = PracticeOrder.BLOCK if block else PracticeOrder.RANDOM
    o = practice.occasion
    occasion = Occasion(at, order, o.setting, o.air, ball_model=o.ball_model)
    number = begin_session(session, occasion).number
    _change(session, practice.key, **{"block_run_id" if block else "random_run_id": number})
    return number


def _change(session: Session, key: int, **values: object) -> None:
    session.execute(sa.update(t.practice).where(t.practice.c.id == key).values(values))


def _set(session: Session, target: Target, **values: object) -> None:
    of = t.practice_target.c.id == target.key
    session.execute(sa.update(t.practice_target).where(of).values(values))


def _drop_ball(session: Session, target: Target) -> None:
    if target.ball_key is not None:
        session.execute(sa.delete(t.ball).where(t.ball.c.id == target.ball_key))


def _drop_unbegun(session: Session) -> None:
    unbegun = sa.select(t.practice.c.id).where(t.practice.c.begun.is_(None))
    of = t.practice_target.c.practice_id.in_(unbegun)
    session.execute(sa.delete(t.practice_target).where(of))
    session.execute(sa.delete(t.practice).where(t.practice.c.begun.is_(None)))


def _row(practice: int, place: int, ball: PlannedBall) -> dict[str, object]:
    return {
        "practice_id": practice,
        "place": place,
        "kind": ball.kind,
        "target_m": ball.target_m,
        "lie": ball.lie,
        "shot": ball.play.shot,
        "cue": ball.play.cue,
        "feel_m": ball.play.feel_m,
        "own_spread": ball.play.own.spread,
        "own_side_rad": ball.play.own.side_rad,
        "base_spread": ball.base.spread,
        "base_side_rad": ball.base.side_rad,
        "skipped": False,
    }


def _practices(session: Session, query: sa.Select[Any]) -> Iterator[Practice]:
    rows = read_rows(
        session, sa.select(t.standing_test), lambda row: (row.id, _standing(row)), "test"
    )
    tests = dict(rows)

    def read(row: sa.Row[Any]) -> Practice:
        return _practice(row, tests.get(row.standing_test_id), _targets(session, row.id))

    return read_rows(session, query, read, "practice")


def _practice(
    row: sa.Row[Any], standing: StandingTest | None, targets: tuple[Target, ...]
) -> Practice:
    known = row.temperature_k is not None
    return Practice(
        key=row.id,
        aim=Aim(row.aim),
        baseline=row.baseline,
        warm_up=tuple((str(shot), float(feel), int(n)) for shot, feel, n in row.warm_up),
        targets=targets,
        occasion=Occasion(
            datetime.fromisoformat(row.planned),
            setting=row.setting,
            air=Air(row.temperature_k, row.pressure_pa, row.humidity) if known else None,
            ball_model=row.ball_model,
        ),
        seed=row.seed,
        minutes=row.minutes,
        begun=row.begun,
        ended=row.ended,
        standing=standing,
        standing_key=row.standing_test_id,
        block_run=row.block_run_id,
        random_run=row.random_run_id,
    )


def _targets(session: Session, practice: int) -> tuple[Target, ...]:
    of = t.practice_target.c.practice_id == practice
    keys = sa.select(t.practice_target.c.ball_id).where(
        of, t.practice_target.c.ball_id.is_not(None)
    )
    ids = session.scalars(keys.order_by(t.practice_target.c.ball_id)).all()
    balls = dict(zip(ids, load_balls_of(session, t.ball.c.id.in_(ids)), strict=True))
    query = sa.select(t.practice_target).where(of).order_by(t.practice_target.c.place)
    return tuple(read_rows(session, query, lambda row: _target(row, balls), "target"))


def _target(row: sa.Row[Any], balls: dict[int, Ball]) -> Target:
    own = Scatter(row.own_spread, row.own_side_rad)
    planned = PlannedBall(
        Kind(row.kind),
        row.target_m,
        Lie(row.lie),
        Play(row.shot, row.cue, row.feel_m, own),
        Scatter(row.base_spread, row.base_side_rad),
    )
    return Target(row.id, row.place, planned, row.skipped, row.ball_id, balls.get(row.ball_id))


def _standing(row: sa.Row[Any]) -> StandingTest:
    return StandingTest(tuple(float(m) for m in row.targets_m), row.each)
