"""The passphrase of a shared page."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from carrybook.app.web import tokens
from carrybook.app.web.door import Door, TooOftenError
from carrybook.base.errors import BadInputError

Visitor = Any  # the class in conftest.py
HERE = "127.0.0.1:8417"
Visit = Callable[..., Visitor]

RIGHT = "nine wet wedges"


class Clock:
    """Seconds that go up when told."""

    now = 0.0

    def __call__(self) -> float:
        """Say the time."""
        return self.now


def test_only_the_passphrase_opens() -> None:
    door = Door(RIGHT)
    assert door.opens_to(RIGHT)
    assert not door.opens_to(RIGHT + " ")
    assert not door.opens_to("")
    assert not door.opens_to("x" * 100_000)


def test_it_is_kept_only_as_a_hash() -> None:
    kept = Door(RIGHT)._kept
    assert kept.startswith("$argon2id$")
    assert RIGHT not in kept


@pytest.mark.parametrize("words", ["", "short", "x" * 201])
def test_a_poor_passphrase_is_refused(words: str) -> None:
    with pytest.raises(BadInputError, match=f"passphrase has {len(words)} characters"):
        Door(words)


def test_wrong_ones_shut_the_door_for_longer_and_longer() -> None:
    clock = Clock()
    door = Door(RIGHT, clock)
    for _ in range(5):
        assert not door.opens_to("wrong one here")
    with pytest.raises(TooOftenError, match="try again in 10 s"):
        door.opens_to(RIGHT)
    clock.now = 10.5
    assert not door.opens_to("wrong once more")
    with pytest.raises(TooOftenError, match="try again in 20 s"):
        door.opens_to(RIGHT)
    clock.now = 31.0
    assert door.opens_to(RIGHT)
    assert not door.opens_to("wrong, counted anew")
    assert door.opens_to(RIGHT)


def test_a_pass_holds_twelve_hours_and_only_with_our_signature() -> None:
    secret = b"s" * 32
    shown = tokens.pass_of(secret, 0.0)
    assert tokens.pass_stands(secret, shown, 12 * 3600 - 1.0)
    assert not tokens.pass_stands(secret, shown, 12 * 3600 + 1.0)
    assert not tokens.pass_stands(b"t" * 32, shown, 0.0)
    until, _, signature = shown.partition(".")
    for forged in (f"{int(until) + 9}.{signature}", "", ".", f"{until}.", "x.y", "²." + signature):
        assert not tokens.pass_stands(secret, forged, 0.0)


@pytest.fixture
def shared(visit: Visit, book: Path) -> Visitor:
    """A page behind a passphrase."""
    return visit(book, door=Door(RIGHT))


def test_every_room_is_shut_until_it_is_said(shared: Visitor) -> None:
    for room in ("/", "/today", "/shot", "/range", "/book", "/ground", "/before", "/shot/card.pdf"):
        answer = shared.get(room)
        assert (answer.status_code, answer.headers["location"]) == (303, "/enter"), room
    assert shared.post("/range", {"carry": "80"}).headers["location"] == "/enter"
    assert shared.post("/enter", {"passphrase": "not it at all"}).status_code == 403
    assert shared.get("/today").status_code == 303
    assert shared.post("/enter", {"passphrase": RIGHT}).status_code == 303
    assert shared.get("/book").status_code == 200


def test_guessing_is_slowed_down(shared: Visitor) -> None:
    codes = [shared.post("/enter", {"passphrase": f"guess {k}"}).status_code for k in range(6)]
    assert codes == [403] * 5 + [429]
    assert "try again in" in shared.post("/enter", {"passphrase": RIGHT}).text


def test_a_page_for_this_machine_asks_for_nothing(visitor: Visitor) -> None:
    assert visitor.get("/enter").headers["location"] == "/today"
    assert visitor.get("/book").status_code == 200
    assert visitor.client.base_url.host == HERE.partition(":")[0]
