"""Practice as JSON."""

from typing import TYPE_CHECKING

from carrybook.app.json_views.base import RULES_NOTE, Json

if TYPE_CHECKING:
    from carrybook.app.services.practise import Planned
    from carrybook.app.services.practise_run import Now
    from carrybook.decision.practise.history import History, Struck
    from carrybook.decision.practise.leak import Leak
    from carrybook.decision.practise.parts import PlannedBall, Step
    from carrybook.decision.practise.running import Target
    from carrybook.decision.practise.scoring import Mean, Scored, Summary
    from carrybook.decision.practise.standing import Change, Result, StandingTest

__all__ = ["history_view", "now_view", "practise_plan_view"]


def practise_plan_view(planned: "Planned") -> Json:
    """Give what `practise plan` and `practise test` answer."""
    from carrybook.artefacts.practice_words import CAUTIONS

    plan, load = planned.plan, planned.load
    return {
        "aim": plan.aim,
        "balls": plan.balls,
        "minutes": plan.minutes,
        "struck": plan.count,
        "takes_min": plan.takes_min,
        "seed": plan.seed,
        "demand": plan.leaks.demand.source,
        "baseline": plan.leaks.baseline.words,
        "leaks": [_leak(k) for k in plan.leaks.rows],
        "unreached": [{"target_m": f.distance_m, "lie": f.lie} for f in plan.leaks.unreached],
        "steps": [_step(s) for s in plan.steps],
        "standing_test": plan.standing and _standing(plan.standing),
        "load": {
            "this_week": load.this_week,
            "four_weeks_before": list(load.before),
            "usual": load.usual,
            "week_with_session": load.week,
            "jumps": load.jumps,
            "many": load.many,
        },
        "cautions": list(CAUTIONS),
        "rules_note": RULES_NOTE,
    }


def now_view(now: "Now") -> Json:
    """Give what `status`, `hit`, `undo` and `end` answer; no scores while a round is on."""
    p = now.practice
    result = p.result() if now.judged else None
    return {
        "aim": p.aim,
        "standing_test": p.standing and _standing(p.standing),
        "begun": p.begun,
        "ended": p.ended,
        "done": p.done,
        "targets": len(p.targets),
        "judged": now.judged,
        "said": [_target(t, judged=now.judged) for t in now.hits],
        "next": _target(p.next, judged=now.judged) if p.next and not p.ended else None,
        "kinds": {k: _summary(s) for k, s in p.summaries().items()} if now.judged else {},
        "result": result and _result(result),
    }


def history_view(found: "History") -> Json:
    """Give what `practise history` answers."""
    return {
        "sessions": [_struck(s) for s in found.sessions],
        "tests": [
            {
                "begun": t.begun,
                "result": _result(t.result),
                "since_first": t.since_first and _change(t.since_first),
                "since_last": t.since_last and _change(t.since_last),
            }
            for t in found.tests
        ],
    }


def _leak(k: "Leak") -> Json:
    return {
        "target_m": k.faced.distance_m,
        "lie": k.faced.lie,
        "times": k.faced.times,
        "shot": k.play.shot,
        "feel_m": k.play.feel_m,
        "balls": k.balls,
        "strokes": k.strokes,
        "base_strokes": k.base_strokes,
        "loss": k.loss,
        "unsure": k.unsure,
        "leaked": k.leaked,
        "closer": k.closer,
        "worth": k.worth,
        "told": k.told,
    }


def _step(s: "Step") -> Json:
    return {
        "kind": s.kind,
        "minutes": s.minutes,
        "warm_up": [{"shot": shot, "feel_m": m, "balls": n} for shot, m, n in s.warm_up],
        "balls": [_planned(b) for b in s.balls],
    }


def _planned(b: "PlannedBall") -> Json:
    return {
        "kind": b.kind,
        "target_m": b.target_m,
        "lie": b.lie,
        "shot": b.play.shot,
        "cue": b.play.cue,
        "feel_m": b.play.feel_m,
    }


def _target(t: "Target", *, judged: bool) -> Json:
    scored = t.scored if judged else None
    planned = _planned(t.planned) if judged else {"target_m": t.planned.target_m}
    return {
        "place": t.place,
        **planned,
        "skipped": t.skipped,
        "called_m": t.ball and t.ball.called_m,
        "carry_m": t.ball and t.ball.carry_m,
        "side_m": t.ball and t.ball.side_m,
        "scored": scored and _scored(scored),
    }


def _scored(s: "Scored") -> Json:
    return {
        "long_m": s.long_m,
        "percent": s.percent,
        "strokes": s.strokes,
        "own_percent": s.own_percent,
        "own_strokes": s.own_strokes,
        "base_percent": s.base_percent,
        "base_strokes": s.base_strokes,
        "called_off_m": s.called_off_m,
    }


def _summary(s: "Summary") -> Json:
    return {
        "balls": s.balls,
        "with_side": s.with_side,
        "percent": _mean(s.percent),
        "own_percent": s.own_percent,
        "base_percent": s.base_percent,
        "over_own": _mean(s.over_own),
        "over_base": _mean(s.over_base),
        "long_percent": _mean(s.long),
        "called_m": s.called and _mean(s.called),
        "calls": s.calls,
    }


def _mean(m: "Mean") -> Json:
    return {"mean": m.mean, "se": m.se}


def _struck(s: "Struck") -> Json:
    return {
        "begun": s.begun,
        "aim": s.aim,
        "done": s.done,
        "planned": s.planned,
        "kinds": {k: _summary(v) for k, v in s.kinds.items()},
    }


def _standing(t: "StandingTest") -> Json:
    from carrybook.decision.practise.standing import smallest_change

    return {
        "targets_m": list(t.targets_m),
        "each": t.each,
        "smallest_change": smallest_change(t.balls),
    }


def _result(r: "Result") -> Json:
    return {"percent": r.percent, "low": r.low, "high": r.high, "balls": r.balls, "side": r.side}


def _change(c: "Change") -> Json:
    return {
        "ratio": c.ratio,
        "low": c.low,
        "high": c.high,
        "smallest_change": c.smallest,
        "chance_closer": c.chance,
        "real": c.real,
    }
