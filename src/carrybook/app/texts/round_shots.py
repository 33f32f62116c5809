"""Recorded shots in words: facts only, nothing is worked out of them."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from carrybook.app.services.rounds import spoken
from carrybook.app.texts.base import counted, table
from carrybook.artefacts import words as w
from carrybook.player.round_shots import PlayedRound, Rest, RoundShot
from carrybook.player.rounds import Round

if TYPE_CHECKING:
    from carrybook.app.services.round_shots import Recorded
    from carrybook.store.round_shots import PouredIn

__all__ = [
    "begun_words",
    "played_words",
    "poured_text",
    "recorded_text",
    "round_shots_text",
    "shot_words",
]


def recorded_text(recorded: "Recorded", units: str) -> str:
    """Say what was recorded."""
    return f"recorded, shot {recorded.number} of the round: {shot_words(recorded.shot, units)}"


def shot_words(shot: RoundShot, units: str) -> str:
    """Say one shot in a line."""
    return f"hole {shot.hole}, {played_words(shot, units)}"


def played_words(shot: RoundShot, units: str) -> str:
    """Say one shot, but not which hole it was on."""
    u = w.units_named(units)
    meant = "" if shot.intended_m is None else f", meant {w.distance(shot.intended_m, u)}"
    return (
        f"{w.distance(shot.number_m, u)} {shot.lie}, with the {w.one_line(shot.shot)}{meant},"
        f" {_finish(shot, u)}, {counted(shot.strokes, 'stroke')}"
    )


def round_shots_text(rounds: Sequence[PlayedRound], units: str) -> str:
    """List the shots, round by round."""
    if not any(each.shots for each in rounds):
        return (
            "no shots of a round yet; record one like: carrybook round shot"
            ' "4 88yd fairway, with 54 meant 84, finish 12ft green, putts 2"'
        )
    return "\n\n".join(_one_round(each, w.units_named(units)) for each in rounds)


def begun_words(played: Round) -> str:
    """Say when a round began, whether it counted, and its note."""
    notes = ", ".join(w.one_line(text) for text in (played.setting, played.note) if text)
    return f"{spoken(played.begun)}{f' ({notes})' if notes else ''}"


def poured_text(poured: "PouredIn", name: str) -> str:
    """Say what a file added."""
    known = f"; {poured.known} were there already" if poured.known else ""
    return (
        f"{w.one_line(name)}: added {counted(poured.shots, 'shot')} of"
        f" {counted(poured.rounds, 'new round')}{known}"
    )


def _one_round(each: PlayedRound, u: w.Units) -> str:
    head = f"round {each.number}, {begun_words(each.round)}"
    names = (
        "hole",
        f"number {u.far}",
        "lie",
        "shot",
        f"meant {u.far}",
        "landed",
        "finish",
        "strokes",
    )
    rows = [names, *(_row(shot, u) for shot in each.shots)]
    return f"{head}\n{table(rows)}"


def _row(shot: RoundShot, u: w.Units) -> tuple[str, ...]:
    landed = "" if shot.landing_m is None else w.short_or_past(-shot.landing_m[0], u)
    return (
        str(shot.hole), w.whole(shot.number_m, u), f"{shot.lie}{_wet(shot)}",
        w.one_line(shot.shot), "" if shot.intended_m is None else w.whole(shot.intended_m, u),
        landed, _finish(shot, u), str(shot.strokes),
    )  # fmt: skip


def _wet(shot: RoundShot) -> str:
    return "" if shot.known.moisture in (None, "dry") else f", {shot.known.moisture}"


def _finish(shot: RoundShot, u: w.Units) -> str:
    if shot.finish is Rest.HOLED:
        return "holed"
    return f"{w.short_distance(shot.finish_m, u)} {shot.finish}"
