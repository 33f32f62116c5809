"""Which shots a player faces, and how often a round: the demand that practice is to serve."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from carrybook.base.constants import YARD
from carrybook.base.errors import BadInputError, require_range
from carrybook.player.bag import Shot
from carrybook.player.balls import Ball
from carrybook.player.round_shots import PlayedRound
from carrybook.world.lie import Lie

__all__ = [
    "ENOUGH",
    "Demand",
    "Faced",
    "between",
    "demand_of_balls",
    "demand_of_rounds",
    "of_shot",
    "usual_demand",
]

_NEAREST, _FURTHEST = 15.0, 200.0  # yd; where this is about a scoring shot
_MOST = 60  # ours: rows of a demand
ENOUGH = 30  # ours: shots of a course before they speak for what is faced
_BIN = 10.0 * YARD
# Ours: one round of somebody who competes. 60 to 100 yd come 1.5 times a round on tour, 3.2 times
# for recreational players (broadie-2014, quoted): between them here; a third out of rough.
_USUAL = ((35, 0.7), (45, 0.6), (55, 0.6), (65, 0.6), (75, 0.6), (85, 0.6), (95, 0.6), (110, 0.8))
_FROM_ROUGH = 1.0 / 3.0
_SPOTS = 4  # ours: distances that stand for a stretch, or for the partials of a shot


@dataclass(frozen=True, slots=True)
class Faced:
    """One kind of shot that is faced.

    Parameters
    ----------
    target_m : float
        Distance, 15 to 200 yd. [m]
    lie : Lie
        What the ball sits on; not sand.
    times : float
        How often in a round, above 0 and at most 20. [1]
    shot : str
        The shot to play it with; empty: the best of those that reach.

    Raises
    ------
    BadInputError
        Sand.
    OutOfRangeError
        A distance or a number of times outside its range.
    """

    target_m: float
    lie: Lie
    times: float
    shot: str = ""

    def __post_init__(self) -> None:
        require_range("distance faced", self.target_m / YARD, _NEAREST, _FURTHEST, "yd")
        require_range("times a round", self.times, 1e-6, 20.0, "")
        if self.lie is Lie.SAND:
            raise BadInputError(
                "lie = 'sand' is not modelled; give fairway, light rough, deep rough"
            )


@dataclass(frozen=True, slots=True)
class Demand:
    """What is faced, and where that is known from.

    Raises
    ------
    BadInputError
        Nothing, or too much.
    """

    faced: tuple[Faced, ...]
    source: str

    def __post_init__(self) -> None:
        if not 0 < len(self.faced) <= _MOST:
            raise BadInputError(f"a demand has 1 to {_MOST} rows, not {len(self.faced)}")


def usual_demand() -> Demand:
    """What a round asks of somebody who competes, where nothing better is known."""
    lies = ((Lie.FAIRWAY, 1.0 - _FROM_ROUGH), (Lie.LIGHT_ROUGH, _FROM_ROUGH))
    return Demand(
        tuple(Faced(yards * YARD, lie, n * part) for yards, n in _USUAL for lie, part in lies),
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
    faced = [b for b in balls if b.setting in ("course", "competition") and b.at and _is_scoring(b)]
    if len(faced) < ENOUGH:
        return None
    days = len({b.at.date() for b in faced if b.at})
    counts = Counter((round((b.intended_m or 0.0) / _BIN), b.lie) for b in faced)
    return _counted(counts, days, f"your log: {len(faced)} shots on the course in {days} days")


def demand_of_rounds(rounds: Sequence[PlayedRound]) -> Demand | None:
    """What was faced in recorded rounds; none where they hold too few scoring shots.

    Parameters
    ----------
    rounds : sequence of PlayedRound
        Those that were recorded. A round without a scoring shot counts for nothing.
    """
    played = [each.shots for each in rounds if each.shots]
    faced = [shot for shots in played for shot in shots if _is_faced(shot.number_m, shot.lie)]
    if len(faced) < ENOUGH:
        return None
    counts = Counter((round(shot.number_m / _BIN), shot.lie) for shot in faced)
    source = f"your rounds: {len(faced)} shots in {len(played)} of them"
    return _counted(counts, len(played), source)


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
    inside = tuple(f for f in demand.faced if low_m <= f.target_m <= high_m)
    if inside:
        return Demand(inside, demand.source)
    return Demand(_spots(low_m, high_m, ""), "the stretch you named, each distance once")


def of_shot(shot: Shot) -> Demand:
    """The partials of one shot, once each, from the fairway."""
    return Demand(
        _spots(shot.shortest_m, shot.longest_m, shot.label),
        f"the partials of {shot.label}, each once",
    )


def _spots(low_m: float, high_m: float, shot: str) -> tuple[Faced, ...]:
    step = (high_m - low_m) / _SPOTS
    middles = [low_m + (k + 0.5) * step for k in range(_SPOTS)] if step > 0.5 * YARD else [low_m]
    return tuple(Faced(m, Lie.FAIRWAY, 1.0, shot) for m in middles)


def _counted(counts: Counter[tuple[int, Lie]], rounds: int, source: str) -> Demand:
    """The commonest first kept, in the order of their distances."""
    rows = sorted(counts.most_common(_MOST))
    return Demand(tuple(Faced(k * _BIN, lie, n / rounds) for (k, lie), n in rows), source)


def _is_scoring(ball: Ball) -> bool:
    return _is_faced(ball.intended_m or 0.0, ball.lie)


def _is_faced(distance_m: float, lie: Lie) -> bool:
    yards = round(distance_m / _BIN) * _BIN / YARD
    return _NEAREST <= yards <= _FURTHEST and lie is not Lie.SAND
