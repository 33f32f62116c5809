"""What every request must pass before a room sees it, and what every answer carries.

Names of this server only, changes from our own pages only, nothing larger than a form or a file
may be, no script but ours.
"""

from collections.abc import Collection
from urllib.parse import urlsplit

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

__all__ = ["MOST_FILE", "MOST_FORM", "Guard"]

MOST_FORM = 64 * 1024  # bytes, ours
MOST_FILE = 8 * 1024 * 1024
FILE_PATHS = frozenset({"/ground/maps", "/book/import"})

_READS = frozenset({"GET", "HEAD"})
_POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; font-src 'self';"
    " connect-src 'self'; manifest-src 'self'; worker-src 'self'; form-action 'self';"
    " base-uri 'none'; frame-ancestors 'none'"
)
_HEADERS = {
    "Content-Security-Policy": _POLICY,
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Referrer-Policy": "same-origin",  # a form still says where it comes from
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(), microphone=(), geolocation=()",
}


class _TooLargeError(Exception):
    """More came in than may."""


class Guard:
    """Stands before the rooms.

    Parameters
    ----------
    app : ASGIApp
        The rooms.
    hosts : collection of str
        Names, with their ports, by which this server may be asked.
    """

    def __init__(self, app: ASGIApp, hosts: Collection[str]) -> None:
        self._app = app
        self._hosts = frozenset(h.lower() for h in hosts)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request, or refuse it."""
        if scope["type"] != "http":
            if scope["type"] == "lifespan":
                await self._app(scope, receive, send)
            return
        refusal = self._refusal(scope)
        if refusal is not None:
            await refusal(scope, receive, _with_headers(send))
            return
        most = MOST_FILE if scope["path"] in FILE_PATHS else MOST_FORM
        try:
            await self._app(scope, _counted(receive, most), _with_headers(send))
        except _TooLargeError:
            await _too_large(most)(scope, receive, _with_headers(send))

    def _refusal(self, scope: Scope) -> PlainTextResponse | None:
        headers = Headers(scope=scope)
        host = headers.get("host", "").lower()
        if host not in self._hosts:
            return PlainTextResponse("this server does not go by that name", 421)
        if scope["method"] not in _READS:
            if scope["method"] != "POST":
                return PlainTextResponse("only GET and POST are understood here", 405)
            if not _from_here(headers, f"{scope['scheme']}://{host}"):
                return PlainTextResponse("this did not come from a page of this server", 403)
        most = MOST_FILE if scope["path"] in FILE_PATHS else MOST_FORM
        said = headers.get("content-length", "0")
        if not (said.isascii() and said.isdigit()) or int(said[:18]) > most or len(said) > 18:
            return _too_large(most)
        return None


def _from_here(headers: Headers, here: str) -> bool:
    """Whether a change was asked for by a page of ours."""
    site = headers.get("sec-fetch-site")
    if site is not None and site != "same-origin":
        return False
    origin = headers.get("origin")
    if origin is not None:
        return origin.lower() == here
    referer = urlsplit(headers.get("referer", ""))
    return site == "same-origin" or f"{referer.scheme}://{referer.netloc}".lower() == here


def _too_large(most: int) -> PlainTextResponse:
    return PlainTextResponse(f"that is too large: at most {most // 1024} kB can be sent here", 413)


def _counted(receive: Receive, most: int) -> Receive:
    """Count what comes in; a length that was not said, or was a lie, is noticed here."""
    seen = 0

    async def counting() -> Message:
        nonlocal seen
        message = await receive()
        seen += len(message.get("body", b""))
        if seen > most:
            raise _TooLargeError
        return message

    return counting


def _with_headers(send: Send) -> Send:
    async def sending(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in _HEADERS.items():
                headers[name] = value
            headers.setdefault("Cache-Control", "private, no-cache")
        await send(message)

    return sending
