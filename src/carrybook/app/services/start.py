"""A new player's book from a few answers."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from carrybook.app.services.book import book_path, open_book
from carrybook.app.services.shots import require_flight
from carrybook.base.errors import BadInputError
from carrybook.player.bag import Club, Shot
from carrybook.player.level import Player, Scatter, scatter_prior

__all__ = ["Start", "save_player", "start_book"]


@dataclass(frozen=True, slots=True)
class Start:
    """A book that was started: where it is, whose, its shots, and how each is taken to scatter."""

    path: Path
    player: Player
    shots: tuple[Shot, ...]
    scatter: tuple[Scatter, ...]


def start_book(
    book: Path | None,
    player: Player,
    said: Sequence[tuple[Club, float]],
    others: Sequence[Club] = (),
    *,
    low: bool = False,
) -> Start:
    """Make a book with a first bag; what was not said in it is marked as a prior.

    Raises
    ------
    BadInputError
        The book holds shots already, or what was said makes no bag.
    NoSolutionError
        A carry that no flight gives.
    """
    from carrybook.player.prior_bag import prior_bag
    from carrybook.store.players import save_player
    from carrybook.store.shots import load_shots, save_shots

    shots = prior_bag(said, others, low=low)
    for shot in shots:
        require_flight(shot)
    with open_book(book, create=True) as opened, opened.session() as session:
        if load_shots(session):
            raise BadInputError(
                f"the book {opened.path} holds shots already; add to them with carrybook shots add,"
                " or start another with --book FILE"
            )
        save_player(session, player)
        save_shots(session, shots, "the first bag")
        shots = load_shots(session)
    return _start(book, player, shots)


def save_player(book: Path | None, player: Player) -> Start:
    """Write down level and hand in a book that there is, and leave its shots alone.

    Raises
    ------
    NoSolutionError
        There is no book yet.
    """
    from carrybook.store import players
    from carrybook.store.shots import load_shots

    with open_book(book) as opened, opened.session() as session:
        players.save_player(session, player)
        return _start(book, player, load_shots(session))


def _start(book: Path | None, player: Player, shots: tuple[Shot, ...]) -> Start:
    scatter = tuple(scatter_prior(player, shot.stock_carry_m) for shot in shots)
    return Start(book_path(book), player, shots, scatter)
