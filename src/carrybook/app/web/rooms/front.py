"""The front: where to begin, the passphrase, and the two switches that every page has."""

from urllib.parse import urlsplit

from carrybook.app.web import tokens
from carrybook.app.web.asked import (
    PASS,
    THEME,
    THEMES,
    UNITS,
    Answer,
    Asked,
    Go,
    Shown,
    change,
    look,
)
from carrybook.app.web.door import TooOftenError

__all__ = ["ROUTES"]


def _front(_: Asked) -> Answer:
    return Go("/today")


def _more(_: Asked) -> Answer:
    return Shown("more.html", None)


def _offline(_: Asked) -> Answer:
    return Shown("offline.html", None)


def _units(asked: Asked) -> Answer:
    units = "metres" if asked.said("units") == "metres" else "yards"
    return Go(_back(asked), {UNITS: units})


def _theme(asked: Asked) -> Answer:
    theme = asked.said("theme")
    return Go(_back(asked), {THEME: theme if theme in THEMES else "auto"})


def _back(asked: Asked) -> str:
    """A path of ours, whatever was sent."""
    parts = urlsplit(asked.said("back")[:500])
    ours = parts.path.startswith("/") and not parts.path.startswith(("//", "/\\"))
    path = parts.path if ours and not parts.netloc and not parts.scheme else "/today"
    return f"{path}?{parts.query}" if parts.query else path


def _door(asked: Asked) -> Answer:
    return Go("/today") if asked.inside else Shown("enter.html", "")


def _enter(asked: Asked) -> Answer:
    door = asked.desk.door
    if door is None:
        return Go("/today")
    try:
        right = door.opens_to(asked.typed.get("passphrase", ""))
    except TooOftenError as error:
        return Shown("enter.html", str(error), 429)
    if not right:
        return Shown("enter.html", "that is not the passphrase", 403)
    return Go("/today", {PASS: tokens.pass_of(asked.desk.secret)})


ROUTES = (
    look("/", _front),
    look("/more", _more),
    look("/offline", _offline),
    look("/enter", _door),
    change("/enter", _enter, open_to_all=True),
    change("/units", _units),
    change("/theme", _theme),
)
