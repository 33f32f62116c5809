"""A session as it is struck: what comes next, what is done, how it scores by order."""

from collections.abc import Iterable
from dataclasses import dataclass

from carrybook.decision.practise.kinds import Aim, Kind
from carrybook.decision.practise.parts import PlannedBall
from carrybook.decision.practise.scoring import Scored, Summary, score, summarise
from carrybook.decision.practise.standing import FEWEST, Result, StandingTest, result_of
from carrybook.player.balls import Ball
from carrybook.player.occasion import Occasion

__all__ = ["Practice", "Target"]


@dataclass(frozen=True, slots=True)
class Target:
    """A planned ball, and the ball of the log that was struck at it.

    Parameters
    ----------
    key, place : int
        Of the target in the book; its place in the order, from 1.
    planned : PlannedBall
        What was planned.
    skipped : bool
        Whether it was left out.
    ball_key : int, optional
        Key of its ball; none until one is called or struck.
    ball : Ball, optional
        The ball.
    """

    key: int
    place: int
    planned: PlannedBall
    skipped: bool = False
    ball_key: int | None = None
    ball: Ball | None = None

    @property
    def measured(self) -> bool:
        """Whether it is known what became of its ball."""
        ball = self.ball
        return ball is not None and (ball.carry_m is not None or ball.total_m is not None)

    @property
    def called(self) -> bool:
        """Whether it was called and is not measured yet."""
        return self.ball is not None and not self.measured

    @property
    def done(self) -> bool:
        """Whether nothing more is to be said of it."""
        return self.skipped or self.measured

    @property
    def scored(self) -> Scored | None:
        """What its ball was worth; none without a measured carry."""
        ball, planned = self.ball, self.planned
        if ball is None or ball.carry_m is None:
            return None
        return score(
            planned.target_m, ball.carry_m, ball.side_m,
            own=planned.play.own, base=planned.base, called_m=ball.called_m,
        )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Practice:
    """A session in the book.

    Parameters
    ----------
    key : int
        Of the session in the book.
    aim : Aim
        What it is for.
    baseline : str
        Whom it is measured against, in words.
    warm_up : tuple of (str, float, int)
        Shot, felt carry and balls of its warm-up. [-], [m], [1]
    targets : tuple of Target
        In order.
    occasion : Occasion
        Air, setting and ball; when it was planned, until it begins.
    seed : int
        Where its order comes from.
    minutes : float
        What was planned. [min]
    begun, ended : str, optional
        ISO 8601 with its offset.
    standing : StandingTest, optional
        The test that it is.
    standing_key : int, optional
        Key of the test.
    block_run, random_run : int, optional
        Keys of its two sessions of the log.
    """

    key: int
    aim: Aim
    baseline: str
    warm_up: tuple[tuple[str, float, int], ...]
    targets: tuple[Target, ...]
    occasion: Occasion
    seed: int
    minutes: float
    begun: str | None = None
    ended: str | None = None
    standing: StandingTest | None = None
    standing_key: int | None = None
    block_run: int | None = None
    random_run: int | None = None

    @property
    def next(self) -> Target | None:
        """The target that is to be struck, or called and not measured; none where all is done."""
        return next((t for t in self.targets if not t.done), None)

    @property
    def last(self) -> Target | None:
        """The target that something was said of last."""
        return next((t for t in reversed(self.targets) if t.skipped or t.ball is not None), None)

    @property
    def done(self) -> int:
        """Targets of which nothing more is to be said."""
        return sum(t.done for t in self.targets)

    def summaries(self) -> dict[Kind, Summary]:
        """How the balls did, by their order; never taken together."""
        found = {}
        for kind in (Kind.BLOCK, Kind.RANDOM, Kind.TEST):
            of_kind = summarise(_scored(t for t in self.targets if t.planned.kind is kind))
            if of_kind is not None:
                found[kind] = of_kind
        return found

    def result(self) -> Result | None:
        """Score of a standing test, once the fewest balls of one are measured; none before.

        Notes
        -----
        With the side only where every ball has one: else all count by carry alone.
        """
        if self.standing is None:
            return None
        scored = _scored(self.targets)
        if len(scored) < FEWEST:
            return None
        side = all(s.side_m is not None for s in scored)
        percents = [s.percent if side else 100.0 * abs(s.long_m) / s.target_m for s in scored]
        return result_of(percents, side=side)


def _scored(targets: Iterable[Target]) -> list[Scored]:
    return [s for t in targets if (s := t.scored) is not None]
