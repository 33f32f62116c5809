"""What was learnt, how it checks, and feel against real, as JSON."""

from collections.abc import Sequence
from math import isfinite
from typing import TYPE_CHECKING

from carrybook.app.json_views.base import Json

if TYPE_CHECKING:
    from carrybook.app.services.learn import LearnReport
    from carrybook.base.numerics import Floats
    from carrybook.player.learn.check import Coverage
    from carrybook.player.learn.feel import Feel, FeelGap
    from carrybook.player.summary import ShotSummary
    from carrybook.store.learnt import StoredLearnt

__all__ = ["coverage_view", "feel_view", "learnt_view", "state_view"]


def state_view(state: "StoredLearnt | None") -> Json:
    """Say what an answer rests on: as learnt, or the log as it stands."""
    if state is None:
        return {"used": False, "method": None, "at": None, "fresh": None}
    return {
        "used": state.fresh,
        "method": state.learnt.method,
        "at": state.at.isoformat(),
        "fresh": state.fresh,
    }


def learnt_view(report: "LearnReport") -> Json:
    """Give what `learn` answers."""
    learnt, d = report.learnt, report.learnt.diagnostics
    effects = {k: _interval(v) for k, v in learnt.draws.items() if v.ndim == 1 and k != "day"}
    return {
        "method": learnt.method,
        "balls": sum(learnt.balls),
        "shots": [_shot(s) for s in report.summaries],
        "effects": {name.replace(" ", "_"): value for name, value in effects.items()},
        "diagnostics": d
        and {
            "chains": d.chains,
            "draws": d.draws,
            "r_hat": d.r_hat,
            "effective": d.effective,
            "divergences": d.divergences,
            "worst": d.worst,
        },
    }


def coverage_view(rows: "Sequence[Coverage]") -> Json:
    """Give what `learn --check` answers."""
    return {
        "coverage": [
            {"what": r.what, "balls": r.balls, "in_50": a, "in_80": b, "in_90": c}
            for r in rows
            for a, b, c in (r.inside,)
        ]
    }


def feel_view(feel: "Feel") -> Json:
    """Give what `feel` answers."""
    return {
        "called_less_measured": [_gap(g) for g in (*feel.called, *feel.called_bands)],
        "intended_less_called": [_gap(g) for g in (*feel.intended, *feel.intended_bands)],
        "trust": [
            {
                "shot": t.label,
                "balls": t.balls,
                "explained": t.explained,
                "low": t.low,
                "high": t.high,
                "weight": t.weight,
            }
            for t in feel.trust
        ],
        "weeks": [
            {
                "monday": w.monday.isoformat(),
                "balls": w.balls,
                "middle": w.middle,
                "low": w.low,
                "high": w.high,
            }
            for w in feel.weeks
        ],
    }


def _shot(s: "ShotSummary") -> Json:
    return {
        "shot": s.shot.label,
        "balls": s.balls,
        "days": s.days,
        "not_flown": s.not_flown,
        "reference_m": s.stock_m,
        "reference_se_m": s.stock_se_m,
        "slope": s.bias_slope,
        "spread": s.spread,
        "spread_growth": s.spread_growth,
        "side_rad": s.side_rad,
        "side_bias_rad": s.side_bias_rad,
        "correlation": s.correlation,
        "launch_rad": s.launch_rad,
        "spin_per_speed": s.spin_per_speed,
        "launch_measured": s.launch_measured,
    }


def _interval(draws: "Floats") -> Json:
    import numpy as np

    low, high = np.quantile(draws, (0.05, 0.95))
    return {"middle": float(draws.mean()), "low": float(low), "high": float(high)}


def _gap(g: "FeelGap") -> Json:
    return {
        "shot": g.label,
        "from_m": g.from_m,
        "to_m": g.to_m if isfinite(g.to_m) else None,
        "balls": g.balls,
        "middle": g.middle,
        "low": g.low,
        "high": g.high,
    }
