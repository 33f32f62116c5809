"""Changes of the bag, and their taking back."""

from collections.abc import Callable
from dataclasses import replace
from math import radians
from pathlib import Path

import pytest

from carrybook.base.errors import BadInputError
from carrybook.player.bag import Club, Effort, Flight, Shot, Source
from carrybook.store.bag_changes import undo_bag
from carrybook.store.balls import load_balls
from carrybook.store.book import Book
from carrybook.store.imports import import_balls
from carrybook.store.shots import (
    change_club,
    load_shots,
    move_shot,
    order_by_loft,
    remove_shot,
    save_shot,
    save_shots,
)

MakeShot = Callable[..., Shot]


def shots(book: Book) -> tuple[Shot, ...]:
    with book.session() as session:
        return load_shots(session)


def full(make_shot: MakeShot) -> Shot:
    """Everything that a shot and its club can say."""
    club = Club("56", radians(56.0), Source.MEASURED, radians(12.0), 0.89, 0.301)
    return replace(
        make_shot("56"),
        club=club,
        stock_effort="full",
        efforts=(Effort("half", 40.0, Source.PRIOR), Effort("pump", 55.0)),
        carry_source=Source.MEASURED,
        partials_source=Source.PRIOR,
    )


def test_everything_about_a_shot_comes_back(book: Book, make_shot: MakeShot) -> None:
    shot = full(make_shot)
    with book.session() as session:
        save_shot(session, shot)
    assert shots(book) == (shot,)


def test_what_is_not_said_about_a_known_club_stays(book: Book, make_shot: MakeShot) -> None:
    with book.session() as session:
        save_shot(session, full(make_shot))
        save_shot(session, replace(make_shot("56", Flight.LOW), club=Club("56", radians(56.0))))
    assert {shot.club.head_mass_kg for shot in shots(book)} == {0.301}


CHANGES: dict[str, Callable[..., None]] = {
    "add": lambda session, make: save_shot(session, make("48", loft=48.0)),
    "move": lambda session, make: move_shot(session, "60", "54"),
    "by loft": lambda session, make: order_by_loft(session),
    "edit": lambda session, make: save_shot(session, replace(make("54"), cue="slow")),
    "remove": lambda session, make: remove_shot(session, "60"),
    "rename": lambda session, make: change_club(session, "54", Club("SW", radians(54.0))),
    "two": lambda session, make: save_shots(session, (full(make), make("46", loft=46.0)), "two"),
}


@pytest.mark.parametrize("change", CHANGES.values(), ids=CHANGES)
def test_a_change_is_taken_back_whole(
    bag: Book, make_shot: MakeShot, change: Callable[..., None]
) -> None:
    before = shots(bag)
    with bag.session() as session:
        change(session, make_shot)
    with bag.session() as session:
        undo_bag(session)
    assert shots(bag) == before


def test_all_changes_are_taken_back_one_by_one(bag: Book, make_shot: MakeShot) -> None:
    stages = []
    for change in CHANGES.values():
        stages.append(shots(bag))
        with bag.session() as session:
            change(session, make_shot)
    for stage in reversed(stages):
        with bag.session() as session:
            undo_bag(session)
        assert shots(bag) == stage
    with bag.session() as session:
        for _ in range(3):  # those that made the bag
            undo_bag(session)
    with pytest.raises(BadInputError, match="no change of the bag to undo"), bag.session() as s:
        undo_bag(s)


def test_balls_stay_with_a_renamed_club(bag: Book, write: Callable[..., Path]) -> None:
    import_balls(bag, write("shot,carry [m]\n54 low,70\n"))
    with bag.session() as session:
        change_club(session, "54", Club("SW", radians(55.0)))
        assert [ball.shot for ball in load_balls(session)] == ["SW low"]
        undo_bag(session)
        assert [ball.shot for ball in load_balls(session)] == ["54 low"]


def test_a_renamed_club_does_not_make_old_rows_new(bag: Book, write: Callable[..., Path]) -> None:
    path = write("shot,carry [m]\n54 low,70\n")
    import_balls(bag, path)
    with bag.session() as session:
        change_club(session, "54", Club("SW", radians(54.0)))
    again = import_balls(bag, path)
    assert (again.added, again.already_there, again.rejected) == (0, 1, 0)


def test_a_shot_with_balls_is_not_undone(
    bag: Book, make_shot: MakeShot, write: Callable[..., Path]
) -> None:
    with bag.session() as session:
        save_shot(session, make_shot("48", loft=48.0))
    import_balls(bag, write("shot,carry [m]\n48,100\n"))
    message = "added 48, with which balls were logged since"
    with pytest.raises(BadInputError, match=message), bag.session() as session:
        undo_bag(session)
    assert "48" in [shot.label for shot in shots(bag)]


@pytest.mark.parametrize(
    ("change", "message"),
    [
        (lambda s: change_club(s, "33", Club("x", 0.9)), "club '33' is not in the book; its clubs"),
        (lambda s: change_club(s, "54", Club("60", 0.9)), "another club or shot has that name"),
        (lambda s: move_shot(s, "54", "54"), "cannot come before itself"),
        (lambda s: move_shot(s, "54", "33"), "shot '33' is not in the book"),
    ],
)
def test_changes_that_cannot_be(bag: Book, change: Callable[..., None], message: str) -> None:
    before = shots(bag)
    with pytest.raises(BadInputError, match=message), bag.session() as session:
        change(session)
    assert shots(bag) == before


def test_order_is_the_players_until_it_is_by_loft(bag: Book) -> None:
    with bag.session() as session:
        move_shot(session, "54", None)
        assert [shot.label for shot in load_shots(session)] == ["54 low", "60", "54"]
        order_by_loft(session)
        assert [shot.label for shot in load_shots(session)] == ["54", "54 low", "60"]
