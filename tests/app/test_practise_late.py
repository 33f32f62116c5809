"""What was said of a session while nobody answered: once, in order, and never over other words."""

from datetime import timedelta
from pathlib import Path

import pytest

from carrybook.app.forms.practise import PractiseForm
from carrybook.app.forms.shots import ShotForm
from carrybook.app.services.balls import logged_balls
from carrybook.app.services.log import now
from carrybook.app.services.practise import planned_session
from carrybook.app.services.practise_late import Late, take_late
from carrybook.app.services.practise_run import end_session_on, hit, session_on, undo_hit
from carrybook.app.services.shots import add_shot
from carrybook.base.errors import BadInputError, NoSolutionError


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """A book with a shot and a session that is planned."""
    path = tmp_path / "book.sqlite"
    shot = ShotForm.of(club="54", loft="54deg", carry="82yd", partials="50yd..82yd")
    add_shot(path, shot.value())
    planned_session(path, PractiseForm.of(balls=20), now(), seed=1)
    return path


def late(book: Path, line: str, place: int = 1, **changes: int | bool) -> Late:
    going = session_on(book).practice.key
    told = {"session": going, "result": line.startswith("got"), **changes}
    return Late(place=place, line=line, **told)  # type: ignore[arg-type]


def take(book: Path, said: Late) -> bool:
    return take_late(book, said, now() - timedelta(hours=2), units="yards")


def test_it_is_taken_once_however_often_it_is_sent(book: Path) -> None:
    call, result = late(book, "called 70yd"), late(book, "got 72yd 3yd R")
    assert [take(book, call) for _ in range(3)] == [True, False, False]
    assert [take(book, result) for _ in range(3)] == [True, False, False]
    assert not take(book, call)  # the result does not make it new
    (ball,) = logged_balls(book)
    assert (ball.called_first, session_on(book).practice.done) == (True, 1)
    assert ball.at is not None
    assert now() - ball.at >= timedelta(hours=1, minutes=59)


def test_what_the_page_took_before_is_the_same(book: Path) -> None:
    hit(book, ["called 70yd", "got 72yd "], now(), units="yards")
    assert not take(book, late(book, "called 70yd"))
    assert not take(book, late(book, "got 72yd "))
    with pytest.raises(BadInputError, match="ball 1: the book has it already, as 'called 70yd"):
        take(book, late(book, "called 71yd"))
    with pytest.raises(BadInputError, match="ball 1: the book has it already"):
        take(book, late(book, "got 99yd "))
    assert len(logged_balls(book)) == 1


def test_a_ball_that_was_refused_does_not_stop_the_next(book: Path) -> None:
    with pytest.raises(BadInputError, match="far"):
        take(book, late(book, "called far"))
    with pytest.raises(BadInputError, match="ball 1 was not called yet"):
        take(book, late(book, "got 72yd "))
    assert take(book, late(book, "-", 2))
    assert take(book, late(book, "got 64yd ", 2))
    assert session_on(book).practice.next.place == 1  # type: ignore[union-attr]


def test_skips_are_taken_once_and_not_over_a_ball(book: Path) -> None:
    assert [take(book, late(book, "skip")) for _ in range(2)] == [True, False]
    take(book, late(book, "called 70yd", 2))
    assert take(book, late(book, "skip", 2))  # called, never measured
    take(book, late(book, "-", 3))
    take(book, late(book, "got 72yd ", 3))
    with pytest.raises(BadInputError, match="ball 3: the book has it already"):
        take(book, late(book, "skip", 3))
    assert len(logged_balls(book)) == 1


def test_undo_of_a_place_happens_once(book: Path) -> None:
    for place in (1, 2):
        take(book, late(book, f"called 7{place}yd", place))
        take(book, late(book, "got 72yd ", place))
    going = session_on(book).practice.key
    for _ in range(2):
        undo_hit(book, (going, 2))
    assert session_on(book).practice.done == 1
    assert take(book, late(book, "called 72yd", 2))  # the same words again are a new ball


def test_undo_of_another_session_takes_nothing_back(book: Path) -> None:
    take(book, late(book, "called 70yd"))
    old = session_on(book).practice.key
    end_session_on(book, now())
    planned_session(book, PractiseForm.of(balls=20), now(), seed=2)
    take(book, late(book, "called 70yd"))
    assert undo_hit(book, (old, 1)).hits == ()
    assert session_on(book).practice.last is not None
    assert undo_hit(book, (session_on(book).practice.key, 1)).hits


def test_a_session_that_was_planned_anew_is_another(book: Path) -> None:
    call, skip = late(book, "called 70yd"), late(book, "skip", 2)
    planned_session(book, PractiseForm.of(balls=20), now(), seed=2)  # the first was not begun
    for said in (call, skip):
        with pytest.raises(BadInputError, match="not the one that is on"):
            take(book, said)
    assert session_on(book).practice.begun is None


def test_another_session_is_refused(book: Path) -> None:
    for said in (late(book, "called 70yd", session=99), late(book, "called 70yd", 999)):
        with pytest.raises(BadInputError, match="not the one that is on"):
            take(book, said)
    said = late(book, "called 70yd")
    hit(book, ["got 70yd"], now(), units="yards")
    end_session_on(book, now())
    with pytest.raises(NoSolutionError, match="no session is planned"):
        take(book, said)
