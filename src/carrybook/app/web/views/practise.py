"""Practice as rows of words."""

from dataclasses import dataclass
from datetime import datetime
from itertools import islice
from typing import TYPE_CHECKING

from carrybook.app.texts.practise import change_words, result_words, scored_words
from carrybook.artefacts.practice_words import step_words
from carrybook.artefacts.words import Units, difference, one_line, whole

if TYPE_CHECKING:
    from carrybook.decision.practise.history import History
    from carrybook.decision.practise.parts import Plan
    from carrybook.decision.practise.running import Practice, Target
    from carrybook.decision.practise.scoring import Mean

__all__ = [
    "LeakRow",
    "Struck",
    "SummaryRow",
    "TestRow",
    "Told",
    "balls_told",
    "coming",
    "leak_rows",
    "step_rows",
    "struck_rows",
    "summary_rows",
    "test_rows",
]

_LAST = 8
_LEAKS = 8


@dataclass(frozen=True, slots=True)
class Struck:
    """A target and what became of its ball; words that advise are empty while a round is on."""

    place: int
    kind: str
    target: str
    shot: str
    feel: str
    lie: str
    cue: str
    called: str
    carry: str
    became: str


@dataclass(frozen=True, slots=True)
class Told:
    """A ball of a session as a script shows it while nobody answers, and how it stands."""

    place: int
    kind: str
    what: str
    feel: str
    lie: str
    cue: str
    start: str
    called: str
    done: bool


@dataclass(frozen=True, slots=True)
class SummaryRow:
    """Balls of one order."""

    kind: str
    balls: str
    percent: str
    book: str
    over_own: str
    over_base: str


@dataclass(frozen=True, slots=True)
class LeakRow:
    """What one kind of shot costs."""

    what: str
    shot: str
    lost: str
    worth: str


@dataclass(frozen=True, slots=True)
class TestRow:
    """A standing test against those before it."""

    when: str
    score: str
    since_last: str
    since_first: str


def coming(t: "Target", u: Units, *, judged: bool) -> Struck:
    """Put a target into words."""
    planned, ball, scored = t.planned, t.ball, t.scored
    became = "skipped" if t.skipped else ""
    if scored is not None and judged:
        became = scored_words(scored, u)

    def length(metres: float | None) -> str:
        return "–" if metres is None else whole(metres, u)

    return Struck(
        place=t.place,
        kind=planned.kind.value,
        target=whole(planned.target_m, u),
        shot=one_line(planned.play.shot) if judged else "",
        feel=whole(planned.play.feel_m, u) if judged else "",
        lie=str(planned.lie),
        cue=one_line(planned.play.cue) if judged else "",
        called=length(None if ball is None else ball.called_m),
        carry=length(None if ball is None else ball.carry_m),
        became=became,
    )


def balls_told(p: "Practice", u: Units, *, judged: bool) -> tuple[Told, ...]:
    """Every ball of a session; `called` is empty where it was not called yet."""
    rows = ((t, coming(t, u, judged=judged)) for t in p.targets)
    return tuple(
        Told(
            place=row.place,
            kind=row.kind,
            what=f"{row.target} {u.far}",
            feel=_feel_words(row),
            lie=row.lie,
            cue=row.cue,
            start=row.target,
            called=row.called if t.called else "",
            done=t.done,
        )
        for t, row in rows
    )


def _feel_words(row: Struck) -> str:
    """What to play and to feel; empty where that is not said."""
    return f"with the {row.shot}, feel {row.feel}" if row.shot else ""


def struck_rows(p: "Practice", u: Units) -> tuple[Struck, ...]:
    """The last balls, the newest first."""
    done = (coming(t, u, judged=True) for t in reversed(p.targets) if t.done)
    return tuple(islice(done, _LAST))


def summary_rows(p: "Practice", u: Units) -> tuple[SummaryRow, ...]:
    """How the balls did, by their order."""
    return tuple(
        SummaryRow(
            kind=kind.value,
            balls=str(s.balls),
            percent=_mean(s.percent, 1),
            book=f"{s.own_percent:.1f}",
            over_own=_mean(s.over_own, 2, signed=True),
            over_base=_mean(s.over_base, 2, signed=True),
        )
        for kind, s in p.summaries().items()
    )


def leak_rows(plan: "Plan", u: Units) -> tuple[LeakRow, ...]:
    """Where strokes leak, the worthiest first."""
    return tuple(
        LeakRow(
            what=f"{whole(k.faced.distance_m, u)} {u.far}, {k.faced.lie}",
            shot=one_line(k.play.shot),
            lost=difference(k.loss, k.unsure),
            worth=f"{k.worth:.3f}",
        )
        for k in plan.leaks.rows[:_LEAKS]
    )


def step_rows(plan: "Plan", u: Units) -> tuple[tuple[str, str, str], ...]:
    """Minutes, kind and words of each part."""
    return tuple((f"{s.minutes:.0f}", s.kind.value, step_words(s, u)) for s in plan.steps)


def test_rows(found: "History") -> tuple[tuple[tuple[str, ...], ...], tuple[TestRow, ...]]:
    """Sessions, and standing tests, the newest first."""
    sessions = tuple(
        (_day(s.begun), s.aim, f"{s.done} of {s.planned}",
         "; ".join(f"{kind} {_mean(v.percent, 1)} %" for kind, v in s.kinds.items()))
        for s in reversed(found.sessions)
    )  # fmt: skip
    tests = tuple(
        TestRow(
            when=_day(t.begun),
            score=result_words(t.result),
            since_last="" if t.since_last is None else change_words(t.since_last),
            since_first="" if t.since_first is None else change_words(t.since_first),
        )
        for t in reversed(found.tests)
    )
    return sessions, tests


def _mean(m: "Mean", digits: int, *, signed: bool = False) -> str:
    error = "" if m.se is None else f" ± {_no_less(m.se, digits)}"
    return f"{m.mean:{'+' if signed else ''}.{digits}f}{error}"


def _no_less(error: float, digits: int) -> str:
    least = 10.0**-digits
    return f"{error:.{digits}f}" if error >= 0.5 * least else f"under {least:.{digits}f}"


def _day(begun: str) -> str:
    return f"{datetime.fromisoformat(begun):%d %b %Y %H:%M}"
