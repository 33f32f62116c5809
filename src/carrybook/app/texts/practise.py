"""Practice in words."""

from collections.abc import Iterator
from datetime import datetime
from typing import TYPE_CHECKING

from carrybook.app.texts.base import counted, table
from carrybook.artefacts import words as w
from carrybook.artefacts.practice_words import (
    CAUTIONS,
    ball_words,
    cues,
    load_words,
    step_words,
    warm_up_words,
)

if TYPE_CHECKING:
    from carrybook.app.services.practise import Planned
    from carrybook.app.services.practise_run import Now
    from carrybook.decision.practise.history import History, Retest, Struck
    from carrybook.decision.practise.leak import Leak
    from carrybook.decision.practise.parts import Plan
    from carrybook.decision.practise.running import Practice, Target
    from carrybook.decision.practise.scoring import Mean, Scored, Summary
    from carrybook.decision.practise.standing import Change, Result, StandingTest

__all__ = [
    "change_words",
    "history_text",
    "hit_words",
    "now_text",
    "plan_text",
    "result_words",
    "scored_words",
    "summary_text",
    "target_words",
]

_MOST_ROWS = 10
_RUN = "It is kept as the next session: carrybook practise run"
_NOTHING = 0.001  # strokes a round below which nothing is there to win; ours
_LOOKS = (
    "An unchanged player looks better than luck allows in one comparison of forty: struck monthly,"
    " once in about three years."
)


def plan_text(planned: "Planned", units: str) -> str:
    """Say where strokes leak, the session, and how it stands to the weeks before."""
    return "\n".join(_plan_lines(planned, w.units_named(units)))


def now_text(now: "Now", units: str) -> str:
    """Say how far a session is, and what comes next."""
    return "\n".join(_now_lines(now, w.units_named(units)))


def target_words(target: "Target", u: w.Units, *, judged: bool = True) -> str:
    """Say a target: "ball 12, random: 76 yd: 56 low, feel 75; light rough"."""
    planned = target.planned
    if not judged:  # a round is on: no club is named
        return f"ball {target.place}, {planned.kind}: {w.distance(planned.target_m, u)}"
    cue = w.one_line(planned.play.cue)
    said = f"ball {target.place}, {planned.kind}: {ball_words(planned, u)}"
    return f'{said}\n  cue "{cue}"' if cue else said


def hit_words(t: "Target", u: w.Units, *, judged: bool = True) -> str:
    """Say what became of a ball."""
    if t.skipped:
        return f"ball {t.place} skipped"
    if t.ball is None:
        return f"ball {t.place} is to be struck again"
    if t.called:
        called = (
            "no call" if t.ball.called_m is None else f"called {w.distance(t.ball.called_m, u)}"
        )
        return f"ball {t.place}: {called}; now look, and say what it was: got 68 3R"
    scored = t.scored
    if scored is None or not judged:
        return f"ball {t.place} logged"
    return f"ball {t.place}: {scored_words(scored, u)}"


def scored_words(s: "Scored", u: w.Units) -> str:
    """Say what a ball was worth, with the call."""
    depth = "pin high" if round(abs(s.long_m) / u.far_m) == 0 else (
        f"{w.whole(abs(s.long_m), u)} {u.far} {'long' if s.long_m > 0.0 else 'short'}"
    )  # fmt: skip
    side = "" if s.side_m is None else f", {w.sideways(s.side_m, u)}"
    call = ""
    if s.called_off_m is not None:
        off = w.whole(abs(s.called_off_m), u)
        way = "over" if s.called_off_m > 0.0 else "under"
        call = "; call right" if off == "0" else f"; call {off} {u.far} {way}"
    return (
        f"{depth}{side}: {s.percent:.1f} %; {s.strokes:.2f} strokes (your book {s.own_strokes:.2f},"
        f" baseline {s.base_strokes:.2f}){call}"
    )


def summary_text(p: "Practice", u: w.Units) -> str:
    """How the balls of a session did, by their order."""
    rows = [_summary_row(kind, s, u) for kind, s in p.summaries().items()]
    if not rows:
        return "no ball measured yet"
    head = ("", "balls", "miss %", "book %", "over your book", "over baseline", "long %", "call")
    lines = [table([head, *rows]), f"baseline: {p.baseline}; strokes a ball, on the plain green"]
    result = p.result()
    if result is not None:
        lines.append(f"standing test: {result_words(result)}")
    return "\n".join(lines)


def result_words(r: "Result") -> str:
    """Say a score with its interval: "7.1 % (5.4 to 9.3), 27 balls, depth and side"."""
    what = "depth and side" if r.side else "carry alone"
    return f"{r.percent:.1f} % ({r.low:.1f} to {r.high:.1f}), {counted(r.balls, 'ball')}, {what}"


def change_words(c: "Change") -> str:
    """Say whether a change is more than luck."""
    size = f"{abs(1.0 - c.ratio):.0%} {'closer' if c.ratio < 1.0 else 'wider'}"
    verdict = "more than luck" if c.real else "may well be luck"
    return (
        f"{size}, {verdict} (smallest real change {c.smallest:.0%});"
        f" chance that you are truly closer {c.chance:.0%}"
    )


def history_text(found: "History", units: str) -> str:
    """Say what practice came to."""
    return "\n".join(_history_lines(found, w.units_named(units)))


def _plan_lines(planned: "Planned", u: w.Units) -> Iterator[str]:
    plan = planned.plan
    what = "standing test" if plan.standing else f"practise, {plan.aim}"
    yield f"{what}: {plan.count} balls in {plan.takes_min:.0f} minutes"
    if plan.standing is None:
        yield from _leak_lines(plan, u)
    else:
        yield from _test_lines(plan.standing)
    yield ""
    rows = [("min", "", "")]
    rows += [(f"{s.minutes:.0f}", s.kind.value, step_words(s, u)) for s in plan.steps]
    yield table(rows)
    yield ""
    yield from (f'cue {shot}: "{cue}"' for shot, cue in cues(plan))
    yield from load_words(planned.load)
    yield from CAUTIONS
    yield _RUN


def _leak_lines(plan: "Plan", u: w.Units) -> Iterator[str]:
    found = plan.leaks
    yield f"faced: {found.demand.source}"
    yield f"baseline: {found.baseline.words}"
    yield ""
    head = (
        "target",
        "lie",
        "a round",
        "shot",
        "strokes",
        "baseline",
        "lost",
        "leaks a round",
        "worth a round",
    )
    yield table([head, *(_leak_row(k, u) for k in found.rows[:_MOST_ROWS])])
    left = len(found.rows) - _MOST_ROWS
    if left > 0:
        yield f"and {left} more, worth less"
    yield (
        "strokes are on a plain round green with the carry error as the finish: they rank your"
        " shots; a score they are not"
    )
    yield "worth: the leak, and what a tenth less scatter of your own would save"
    if sum(k.leaked for k in found.rows) < _NOTHING:
        yield "you scatter less than this baseline everywhere: nothing leaks against it"
    for faced in found.unreached:
        yield f"no shot of yours for {w.distance(faced.distance_m, u)}, {faced.lie}"


def _leak_row(k: "Leak", u: w.Units) -> tuple[str, ...]:
    return (
        w.distance(k.faced.distance_m, u),
        str(k.faced.lie),
        f"{k.faced.times:.1f}",
        k.play.shot,
        f"{k.strokes:.2f}",
        f"{k.base_strokes:.2f}",
        w.difference(k.loss, k.unsure),
        f"{k.leaked:.3f}",
        f"{k.worth:.3f}",
    )


def _test_lines(standing: "StandingTest") -> Iterator[str]:
    from carrybook.decision.practise.standing import smallest_change

    n = standing.balls
    yield (
        f"{n} random balls, the same distances each time; a later score that is less than"
        f" {smallest_change(n):.0%} closer may well be luck"
    )


def _now_lines(now: "Now", u: w.Units) -> Iterator[str]:
    p = now.practice
    yield from (hit_words(t, u, judged=now.judged) for t in now.hits)
    what = "standing test" if p.standing else f"session, {p.aim}"
    state = "ended" if p.ended else "on" if p.begun else "planned"
    yield f"{what}: {state}, {p.done} of {len(p.targets)} balls"
    if p.begun is None:
        yield f"warm-up: {warm_up_words(p.warm_up, u)}"
    coming = None if p.ended else p.next
    if coming is not None:
        yield f"next: {target_words(coming, u, judged=now.judged)}"
    elif not p.ended:
        yield "all are struck; end it: carrybook practise end"
    if not now.judged:
        yield "a round is on: balls are only recorded, nothing is judged (Rule 4.3a)"
    elif p.begun is not None:
        yield summary_text(p, u)


def _summary_row(kind: str, s: "Summary", u: w.Units) -> tuple[str, ...]:
    called = ""
    if s.called is not None:
        called = f"{_mean(s.called, 1.0 / u.far_m, 1)} {u.far}"
    return (
        kind,
        str(s.balls),
        _mean(s.percent, 1.0, 1).lstrip("+"),
        f"{s.own_percent:.1f}",
        _mean(s.over_own, 1.0, 2),
        _mean(s.over_base, 1.0, 2),
        _mean(s.long, 1.0, 1),
        called,
    )


def _mean(m: "Mean", times: float, digits: int) -> str:
    error = "" if m.se is None else f" +- {m.se * times:.{digits}f}"
    return f"{m.mean * times:+.{digits}f}{error}"


def _history_lines(found: "History", u: w.Units) -> Iterator[str]:
    head = ("begun", "", "balls", "blocks: miss %", "random: miss %", "random, over your book")
    yield table([head, *(_struck_row(s) for s in found.sessions)])
    if not found.tests:
        yield "no standing test struck in full yet: carrybook practise test"
        return
    yield ""
    yield "standing tests:"
    for test in found.tests:
        yield from _retest_lines(test)
    yield _LOOKS


def _struck_row(s: "Struck") -> tuple[str, ...]:
    from carrybook.decision.practise.kinds import Kind

    block = s.kinds.get(Kind.BLOCK)
    free = s.kinds.get(Kind.TEST) or s.kinds.get(Kind.RANDOM)
    return (
        _day(s.begun),
        s.aim,
        f"{s.done} of {s.planned}",
        _mean(block.percent, 1.0, 1).lstrip("+") if block else "",
        _mean(free.percent, 1.0, 1).lstrip("+") if free else "",
        _mean(free.over_own, 1.0, 2) if free else "",
    )


def _retest_lines(test: "Retest") -> Iterator[str]:
    yield f"{_day(test.begun)}: {result_words(test.result)}"
    if test.since_last is not None and test.since_last != test.since_first:
        yield f"  against the one before: {change_words(test.since_last)}"
    if test.since_first is not None:
        yield f"  against the first: {change_words(test.since_first)}"


def _day(begun: str) -> str:
    return f"{datetime.fromisoformat(begun):%Y-%m-%d %H:%M}"
