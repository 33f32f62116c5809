"""One putt, and the map of a green."""

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from carrybook.app.files import save_figure
from carrybook.app.forms.putt import PuttForm
from carrybook.app.services.book import book_path, open_book
from carrybook.app.services.ground import location_on, open_ground
from carrybook.app.services.rounds import require_planning
from carrybook.base.errors import BadInputError, NoSolutionError

if TYPE_CHECKING:
    from carrybook.decision.advice import Advice
    from carrybook.outcomes.putt_answer import PuttAnswer
    from carrybook.outcomes.putter import Putter
    from carrybook.outcomes.putting_map import PuttingMap
    from carrybook.world.hole import Hole, HoleLocation

__all__ = ["best_putt", "draw_putt", "name_putter", "putters_of", "putts_to", "usual_putt"]

_FINE, _COARSE = 0.5, 1.0  # m between the nodes: with a picture, without one
_ROUGH = 2.0  # m, while a hand moves
_TAP_IN = 0.1  # m; nearer than that nothing is left to read
_RISE_COUNTS = 10.0  # ours: a rise of 10 cm is as unlike as a metre of length
_AROUND = 6.0  # m of an even slope that is mapped beyond ball and hole


def best_putt(
    asked: PuttForm,
    *,
    fine: bool = False,
    book: Path | None = None,
    progress: Callable[[str, float], None] | None = None,
) -> "tuple[PuttAnswer, Hole | None]":
    """Find the best putt, and the hole it is on where that was mapped.

    Parameters
    ----------
    asked : PuttForm
        Green, ball and player.
    fine : bool, default False
        Map the green closely enough for a picture.
    book : Path, optional
        The book, which knows whether a round is on.
    progress : callable, optional
        Told what is being done and which share of it is done.

    Raises
    ------
    BadInputError
        A file that cannot be read, a hole or hole location that is not there, a ball off the
        green, a number outside its range, or ball and green said in two ways.
    NoSolutionError
        No putt from there comes near the hole, or a round is on.
    """
    from carrybook.outcomes.putt_answer import answer_putt
    from carrybook.outcomes.putting_map import build_map
    from carrybook.world.ground import flat_ground

    require_planning(book)
    tell = progress or (lambda _what, _share: None)
    putter, step, hole = asked.putter(putters_of(book)), _FINE if fine else _COARSE, None
    if asked.on_plane():
        distance, slope_x, slope_y = asked.plane()
        ground, at, ball = (
            flat_ground(slope_x=slope_x, slope_y=slope_y),
            (0.0, 0.0),
            (-distance, 0.0),
        )
        wide = max(_AROUND, 0.4 * distance)
        box = (-distance - 2.0, -wide, max(_AROUND, 0.4 * distance), wide)
    else:
        where = asked.mapped()
        hole = open_ground(where.ground)
        location = location_on(hole, where.hole_location)
        ground, at, ball, box = hole.ground, (location.x, location.y), where.start, None
    tell("rolling putts from every point of the green", 0.1)
    chart = build_map(ground, at, stimp_m=asked.stimp, putter=putter, step=step, box=box)
    tell("looking closely at yours", 0.9)
    return answer_putt(chart, *ball), hole


def putts_to(
    hole: "Hole", location: "HoleLocation", *, stimp_m: float, putter: "Putter", rough: bool = False
) -> "PuttingMap":
    """Map the putts of a green that is read already: roughly while a hand moves, else as `putt`.

    Raises
    ------
    BadInputError
        A green speed outside its range.
    """
    from carrybook.outcomes.putting_map import build_map

    return build_map(
        hole.ground,
        (location.x, location.y),
        stimp_m=stimp_m,
        putter=putter,
        step=_ROUGH if rough else _COARSE,
    )


def usual_putt(advice: "Advice") -> "tuple[PuttingMap, PuttAnswer | None]":
    """Map the putts that a choice counted with, and read the one that its first option leaves.

    Returns
    -------
    chart : PuttingMap
        Of that hole location and green speed.
    answer : PuttAnswer, optional
        From the finish that is most like the usual putt; none where none is on the green.
    """
    import numpy as np

    from carrybook.outcomes.putt_answer import answer_putt
    from carrybook.outcomes.putting_map import kept_map, surface_of
    from carrybook.physics.terrain import height
    from carrybook.world.ground import Surface

    s, best = advice.situation, advice.options[0]
    chart = kept_map(s.hole.ground, (s.location.x, s.location.y), stimp_m=s.stimp_m)
    x, y = best.finishes.T
    on = surface_of(s.hole.ground, x, y) == Surface.GREEN
    far = np.hypot(x - s.location.x, y - s.location.y)
    on &= far > _TAP_IN
    if not on.any():
        return chart, None
    rise = height(s.hole.ground, s.location.x, s.location.y)
    rises = np.array([rise - height(s.hole.ground, *at) for at in best.finishes[on]])
    like = np.abs(far[on] - best.leave.length_m) + _RISE_COUNTS * np.abs(rises - best.leave.rise_m)
    ball = best.finishes[on][int(np.argmin(like))]
    try:
        return chart, answer_putt(chart, float(ball[0]), float(ball[1]))
    except (BadInputError, NoSolutionError):
        return chart, None


def putters_of(book: Path | None) -> "dict[str, Putter]":
    """Give everybody who putts by name: the usual ones, and those in the book, if there is one.

    Raises
    ------
    BadInputError
        The book cannot be used.
    """
    from carrybook.outcomes.putter import PUTTERS
    from carrybook.store.putters import load_putters

    if not book_path(book).exists():
        return PUTTERS
    with open_book(book, reading=True) as opened, opened.session() as session:
        return PUTTERS | load_putters(session)


def name_putter(book: Path | None, asked: PuttForm) -> None:
    """Keep the errors that were asked for under a name, where one was said.

    Raises
    ------
    BadInputError
        A name that is taken by a usual player, or a book that cannot be written.
    """
    from carrybook.outcomes.putter import PUTTERS
    from carrybook.store.putters import save_putter

    if asked.save_as is None:
        return
    if asked.save_as in PUTTERS:
        raise BadInputError(f"save as = {asked.save_as!r} is a usual player; take another name")
    errors = asked.putter(putters_of(book))
    with open_book(book, create=True) as opened, opened.session() as session:
        save_putter(session, asked.save_as, errors)


def draw_putt(path: Path, answer: "PuttAnswer", hole: "Hole | None", units: str) -> None:
    """Draw a putt and the map it belongs to into a file.

    Raises
    ------
    BadInputError
        The file cannot be written.
    """
    from carrybook.artefacts.putting import putting_figure

    save_figure(path, putting_figure(answer, outline=hole.green if hole else None, units=units))
