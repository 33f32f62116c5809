"""Which shots a player faces, and how often a round: the demand that practice is to serve."""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from carrybook.base.constants import YARD
from carrybook.base.errors import BadInputError, require_range
from carrybook.decision.demand import ENOUGH, Demand, count_alike, recorded_shots
from carrybook.player.bag import Shot
from carrybook.player.balls import Ball
from carrybook.player.round_shots import PlayedRound
from carrybook.world.faced import FacedShot
from carrybook.world.lie import Lie, Moisture

__all__ = [
    "between",
    "demand_of_balls",
    "demand_of_rounds",
    "of_shot",
    "practice_demand",
    "usual_demand",
]

_NEAREST, _FURTHEST = 15.0, 200.0  # yd; where this is about a scoring shot
_MOST = 60  # ours: rows of a demand
_BIN = 10.0 * YARD
# Ours: one round of somebody who competes. 60 to 100 yd come 1.5 times a round on tour, 3.2 times
# for recreational players (broadie-2014, quoted): between them here; a third out of rough.
_USUAL = ((35, 0.7), (45, 0.6), (55, 0.6), (65, 0.6), (75, 0.6), (85, 0.6), (95, 0.6), (110, 0.8))
_FROM_ROUGH = 1.0 / 3.0
_SPOTS = 4  # ours: distances that stand for a stretch, or for the partials of a shot


def practice_demand(shots: Sequence[FacedShot], source: str, played_with: str = "") -> Demand:
    """What is faced, within what can be practised for.

    Parameters
    ----------
    shots : sequence of FacedShot
        What is faced, 15 to 200 yd away and at most 20 times a round each; moisture, firmness and
        green do not matter.
    source : str
        Where that is known from, in a few words.
    played_with : str
        The shot to play all of it with; empty: the best of those that reach.

    Raises
    ------
    BadInputError
        Nothing, too much, or sand.
    OutOfRangeError
        A distance or a number of times outside its range.
    """
    for shot in shots:
        require_range("distance faced", shot.distance_m / YARD, _NEAREST, _FURTHEST, "yd")
        require_range("times a round", shot.times, 1e-6, 20.0, "")
        if shot.lie is Lie.SAND:
            raise BadInputError(
                "lie = 'sand' is not modelled; give fairway, light rough, deep rough"
            )
    if not 0 < len(shots) <= _MOST:
        raise BadInputError(f"a demand has 1 to {_MOST} rows, not {len(shots)}")
    return Demand(tuple(shots), source, played_with=played_with)


def usual_demand() -> Demand:
    """What a round asks of somebody who competes, where nothing better is known."""
    lies = ((Lie.FAIRWAY, 1.0 - _FROM_ROUGH), (Lie.LIGHT_ROUGH, _FROM_ROUGH))
    return practice_demand(
        [FacedShot(yards * YARD, lie, times=n * part) for yards, n in _USUAL for lie, part in lies],
        "a usual round, ours: 5 shots from 30 to 120 yd, a third out of light rough",
    )


def demand_of_balls(balls: Sequence[Ball]) -> Demand | None:
    """What was faced on the course, by the log; none where it holds too few of those balls.

    Parameters
    ----------
    balls : sequence of Ball
        The log. Balls of course and competition count that have a meant carry and a time; each day
        of them is taken as a round.
    """
    played = [b for b in balls if b.setting in ("course", "competition") and b.at]
    days = {b.at.date() for b in played if b.at and _is_faced(_meant(b))}
    return _counted(map(_meant, played), len(days), "your log: {} shots on the course in {} days")


def demand_of_rounds(rounds: Sequence[PlayedRound]) -> Demand | None:
    """What was faced in recorded rounds; none where they hold too few scoring shots.

    Parameters
    ----------
    rounds : sequence of PlayedRound
        Those that were recorded. A round without a scoring shot counts for nothing.
    """
    count = sum(bool(each.shots) for each in rounds)
    return _counted(recorded_shots(rounds), count, "your rounds: {} shots in {} of them")


def between(low_m: float, high_m: float, demand: Demand) -> Demand:
    """The part of a demand within a stretch; where it has none, distances of it, once each.

    Parameters
    ----------
    low_m, high_m : float
        Ends of the stretch. [m]
    demand : Demand
        What is faced otherwise.

    Raises
    ------
    BadInputError
        An end before its start.
    """
    if high_m < low_m:
        raise BadInputError(
            f"focus = {low_m / YARD:.0f} to {high_m / YARD:.0f} yd ends before it starts"
        )
    inside = [shot for shot in demand.shots if low_m <= shot.distance_m <= high_m]
    if inside:
        return practice_demand(inside, demand.source)
    return practice_demand(_spots(low_m, high_m), "the stretch you named, each distance once")


def of_shot(shot: Shot) -> Demand:
    """The partials of one shot, once each, from the fairway."""
    return practice_demand(
        _spots(shot.shortest_m, shot.longest_m),
        f"the partials of {shot.label}, each once",
        shot.label,
    )


def _spots(low_m: float, high_m: float) -> list[FacedShot]:
    step = (high_m - low_m) / _SPOTS
    middles = [low_m + (k + 0.5) * step for k in range(_SPOTS)] if step > 0.5 * YARD else [low_m]
    return [FacedShot(m) for m in middles]


def _meant(ball: Ball) -> FacedShot:
    return FacedShot(ball.intended_m or 0.0, ball.lie)


def _is_faced(shot: FacedShot) -> bool:
    yards = round(shot.distance_m / _BIN) * _BIN / YARD
    return _NEAREST <= yards <= _FURTHEST and shot.lie is not Lie.SAND


def _counted(shots: Iterable[FacedShot], rounds: int, source: str) -> Demand | None:
    """Times a round, the commonest kept, in the order of their distances; none of too few shots."""
    faced = [replace(shot, moisture=Moisture.DRY) for shot in shots if _is_faced(shot)]
    if len(faced) < ENOUGH:
        return None
    commonest = sorted(count_alike(faced, _BIN), key=lambda shot: -shot.times)[:_MOST]
    rows = sorted(commonest, key=lambda shot: (shot.distance_m, shot.lie))
    return practice_demand(
        [replace(shot, times=shot.times / rounds) for shot in rows],
        source.format(len(faced), rounds),
    )
