"""Balls of this week against the weeks before: a note, never a limit."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

__all__ = ["MANY_A_WEEK", "Load", "weekly_load"]

# golf-injury-summary: more than 200 balls a week went with clearly more injuries, mostly among
# amateurs: an association, not a limit.
MANY_A_WEEK = 200
_JUMP = 1.5  # ours: a week that is so much more than usual is worth a word
_WEEKS = 4


@dataclass(frozen=True, slots=True)
class Load:
    """Balls of a player by week.

    Parameters
    ----------
    this_week : int
        Struck in the last seven days.
    before : tuple of int
        In each of the four weeks before, the newest first.
    planned : int
        In the session that is planned.
    """

    this_week: int
    before: tuple[int, ...]
    planned: int

    @property
    def usual(self) -> float:
        """Mean of the four weeks before. [balls]"""
        return sum(self.before) / len(self.before)

    @property
    def week(self) -> int:
        """Balls of this week with the session. [balls]"""
        return self.this_week + self.planned

    @property
    def jumps(self) -> bool:
        """Whether the week is much more than usual; not said where nothing is known of before."""
        return self.usual > 0.0 and self.week > _JUMP * self.usual

    @property
    def many(self) -> bool:
        """Whether it is more than went with more injuries."""
        return self.week > MANY_A_WEEK


def weekly_load(struck: Sequence[datetime], now: datetime, planned: int) -> Load:
    """Count balls by week.

    Parameters
    ----------
    struck : sequence of datetime
        When each ball was struck, with or without its zone; balls without a time are not known of.
    now : datetime
        Now, with its zone.
    planned : int
        Balls of the session.
    """
    week = timedelta(days=7)
    ages = [now - (at if at.tzinfo else at.replace(tzinfo=now.tzinfo)) for at in struck]
    by_week = [sum(k * week <= age < (k + 1) * week for age in ages) for k in range(1 + _WEEKS)]
    return Load(by_week[0], tuple(by_week[1:]), planned)
