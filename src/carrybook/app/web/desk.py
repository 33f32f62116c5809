"""What the rooms share: the book, the shelf, long work, and what is dear to read, read once."""

import re
from collections import OrderedDict
from collections.abc import Callable, Hashable
from functools import cache
from pathlib import Path
from threading import Lock
from typing import TYPE_CHECKING, TypeVar

import carrybook
from carrybook.app.services.book import book_path, page_folder
from carrybook.app.web.door import Door
from carrybook.app.web.jobs import Jobs
from carrybook.app.web.shelf import Shelf
from carrybook.base.errors import NoSolutionError

if TYPE_CHECKING:
    from carrybook.player.day import Day
    from carrybook.player.summary import ShotSummary

__all__ = ["Arrived", "Desk", "Fresh"]

T = TypeVar("T")
_MOST_REMEMBERED = 24  # holes, plans and summaries
_MARK = re.compile(r"[0-9a-z]{1,40}")
_FEW_MARKS, _MOST_VISITORS = 8, 200  # ours


class Fresh:
    """Tells the newest question of a browser from older ones, so that those can stop."""

    def __init__(self) -> None:
        self._newest: dict[str, int] = {}

    def take(self, asker: str, number: int) -> Callable[[], bool]:
        """Register a question; what comes back says whether no newer one has come.

        Questions may arrive out of order; one without a number, 0, is always new.
        """
        if len(self._newest) > 1000:
            self._newest.clear()
        self._newest[asker] = max(number, self._newest.get(asker, 0))
        return lambda: number in (0, self._newest.get(asker, number))


class Arrived:
    """Marks of forms that have arrived, so that a browser may let go of what it kept of them."""

    def __init__(self) -> None:
        self._marks: OrderedDict[str, tuple[str, ...]] = OrderedDict()

    def add(self, visitor: str, mark: str) -> None:
        """Remember that a form of a browser has arrived; forget those of long ago."""
        if _MARK.fullmatch(mark):
            self._marks[visitor] = (*self._marks.get(visitor, ()), mark)[-_FEW_MARKS:]
            self._marks.move_to_end(visitor)
            while len(self._marks) > _MOST_VISITORS:
                self._marks.popitem(last=False)

    def of(self, visitor: str) -> str:
        """The last marks of a browser, parted by spaces."""
        return " ".join(self._marks.get(visitor, ()))


class Desk:
    """One server's belongings.

    Parameters
    ----------
    book : Path, optional
        The book; by default this system's place for a person's data.
    door : Door, optional
        Who must say a passphrase; none where the page is for this machine only.
    """

    def __init__(self, book: Path | None, door: Door | None = None) -> None:
        self.book = book_path(book)
        self.shelf = Shelf(page_folder(self.book))
        self.jobs = Jobs(self.shelf)
        self.fresh = Fresh()
        self.arrived = Arrived()
        self.door = door
        self.secret = self.shelf.secret()
        self._memory: OrderedDict[Hashable, object] = OrderedDict()
        self._lock = Lock()

    def remembered(self, key: Hashable, make: Callable[[], T]) -> T:
        """Give what was made under that key before, or make it."""
        with self._lock:
            if key in self._memory:
                self._memory.move_to_end(key)
                return self._memory[key]  # type: ignore[return-value]  # made by the same `make`
        made = make()
        with self._lock:
            self._memory[key] = made
            while len(self._memory) > _MOST_REMEMBERED:
                self._memory.popitem(last=False)
        return made

    def knows(self, key: Hashable) -> bool:
        """Whether something is remembered under that key."""
        return key in self._memory

    def summaries(self, day: "Day | None" = None) -> "tuple[ShotSummary, ...]":
        """What is known of every shot on a day; read again when the book has changed.

        Raises
        ------
        NoSolutionError
            There is no book yet, or no shot in it.
        """
        from carrybook.app.services.learn import day_summaries
        from carrybook.player.day import Day

        asked = day or Day()
        key = ("summaries", asked, self.stamp())
        return self.remembered(key, lambda: day_summaries(self.book, asked))

    def rests_on(self, *parts: object) -> str:
        """Fingerprint of parts and of the program: the same as long as an answer would be.

        Raises
        ------
        TypeError
            A part that has no fingerprint.
        """
        from carrybook.base.digest import digest_of

        return digest_of((_program(), parts))

    def shots_stamp(self) -> str:
        """Fingerprint of what is known of the shots; empty where there is none."""
        from carrybook.base.digest import digest_of

        key = ("shots", self.stamp())
        try:
            return self.remembered(key, lambda: digest_of(self.summaries()))
        except NoSolutionError:
            return ""

    def in_a_round(self) -> bool:
        """Whether a round is on, by the book: the command line and the page share it."""
        from carrybook.app.services.rounds import current_round

        last = self.remembered(("round", self.stamp()), lambda: current_round(self.book))
        return last is not None and last.is_on

    def stamp(self) -> tuple[tuple[int, int], ...]:
        """When the book and its journal were last written, and how large they are.

        An empty journal is none: one comes and goes with everybody who reads.
        """
        found = []
        for path in (self.book, self.book.with_name(self.book.name + "-wal")):
            try:
                state = path.stat()
                found.append((state.st_mtime_ns if state.st_size else 0, state.st_size))
            except OSError:
                found.append((0, 0))
        return tuple(found)


@cache
def _program() -> str:
    """Fingerprint of the whole program: any part of it may have made what is kept."""
    from carrybook.base.digest import digest_of_sources

    package = Path(carrybook.__file__).parent
    rooms = sorted({str(p.parent.relative_to(package)) for p in package.rglob("*.py")})
    return digest_of_sources(package, rooms)
