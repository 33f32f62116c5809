"""Rounds reviewed: planning, so refused while a round is on."""

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from carrybook.app.files import save_figure
from carrybook.app.forms.review import ReviewForm
from carrybook.app.services.learn import day_summaries
from carrybook.app.services.round_shots import rounds_shown
from carrybook.app.services.rounds import require_planning
from carrybook.base.errors import NoSolutionError

if TYPE_CHECKING:
    from carrybook.decision.review.baselines import Baseline
    from carrybook.decision.review.review import Review
    from carrybook.player.round_shots import PlayedRound

__all__ = ["draw_review", "review_rounds"]


def review_rounds(book: Path | None, asked: ReviewForm, *, seed: int = 1) -> "Review":
    """Split recorded rounds into causes, and look for what repeats.

    Parameters
    ----------
    book : Path, optional
        The book.
    asked : ReviewForm
        Which rounds, and against whom.
    seed : int, default 1
        The same seed gives the same answer.

    Raises
    ------
    BadInputError
        No round of that number, or a baseline that cannot be read.
    NoSolutionError
        A round is on, there is no book yet, or none of those rounds has a recorded shot.
    """
    require_planning(book)
    from carrybook.decision.review.review import review
    from carrybook.player.day import Day

    rounds = rounds_shown(book, number=asked.round, last=asked.last)
    if asked.since is not None:
        rounds = _since(rounds, asked.since)
    baseline = _baseline(asked.against)
    return review(rounds, day_summaries(book, Day()), baseline, seed=seed)


def draw_review(path: Path, found: "Review") -> None:
    """Draw a review into a file.

    Raises
    ------
    BadInputError
        The file cannot be written.
    """
    from carrybook.artefacts.review import review_figure

    save_figure(path, review_figure(found))


def _since(rounds: "tuple[PlayedRound, ...]", day: date) -> "tuple[PlayedRound, ...]":
    some = tuple(each for each in rounds if each.round.begun[:10] >= day.isoformat())
    if not some:
        raise NoSolutionError(f"no round since {day} has a recorded scoring shot")
    return some


def _baseline(against: str) -> "Baseline | None":
    """Whose strokes they are counted against; none is the player's own book."""
    from carrybook.decision.review.baselines import TOUR_BASELINE
    from carrybook.store.baseline_file import read_baseline

    if against == "book":
        return None
    return TOUR_BASELINE if against == "tour" else read_baseline(Path(against))
