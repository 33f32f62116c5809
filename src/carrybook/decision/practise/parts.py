"""A session as it is planned: its balls, its parts, and the whole."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from carrybook.decision.practise.kinds import Aim, Kind
from carrybook.decision.practise.leak import Leaks, Play
from carrybook.decision.practise.standing import StandingTest
from carrybook.player.level import Scatter
from carrybook.world.lie import Lie

__all__ = ["Plan", "PlannedBall", "Practised", "Step"]

Practised = Mapping[tuple[str, int], int]  # balls struck by shot and distance in whole metres


@dataclass(frozen=True, slots=True)
class PlannedBall:
    """One ball to strike.

    Parameters
    ----------
    kind : Kind
        Block, random or test.
    target_m : float
        Distance of the target. [m]
    lie : Lie
        What it is struck from.
    play : Play
        Shot, cue, what to feel, the player's own scatter.
    base : Scatter
        Scatter of the baseline there.
    """

    kind: Kind
    target_m: float
    lie: Lie
    play: Play
    base: Scatter


@dataclass(frozen=True, slots=True)
class Step:
    """A part of a session.

    Parameters
    ----------
    kind : Kind
        What it is.
    minutes : float
        How long it takes. [min]
    balls : tuple of PlannedBall
        Balls that are logged.
    warm_up : tuple of (str, float, int)
        Shot, felt carry and number of balls of a warm-up, which are not logged. [-], [m], [1]
    """

    kind: Kind
    minutes: float
    balls: tuple[PlannedBall, ...] = ()
    warm_up: tuple[tuple[str, float, int], ...] = ()

    @property
    def count(self) -> int:
        """Balls struck, those of a warm-up too."""
        return len(self.balls) + sum(n for *_, n in self.warm_up)


@dataclass(frozen=True, slots=True)
class Plan:
    """A session.

    Parameters
    ----------
    aim : Aim
        What it is for.
    balls, minutes : int, float
        What there is room for. [1], [min]
    steps : tuple of Step
        In order.
    leaks : Leaks
        Where strokes leak, which it is built on.
    seed : int
        Where its order comes from.
    standing : StandingTest, optional
        The test that it is.
    practised : mapping of (str, int) to int
        Balls struck in blocks before it was planned, by shot and distance in whole metres.
    """

    aim: Aim
    balls: int
    minutes: float
    steps: tuple[Step, ...]
    leaks: Leaks
    seed: int
    standing: StandingTest | None = None
    practised: Practised = field(default_factory=dict)

    @property
    def struck(self) -> tuple[PlannedBall, ...]:
        """Balls that are logged, in order."""
        return tuple(ball for step in self.steps for ball in step.balls)

    @property
    def count(self) -> int:
        """Balls struck, the warm-up too."""
        return sum(step.count for step in self.steps)

    @property
    def takes_min(self) -> float:
        """How long it takes. [min]"""
        return sum(step.minutes for step in self.steps)
