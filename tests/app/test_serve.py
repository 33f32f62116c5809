"""`serve`: who can reach it, and what it says."""

import json
import re
import socket
import ssl
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import httpx
import pytest
import trustme
import uvicorn
from typer.testing import Result

from carrybook.app.web.server import names_here
from carrybook.base.errors import BadInputError

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
    named = names_here(8417, shared=True, also=" Laptop.LAN ")
    assert named == (*alone, "laptop.lan:8417", *shared[2:])
    for wrong in ("", "a b", "http://x", "x:80", "-x", "x/y"):
        with pytest.raises(BadInputError, match="is not that of a machine"):
            names_here(8417, shared=True, also=wrong)
    assert all(name.endswith(":8417") and not name.startswith("127.0.1") for name in shared)


@pytest.mark.parametrize(
    ("port", "encrypted", "name"),
    [(80, False, "localhost"), (443, True, "localhost"), (443, False, "localhost:443")],
)
def test_names_are_those_that_a_browser_says(port: int, encrypted: bool, name: str) -> None:
    sent = httpx.Request("GET", f"{'https' if encrypted else 'http'}://localhost:{port}/")
    assert sent.headers["host"] == name
    assert names_here(port, shared=False, encrypted=encrypted)[1] == name


@pytest.fixture(scope="module")
def authority() -> trustme.CA:
    """An authority that nobody but this test trusts."""
    return trustme.CA()


@pytest.fixture
def pair(authority: trustme.CA, tmp_path: Path) -> tuple[Path, Path]:
    """A certificate of this machine and its key, in files."""
    issued = authority.issue_cert("127.0.0.1", "localhost")
    certificate, key = tmp_path / "page.pem", tmp_path / "page.key"
    issued.private_key_pem.write_to_path(key)
    for each in issued.cert_chain_pems:
        each.write_to_path(certificate, append=True)
    return certificate, key


def test_an_encrypted_page_says_so(
    say: Say, port: int, bound: list[str], pair: tuple[Path, Path]
) -> None:
    encrypted = ["--certificate", str(pair[0]), "--key", str(pair[1])]
    shared = say(*WORDS, str(port), "--share", "--passphrase", "nine wet wedges", *encrypted)
    assert f"https://127.0.0.1:{port}" in shared.stderr
    assert "http://" not in shared.stderr
    assert "a phone that trusts the certificate can install the page" in shared.stderr
    view = json.loads(say(*WORDS, str(port), *encrypted, "--json").stdout)
    assert view["address"] == f"https://127.0.0.1:{port}"
    assert (view["encrypted"], view["installs_on_other_devices"]) == (True, False)


def test_a_page_is_served_encrypted_and_its_cookies_stay_so(
    port: int, pair: tuple[Path, Path], authority: trustme.CA, tmp_path: Path
) -> None:
    trusts = ssl.create_default_context()
    authority.configure_trust(trusts)
    words = ["serve", "--port", str(port), "--certificate", str(pair[0]), "--key", str(pair[1])]
    here = f"https://127.0.0.1:{port}"
    server = subprocess.Popen(  # noqa: S603 - our own words
        [sys.executable, "-m", "carrybook", "--book", str(tmp_path / "b.sqlite"), *words],
        stderr=subprocess.PIPE,
    )
    try:
        with httpx.Client(verify=trusts, base_url=here) as client:
            page = _patiently(lambda: client.get("/more"))
            assert page.status_code == 200
            assert all("Secure" in each for each in page.headers.get_list("set-cookie"))
            token = re.search(r'name="token" value="(\w+)"', page.text)
            form = {"token": token[1] if token else "", "units": "metres"}
            plain = here.replace("https", "http")
            refused = client.post("/units", data=form, headers={"origin": plain})
            assert refused.status_code == 403
            assert client.post("/units", data=form, headers={"origin": here}).status_code == 303
        with httpx.Client() as stranger, pytest.raises(httpx.ConnectError, match="certificate"):
            stranger.get(here)
    finally:
        server.terminate()
        server.communicate()


def _patiently(ask: Callable[[], httpx.Response]) -> httpx.Response:
    for _ in range(600):
        try:
            return ask()
        except httpx.ConnectError:
            time.sleep(0.1)
    return ask()


def test_a_certificate_that_cannot_be_used_is_named(
    say: Say, port: int, bound: list[str], pair: tuple[Path, Path], tmp_path: Path
) -> None:
    certificate, key = pair
    wrong = tmp_path / "wrong.pem"
    wrong.write_text("not a certificate", encoding="ascii")
    for said, message in (
        (
            ["--certificate", str(wrong)],
            f"certificate = '{wrong}' cannot be used (not such a pair)",
        ),
        (["--certificate", str(tmp_path / "no.pem")], "cannot be used (No such file or directory)"),
        (["--certificate", str(certificate)], "cannot be used (not such a pair)"),
        (["--certificate", str(key), "--key", str(certificate)], "with key"),
        (["--key", str(key)], f"key = '{key}' has no certificate"),
        (["--name", "laptop.lan"], "name = 'laptop.lan' is for others on the network; add --share"),
    ):
        result = say(*WORDS, str(port), *said)
        assert (result.exit_code, bound) == (2, []), result.output
        assert message in result.stderr
        assert len(result.stderr.splitlines()) == 1
