"""Puts the page together: rooms, static files, guard."""

from collections.abc import AsyncIterator, Collection
from contextlib import asynccontextmanager
from importlib.resources import files
from pathlib import Path

from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.middleware import Middleware
from starlette.requests import Request
from starlette.responses import PlainTextResponse, Response
from starlette.routing import Mount, Route
from starlette.staticfiles import StaticFiles

from carrybook.app.web.desk import Desk
from carrybook.app.web.door import Door
from carrybook.app.web.guard import Guard
from carrybook.app.web.rooms import (
    after,
    before,
    book,
    front,
    ground,
    learning,
    leave,
    practise,
    range_,
    round_plan,
    shot,
    today,
)

__all__ = ["build_app"]

_ROOMS = (
    front,
    today,
    shot,
    leave,
    range_,
    practise,
    book,
    learning,
    ground,
    before,
    round_plan,
    after,
)
_PATIENCE_S = 5.0  # ours: how long a person waits for a server to stop
_STATIC = Path(str(files("carrybook.app.web") / "static"))
# What must lie at the root: a service worker serves what is below it, and no more.
_AT_ROOT = {
    "/sw.js": ("sw.js", "text/javascript"),
    "/manifest.webmanifest": ("manifest.webmanifest", "application/manifest+json"),
    "/favicon.ico": ("icon-192.png", "image/png"),
}


def build_app(book: Path | None, *, hosts: Collection[str], door: Door | None = None) -> Starlette:
    """Build a page of its own; tests build theirs.

    Parameters
    ----------
    book : Path, optional
        The book; by default this system's place for a person's data.
    hosts : collection of str
        Names, with their ports, by which the server may be asked.
    door : Door, optional
        Who must say a passphrase; none where the page is for this machine only.

    Raises
    ------
    BadInputError
        The folder beside the book cannot be written.
    """
    desk = Desk(book, door)
    routes = [route for room in _ROOMS for route in room.ROUTES]
    app = Starlette(
        routes=[
            *routes,
            *(Route(path, _root_file) for path in _AT_ROOT),
            Mount("/static", StaticFiles(directory=_STATIC)),
        ],
        middleware=[Middleware(Guard, hosts=hosts)],
        exception_handlers={HTTPException: _plainly, Exception: _broken},
        lifespan=_until_the_end,
    )
    app.state.desk = desk
    return app


@asynccontextmanager
async def _until_the_end(app: Starlette) -> AsyncIterator[None]:
    """Stop long work when the server stops; what is done of it is kept."""
    yield
    desk: Desk = app.state.desk
    await run_in_threadpool(desk.jobs.close, _PATIENCE_S)


def _root_file(request: Request) -> Response:
    name, media = _AT_ROOT[request.url.path]
    return Response((_STATIC / name).read_bytes(), media_type=media)


def _plainly(_: Request, error: Exception) -> Response:
    """What Starlette refuses, in one line."""
    status = error.status_code if isinstance(error, HTTPException) else 400
    words = {404: "there is no such page here", 405: "that cannot be done here"}
    return PlainTextResponse(words.get(status, "that cannot be read"), status)


def _broken(_request: Request, _error: Exception) -> Response:
    """A bug: it is logged on the terminal, and nothing of it is shown."""
    return PlainTextResponse("something went wrong here; the server's terminal says more", 500)
