"""Every swing of some clubs off one lie: flown once under shared chance, bounced where it matters.

Where a ball first touches down does not depend on the green, only what follows does. So one flight
serves greens of every firmness, and bounces and roll wait until somebody asks for them.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from carrybook.base.constants import YARD
from carrybook.base.numerics import Flags, Floats, Ints
from carrybook.decision.bag_fit.wedges import Wedge
from carrybook.outcomes.draws import Draws
from carrybook.outcomes.in_stages import fly, play_on
from carrybook.outcomes.simulate import Struck, World, strike, turf_rows
from carrybook.outcomes.swing import Swing, swings_of
from carrybook.outcomes.value_map import Ends
from carrybook.world.ground import Ground, Surface, flat_ground

__all__ = ["EXTENT", "Bounces", "Flown", "Rows", "bounces_of", "endless", "fly_all", "rows_of"]

_STEP = 5.0 * YARD  # ours: between two swings that are played
EXTENT = 300.0  # m
# Longest step of the roll: on the level skid and rest have closed forms, one step of each will do.
_STRIDE = EXTENT


@dataclass(frozen=True, slots=True)
class Rows:
    """Swings in one list: club, shot of the club, feel; and ends of the partials of each. [m]"""

    swings: list[Swing]
    wedge: Ints
    shot: Ints
    feel_m: Floats
    shortest_m: Floats
    longest_m: Floats


@dataclass(frozen=True, slots=True)
class Flown:
    """Swings up to the first touch, each turned so that its middle ball lands on the line.

    Parameters
    ----------
    struck : Struck
        How they were struck, k swings under n draws.
    landings : ndarray, shape (k, n, 10)
        First touch before the turn, columns :data:`carrybook.physics.flight.LANDING_ROW`.
    turn : ndarray, shape (k,)
        Of each swing, counter-clockwise. [rad]
    """

    struck: Struck
    landings: Floats
    turn: Floats

    def part(self, rows: Ints | slice, draws: slice) -> "Flown":
        """Some of the swings under some of the draws."""
        return Flown(self.struck.part(rows, draws), self.landings[rows, draws], self.turn[rows])


def rows_of(wedges: Sequence[Wedge]) -> Rows:
    """Every shot of every club, in steps of 5 yd over its partials.

    Parameters
    ----------
    wedges : sequence of Wedge
        The clubs.
    """
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
    return Rows(swings, which[:, 0], which[:, 1], *table[:, 2:].T)


def endless(surface: Surface) -> Ground:
    """Level ground of one kind as far as a wedge goes.

    Parameters
    ----------
    surface : Surface
        The kind.
    """
    return flat_ground(surface, extent_m=EXTENT, step=5.0)


def fly_all(world: World, swings: Sequence[Swing], draws: Draws) -> tuple[Flown, Floats]:
    """Fly every swing under every draw.

    Parameters
    ----------
    world : World
        Everything around the swing.
    swings : sequence of Swing, length k
        The swings.
    draws : Draws, length n
        The shared chance.

    Returns
    -------
    flown : Flown
        The swings up to the first touch.
    carry_m : ndarray, shape (k,)
        How far the middle ball of each carries. [m]
    """
    struck = strike(world, swings, draws)
    landings = fly(world, struck)
    middle = np.median(landings[..., 0:2], axis=1)
    turn = -np.arctan2(middle[:, 1], middle[:, 0])
    return Flown(struck, landings, turn), np.hypot(*middle.T)


@dataclass(frozen=True, slots=True)
class Bounces:
    """Where flown balls end, as far as that was asked for.

    Parameters
    ----------
    flown : Flown
        The balls, k swings under n draws.
    worlds : tuple of World
        Endless green, and endless fairway.
    turf : ndarray, shape (n, 8)
        The green under each draw, columns :data:`carrybook.physics.turf.TURF_ROW`.
    ends : Ends
        First touch of all balls, and the ends of those that were played; 0 of others. [m]
    """

    flown: Flown
    worlds: tuple[World, World]
    turf: Floats
    ends: Ends

    def play(self, on_green: Flags, elsewhere: Flags) -> None:
        """Play balls to where they end.

        Parameters
        ----------
        on_green, elsewhere : ndarray of bool, shape (k, n)
            Which of them on green, which on fairway; each is asked for once.
        """
        wanted = (on_green, elsewhere)
        ends = (self.ends.green, self.ends.other)
        for world, some, out in zip(self.worlds, wanted, ends, strict=True):
            if some.any():
                ended = play_on(
                    world, self.flown.struck, self.flown.landings, self.turf, some,
                    stride=_STRIDE,
                )  # fmt: skip
                turn = np.broadcast_to(self.flown.turn[:, None], some.shape)[some]
                out[some] = _turned(ended[:, 0:2], turn)


def bounces_of(flown: Flown, world: World, draws: Draws) -> Bounces:
    """What plays flown balls on, none of them played yet.

    Parameters
    ----------
    flown : Flown
        The balls.
    world : World
        Everything around the swing; what lies on its ground does not count.
    draws : Draws
        The shared chance.
    """
    green, fairway = (replace(world, ground=endless(s)) for s in (Surface.GREEN, Surface.FAIRWAY))
    land = _turned(flown.landings[..., 0:2], flown.turn[:, None])
    ends = Ends(land, np.zeros_like(land), np.zeros_like(land))
    return Bounces(flown, (green, fairway), turf_rows(world, draws), ends)


def _turned(points: Floats, turn: Floats) -> Floats:
    """Points turned about the ball, counter-clockwise."""
    cos, sin = np.cos(turn), np.sin(turn)
    x, y = points[..., 0], points[..., 1]
    return np.stack([cos * x - sin * y, sin * x + cos * y], axis=-1)
