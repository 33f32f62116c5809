"""Looks whether everything is in place on this machine; changes nothing."""

import os
import re
import sys
from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum
from importlib import metadata
from pathlib import Path
from typing import TYPE_CHECKING

from carrybook.app.services.book import book_path, look_into
from carrybook.base.errors import BadInputError
from carrybook.player.bag import Club, Flight, Shape, Shot
from carrybook.player.balls import Ball

if TYPE_CHECKING:
    from carrybook.world.hole import Hole

__all__ = ["Finding", "State", "all_well", "examine", "kernels_are_warm", "warm_kernels"]

_INSTALL = "python -m pip install --upgrade carrybook"


class State(StrEnum):
    """How a finding stands."""

    WELL = "well"
    LATER = "later"  # not there yet, and made when it is first needed
    MISSING = "missing"


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that was looked at.

    Parameters
    ----------
    what : str
        What it is.
    state : State
        How it stands.
    found : str
        What was seen.
    mend : str
        Command that mends it; empty where all is well.
    """

    what: str
    state: State
    found: str
    mend: str = ""


def examine(book: Path | None) -> tuple[Finding, ...]:
    """Look at Python, the packages, the book, the compiled kernels and the folders.

    Parameters
    ----------
    book : Path, optional
        The book; the usual one where none is named. It is not made if there is none.
    """
    return (
        Finding("python", State.WELL, sys.version.split()[0]),
        Finding("carrybook", State.WELL, metadata.version("carrybook")),
        *(_package(name) for name in _required()),
        _book(book),
        _folder("folder of the book", book_path(book).parent),
        *_kernels(),
    )


def all_well(findings: Iterable[Finding]) -> bool:
    """Whether nothing is missing; what is made when it is first needed is not missing."""
    return all(finding.state is not State.MISSING for finding in findings)


def warm_kernels() -> None:
    """Compile the kernels that a day's work needs, by choosing one shot on an invented hole."""
    from carrybook.decision.advice import Situation
    from carrybook.decision.choose import choose
    from carrybook.player.numbers import numbers_today
    from carrybook.player.summary import summarise
    from carrybook.world.air import REFERENCE_DAY
    from carrybook.world.hole import HoleLocation

    shot = Shot(Club("54", 0.94), Flight.STOCK, Shape.STRAIGHT, 75.0, 50.0, 75.0)
    summaries = summarise([shot], [Ball(shot=shot.label, carry_m=74.0)])
    numbers_today(summaries, REFERENCE_DAY)
    location = HoleLocation(
        15.0, 0.0, on_m=15.0, from_left_m=12.0, from_right_m=12.0, behind_m=15.0
    )
    choose(Situation(_invented_hole(), location, ball_x=-50.0, ball_y=0.0), summaries)


def kernels_are_warm() -> bool:
    """Whether kernels of exactly this version were compiled here before."""
    from carrybook.base.numerics import cache_folder

    return any(cache_folder().rglob("*.nbc"))


def _invented_hole() -> "Hole":
    """Make up a level green of 30 by 24 m."""
    import numpy as np

    from carrybook.world.ground import flat_ground
    from carrybook.world.hole import Hole

    green = np.array([(0.0, -12.0), (30.0, -12.0), (30.0, 12.0), (0.0, 12.0)])
    return Hole("Nowhere", "1", 4, flat_ground(), green, (), bearing_rad=0.0)


def _required() -> tuple[str, ...]:
    """Names of the packages that carrybook needs, as its own metadata says."""
    lines = metadata.requires("carrybook") or []
    return tuple(
        re.split(r"[^\w.-]", line, maxsplit=1)[0] for line in lines if "extra ==" not in line
    )


def _package(name: str) -> Finding:
    try:
        return Finding(name, State.WELL, metadata.version(name))
    except metadata.PackageNotFoundError:
        return Finding(name, State.MISSING, "not installed", _INSTALL)


def _book(book: Path | None) -> Finding:
    from carrybook.store.failures import NewerBookError

    path = book_path(book)
    if not path.exists():
        first = "carrybook shots add 54 --loft 54deg --carry 82yd"
        return Finding("book", State.LATER, f"none yet at {path}", first)
    try:
        seen = look_into(book)
    except NewerBookError as error:
        return Finding("book", State.MISSING, str(error), _INSTALL)
    except BadInputError as error:
        return Finding("book", State.MISSING, str(error), "carrybook --book FILE doctor")
    return Finding(
        "book",
        State.WELL,
        f"{path}: version {seen.version}, {seen.size_bytes / 1024.0:.0f} KiB,"
        f" {seen.shots} shots, {seen.balls} balls",
    )


def _kernels() -> tuple[Finding, ...]:
    """Folder of compiled kernels, and how many it holds."""
    from carrybook.base.numerics import cache_folder

    folder = cache_folder()
    compiled = sum(1 for _ in folder.rglob("*.nbc"))
    place = _folder("folder of compiled kernels", folder)
    if compiled == 0:
        found = "none compiled yet; the first answer takes some seconds longer"
        return place, Finding("compiled kernels", State.LATER, found, "carrybook doctor --warm")
    return place, Finding("compiled kernels", State.WELL, f"{compiled} in {folder}")


def _folder(what: str, folder: Path) -> Finding:
    """Look whether a folder can be written, or made where it is not there."""
    standing = next(p for p in (folder, *folder.parents) if p.exists())
    if standing.is_dir() and os.access(standing, os.W_OK | os.X_OK):
        return Finding(what, State.WELL, str(folder))
    return Finding(what, State.MISSING, f"{standing} may not be written", f"chmod u+rwx {standing}")
