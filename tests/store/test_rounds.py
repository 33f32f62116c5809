"""Rounds in the book."""

import pytest

from carrybook.base.errors import BadInputError
from carrybook.player.rounds import Round
from carrybook.store.book import Book, open_book
from carrybook.store.rounds import end_round, last_round, start_round

MORNING, NOON = "2026-05-30T08:10:00+02:00", "2026-05-30T12:20:00+02:00"


def test_there_is_none_at_first(book: Book) -> None:
    with book.session() as session:
        assert last_round(session) is None


def test_a_round_begins_and_ends(book: Book) -> None:
    with book.session() as session:
        assert start_round(session, MORNING, "first") == Round(MORNING, None, "first")
    with book.session() as session:
        assert last_round(session) == Round(MORNING, None, "first")
        assert end_round(session, NOON) == Round(MORNING, NOON, "first")
        assert last_round(session) == Round(MORNING, NOON, "first")


def test_it_is_still_on_when_the_book_is_opened_again(book: Book) -> None:
    with book.session() as session:
        start_round(session, MORNING)
    book.close()
    with open_book(book.path) as again, again.session() as session:
        found = last_round(session)
    assert found is not None
    assert found.is_on


def test_only_one_is_on(book: Book) -> None:
    with book.session() as session:
        start_round(session, MORNING)
    with (
        pytest.raises(BadInputError, match=f"a round is on since .*{MORNING[11:16]}.*round end"),
        book.session() as session,
    ):
        start_round(session, NOON)


def test_none_ends_that_is_not_on(book: Book) -> None:
    for _ in range(2):
        with (
            pytest.raises(BadInputError, match="no round is on; one begins with: carrybook round"),
            book.session() as session,
        ):
            end_round(session, NOON)
        with book.session() as session:  # an ended one is not ended again
            start_round(session, MORNING)
            end_round(session, NOON)
    with book.session() as session:
        assert last_round(session) == Round(MORNING, NOON)
