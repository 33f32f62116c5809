"""Owned shots in words."""

from collections.abc import Sequence
from math import degrees

from carrybook.app.texts.base import table
from carrybook.artefacts import words as w
from carrybook.player.bag import Shot, Source

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
            _known(shot),
            "" if shot.trusted else "no",
            w.one_line(shot.cue),
            ", ".join(f"{w.one_line(e.name)} {w.whole(e.carry_m, u)}" for e in shot.efforts),
        )
        for shot in shots
    )
    numbers = ("loft deg", f"stock {u.far}", f"partials {u.far}")
    head = ("shot", *numbers, "not said", "trusted", "cue", f"swings {u.far}")
    return table([head, *rows])


def _known(shot: Shot) -> str:
    """Name the numbers that the player did not say: priors, and what was measured."""
    sources = (
        ("loft", shot.club.loft_source),
        ("stock", shot.carry_source),
        ("partials", shot.partials_source),
    )
    by_source = {
        source: [name for name, its_own in sources if its_own is source]
        for source in (Source.PRIOR, Source.MEASURED)
    }
    return "; ".join(f"{s}: {', '.join(names)}" for s, names in by_source.items() if names)
