"""Owned shots in words."""

from collections.abc import Sequence
from math import degrees

from carrybook.app.texts.base import table
from carrybook.artefacts import words as w
from carrybook.player.bag import Shot

__all__ = ["shot_text", "shots_text"]


def shot_text(shot: Shot, units: str) -> str:
    """One shot in one line."""
    u = w.units_named(units)
    shortest, longest = w.whole(shot.shortest_m, u), w.whole(shot.longest_m, u)
    return (
        f"{w.one_line(shot.label)}: {w.distance(shot.stock_carry_m, u)} stock,"
        f" {shortest} to {longest} {u.far} felt"
    )


def shots_text(shots: Sequence[Shot], units: str) -> str:
    """Tabulate the bag."""
    u = w.units_named(units)
    rows = (
        (
            w.one_line(shot.label),
            f"{degrees(shot.club.loft_rad):.4g}",
            w.whole(shot.stock_carry_m, u),
            f"{w.whole(shot.shortest_m, u)} to {w.whole(shot.longest_m, u)}",
            "" if shot.trusted else "no",
            w.one_line(shot.cue),
        )
        for shot in shots
    )
    head = ("shot", "loft deg", f"stock {u.far}", f"partials {u.far}", "trusted", "cue")
    return table([head, *rows])
