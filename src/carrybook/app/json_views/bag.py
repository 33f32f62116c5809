"""Which wedges to carry, as JSON."""

from math import degrees
from typing import TYPE_CHECKING

from carrybook.app.json_views.base import RULES_NOTE, Json, air_part

if TYPE_CHECKING:
    from carrybook.app.services.bag import Changes, Tried
    from carrybook.decision.bag_fit.bags import Saving
    from carrybook.decision.bag_fit.gaps import BagGaps
    from carrybook.decision.bag_fit.greens import Greens
    from carrybook.decision.bag_fit.options import BagFit, BagOption, Taken
    from carrybook.decision.demand import Demand
    from carrybook.player.learn.feel import FeelGap

__all__ = ["bag_fit_view", "bag_gaps_view", "bag_tryout_view", "bag_whatif_view"]


def bag_fit_view(fit: "BagFit") -> Json:
    """Give what `bag fit` answers."""
    advised = fit.advised
    return {
        **_faced(fit.demand, fit.greens),
        "carried": None if fit.carried is None else _bag(fit.carried),
        "advised": _bag(advised),
        "keep_what_you_have": advised is fit.carried,
        "options": [_bag(option) for option in fit.options],
        "best": fit.best,
        "bags_compared": fit.bags,
        "alike_lofts_deg": [[degrees(low), degrees(high)] for low, high in fit.alike],
        "draws": fit.draws,
        "seed": fit.seed,
        "doubts": list(fit.doubts),
        "rules_note": RULES_NOTE,
    }


def bag_gaps_view(gaps: "BagGaps") -> Json:
    """Give what `bag gaps` answers."""
    return {
        **_faced(gaps.demand, gaps.greens),
        "clubs": [
            {
                "club": c.wedge.label,
                "loft_deg": degrees(c.wedge.loft_rad),
                "full_m": c.full_m,
                "full_se_m": c.full_se_m,
                "gap_m": c.gap_m,
                "gap_se_m": c.gap_se_m,
                "share": c.share,
                "saves": _saving(c.saves),
            }
            for c in gaps.clubs
        ],
        "places": [
            {
                "distance_m": p.place.distance_m,
                "lie": p.place.lie.value,
                "moisture": p.place.moisture.value,
                "where": gaps.greens.where_of(p.place) or None,
                **_played(p.taken),
                "next_club": p.next_club,
                "next_behind": p.next_behind,
                "behind_made_for": _saving(p.behind),
                "made_for": p.made_for,
            }
            for p in gaps.places
        ],
        "draws": gaps.draws,
        "seed": gaps.seed,
        "doubts": list(gaps.doubts),
        "rules_note": RULES_NOTE,
    }


def bag_whatif_view(found: "Changes") -> Json:
    """Give what `bag whatif` answers."""
    return {
        **_faced(found.demand, found.greens),
        "changes": [
            {
                "change": worth.change.name,
                "club": worth.change.club or None,
                "loft_deg": degrees(worth.change.loft_rad) if worth.change.club else None,
                "spin_factor": worth.change.spin,
                "greens": [
                    {"firmness_g": firmness, "saves": _saving(saves)}
                    for firmness, saves in zip(worth.firmness_g, worth.saves, strict=True)
                ],
            }
            for worth in found.worths
        ],
        "draws": found.draws,
        "doubts": list(found.doubts),
        "rules_note": RULES_NOTE,
    }


def bag_tryout_view(tried: "Tried") -> Json:
    """Give what `bag tryout` answers."""
    answer, shot = tried.answer, tried.answer.tried
    return {
        **_faced(answer.demand, answer.greens),
        "shot": shot.shot.label,
        "cue": shot.shot.cue or None,
        "trusted": shot.shot.trusted,
        "balls": shot.balls,
        "said_m": shot.shot.stock_carry_m,
        "measured_m": shot.stock_m,
        "measured_se_m": shot.stock_se_m,
        "spread": shot.spread,
        "side_deg": degrees(shot.side_rad),
        "launch_deg": degrees(shot.launch_rad),
        "spin_per_speed": shot.spin_per_speed,
        "launch_measured": shot.launch_measured,
        "called": _felt_gap(tried.called),
        "intended": _felt_gap(tried.intended),
        "without": answer.without,
        "with": answer.with_it,
        "saves": _saving(answer.saves),
        "share": answer.share,
        "instead_of": list(answer.instead_of),
        "verdict": answer.verdict.value,
        "more_balls": answer.more_balls,
        "draws": answer.draws,
        "seed": answer.seed,
        "doubts": list(tried.doubts),
        "rules_note": RULES_NOTE,
    }


def _faced(demand: "Demand", greens: "Greens") -> Json:
    shares = demand.shares.tolist()
    return {
        "demand": {
            "source": demand.source,
            "places": [
                {
                    "distance_m": p.distance_m,
                    "lie": p.lie.value,
                    "moisture": p.moisture.value,
                    "firmness_g": p.firmness_g or greens.firmness_g,
                    "green": p.green,
                    "where": greens.where_of(p) or None,
                    "share": share,
                }
                for p, share in zip(demand.shots, shares, strict=True)
            ],
        },
        "air": air_part(greens.air),
        "wind": {"speed_mps": greens.wind.speed_mps, "from_deg": degrees(greens.wind.from_rad)},
        "stimp_m": greens.stimp_m,
    }


def _bag(option: "BagOption") -> Json:
    return {
        "wedges": [
            {
                "club": w.label,
                "loft_deg": degrees(w.loft_rad),
                "owned": w.owned,
                "full_m": w.full_m,
                "shots": [s.shot.label for s in w.shots],
            }
            for w in option.wedges
        ],
        "new": option.new,
        "strokes": option.strokes,
        "saves": None if option.saving is None else _saving(option.saving),
        "taken": [_played(t) for t in option.taken],
    }


def _played(taken: "Taken") -> Json:
    return {
        "club": taken.club, "shot": taken.shot, "feel_m": taken.feel_m, "strokes": taken.strokes,
        "unsure": taken.unsure,
    }  # fmt: skip


def _saving(saving: "Saving") -> Json:
    low, high = saving.interval
    return {
        "strokes": saving.strokes,
        "noise": saving.noise,
        "unsure": saving.unsure,
        "low": low,
        "high": high,
        "is_real": saving.is_real,
    }


def _felt_gap(gap: "FeelGap | None") -> Json | None:
    if gap is None:
        return None
    return {"middle": gap.middle, "low": gap.low, "high": gap.high, "balls": gap.balls}
