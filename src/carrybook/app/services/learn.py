"""What is learnt from the log, and what every other answer takes from it."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from carrybook.app.files import save_figure
from carrybook.app.services.book import open_book, some_shots
from carrybook.app.services.rounds import require_planning
from carrybook.base.errors import NoSolutionError

if TYPE_CHECKING:
    from carrybook.player.day import Day
    from carrybook.player.learn.check import Coverage, CurvePoint
    from carrybook.player.learn.feel import Feel
    from carrybook.player.learn.result import Learnt
    from carrybook.player.summary import ShotSummary
    from carrybook.store.learnt import StoredLearnt

__all__ = [
    "LearnReport",
    "check_learnt",
    "curve_of",
    "day_summaries",
    "draw_curve",
    "draw_feel",
    "feel_of_book",
    "learn_book",
    "learnt_state",
    "plays_left_handed",
    "summaries_by_day",
]

Told = Callable[[str, float], None]


@dataclass(frozen=True, slots=True)
class LearnReport:
    """What was learnt, and the shots by it on the reference day."""

    learnt: "Learnt"
    summaries: "tuple[ShotSummary, ...]"


def learn_book(
    book: Path | None, *, full: bool, seed: int, at: datetime, progress: Told | None = None
) -> LearnReport:
    """Learn from the log and keep the result in the book.

    Parameters
    ----------
    book : Path, optional
        The book.
    full : bool
        With full sampling.
    seed : int
        The same seed gives the same draws.
    at : datetime
        Now.
    progress : callable, optional
        Told what is being done and which share of it is done.

    Raises
    ------
    NoSolutionError
        There is no book yet or no shot in it; full sampling is not installed, or came out so that
        it cannot be believed: then nothing is stored.
    """
    require_planning(book)
    import numpy as np

    from carrybook.player.learn.learn import learn_full, learn_quick
    from carrybook.store.balls import load_balls
    from carrybook.store.learnt import fingerprint, save_learnt
    from carrybook.store.players import load_player
    from carrybook.store.shots import load_shots

    with open_book(book) as opened, opened.session() as session:
        shots, balls = some_shots(load_shots(session)), load_balls(session)
        player, of = load_player(session), fingerprint(session)
    rng = np.random.default_rng(seed)
    if full:
        learnt = learn_full(shots, balls, rng, player=player, progress=progress)
        _refuse_to_pretend(learnt)
    else:
        learnt = learn_quick(shots, balls, rng, player=player)
    if progress is not None:
        progress("keeping it in the book", 0.99)  # the last place to stop
    with open_book(book) as opened, opened.session() as session:
        save_learnt(session, learnt, at, of)
    left = player is not None and player.left_handed
    return LearnReport(learnt, learnt.summaries(shots, left_handed=left))


def _refuse_to_pretend(learnt: "Learnt") -> None:
    from carrybook.player.learn.full import refusal

    why = refusal(learnt.diagnostics) if learnt.diagnostics else ""
    if why:
        raise NoSolutionError(
            f"full sampling cannot be believed: {why}; nothing was stored. Try another --seed, look"
            " for odd balls with carrybook balls check, or leave out --full"
        )


def learnt_state(book: Path | None) -> "StoredLearnt | None":
    """What was learnt last, and whether it is fresh; none where nothing was.

    Raises
    ------
    BadInputError
        The book is damaged.
    NoSolutionError
        There is no book yet.
    """
    from carrybook.store.learnt import load_learnt

    with open_book(book, reading=True) as opened, opened.session() as session:
        return load_learnt(session)


def day_summaries(
    book: Path | None,
    day: "Day",
    *,
    ball_model: str | None = None,
    left_handed: bool = False,
) -> "tuple[ShotSummary, ...]":
    """Summarise every owned shot for a day: as learnt, where that is fresh, else from the log.

    Parameters
    ----------
    book : Path, optional
        The book.
    day : Day
        The day.
    ball_model : str, optional
        Model of ball that is now played; the usual one if not given.
    left_handed : bool
        Whose draw and cut they are, where the log does not show their curve; those of a
        left-hander too where the book says that it is one's.

    Raises
    ------
    BadInputError
        A model of ball that the log does not know well enough.
    NoSolutionError
        There is no book yet, or no shot in it.
    """
    on = summaries_by_day(book, ball_model=ball_model, left_handed=left_handed)
    return on(day)


def summaries_by_day(
    book: Path | None, *, ball_model: str | None = None, left_handed: bool = False
) -> "Callable[[Day], tuple[ShotSummary, ...]]":
    """Read the book once, and give what summarises its shots for any day.

    Parameters and errors are those of :func:`day_summaries`.
    """
    require_planning(book)
    from carrybook.store.balls import load_balls
    from carrybook.store.learnt import load_learnt
    from carrybook.store.players import load_player
    from carrybook.store.shots import load_shots

    with open_book(book, reading=True) as opened, opened.session() as session:
        shots, stored = some_shots(load_shots(session)), load_learnt(session)
        player = load_player(session)
        left = left_handed or (player is not None and player.left_handed)
        if stored is not None and stored.fresh:
            learnt = stored.learnt
            return lambda day: learnt.summaries(shots, day, ball_model=ball_model, left_handed=left)
        balls = load_balls(session)
    from carrybook.player.summary import summarise
    from carrybook.player.warmth import warmed

    rows = summarise(shots, balls, ball_model=ball_model, left_handed=left, player=player)
    return lambda day: warmed(rows, day)


def plays_left_handed(book: Path | None) -> bool:
    """Whether the book says that it is a left-hander's.

    Raises
    ------
    BadInputError
        The book is damaged.
    NoSolutionError
        There is no book yet.
    """
    from carrybook.store.players import load_player

    with open_book(book, reading=True) as opened, opened.session() as session:
        player = load_player(session)
    return player is not None and player.left_handed


def check_learnt(book: Path | None, *, seed: int) -> "tuple[Coverage, ...]":
    """Compare the balls with what the log foretells of them. Errors as :func:`day_summaries`."""
    require_planning(book)
    import numpy as np

    from carrybook.player.learn.check import check_coverage
    from carrybook.store.balls import load_balls
    from carrybook.store.players import load_player
    from carrybook.store.shots import load_shots

    with open_book(book, reading=True) as opened, opened.session() as session:
        shots, balls = some_shots(load_shots(session)), load_balls(session)
        player = load_player(session)
    if not any(ball.carry_m for ball in balls):
        raise NoSolutionError(
            "there is nothing to check: the book holds no ball with a measured carry"
        )
    return check_coverage(shots, balls, np.random.default_rng(seed), player=player)


def curve_of(
    book: Path | None, *, seed: int, progress: Told | None = None
) -> "tuple[CurvePoint, ...]":
    """Learn from few balls, more, and all. Errors as :func:`day_summaries`."""
    require_planning(book)
    import numpy as np

    from carrybook.player.learn.check import learning_curve
    from carrybook.store.balls import load_balls
    from carrybook.store.players import load_player
    from carrybook.store.shots import load_shots

    with open_book(book, reading=True) as opened, opened.session() as session:
        shots, balls = some_shots(load_shots(session)), load_balls(session)
        player = load_player(session)
    return learning_curve(shots, balls, np.random.default_rng(seed), progress, player=player)


def feel_of_book(book: Path | None) -> "Feel":
    """Compare what was meant, called and measured.

    Raises
    ------
    NoSolutionError
        There is no book yet, no shot in it, or no ball that was called.
    """
    require_planning(book)
    import numpy as np

    from carrybook.player.learn.feel import feel_of
    from carrybook.store.balls import load_balls
    from carrybook.store.shots import load_shots

    with open_book(book, reading=True) as opened, opened.session() as session:
        shots, balls = some_shots(load_shots(session)), load_balls(session)
    if not any(ball.called_m for ball in balls):
        raise NoSolutionError(
            "no logged ball was called before it was seen; call some, and log what you called"
        )
    return feel_of(shots, balls, np.random.default_rng(1))


def draw_curve(path: Path, points: "tuple[CurvePoint, ...]", units: str) -> None:
    """Draw the learning curve into a file.

    Raises
    ------
    BadInputError
        The file cannot be written.
    """
    from carrybook.artefacts.learning import learning_curve_figure

    save_figure(path, learning_curve_figure(points, units=units))


def draw_feel(path: Path, feel: "Feel", units: str) -> None:
    """Draw feel against real into a file.

    Raises
    ------
    BadInputError
        The file cannot be written.
    """
    from carrybook.artefacts.learning import feel_figure

    save_figure(path, feel_figure(feel, units=units))
