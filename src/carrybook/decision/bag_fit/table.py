"""What each club costs from each place that is faced: one batch of balls, then only reading.

On level ground in an even wind a shot ends where it ends, however far away the hole is. So every
swing of every club is played once under shared chance, turned so that its middle ball lands on the
line, and what it leaves is read for each distance.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from carrybook.base.constants import FOOT, YARD
from carrybook.base.numerics import Floats, Ints
from carrybook.decision.bag_fit.demand import Demand, FacedPlace
from carrybook.decision.bag_fit.wedges import Wedge
from carrybook.outcomes.draws import Draws, draw
from carrybook.outcomes.simulate import World, simulate
from carrybook.outcomes.swing import Swing, swings_of
from carrybook.outcomes.value_map import Ends, ValueMap, invented_green, strokes_left
from carrybook.physics.strike import lie_effect
from carrybook.world.air import REFERENCE_DAY, Air
from carrybook.world.ground import Ground, Surface, flat_ground
from carrybook.world.lie import Lie, Moisture
from carrybook.world.wind import CALM, Wind

__all__ = ["Greens", "Table", "WedgesOf", "build_table"]

# Ours: between two swings that are played, and how far the ends of one are moved to stand for those
# between; how much nearer or further than its place a swing may carry; where holes are cut, behind
# the middle of the green; how far carries are taken.
_STEP = 5.0 * YARD
_MOVED = np.array([-5.0, 0.0, 5.0]) / 3.0 * YARD
_ASIDES = np.array([0.0, -6.0, -3.0, 3.0, 6.0]) * YARD  # aims on a real green
_SLACK = 0.3  # m: so much past the ends of the partials is the end
_SHORT, _PAST = 30.0 * YARD, 12.0 * YARD
_HOLES = (-8.0 * YARD, 0.0, 8.0 * YARD)
_EXTENT = 300.0
_FAR = (-1.0e4, 0.0)

WedgesOf = Callable[[Lie, Moisture], Sequence[Wedge]]
Progress = Callable[[str, float], None]


@dataclass(frozen=True, slots=True)
class Greens:
    """The day and the greens of all places.

    Parameters
    ----------
    air : Air
        The air.
    firmness_g, firmness_sd_g : float
        Where a place does not say its own, and how unsure it is. [Clegg gravities]
    stimp_m : float
        Green speed. [m]
    holes_m : tuple of float
        Where holes are cut, behind the middle of the green; each as often as the others. [m]
    wind : Wind
        Along every line.
    course : tuple of ValueMap
        Real greens, each with its hole; none: invented ones.
    """

    air: Air = REFERENCE_DAY
    firmness_g: float = 90.0
    firmness_sd_g: float = 10.0
    stimp_m: float = 10.0 * FOOT
    holes_m: tuple[float, ...] = _HOLES
    wind: Wind = CALM
    course: tuple[ValueMap, ...] = ()

    def maps(self) -> list[list[ValueMap]]:
        """The maps of each green; an invented one has a map for each place of the hole."""
        if self.course:
            return [[each] for each in self.course]
        return [[invented_green(hole, stimp_m=self.stimp_m) for hole in self.holes_m]]


@dataclass(frozen=True, slots=True)
class Table:
    """Strokes of each club from each place.

    Parameters
    ----------
    wedges : tuple of Wedge, length c
        The clubs.
    demand : Demand
        The places.
    first : ndarray, shape (c, places)
        Mean strokes of the best swing of a club, over the draws that it was chosen by. [1]
    strokes : ndarray, shape (c, places, n)
        Of that swing under fresh draws. [1]
    shot : ndarray of int64, shape (c, places)
        Which of the club's shots it is.
    feel_m : ndarray, shape (c, places)
        What to feel. [m]
    draws : Draws, length n
        Those fresh draws.
    """

    wedges: tuple[Wedge, ...]
    demand: Demand
    first: Floats
    strokes: Floats
    shot: Ints
    feel_m: Floats
    draws: Draws


def build_table(
    wedges_of: WedgesOf,
    demand: Demand,
    greens: Greens,
    *,
    count: int = 1024,
    seed: int = 1,
    progress: Progress | None = None,
) -> Table:
    """Play every swing of every club, and read what it costs from every place.

    Parameters
    ----------
    wedges_of : callable
        Gives the clubs off a lie and moisture, always the same in the same order.
    demand : Demand
        The places.
    greens : Greens
        Day and greens.
    count : int, default 1024
        Draws to choose swings by, and as many fresh ones to judge them by.
    seed : int, default 1
        The same seed gives the same answer.
    progress : callable, optional
        Told what is being done and the share that is done, 0 to 1.
    """
    tell = progress or (lambda _what, _share: None)
    rng = np.random.default_rng([seed, 8])
    draws = draw(rng, 2 * count)
    maps, asides = greens.maps(), _ASIDES if greens.course else _ASIDES[:1]
    groups: dict[tuple[Lie, Moisture, float], list[int]] = {}
    for k, p in enumerate(demand.places):
        groups.setdefault((p.lie, p.moisture, p.firmness_g or greens.firmness_g), []).append(k)
    fresh = Draws(**{name: getattr(draws, name)[count:] for name in Draws.__slots__})
    wedges = tuple(wedges_of(Lie.FAIRWAY, Moisture.DRY))
    table = _empty(wedges, demand, fresh)
    for done, ((lie, moisture, firmness), where) in enumerate(groups.items()):
        tell(f"playing every swing off {lie}, {moisture}", done / len(groups))
        rows = _rows(wedges_of(lie, moisture))
        world = _world(replace(greens, firmness_g=firmness), lie, moisture)
        played = _play(world, rows, draws)
        tell(f"reading every distance off {lie}, {moisture}", (done + 0.8) / len(groups))
        for k in where:
            place = demand.places[k]
            _fill(table, k, place, rows, played, _Target(maps[place.green], asides))
    tell("done", 1.0)
    return table


@dataclass(frozen=True, slots=True)
class _Rows:
    """Swings in one list: club, shot of the club, feel; and ends of the partials of each. [m]"""

    swings: list[Swing]
    wedge: Ints
    shot: Ints
    feel_m: Floats
    shortest_m: Floats
    longest_m: Floats


@dataclass(frozen=True, slots=True)
class _Played:
    """Ends of every swing, and how far its middle ball carries. [m]"""

    ends: Ends
    carry_m: Floats


@dataclass(frozen=True, slots=True)
class _Target:
    """Maps of a green, and how far left of the hole is aimed. [m]"""

    maps: list[ValueMap]
    asides_m: Floats


def _empty(wedges: tuple[Wedge, ...], demand: Demand, fresh: Draws) -> Table:
    shape = (len(wedges), len(demand.places))
    strokes, shot = np.zeros((*shape, len(fresh))), np.zeros(shape, dtype=np.int64)
    return Table(wedges, demand, np.zeros(shape), strokes, shot, np.zeros(shape), fresh)


def _rows(wedges: Sequence[Wedge]) -> _Rows:
    swings: list[Swing] = []
    about: list[tuple[int, int, float, float, float]] = []
    for w, wedge in enumerate(wedges):
        for k, summary in enumerate(wedge.shots):
            low, high = summary.shot.shortest_m, summary.shot.longest_m
            feels = np.linspace(low, high, int(np.ceil((high - low) / _STEP)) + 1)
            swings += swings_of(summary, summary.reference_for(feels), np.zeros(len(feels)))
            about += [(w, k, float(f), low, high) for f in feels]
    table = np.array(about)
    which = table[:, :2].astype(np.int64)
    return _Rows(swings, which[:, 0], which[:, 1], *table[:, 2:].T)


def _world(greens: Greens, lie: Lie, moisture: Moisture) -> World:
    return World(
        ground=_endless(Surface.GREEN), start=np.zeros(3), hole=_FAR, line_right_rad=0.0,
        air=greens.air, wind=greens.wind, wind_level_m=0.0, lie=lie_effect(lie, moisture),
        firmness_g=greens.firmness_g, firmness_sd_g=greens.firmness_sd_g, stimp_m=greens.stimp_m,
    )  # fmt: skip


def _endless(surface: Surface) -> Ground:
    return flat_ground(surface, extent_m=_EXTENT, step=5.0)


def _play(world: World, rows: _Rows, draws: Draws) -> _Played:
    """Play every swing on endless green and on endless fairway, and turn each onto the line."""
    elsewhere = replace(world, ground=_endless(Surface.FAIRWAY))
    ends, landings = simulate(world, rows.swings, draws)
    other, _ = simulate(elsewhere, rows.swings, draws, landings=landings)
    middle = np.median(ends[..., 4:6], axis=1)
    turn = -np.arctan2(middle[:, 1], middle[:, 0])
    points = (ends[..., 4:6], ends[..., 0:2], other[..., 0:2])
    return _Played(Ends(*(_turned(p, turn) for p in points)), np.hypot(*middle.T))


def _turned(points: Floats, turn: Floats) -> Floats:
    """Points of each row turned about the ball, counter-clockwise."""
    cos, sin = np.cos(turn)[:, None], np.sin(turn)[:, None]
    x, y = points[..., 0], points[..., 1]
    return np.stack([cos * x - sin * y, sin * x + cos * y], axis=-1)


def _fill(
    table: Table, k: int, place: FacedPlace, rows: _Rows, played: _Played, target: _Target
) -> None:
    """Choose the best swing of every club from one place by half the draws, and judge it."""
    tried, further, feels = _worth_trying(place.distance_m, rows, played.carry_m)
    sides = len(target.asides_m)
    near, moved, feel = np.tile(tried, sides), np.tile(further, sides), np.tile(feels, sides)
    aside = np.repeat(target.asides_m, len(tried))
    strokes = strokes_left(played.ends, near, place.distance_m - moved, target.maps, aside)
    count = len(table.draws)
    means, fresh = strokes[:, :count].mean(axis=1), strokes[:, count:]
    inside = (feel >= rows.shortest_m[near] - _SLACK) & (feel <= rows.longest_m[near] + _SLACK)
    for w in range(len(table.wedges)):
        mine = inside & (rows.wedge[near] == w)
        best = int(np.argmin(np.where(mine, means, np.inf)))
        table.first[w, k], table.strokes[w, k] = means[best], fresh[best]
        table.shot[w, k], table.feel_m[w, k] = rows.shot[near[best]], feel[best]


def _worth_trying(distance_m: float, rows: _Rows, carry_m: Floats) -> tuple[Ints, Floats, Floats]:
    """Swings that carry near enough, and a little more or less than was played.

    Gives their rows, how much further than played each is taken to go, and what that feels like.
    Of a shot that carries nowhere near, the swing that comes nearest.
    """
    tried = (carry_m > distance_m - _SHORT) & (carry_m < distance_m + _PAST)
    for w, k in {(int(a), int(b)) for a, b in zip(rows.wedge, rows.shot, strict=True)}:
        mine = np.flatnonzero((rows.wedge == w) & (rows.shot == k))
        if not tried[mine].any():
            tried[mine[np.argmin(np.abs(carry_m[mine] - distance_m))]] = True
    which = np.repeat(np.flatnonzero(tried), len(_MOVED))
    moved = np.tile(_MOVED, int(tried.sum()))
    return which, moved, rows.feel_m[which] * (1.0 + moved / carry_m[which])
