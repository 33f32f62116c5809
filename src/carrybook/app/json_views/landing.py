"""A ball that comes down, and a firmness that was learnt, as JSON."""

from typing import TYPE_CHECKING

from carrybook.app.json_views.base import Json

if TYPE_CHECKING:
    from carrybook.outcomes.firmness import FirmnessUpdate
    from carrybook.outcomes.landing import Landed

__all__ = ["firmness_view", "landed_view"]


def landed_view(landed: "Landed") -> Json:
    """Give what `land` answers."""
    low, middle, high = landed.run_quantiles_m
    left, _, right = landed.side_quantiles_m
    return {
        "first_bounce_m": landed.first_bounce_m,
        "run_m": landed.run_m,
        "side_m": landed.side_m,
        "bounces": landed.bounces,
        "time_s": landed.time_s,
        "run_p10_m": low,
        "run_p50_m": middle,
        "run_p90_m": high,
        "side_p10_m": left,
        "side_p90_m": right,
        "firmness_g": landed.patch.firmness_g,
        "firmness_sd_g": landed.patch.firmness_sd_g,
    }


def firmness_view(learnt: "FirmnessUpdate") -> Json:
    """Give what `firmness` answers."""
    before, before_sd = learnt.before_g
    after, after_sd = learnt.after_g
    low, middle, high = learnt.friction
    return {
        "firmness_g": after,
        "firmness_sd_g": after_sd,
        "before_g": before,
        "before_sd_g": before_sd,
        "friction": middle,
        "friction_low": low,
        "friction_high": high,
        "seen": [ball.words for ball in learnt.seen],
        "odd": list(learnt.odd),
        "grid_g": learnt.grid_g.tolist(),
        "prior": learnt.prior.tolist(),
        "posterior": learnt.posterior.tolist(),
    }
