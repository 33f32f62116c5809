"""Plans for a hole or a round, made before it: every ninth of a green from likely distances."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from carrybook.app.files import write_file
from carrybook.app.forms.plan import VenueForm
from carrybook.app.forms.weather import WindForm
from carrybook.app.services.learn import day_summaries
from carrybook.app.services.leave import day_on
from carrybook.app.services.numbers import numbers_on
from carrybook.app.services.weather import Weather
from carrybook.app.sweep import Hands, sweep
from carrybook.base.errors import NoSolutionError
from carrybook.player.day import Day
from carrybook.world.lie import Lie

if TYPE_CHECKING:
    from carrybook.decision.plan import Brief, LeftOut, Piece, PlanCell, Planned
    from carrybook.decision.prepared import LayUp
    from carrybook.player.summary import ShotSummary
    from carrybook.world.air import Air
    from carrybook.world.hole import Hole

__all__ = ["Tell", "VenuePlan", "do_pieces", "plan_venue", "print_plan"]

Tell = Callable[[str, float], None]


@dataclass(frozen=True, slots=True)
class VenuePlan:
    """Plans of the holes of a venue; what is there when it was stopped, too.

    Parameters
    ----------
    venue : str
        Name of the venue.
    holes : tuple of str
        Which holes, in order.
    air : Air
        The day.
    cells : tuple of PlanCell
        By hole, zone and distance.
    lay_ups : tuple of LayUp
        What to leave, by hole.
    left_out : tuple of LeftOut
        What is not planned, each with the reason.
    done, pieces : int
        Pieces of work that are done, and all of them.
    seed : int
        The same seed gives the same plan.
    """

    venue: str
    holes: tuple[str, ...]
    air: "Air"
    cells: "tuple[PlanCell, ...]"
    lay_ups: "tuple[LayUp, ...]"
    left_out: "tuple[LeftOut, ...]"
    done: int
    pieces: int
    seed: int


def plan_venue(
    book: Path | None,
    asked: VenueForm,
    weather: Weather,
    wind: WindForm,
    *,
    hands: Hands,
    lay_ups: bool = False,
    seed: int = 1,
    progress: Tell | None = None,
) -> VenuePlan:
    """Plan every ninth of the greens from every likely distance.

    Parameters
    ----------
    book : Path, optional
        The book.
    asked : VenueForm
        Holes, distances, lie and greens.
    weather : Weather
        The day.
    wind : WindForm
        Along every approach; where none was typed, that of the report or forecast, turned to each.
    hands : Hands
        Who does the work; the answer does not depend on it.
    lay_ups : bool, default False
        Whether to find what to leave on each hole, too.
    seed : int, default 1
        The same seed gives the same plan.
    progress : callable, optional
        Told what is being done and which share of it is done.

    Returns
    -------
    plan : VenuePlan
        An interrupt from the keyboard ends the work, and what is done is given.

    Raises
    ------
    BadInputError
        A file that cannot be read, a hole that is not there, a number outside its range, a lie that
        is not modelled, a scheduler that cannot be reached.
    NoSolutionError
        No book or shot yet, a round is on, no green has room for a hole, or no Dask.
    """
    from carrybook.world.hole_map import list_holes, read_hole

    tell = progress or (lambda _what, _share: None)
    day = Day(weather.air, lie=asked.lie or Lie.FAIRWAY, moisture=asked.moisture)
    summaries = day_summaries(book, day, ball_model=asked.ball_model, left_handed=asked.left_handed)
    refs = asked.hole or list_holes(asked.map)
    holes = []
    for k, ref in enumerate(refs):
        tell(f"reading hole {ref}", 0.05 * k / len(refs))
        holes.append(read_hole(asked.map, ref, asked.heights))
    briefs = [_brief(hole, summaries, asked, weather, wind, seed) for hole in holes]
    pieces = [
        (k, piece)
        for k, hole in enumerate(holes)
        for piece in _pieces(hole, asked.green_speed, lay_ups)
    ]
    if not pieces:
        raise NoSolutionError("no green has a place where a hole may be cut; plan another hole")
    found = do_pieces(briefs, pieces, hands, lambda what, share: tell(what, 0.05 + 0.95 * share))
    done = [found[k] for k in sorted(found)]
    return VenuePlan(
        venue=holes[0].venue,
        holes=tuple(refs),
        air=weather.air,
        cells=tuple(cell for each in done for cell in each.cells),
        lay_ups=tuple(each.lay_up for each in done if each.lay_up is not None),
        left_out=tuple(one for each in done for one in each.left_out),
        done=len(done),
        pieces=len(pieces),
        seed=seed,
    )


def do_pieces(
    briefs: "Sequence[Brief]", pieces: "Sequence[tuple[int, Piece]]", hands: Hands, tell: Tell
) -> "dict[int, Planned]":
    """Do pieces of plans; an interrupt from the keyboard ends it, and what is done is given.

    Parameters
    ----------
    briefs : sequence of Brief
        What the pieces of each hole share.
    pieces : sequence of (int, Piece)
        Which brief each goes with, and the piece.
    hands : Hands
        Who does them.
    tell : callable
        Told what is being done and which share of it is done.

    Returns
    -------
    found : dict of int to Planned
        By the number of the piece.

    Raises
    ------
    BadInputError
        A scheduler that cannot be reached.
    """
    from carrybook.decision.plan import plan_piece

    found: dict[int, Planned] = {}

    def say() -> None:
        tell(f"{len(found)} of {len(pieces)} zones", len(found) / len(pieces))

    try:
        for number, planned in sweep(plan_piece, briefs, pieces, hands, say) if pieces else ():
            found[number] = planned
            say()
    except KeyboardInterrupt:
        tell("stopped", 1.0)
    return found


def print_plan(
    path: Path, book: Path | None, plan: VenuePlan, units: str, *, ball_model: str | None = None
) -> None:
    """Print a pocket card with today's numbers and the plan into a file.

    Raises
    ------
    BadInputError
        The file cannot be written.
    """
    from carrybook.artefacts.card import CardContent, pocket_card
    from carrybook.decision.plan import zone_plan_of

    content = CardContent(
        plan.venue,
        plan.air,
        numbers_on(book, Day(plan.air), ball_model=ball_model),
        zones=tuple(zone_plan_of(cell) for cell in plan.cells),
        lay_ups=plan.lay_ups,
    )
    write_file(path, pocket_card(content, units=units))


def _brief(
    hole: "Hole",
    summaries: "Sequence[ShotSummary]",
    asked: VenueForm,
    weather: Weather,
    wind: WindForm,
    seed: int,
) -> "Brief":
    from carrybook.decision.lay_ups import scatter_of
    from carrybook.decision.plan import NOWHERE, Brief

    return Brief(
        situation=day_on(hole, NOWHERE, asked, weather, wind),
        summaries=tuple(summaries),
        numbers_m=asked.numbers,
        scatter=scatter_of(summaries),
        lie=asked.lie,
        seed=seed,
    )


def _pieces(hole: "Hole", stimp_m: float, lay_ups: bool) -> "list[Piece]":
    from carrybook.decision.plan import pieces_of
    from carrybook.decision.prepared import Zone
    from carrybook.decision.zones import zone_locations

    middle = Zone.MIDDLE_CENTRE if lay_ups else None
    return list(pieces_of(zone_locations(hole, stimp_m), middle))
