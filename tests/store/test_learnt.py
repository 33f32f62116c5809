"""What was learnt comes back as it was, and goes stale with the log, the bag and the model."""

from datetime import UTC, datetime
from math import radians
from pathlib import Path

import numpy as np
import pytest
import sqlalchemy as sa

from carrybook.base.errors import BadInputError
from carrybook.player.bag import Club, Flight, Shape, Shot
from carrybook.player.ball_fit import BallFit, BallFits
from carrybook.player.learn.result import Diagnostics, Learnt
from carrybook.player.level import Player
from carrybook.player.shape import STRAIGHT, Curve
from carrybook.store import learnt as module
from carrybook.store import tables as t
from carrybook.store.book import Book, open_book
from carrybook.store.learnt import fingerprint, load_learnt, save_learnt
from carrybook.store.players import save_player
from carrybook.store.shots import save_shot

AT = datetime(2026, 11, 25, 13, 0, tzinfo=UTC)
DRAWS = {"bias": np.array([[0.01, 0.02], [0.03, 0.04]]), "cold": np.array([-0.01, 0.0])}
LEARNT = Learnt("full", ("54", "60"), (3, 0), (1, 0), (0, 1), (2, 0), DRAWS,
                Diagnostics(4, 500, 1.01, 400.0, 2, "line level"),
                BallFits((BallFit("hard", 9, (0.9, 1.0, 1.1)),), BallFit(weights=(0.2, 0.6, 0.2))),
                ((STRAIGHT, STRAIGHT), (Curve(-0.1, 0.02, 3), Curve(0.1, 0.03))))  # fmt: skip


def shot(label: str, carry: float) -> Shot:
    return Shot(Club(label, radians(54.0)), Flight.STOCK, Shape.STRAIGHT, carry, 50.0, carry)


@pytest.fixture
def book(tmp_path: Path) -> Book:
    with open_book(tmp_path / "book.sqlite") as opened, opened.session() as session:
        save_shot(session, shot("54", 75.0))
        save_learnt(session, LEARNT, AT, fingerprint(session))
    return opened


def test_it_comes_back_as_it_was(book: Book) -> None:
    with book.session() as session:
        stored = load_learnt(session)
    assert stored is not None
    assert stored.fresh
    assert stored.at == AT
    names = ("method", "shots", "balls", "days", "not_flown", "launch_measured", "diagnostics")
    for name in (*names, "fits", "curves"):
        assert getattr(stored.learnt, name) == getattr(LEARNT, name), name
    assert stored.learnt.draws.keys() == DRAWS.keys()
    for name, draws in DRAWS.items():
        assert stored.learnt.draws[name] == pytest.approx(draws, rel=1e-6)


def test_nothing_learnt_is_none(tmp_path: Path) -> None:
    with open_book(tmp_path / "other.sqlite") as opened, opened.session() as session:
        assert load_learnt(session) is None


def test_another_carry_in_the_bag_makes_it_stale(book: Book) -> None:
    with book.session() as session:
        save_shot(session, shot("54", 76.0))
        stored = load_learnt(session)
    assert stored is not None
    assert not stored.fresh


def test_another_handicap_makes_it_stale_and_the_other_hand_does_not(book: Book) -> None:
    found = []
    for player in (Player(5.0), Player(5.0, left_handed=True), Player(12.0)):
        with book.session() as session:
            save_player(session, player)
            found.append(fingerprint(session))
    assert found[0] == found[1] != found[2]


def test_another_ball_and_another_model_make_it_stale(
    book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    with book.session() as session:
        before = fingerprint(session)
        session.execute(sa.insert(t.import_run).values(file="a.csv"))
        session.execute(
            sa.insert(t.ball).values(
                shot_id=1, import_run_id=1, row_number=1, row_hash="ab" * 32, raw={},
                lie="fairway", moisture="dry", setting="", ball_model="", note="",
            )
        )  # fmt: skip
        after = fingerprint(session)
        session.execute(sa.update(t.ball).values(carry_m=70.0))  # measured after it was called
        measured = fingerprint(session)
        monkeypatch.setattr(module, "_MODEL", "next")
        assert len({before, after, measured, fingerprint(session)}) == 4


def test_only_the_newest_is_kept(book: Book) -> None:
    with book.session() as session:
        save_learnt(session, LEARNT, AT, "another")
        stored = load_learnt(session)
        assert session.scalar(sa.select(sa.func.count()).select_from(t.learnt)) == 1
    assert stored is not None
    assert not stored.fresh


@pytest.mark.parametrize("spoilt", [{"draws": b"no"}, {"content": {"method": "full"}}])
def test_a_damaged_one_says_what_to_do(book: Book, spoilt: dict[str, object]) -> None:
    with book.session() as session:
        session.execute(sa.update(t.learnt).values(spoilt))
        with pytest.raises(BadInputError, match="learn again: carrybook learn"):
            load_learnt(session)
