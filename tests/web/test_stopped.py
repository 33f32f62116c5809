"""A server that is stopped, politely or not: what was sent to it is there in the next one."""

import http.cookiejar
import re
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Callable
from html import escape
from pathlib import Path
from typing import Any
from urllib import parse, request
from urllib.error import HTTPError

import pytest

from carrybook.app.services.log import now
from carrybook.app.services.rounds import end_round, start_round

Visitor = Any  # the class in conftest.py
SERVE = "from carrybook.app.cli import run; run()"
# Where it is sent, what, and the room that shows it again; some of it cannot be used as it stands.
SENT = [
    ("/shot", {"map": "practice", "heights": "practice", "hole": "4", "number": "far"}, "/shot"),
    ("/today", {"temp": "3", "humidity": "often"}, "/today"),
    ("/leave", {"hole": "4", "nearest": "near"}, "/leave"),
    ("/range", {"shot": "56", "called": "83", "carry": "long"}, "/range"),
    ("/practise/plan", {"balls": "3", "focus": "70-90yd"}, "/practise"),
    ("/book/shots", {"club": "58", "loft": "steep"}, "/book"),
    ("/ground/putting", {"map": "practice", "hole": "4", "lies": "9 on, nowhere"}, "/ground"),
    ("/ground/describe", {"green": "30 deep, and so on"}, "/ground"),
    ("/before/zones", {"holes": "4", "numbers": "some"}, "/before"),
    ("/before/card", {"profile": "other", "title": "Saturday"}, "/before"),
    ("/after", {"hole": "4", "number": "quite far", "note": "into the sun"}, "/after"),
]
# What a room shows in another way.
ELSEWHERE = {("/shot", "heights"), ("/ground", "heights")}


class Caller:
    """Asks a server that runs as a program of its own."""

    def __init__(self, port: int) -> None:
        self.home = f"http://127.0.0.1:{port}"
        jar = request.HTTPCookieProcessor(http.cookiejar.CookieJar())
        self._opener = request.build_opener(jar)

    def get(self, path: str) -> str:
        """Look, until somebody answers."""
        for _ in range(600):
            try:
                return str(self._opener.open(self.home + path, timeout=60.0).read().decode())
            except OSError:
                time.sleep(0.1)
        raise AssertionError("it never answered")

    def post(self, path: str, typed: dict[str, str]) -> int:
        """Send a form; a refusal is an answer too."""
        token = re.search(r'name="token" value="([0-9a-f]{64})"', self.get("/more"))
        assert token is not None
        body = parse.urlencode({"token": token[1], **typed}).encode()
        asked = request.Request(self.home + path, body, {"origin": self.home})  # noqa: S310 - ours
        try:
            return int(self._opener.open(asked, timeout=60.0).status)
        except HTTPError as error:
            return error.code


@pytest.mark.parametrize("how", [signal.SIGTERM, signal.SIGKILL])
def test_what_was_sent_is_there_after_the_server_stopped(
    book: Path, visit: Callable[..., Visitor], how: signal.Signals
) -> None:
    start_round(book, now())
    end_round(book, now())
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    asked = [sys.executable, "-c", SERVE, "--book", str(book), "serve", "--port", str(port)]
    with subprocess.Popen(asked, stderr=subprocess.DEVNULL) as server:  # noqa: S603 - ours
        caller = Caller(port)
        for path, typed, _ in SENT:
            assert caller.post(path, typed) in (200, 400), path
        server.send_signal(how)
        server.wait(30.0)
    again = visit(book)
    for _, typed, room in SENT:
        page = again.get(room).text
        for name, text in typed.items():
            seen = f'value="{escape(text)}"' in page or f">{escape(text)}<" in page
            assert seen or (room, name) in ELSEWHERE, (room, name, text)
