"""Templates: one environment, everything escaped, nothing undefined."""

from functools import cache
from typing import Protocol

from jinja2 import Environment, PackageLoader, StrictUndefined

from carrybook.app.web.desk import Desk
from carrybook.artefacts.words import units_named

__all__ = ["DAILY", "FURTHER", "Reader", "rendered"]

# Rooms of the page: path, name. The first few are under the thumb, the others one tap further.
DAILY = (("/today", "Today"), ("/shot", "Shot"), ("/range", "Range"), ("/book", "Book"))
FURTHER = (
    ("/practise", "Practise"),
    ("/leave", "Leave"),
    ("/ground", "Ground"),
    ("/before", "Before the round"),
    ("/after", "After"),
)


class Reader(Protocol):
    """Who reads a page: what a template needs to know of a request."""

    @property
    def desk(self) -> Desk:
        """The server's belongings."""

    @property
    def units(self) -> str:
        """In which lengths are told."""

    @property
    def visitor(self) -> str:
        """Which browser."""

    @property
    def token(self) -> str:
        """What forms must bring back."""


def rendered(template: str, view: object, asked: Reader) -> str:
    """Fill a template."""
    return _environment().get_template(template).render(
        view=view,
        asked=asked,
        token=asked.token,
        units=units_named(asked.units),
        daily=DAILY,
        further=FURTHER,
        playing=asked.desk.in_a_round(),
        arrived=asked.desk.arrived.of(asked.visitor),
    )  # fmt: skip


@cache
def _environment() -> Environment:
    return Environment(
        loader=PackageLoader("carrybook.app.web", "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
