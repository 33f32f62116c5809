"""The bag in the book."""

from collections.abc import Callable
from dataclasses import replace
from math import radians
from pathlib import Path

import pytest

from carrybook.base.errors import BadInputError
from carrybook.player.bag import Club, Flight, Shape, Shot
from carrybook.store.book import Book
from carrybook.store.imports import import_balls
from carrybook.store.shots import load_shots, remove_shot, save_shot


def labels(book: Book) -> list[str]:
    with book.session() as session:
        return [shot.label for shot in load_shots(session)]


def test_a_shot_comes_back_as_it_was_saved(book: Book) -> None:
    club = Club("gap wedge", radians(50.25))
    shot = Shot(
        club,
        Flight.LOW,
        Shape.CUT,
        81.3,
        60.7,
        85.1,
        cue="back foot — »quiet« hands",
        trusted=False,
    )
    with book.session() as session:
        save_shot(session, shot)
    with book.session() as session:
        assert load_shots(session) == (shot,)


def test_shots_come_from_least_loft_to_most(bag: Book, make_shot: Callable[..., Shot]) -> None:
    with bag.session() as session:
        save_shot(session, make_shot("PW", loft=46.0, carry=110.0))
    assert labels(bag) == ["PW", "54", "54 low", "60"]


def test_saving_a_shot_again_replaces_its_numbers(
    bag: Book, make_shot: Callable[..., Shot]
) -> None:
    better = replace(make_shot("54"), stock_carry_m=71.0, cue="tempo", trusted=False)
    with bag.session() as session:
        save_shot(session, better)
        assert load_shots(session)[0] == better
    assert labels(bag) == ["54", "54 low", "60"]


def test_capitals_do_not_make_another_club(book: Book, make_shot: Callable[..., Shot]) -> None:
    with book.session() as session:
        save_shot(session, make_shot("PW"))
        save_shot(session, make_shot("pw", carry=70.0))
        save_shot(session, make_shot("pw", Flight.HIGH))
    assert labels(book) == ["PW", "PW high"]


def test_a_club_with_another_loft_is_refused(bag: Book, make_shot: Callable[..., Shot]) -> None:
    message = r"club '54' is in the book with a loft of 54 deg, not 55 deg; give that loft, or"
    with pytest.raises(BadInputError, match=message), bag.session() as session:
        save_shot(session, make_shot("54", loft=55.0))


def test_two_shots_cannot_share_a_name(bag: Book, make_shot: Callable[..., Shot]) -> None:
    message = r"shot '54 low' is already the name of a shot with another club; give club '54 low'"
    with pytest.raises(BadInputError, match=message), bag.session() as session:
        save_shot(session, make_shot("54 low", loft=56.0))
    assert labels(bag) == ["54", "54 low", "60"]


def test_the_fifteenth_club_is_refused_and_named(
    book: Book, make_shot: Callable[..., Shot]
) -> None:
    with book.session() as session:
        for number in range(14):
            save_shot(session, make_shot(f"c{number}", loft=20.0 + number))
    message = (
        r"club 'one more' would be number 15; Rule 4\.1b allows 14 clubs: .* \(c0, c1, .*c13\)"
    )
    with pytest.raises(BadInputError, match=message), book.session() as session:
        save_shot(session, make_shot("one more", loft=60.0))
    with book.session() as session:  # another shot of a club in the bag is no club more
        save_shot(session, make_shot("c3", Flight.LOW, loft=23.0))
    assert len(labels(book)) == 15


def test_removing_the_last_shot_of_a_club_removes_the_club(
    bag: Book, make_shot: Callable[..., Shot]
) -> None:
    with bag.session() as session:
        remove_shot(session, "60")
        remove_shot(session, "54 LOW")
        save_shot(session, make_shot("60", loft=58.0))  # the old loft is forgotten
    assert labels(bag) == ["54", "60"]


def test_removing_what_is_not_there_lists_what_is(bag: Book) -> None:
    message = r"shot '64' is not in the book; its shots: 54, 54 low, 60$"
    with pytest.raises(BadInputError, match=message), bag.session() as session:
        remove_shot(session, "64")


def test_removing_from_an_empty_book(book: Book) -> None:
    message = r"shot '64' is not in the book; its shots: it has none$"
    with pytest.raises(BadInputError, match=message), book.session() as session:
        remove_shot(session, "64")


@pytest.mark.parametrize(("balls", "words"), [(1, "1 ball"), (3, "3 balls")])
def test_a_shot_with_balls_stays(
    bag: Book, write: Callable[..., Path], balls: int, words: str
) -> None:
    import_balls(bag, write("shot,carry [yd]\n" + "54,70\n" * balls))
    message = rf"shot '54' has {words} in the book, so it stays"
    with pytest.raises(BadInputError, match=message), bag.session() as session:
        remove_shot(session, "54")
    assert "54" in labels(bag)
