"""Recorded shots as JSON, SI."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from carrybook.app.json_views.base import Json
from carrybook.player.round_shots import Facts, PlayedRound, RoundShot

if TYPE_CHECKING:
    from carrybook.app.services.round_shots import Recorded
    from carrybook.store.round_shots import PouredIn

__all__ = ["poured_view", "recorded_view", "round_shot_part", "round_shots_view"]


def recorded_view(recorded: "Recorded") -> Json:
    """Give what `round shot` answers."""
    return {"number_in_round": recorded.number, "shot": round_shot_part(recorded.shot)}


def round_shots_view(rounds: Sequence[PlayedRound]) -> Json:
    """Give what `round shots` answers."""
    return {
        "rounds": [
            {
                "round": each.number,
                "begun": each.round.begun,
                "ended": each.round.ended,
                "setting": each.round.setting,
                "note": each.round.note,
                "shots": [round_shot_part(shot) for shot in each.shots],
            }
            for each in rounds
        ]
    }


def poured_view(poured: "PouredIn", name: str) -> Json:
    """Give what `round import` answers."""
    return {
        "file": name,
        "rounds_added": poured.rounds,
        "shots_added": poured.shots,
        "already_there": poured.known,
    }


def round_shot_part(shot: RoundShot) -> Json:
    """Give one shot; null where nothing was said."""
    return {
        "hole": shot.hole,
        "known": _facts(shot.known),
        "true": _facts(shot.true),
        "hole_location": shot.hole_location,
        "green_deep_m": shot.green_deep_m,
        "stimp_m": shot.stimp_m,
        "temperature_k": shot.temperature_k,
        "shot": shot.shot,
        "intended_m": shot.intended_m,
        "aim_right_m": shot.aim_right_m,
        "called_m": shot.called_m,
        "landing_past_m": shot.landing_past_m,
        "landing_right_m": shot.landing_right_m,
        "finish": shot.finish,
        "finish_m": shot.finish_m,
        "finish_past_m": shot.finish_past_m,
        "finish_right_m": shot.finish_right_m,
        "putts": shot.putts,
        "strokes_after": shot.others,
        "penalties": shot.penalties,
        "strokes": shot.strokes,
        "at": shot.at and shot.at.isoformat(),
        "note": shot.note,
    }


def _facts(facts: Facts) -> Json:
    return {
        "number_m": facts.number_m,
        "wind_mps": facts.wind_mps,
        "wind_from_rad": facts.wind_from_rad,
        "lie": facts.lie,
        "moisture": facts.moisture,
        "firmness_g": facts.firmness_g,
    }
