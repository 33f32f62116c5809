"""Pieces of plans in the book: they come back as they were, and are forgotten after a while."""

from datetime import date, timedelta

import pytest
import sqlalchemy as sa

from carrybook.base.errors import BadInputError
from carrybook.decision.advice import Trouble
from carrybook.decision.plan import LeftOut, PlanCell, Planned
from carrybook.decision.prepared import LayUp, Zone
from carrybook.store import tables as t
from carrybook.store.book import Book
from carrybook.store.planned import load_planned, save_planned
from carrybook.world.hole import HoleLocation
from carrybook.world.lie import Lie

DAY = date(2026, 5, 30)
AT = HoleLocation(10.1, -3.3, 10.1, 8.0, 7.7, 12.2)
CELL = PlanCell(
    "4", Zone.BACK_LEFT, AT, 82.3, Lie.LIGHT_ROUGH, "56 low", "hold the finish", 80.1, 79.9, 3.3,
    -1.1, 0.1 + 0.2, Trouble.BUNKER, 0.07, 2.85, 0.011, "52",
)  # fmt: skip
PIECES = {
    "a" * 64: Planned((CELL,), (LeftOut("4", Zone.BACK_LEFT, 100.6, "in water"),)),
    "b" * 64: Planned(lay_up=LayUp("16", (60.0, 70.0), (2.7, 2.8), (0.01, 0.02), 60.0, 70.0)),
    "c" * 64: Planned(),
}


def test_pieces_come_back_to_the_last_bit(book: Book) -> None:
    with book.session() as session:
        save_planned(session, PIECES, DAY)
    with book.session() as session:
        assert load_planned(session, PIECES) == PIECES
        assert load_planned(session, ["b" * 64, "d" * 64]) == {"b" * 64: PIECES["b" * 64]}
        assert load_planned(session, []) == {}


def test_many_names_at_once(book: Book) -> None:
    many = {f"{k:064d}": PIECES["a" * 64] for k in range(1200)}
    with book.session() as session:
        save_planned(session, many, DAY)
        assert load_planned(session, many) == many


def test_a_piece_is_kept_once_and_not_for_ever(book: Book) -> None:
    with book.session() as session:
        save_planned(session, PIECES, DAY)
        save_planned(session, {"a" * 64: PIECES["c" * 64]}, DAY + timedelta(days=60))
        assert load_planned(session, ["a" * 64]) == {"a" * 64: PIECES["c" * 64]}
        assert len(load_planned(session, PIECES)) == 3
        save_planned(session, {}, DAY + timedelta(days=61))
        assert list(load_planned(session, PIECES)) == ["a" * 64]


def test_a_damaged_piece_is_named(book: Book) -> None:
    with book.session() as session:
        save_planned(session, PIECES, DAY)
        session.execute(sa.update(t.planned_piece).values(content={"cells": [{"zone": "nowhere"}]}))
    with (
        pytest.raises(BadInputError, match=r"a plan in the book .*book.sqlite cannot be read"),
        book.session() as session,
    ):
        load_planned(session, PIECES)
