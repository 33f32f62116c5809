"""Strangers, strange names, strange sizes: refused before a room sees them."""

import re
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from starlette.routing import Route

from carrybook.app.web import rooms
from carrybook.app.web.guard import FILE_PATHS, MOST_FILE, MOST_FORM

Visitor = Any  # the class in conftest.py
HERE = "127.0.0.1:8417"
Visit = Callable[..., Visitor]

ROOMS = [
    "/today",
    "/shot",
    "/leave",
    "/range",
    "/book",
    "/ground",
    "/before",
    "/after",
    "/more",
    "/offline",
]


def changes(visitor: Visitor) -> list[str]:
    routes = [r for r in visitor.app.routes if isinstance(r, Route) and "POST" in (r.methods or ())]
    return [route.path for route in routes]


@pytest.mark.parametrize("host", ["evil.example", "127.0.0.1", "127.0.0.1:80", "localhost:8417.x"])
def test_a_foreign_host_is_refused(visitor: Visitor, host: str) -> None:
    answer = visitor.client.get("/today", headers={"host": host})
    assert (answer.status_code, "token" in answer.text) == (421, False)


@pytest.mark.parametrize(
    "headers",
    [
        {"origin": "http://evil.example"},
        {"origin": "null"},
        {"origin": "https://127.0.0.1:8417"},
        {"origin": f"http://{HERE}", "sec-fetch-site": "cross-site"},
        {"origin": f"http://{HERE}", "sec-fetch-site": "same-site"},
        {},
        {"referer": "http://evil.example/127.0.0.1:8417/"},
    ],
)
def test_a_cross_site_post_is_refused_even_with_its_token(
    visitor: Visitor, headers: dict[str, str]
) -> None:
    data = {"token": visitor.token(), "temp": "9"}
    answer = visitor.client.post("/today", data=data, headers=headers)
    assert answer.status_code == 403
    assert 'value="9"' not in visitor.get("/today").text


def test_a_post_of_our_own_page_passes(visitor: Visitor) -> None:
    assert visitor.post("/today", {"temp": "9"}).status_code == 303
    by_referer = {"origin": "", "referer": f"http://{HERE}/today"}
    del by_referer["origin"]
    data = {"token": visitor.token(), "temp": "8"}
    answer = visitor.client.post("/today", data=data, headers=by_referer)
    assert answer.status_code == 303


def test_every_change_needs_its_token(visitor: Visitor) -> None:
    paths = changes(visitor)
    assert len(paths) >= 18
    visitor.get("/today")
    for path in paths:
        for token in ("", "0" * 64):
            answer = visitor.client.post(
                path, data={"token": token}, headers={"origin": f"http://{HERE}"}
            )
            assert answer.status_code == 403, path


def test_a_token_of_another_browser_does_not_serve(
    visitor: Visitor, visit: Visit, book: Path
) -> None:
    other = visit(book)
    data = {"token": other.token()}
    visitor.get("/today")
    answer = visitor.client.post("/today", data=data, headers={"origin": f"http://{HERE}"})
    assert answer.status_code == 403


def test_a_form_outlives_a_restart_of_the_server(
    visitor: Visitor, visit: Visit, book: Path
) -> None:
    token, cookies = visitor.token(), dict(visitor.client.cookies)
    again = visit(book)
    again.client.cookies.update(cookies)
    answer = again.client.post(
        "/today", data={"token": token, "temp": "9"}, headers={"origin": f"http://{HERE}"}
    )
    assert answer.status_code == 303


@pytest.mark.parametrize("method", ["PUT", "DELETE", "PATCH", "OPTIONS", "TRACE"])
def test_other_methods_are_refused(visitor: Visitor, method: str) -> None:
    headers = {"origin": f"http://{HERE}"}
    assert visitor.client.request(method, "/today", headers=headers).status_code == 405


def test_what_is_too_large_is_refused(visitor: Visitor) -> None:
    assert visitor.post("/today", {"temp": "9" * MOST_FORM}).status_code == 413
    big = {"file": ("m.geojson", b"{" * (MOST_FILE + 1))}
    for path in FILE_PATHS:
        answer = visitor.post(path, {"kind": "map"}, files=big)
        assert answer.status_code == 413
        assert "8192 kB" in answer.text


def test_a_length_that_is_not_said_is_counted(visitor: Visitor) -> None:
    def endless() -> Iterator[bytes]:
        for _ in range(40):
            yield b"temp=" + b"9" * 4096 + b"&"

    headers = {
        "origin": f"http://{HERE}",
        "content-type": "application/x-www-form-urlencoded",
        "x-token": visitor.token(),
    }
    assert visitor.client.post("/today", content=endless(), headers=headers).status_code == 413


@pytest.mark.parametrize("length", ["-1", "1e3", "9" * 30, "x"])
def test_a_length_that_is_none_is_refused(visitor: Visitor, length: str) -> None:
    answer = visitor.client.get("/today", headers={"content-length": length})
    assert answer.status_code == 413


def test_every_answer_carries_the_policy(visitor: Visitor) -> None:
    for path in (*ROOMS, "/nothing", "/static/page.css", "/sw.js"):
        headers = visitor.get(path).headers
        policy = headers["content-security-policy"]
        assert "default-src 'none'" in policy
        assert "unsafe" not in policy
        assert "script-src 'self'" in policy
        assert "frame-ancestors 'none'" in policy
        assert headers["x-content-type-options"] == "nosniff"
        assert headers["cross-origin-resource-policy"] == "same-origin"


@pytest.mark.parametrize("room", ROOMS)
def test_no_page_holds_inline_script_or_style_or_an_outside_address(
    visitor: Visitor, newcomer: Visitor, room: str
) -> None:
    for somebody in (visitor, newcomer):
        text = somebody.get(room).text
        assert not re.search(r"<script(?![^>]* src=)|<style|\sstyle=|\son[a-z]+=", text)
        assert not re.search(r"""(?:src|href|action)=["'](?:https?:)?//""", text)


def test_cookies_are_kept_from_scripts_and_other_sites(visitor: Visitor) -> None:
    for answer in (visitor.get("/today"), visitor.post("/units", {"units": "metres"})):
        for cookie in answer.headers.get_list("set-cookie"):
            assert "HttpOnly" in cookie
            assert "samesite=strict" in cookie.lower()


def test_a_bug_shows_no_trace(visitor: Visitor, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: object) -> None:
        raise ZeroDivisionError("secret detail")

    monkeypatch.setattr(rooms.today, "kept_day", broken)
    answer = visitor.get("/today")
    assert answer.status_code == 500
    assert "secret" not in answer.text
    assert "Traceback" not in answer.text


@pytest.mark.parametrize(
    "path",
    [
        "/static/../app.py",
        "/static/%2e%2e/app.py",
        "/static/..%2fapp.py",
        "/static//etc/passwd",
        "/static/%2fetc/passwd",
        "/shot/job/..%2f..%2fsecret",
    ],
)
def test_path_tricks_find_nothing(visitor: Visitor, path: str) -> None:
    answer = visitor.get(path)
    assert answer.status_code in (404, 405)
    assert "build_app" not in answer.text
