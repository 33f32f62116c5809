"""Scoring shots in the book: kept to the last bit, known again, taken back."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime
from math import pi
from pathlib import Path

import pytest

from carrybook.base.errors import BadInputError
from carrybook.player.round_shots import Facts, Rest, RoundShot
from carrybook.player.rounds import Round
from carrybook.store.archive import export_book, restore_book
from carrybook.store.bag_changes import undo_bag
from carrybook.store.book import Book, open_book
from carrybook.store.round_shots import (
    ReadRound,
    add_round_shot,
    count_round_shots,
    load_rounds,
    pour_in,
    take_back_typed,
    undo_round_shot,
)
from carrybook.store.rounds import end_round, start_round
from carrybook.store.shots import remove_shot
from carrybook.world.lie import Lie, Moisture

MORNING, NOON = "2026-05-30T08:10:00+02:00", "2026-05-30T12:20:00+02:00"
SHOT = RoundShot(
    hole=4,
    known=Facts(
        number_m=80.1, wind_mps=5.0, wind_from_rad=pi / 3.0, lie=Lie.LIGHT_ROUGH,
        moisture=Moisture.DEW, firmness_g=110.0,
    ),
    true=Facts(number_m=84.2, wind_mps=8.0, wind_from_rad=0.1, lie=Lie.DEEP_ROUGH),
    shot="54 low", finish=Rest.GREEN, finish_m=4.3, putts=2, others=1, penalties=1,
    at=datetime(2026, 5, 30, 9, 0, tzinfo=UTC), hole_location="24 on, 5 from the right",
    green_deep_m=30.0, stimp_m=3.1, temperature_k=282.0, intended_m=77.0, aim_right_m=1.0,
    called_m=76.0, landing_past_m=-3.0, landing_right_m=2.0, finish_past_m=1.0,
    finish_right_m=4.2, note="into the sun",
)  # fmt: skip


@pytest.fixture
def playing(bag: Book) -> Book:
    with bag.session() as session:
        start_round(session, MORNING, "final day", "competition")
    return bag


def test_a_shot_comes_back_as_it_was(playing: Book) -> None:
    with playing.session() as session:
        assert add_round_shot(session, SHOT, {"line": "typed"}) == 1
        assert add_round_shot(session, replace(SHOT, hole=5), {"line": "typed"}) == 2
        end_round(session, NOON)
    with playing.session() as session:
        (played,) = load_rounds(session)
        assert count_round_shots(session) == 2
    assert played.round == Round(MORNING, NOON, "final day", "competition")
    assert played.shots == (SHOT, replace(SHOT, hole=5))


def test_the_same_shot_sent_twice_is_one(playing: Book) -> None:
    with playing.session() as session:
        for _ in range(2):
            assert add_round_shot(session, SHOT, {}, "same key") in (0, 1)
        assert count_round_shots(session) == 1


def test_a_shot_goes_into_the_round_of_its_number(playing: Book) -> None:
    with playing.session() as session:
        end_round(session, NOON)
        (first,) = load_rounds(session)
        start_round(session, NOON, "", "course")
        add_round_shot(session, SHOT, {}, "late", first.number)
        add_round_shot(session, replace(SHOT, hole=9), {})
        assert [[s.hole for s in r.shots] for r in load_rounds(session)] == [[SHOT.hole], [9]]
        with pytest.raises(BadInputError, match="there is no round yet"):
            add_round_shot(session, SHOT, {}, "later", first.number + 9)


def test_the_shot_of_a_key_is_taken_back_once(playing: Book) -> None:
    with playing.session() as session:
        add_round_shot(session, SHOT, {}, "one")
        add_round_shot(session, replace(SHOT, hole=9), {}, "two")
        assert take_back_typed(session, "one")
        assert not take_back_typed(session, "one")
        assert [s.hole for s in load_rounds(session)[0].shots] == [9]


def test_the_last_shot_is_taken_back(playing: Book) -> None:
    with playing.session() as session:
        add_round_shot(session, SHOT, {})
        add_round_shot(session, replace(SHOT, hole=9), {})
        assert undo_round_shot(session).hole == 9
        assert undo_round_shot(session) == SHOT
        with pytest.raises(BadInputError, match="there is no shot of a round to take back"):
            undo_round_shot(session)


def test_no_round_no_shot(bag: Book) -> None:
    with (
        pytest.raises(BadInputError, match=r"there is no round yet.*carrybook round start"),
        bag.session() as session,
    ):
        add_round_shot(session, SHOT, {})


def test_a_shot_that_nobody_owns_is_named(playing: Book) -> None:
    with (
        pytest.raises(BadInputError, match="shot 'driver' is not in the book"),
        playing.session() as session,
    ):
        add_round_shot(session, replace(SHOT, shot="driver"), {})


def season() -> Iterator[ReadRound]:
    for day in (2, 1):  # the later one first
        begun = f"2026-05-0{day}T08:00:00+02:00"
        yield ReadRound(Round(begun, begun), ((SHOT, {"hole": "4"}), (SHOT, {"hole": "4"})))


def test_a_file_is_poured_in_once_and_rounds_come_in_order(bag: Book) -> None:
    with bag.session() as session:
        first, again = pour_in(session, tuple(season())), pour_in(session, tuple(season()))
        played = load_rounds(session)
    assert (first.rounds, first.shots, first.known) == (2, 4, 0)
    assert (again.rounds, again.shots, again.known) == (0, 0, 4)
    assert [each.round.begun[8:10] for each in played] == ["01", "02"]
    assert [len(each.shots) for each in played] == [2, 2]


def test_a_shot_that_was_played_stays_in_the_bag(playing: Book) -> None:
    with playing.session() as session:
        add_round_shot(session, SHOT, {})
    with (
        pytest.raises(BadInputError, match="'54 low' was played in a round"),
        playing.session() as session,
    ):
        remove_shot(session, "54 low")
    with playing.session() as session:
        remove_shot(session, "60")
        undo_bag(session)  # and back


def test_it_goes_out_with_the_book_and_comes_back(playing: Book, tmp_path: Path) -> None:
    with playing.session() as session:
        add_round_shot(session, SHOT, {"line": "typed"})
        before = load_rounds(session)
    archive = export_book(playing, tmp_path / "out")
    assert archive.rows["round_shot"] == 1
    for how in ("parquet", "csv", "jsonl"):
        path = tmp_path / f"{how}.sqlite"
        restore_book(path, tmp_path / "out", how)
        with open_book(path) as book, book.session() as session:
            assert load_rounds(session) == before
