"""What practice came to: sessions in order, and each standing test against those before it."""

from collections.abc import Sequence
from dataclasses import dataclass

from carrybook.decision.practise.kinds import Kind
from carrybook.decision.practise.running import Practice
from carrybook.decision.practise.scoring import Summary
from carrybook.decision.practise.standing import Change, Result, change_between

__all__ = ["History", "Retest", "Struck", "history_of"]


@dataclass(frozen=True, slots=True)
class Struck:
    """A session that was begun.

    Parameters
    ----------
    begun : str
        When: ISO 8601 with its offset.
    aim : str
        What it was for; "standing test" for one.
    done, planned : int
        Balls struck or skipped, of how many.
    kinds : dict of Kind to Summary
        How its balls did, by their order.
    """

    begun: str
    aim: str
    done: int
    planned: int
    kinds: dict[Kind, Summary]


@dataclass(frozen=True, slots=True)
class Retest:
    """A standing test that was struck in full.

    Parameters
    ----------
    begun : str
        When: ISO 8601 with its offset.
    result : Result
        Its score.
    since_first, since_last : Change, optional
        Against the first and the last before it of the same test; none where there is none.
    """

    begun: str
    result: Result
    since_first: Change | None
    since_last: Change | None


@dataclass(frozen=True, slots=True)
class History:
    """Sessions and tests, the oldest first; tests are those of the newest standing test."""

    sessions: tuple[Struck, ...]
    tests: tuple[Retest, ...]


def history_of(practices: Sequence[Practice]) -> History:
    """Look back.

    Parameters
    ----------
    practices : sequence of Practice
        Sessions that were begun, the oldest first.

    Notes
    -----
    Only tests of the same distances are compared, with the side or without it as the newest has it.
    """
    struck = tuple(
        Struck(
            begun=p.begun or "",
            aim="standing test" if p.standing else p.aim.value,
            done=p.done,
            planned=len(p.targets),
            kinds=p.summaries(),
        )
        for p in practices
    )
    return History(struck, tuple(_tests(practices)))


def _tests(practices: Sequence[Practice]) -> list[Retest]:
    found = [(p, r) for p in practices if (r := p.result()) is not None]
    if not found:
        return []
    newest, its = found[-1]
    alike = [
        (p.begun or "", r)
        for p, r in found
        if p.standing_key == newest.standing_key and r.side == its.side
    ]
    return [
        Retest(
            begun=begun,
            result=result,
            since_first=change_between(alike[0][1], result) if k else None,
            since_last=change_between(alike[k - 1][1], result) if k else None,
        )
        for k, (begun, result) in enumerate(alike)
    ]
