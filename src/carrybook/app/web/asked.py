"""A request as plain values, and an answer as a response: what every handler shares.

A handler is an ordinary function from :class:`Asked` to an answer; it runs in a thread of its own.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from typing import Literal
from urllib.parse import urlencode

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import UploadFile
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import JSONResponse, RedirectResponse, Response
from starlette.routing import Route

from carrybook.app.web import tokens
from carrybook.app.web.desk import Desk
from carrybook.app.web.pages import rendered
from carrybook.base.errors import BadInputError, NoSolutionError

__all__ = ["Asked", "Data", "File", "Go", "Sent", "Shown", "change", "look"]

PlainUnits = Literal["yards", "metres"]
VISITOR, UNITS, THEME, PASS = "carrybook", "units", "theme", "pass"
THEMES = ("auto", "light", "dark")
_YEAR_S = 365 * 24 * 3600
_MOST_FIELDS = 80


@dataclass(frozen=True, slots=True)
class File:
    """A file that was sent with a form."""

    name: str
    content: bytes


@dataclass(frozen=True, slots=True)
class Asked:
    """One request.

    Parameters
    ----------
    desk : Desk
        The server's belongings.
    path : str
        Of the request.
    typed : mapping of str to str
        Fields of the form, or of the query.
    files : mapping of str to File
        Files that came with the form.
    units, theme : str
        "yards" or "metres"; "auto", "light" or "dark".
    visitor, token : str
        Which browser, and what its forms must bring back.
    part : bool
        Whether only a part of the page is wanted.
    inside : bool
        Whether the passphrase was said, or none is needed.
    encrypted : bool
        Whether the connection is, so that cookies may say they want it so.
    """

    desk: Desk
    path: str
    typed: Mapping[str, str]
    files: Mapping[str, File]
    units: PlainUnits
    theme: str
    visitor: str
    token: str
    part: bool
    inside: bool
    encrypted: bool

    def said(self, name: str) -> str:
        """One field, stripped; empty where it was not sent."""
        return self.typed.get(name, "").strip()


@dataclass(frozen=True, slots=True)
class Shown:
    """A page, or the part of it that stands in a template of its own."""

    template: str
    view: object
    status: int = 200
    part: str = ""  # template of the part; the page includes it


@dataclass(frozen=True, slots=True)
class Go:
    """Another page, after a change; what is done is not done twice by a refresh."""

    path: str
    cookies: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Data:
    """Values for a script of ours."""

    values: Mapping[str, object]
    status: int = 200


@dataclass(frozen=True, slots=True)
class Sent:
    """A file to keep."""

    content: bytes
    media: str
    name: str


Answer = Shown | Go | Data | Sent
Handler = Callable[[Asked], Answer]


def look(path: str, handler: Handler) -> Route:
    """A place that is only looked at."""

    async def endpoint(request: Request) -> Response:
        return await _answered(handler, _asked(request, dict(request.query_params), {}))

    return Route(path, endpoint, methods=["GET"])


def change(path: str, handler: Handler, *, open_to_all: bool = False) -> Route:
    """A place that changes something: only a form of ours that brings its token back may ask."""

    async def endpoint(request: Request) -> Response:
        typed, files = await _form(request)
        asked = _asked(request, typed, files)
        token = request.headers.get("x-token") or typed.get("token", "")
        if not tokens.is_form_token(asked.desk.secret, asked.visitor, token):
            return _closed(asked)
        return await _answered(_marked(handler), asked, open_to_all=open_to_all)

    return Route(path, endpoint, methods=["POST"])


def _marked(handler: Handler) -> Handler:
    """Answer; what was taken leads to another page, and that one says that it has arrived."""

    def answered(asked: Asked) -> Answer:
        answer = handler(asked)
        if isinstance(answer, Go):
            asked.desk.arrived.add(asked.visitor, asked.said("sent"))
        return answer

    return answered


def _closed(asked: Asked) -> Response:
    """Refuse a form without its token; a person whose cookie is gone can send it again."""
    problem = "this form is from another visit; go back, load the page again and send it once more"
    return _response(Shown("problem.html", problem, 403), asked)


async def _answered(handler: Handler, asked: Asked, *, open_to_all: bool = False) -> Response:
    if not asked.inside and not open_to_all and asked.path != "/enter":
        return _response(Go("/enter"), asked)
    try:
        answer = await run_in_threadpool(handler, asked)
    except BadInputError as error:
        answer = Shown("problem.html", str(error), 400)
    except NoSolutionError as error:
        answer = Shown("problem.html", str(error), 422)
    return await run_in_threadpool(_response, answer, asked)


def _response(answer: Answer, asked: Asked) -> Response:
    response: Response
    match answer:
        case Shown(template, view, status, part):
            chosen = part if asked.part and part else template
            response = Response(rendered(chosen, view, asked), status, media_type="text/html")
        case Go(path):
            response = RedirectResponse(path, 303)
        case Data(values, status):
            response = JSONResponse(dict(values), status)
        case Sent(content, media, name):
            response = Response(content, media_type=media)
            response.headers["Content-Disposition"] = f'attachment; filename="{name}"'
    response.headers["Vary"] = "HX-Request, Cookie"
    cookies = {VISITOR: asked.visitor, **(answer.cookies if isinstance(answer, Go) else {})}
    for name, value in cookies.items():
        response.set_cookie(
            name, value,
            max_age=_YEAR_S, httponly=True, samesite="strict", path="/", secure=asked.encrypted,
        )  # fmt: skip
    return response


def _asked(request: Request, typed: dict[str, str], files: dict[str, File]) -> Asked:
    desk: Desk = request.app.state.desk
    kept, theme = request.cookies.get(VISITOR), request.cookies.get(THEME, "auto")
    visitor = kept if kept is not None and tokens.is_visitor(kept) else tokens.new_visitor()
    inside = desk.door is None or tokens.pass_stands(desk.secret, request.cookies.get(PASS, ""))
    path_words = {k: str(v) for k, v in request.path_params.items()}
    return Asked(
        desk=desk,
        path=request.url.path,
        typed={k: v.replace("\x00", "") for k, v in (typed | path_words).items()},
        files=files,
        units="metres" if request.cookies.get(UNITS) == "metres" else "yards",
        theme=theme if theme in THEMES else "auto",
        visitor=visitor,
        token=tokens.form_token(desk.secret, visitor),
        part=request.headers.get("hx-request") == "true",
        inside=inside,
        encrypted=request.url.scheme == "https",
    )


async def _form(request: Request) -> tuple[dict[str, str], dict[str, File]]:
    typed: dict[str, str] = {}
    files: dict[str, File] = {}
    try:
        async with request.form(max_files=4, max_fields=_MOST_FIELDS) as form:
            for name, value in form.multi_items():
                if isinstance(value, UploadFile):
                    files[name] = File(value.filename or "", await value.read())
                else:
                    typed[name] = value
    except HTTPException as error:
        raise HTTPException(400, "that form cannot be read") from error
    return typed, files


def with_query(path: str, **words: str) -> str:
    """A path of ours with a query."""
    return f"{path}?{urlencode(words)}"


def as_part(asked: Asked) -> Asked:
    """The same, for only a part of the page."""
    return replace(asked, part=True)
