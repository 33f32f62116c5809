"""Plans made the evening before: every ninth of a green from every likely distance.

One ninth of one green is one piece of work. A piece meets the same chance wherever and whenever it
is done, so a plan does not depend on how many work on it.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

import numpy as np

from carrybook.base.constants import YARD
from carrybook.base.numerics import Floats
from carrybook.decision.advice import Option, Situation, Trouble
from carrybook.decision.explain import option_of
from carrybook.decision.lay_ups import LayUpScatter, LeaveAsked
from carrybook.decision.leave import lay_up_of, leave
from carrybook.decision.look import Looked, Pains, look, shared_draws
from carrybook.decision.prepared import LayUp, Zone, ZonePlan
from carrybook.decision.select import is_close
from carrybook.outcomes.draws import Draws
from carrybook.player.summary import ShotSummary
from carrybook.world.ground import Surface
from carrybook.world.hole import HoleLocation
from carrybook.world.lie import Lie
from carrybook.world.locate import ball_behind

__all__ = [
    "NOWHERE",
    "Brief",
    "LeftOut",
    "Piece",
    "PlanCell",
    "Planned",
    "pieces_of",
    "plan_piece",
    "zone_plan_of",
]

NOWHERE = HoleLocation(0.0, 0.0, 0.0, 0.0, 0.0, 0.0)  # in a brief: every piece brings its own
PLAN_PAINS = Pains(first=32, finer=128, final=1024)
_LAY_UPS = tuple(float(d) for d in np.arange(40.0, 121.0, 10.0) * YARD)  # ours: on a card
_NO_BALL = {
    Surface.WATER: "the ball would lie in water",
    Surface.BUNKER: "the ball would lie in sand, which is not modelled",
    Surface.OUT_OF_BOUNDS: "the ball would lie out of bounds",
}
_NONE_REACHES = "none of your shots lands a ball near the hole"


@dataclass(frozen=True, slots=True)
class Brief:
    """What all pieces of one hole share.

    Parameters
    ----------
    situation : Situation
        Hole and day; hole location and ball differ by piece.
    summaries : tuple of ShotSummary
        The shots the player owns.
    numbers_m : tuple of float
        Likely distances to the hole. [m]
    scatter : LayUpScatter
        Of the lay-up stroke.
    lie : Lie, optional
        What the ball sits on; none: as the map has it.
    seed : int
        The same seed gives the same plan.
    pains : Pains
        How much work for each distance.
    """

    situation: Situation
    summaries: tuple[ShotSummary, ...]
    numbers_m: tuple[float, ...]
    scatter: LayUpScatter
    lie: Lie | None = None
    seed: int = 1
    pains: Pains = PLAN_PAINS


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece of work: a ninth of a green; or, without one, what to leave on the hole.

    Parameters
    ----------
    location : HoleLocation
        Where the hole is cut.
    zone : Zone, optional
        Which ninth that is.
    """

    location: HoleLocation
    zone: Zone | None = None


@dataclass(frozen=True, slots=True)
class PlanCell:
    """What to play from one distance when the hole is cut in one ninth.

    Parameters
    ----------
    hole, zone, location : str, Zone, HoleLocation
        Which green, and where the hole is cut.
    number_m : float
        Ball to hole over the ground. [m]
    lie : Lie
        What the ball sits on.
    shot, cue : str
        Label of the shot, and the player's cue.
    playing_m, feel_m : float
        Playing number, and what to feel. [m]
    landing_to_hole_m, landing_right_m : float
        Landing spot short of the hole positive; right of the line to it. [m]
    aim_right_m : float
        Where the start line passes the hole: right of it. [m]
    miss : Trouble, optional
        The trouble that costs most.
    miss_share : float
        Share of the balls that end in it. [1]
    strokes, strokes_se : float
        Expected strokes to hole out, and standard error. [1]
    other : str
        Another shot that does as well; empty where there is none.
    """

    hole: str
    zone: Zone
    location: HoleLocation
    number_m: float
    lie: Lie
    shot: str
    cue: str
    playing_m: float
    feel_m: float
    landing_to_hole_m: float
    landing_right_m: float
    aim_right_m: float
    miss: Trouble | None
    miss_share: float
    strokes: float
    strokes_se: float
    other: str


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A distance without a plan.

    Parameters
    ----------
    hole, zone : str, Zone
        Which green, and where the hole is cut.
    number_m : float
        Ball to hole. [m]
    why : str
        The reason.
    """

    hole: str
    zone: Zone
    number_m: float
    why: str


@dataclass(frozen=True, slots=True)
class Planned:
    """What came of one piece.

    Parameters
    ----------
    cells : tuple of PlanCell
        One for each distance that can be played.
    left_out : tuple of LeftOut
        Those that cannot, each with the reason.
    lay_up : LayUp, optional
        What to leave, where that was the piece.
    """

    cells: tuple[PlanCell, ...] = ()
    left_out: tuple[LeftOut, ...] = ()
    lay_up: LayUp | None = None


def pieces_of(places: Mapping[Zone, HoleLocation], lay_up_to: Zone | None) -> Iterator[Piece]:
    """Part a hole into pieces of work.

    Parameters
    ----------
    places : mapping of Zone to HoleLocation
        Where the hole may be cut.
    lay_up_to : Zone, optional
        Look what to leave, too, for the hole in this ninth, if it may be cut there.
    """
    yield from (Piece(at, zone) for zone, at in places.items())
    if lay_up_to is not None and lay_up_to in places:
        yield Piece(places[lay_up_to])


def plan_piece(brief: Brief, piece: Piece) -> Planned:
    """Do one piece of work.

    Parameters
    ----------
    brief : Brief
        What all pieces of the hole share.
    piece : Piece
        Which one.

    Raises
    ------
    BadInputError
        A lie that is not modelled.
    NoSolutionError
        Asked what to leave: no shot reaches from anywhere.
    """
    brief = replace(brief, situation=replace(brief.situation, location=piece.location))
    if piece.zone is None:
        asked = LeaveAsked(_LAY_UPS, brief.scatter, lie=brief.lie)
        found = leave(
            brief.situation, brief.summaries, asked, seed=brief.seed, pains=brief.pains
        )  # fmt: skip
        return Planned(lay_up=lay_up_of(found))
    draws = shared_draws(brief.seed, brief.pains)
    cells = [_cell(brief, piece.zone, number, draws) for number in brief.numbers_m]
    return Planned(
        tuple(c for c in cells if isinstance(c, PlanCell)),
        tuple(c for c in cells if isinstance(c, LeftOut)),
    )


def zone_plan_of(cell: PlanCell) -> ZonePlan:
    """Give the part of a plan that fits on a card."""
    return ZonePlan(
        cell.hole, cell.zone, cell.number_m, cell.shot, cell.feel_m, cell.landing_to_hole_m,
        cell.landing_right_m, cell.miss, close_call=bool(cell.other),
    )  # fmt: skip


def _cell(brief: Brief, zone: Zone, number_m: float, draws: Draws) -> PlanCell | LeftOut:
    """One distance, or why nothing is planned for it."""
    s = brief.situation
    x, y = ball_behind(s.hole, s.location, number_m)
    surface = s.hole.ground.surface_at(x, y)
    if surface in _NO_BALL:
        return LeftOut(s.hole.ref, zone, number_m, _NO_BALL[surface])
    lie = brief.lie or (Lie.LIGHT_ROUGH if surface is Surface.ROUGH else Lie.FAIRWAY)
    placed = replace(s, ball_x=x, ball_y=y, lie=lie)
    looked = look(placed, brief.summaries, draws, seed=brief.seed, pains=brief.pains)
    if looked is None:
        return LeftOut(s.hole.ref, zone, number_m, _NONE_REACHES)
    played = looked.played
    best = option_of(looked.world, placed, looked.best[0], played, 0, played.finish.strokes)
    return _told(zone, placed, best, _other(looked))


def _told(zone: Zone, placed: Situation, o: Option, other: str) -> PlanCell:
    return PlanCell(
        hole=placed.hole.ref,
        zone=zone,
        location=placed.location,
        number_m=placed.number_m,
        lie=placed.lie,
        shot=o.summary.shot.label,
        cue=o.summary.shot.cue,
        playing_m=o.playing_m,
        feel_m=o.feel_m,
        landing_to_hole_m=o.landing_to_hole_m,
        landing_right_m=o.landing_right_m,
        aim_right_m=o.aim_right_m,
        miss=o.miss,
        miss_share=o.troubles[o.miss] if o.miss is not None else 0.0,
        strokes=o.strokes,
        strokes_se=o.strokes_se,
        other=other,
    )


def _other(looked: Looked) -> str:
    """Another shot whose strokes do not separate from the best one's, or hardly differ."""
    strokes: Floats = looked.played.finish.strokes
    for candidate, each in zip(looked.best[1:], strokes[1:], strict=True):
        behind = each - strokes[0]
        if behind.mean() < 0.0 or is_close(behind):
            return candidate.summary.shot.label
    return ""
