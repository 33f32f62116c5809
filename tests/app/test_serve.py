"""`serve`: who can reach it, and what it says."""

import json
import socket
from collections.abc import Callable
from pathlib import Path

import pytest
import uvicorn
from typer.testing import Result

from carrybook.app.web.server import names_here

Say = Callable[..., Result]
WORDS = ["serve", "--port"]


@pytest.fixture
def port() -> int:
    """A port that nobody has."""
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        found: int = free.getsockname()[1]
        return found


@pytest.fixture
def bound(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Where it would listen, without serving anybody."""
    seen: list[str] = []

    def run(_: uvicorn.Server, sockets: list[socket.socket]) -> None:
        seen.extend(str(each.getsockname()[0]) for each in sockets)

    monkeypatch.setattr(uvicorn.Server, "run", run)
    return seen


def test_it_is_for_this_machine_alone(say: Say, port: int, bound: list[str], book: Path) -> None:
    result = say(*WORDS, str(port))
    assert (result.exit_code, bound) == (0, ["127.0.0.1"])
    assert f"http://127.0.0.1:{port}" in result.stderr
    assert "shared" not in result.stderr
    assert (book.parent / "book.sqlite.page" / "secret").exists()


def test_sharing_says_what_it_shows_to_whom(say: Say, port: int, bound: list[str]) -> None:
    result = say(*WORDS, str(port), "--share", "--passphrase", "nine wet wedges")
    assert (result.exit_code, bound) == (0, ["0.0.0.0"])  # noqa: S104 - what --share is for
    assert "can read and change the book: shots, balls, maps, plans" in result.stderr
    assert "not encrypted" in result.stderr
    assert "browsers elsewhere do not install it" in result.stderr
    assert "nine wet wedges" not in result.output


def test_json_says_once_where_it_is_and_what_it_shows(
    say: Say, port: int, bound: list[str]
) -> None:
    alone = say(*WORDS, str(port), "--json")
    view = json.loads(alone.stdout)
    assert view["address"] == f"http://127.0.0.1:{port}"
    assert (view["shared"], view["exposed"]) == (False, [])
    assert alone.stderr == ""
    shared = say(*WORDS, str(port), "--share", "--passphrase", "nine wet wedges", "--json")
    view = json.loads(shared.stdout)
    assert view["exposed"] == ["shots", "balls", "maps", "plans"]
    assert (view["encrypted"], view["installs_on_other_devices"]) == (False, False)
    assert "nine wet wedges" not in shared.output
    assert bound == ["127.0.0.1", "0.0.0.0"]  # noqa: S104 - it serves after it has said so


def test_sharing_needs_a_passphrase_worth_its_name(
    say: Say, port: int, bound: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("CARRYBOOK_PASSPHRASE", "short")
    result = say(*WORDS, str(port), "--share")
    assert (result.exit_code, bound) == (2, [])
    assert result.stderr == "error: passphrase has 5 characters; it needs 10 to 200\n"


def test_a_port_that_is_taken_is_named(say: Say, port: int) -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", port))
        taken.listen()
        result = say(*WORDS, str(port))
    assert result.exit_code == 2
    assert f"port = {port} cannot be used" in result.stderr
    assert "name another, like --port 8418" in result.stderr


@pytest.mark.parametrize("typed", ["0", "65536", "x"])
def test_a_port_is_a_port(say: Say, typed: str, bound: list[str]) -> None:
    assert (say(*WORDS, typed).exit_code, bound) == (2, [])


def test_it_answers_to_its_own_names_only() -> None:
    alone = names_here(8417, shared=False)
    assert alone == ("127.0.0.1:8417", "localhost:8417")
    shared = names_here(8417, shared=True)
    assert shared[:2] == alone
    assert len(shared) > 2
    assert all(name.endswith(":8417") and not name.startswith("127.0.1") for name in shared)
