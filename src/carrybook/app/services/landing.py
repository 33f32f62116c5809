"""A ball that comes down, and the firmness learnt from balls that did."""

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from carrybook.app.files import save_figure
from carrybook.app.services.rounds import require_planning

if TYPE_CHECKING:
    from carrybook.outcomes.firmness import FirmnessUpdate, Seen
    from carrybook.outcomes.landing import Arrival, Landed, Patch

__all__ = ["draw_firmness", "draw_landed", "land_ball", "learn_firmness"]

_SEED = 20_260_101  # the same question gets the same answer


def land_ball(arrival: "Arrival", patch: "Patch", *, book: Path | None = None) -> "Landed":
    """Let one ball come down, and say how unsure its run is.

    Raises
    ------
    NoSolutionError
        A round is on, says the book.
    OutOfRangeError
        A quantity outside its range.
    """
    import numpy as np

    from carrybook.outcomes.landing import land

    require_planning(book)
    return land(arrival, patch, np.random.default_rng(_SEED))


def learn_firmness(
    prior_g: tuple[float, float],
    seen: "Sequence[Seen]",
    patch: "Patch",
    *,
    book: Path | None = None,
) -> "FirmnessUpdate":
    """Learn how firm a green is from balls seen to land on it.

    Raises
    ------
    NoSolutionError
        No ball was seen, or a round is on, says the book.
    OutOfRangeError
        A quantity outside its range.
    """
    import numpy as np

    from carrybook.outcomes.firmness import update_firmness

    require_planning(book)
    return update_firmness(prior_g, seen, patch, np.random.default_rng(_SEED))


def draw_landed(path: Path, landed: "Landed", units: str) -> None:
    """Draw bounces, roll and spread into a file.

    Raises
    ------
    BadInputError
        The file cannot be written.
    """
    from carrybook.artefacts.landed import landing_side

    save_figure(path, landing_side(landed, units=units))


def draw_firmness(path: Path, learnt: "FirmnessUpdate") -> None:
    """Draw belief in a firmness, before and after, into a file.

    Raises
    ------
    BadInputError
        The file cannot be written.
    """
    from carrybook.artefacts.firmness import belief_in_firmness

    save_figure(path, belief_in_firmness(learnt))
