"""The card as JSON: what was printed, what was found on a file."""

from typing import TYPE_CHECKING

from carrybook.app.json_views.base import RULES_NOTE, Json, air_part

if TYPE_CHECKING:
    from carrybook.app.services.card import PrintedCard
    from carrybook.artefacts.card_check import CardCheck
    from carrybook.player.strips import Adjustment, ShotPartials, ShotStrip

__all__ = ["card_view", "checked_view"]


def card_view(printed: "PrintedCard") -> Json:
    """Give what `card` printed."""
    content = printed.content
    return {
        "file": str(printed.path),
        "profile": printed.profile,
        "layout": printed.layout,
        "pages": printed.pages,
        "title": content.title,
        "air": air_part(content.air),
        "partials": [_partials(shot) for shot in content.partials],
        "strips": [_strip(strip) for strip in content.strips],
        "plans": [
            {"hole": a.situation.hole.ref, "shot": a.options[0].summary.shot.label}
            for a in content.advices
        ],
        "rules_note": RULES_NOTE,
    }


def checked_view(check: "CardCheck") -> Json:
    """Give what `card --check` found."""
    return {
        "profile": check.profile,
        "holds": check.holds,
        "findings": [
            {"what": f.what, "limit": f.limit, "found": f.found, "holds": f.holds}
            for f in check.findings
        ],
    }


def _partials(shot: "ShotPartials") -> Json:
    return {
        "shot": shot.summary.shot.label,
        "carries": [
            {"carry_m": p.carry_m, "feel_m": p.feel_m, "spread_m": p.spread_m}
            for p in shot.partials
            if p is not None
        ],
    }


def _strip(strip: "ShotStrip") -> Json:
    return {"shot": strip.summary.shot.label, "facts": [_fact(a) for a in strip.adjustments]}


def _fact(a: "Adjustment") -> Json:
    return {
        "fact": a.fact.kind,
        "amount": a.fact.amount,
        "carry_m": a.carry_m,
        "carry_low_m": a.carry_low_m,
        "carry_high_m": a.carry_high_m,
        "drift_right_m": a.drift_right_m,
        "drift_low_m": a.drift_low_m,
        "drift_high_m": a.drift_high_m,
    }
