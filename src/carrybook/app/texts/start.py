"""A started book in words."""

from math import tan
from typing import TYPE_CHECKING

from carrybook.app.texts.base import table
from carrybook.artefacts import words as w

if TYPE_CHECKING:
    from carrybook.app.services.start import Start

__all__ = ["start_text"]


def start_text(start: "Start", units: str) -> str:
    """Show the first bag, with what in it is a guess."""
    u = w.units_named(units)
    head = ("shot", f"stock {u.far}", "", f"partials {u.far}", "", "scatter", "")
    rows = [
        (
            w.one_line(shot.label),
            w.whole(shot.stock_carry_m, u),
            str(shot.carry_source),
            f"{w.whole(shot.shortest_m, u)} to {w.whole(shot.longest_m, u)}",
            str(shot.partials_source),
            f"+-{scatter.spread * shot.stock_carry_m / u.far_m:.0f} {u.far} deep,"
            f" +-{tan(scatter.side_rad) * shot.stock_carry_m / u.far_m:.0f} {u.far} wide",
            "prior",
        )
        for shot, scatter in zip(start.shots, start.scatter, strict=True)
    ]
    hand = "left" if start.player.left_handed else "right"
    better = "+" if start.player.handicap < 0.0 else ""
    level = f"{better}{abs(start.player.handicap):g}"
    return "\n".join(
        (
            f"{start.path}: handicap {level}, {start.player.table}'s table, {hand}-handed",
            *([table([head, *rows])] if rows else []),
            "prior: a guess until you say or log it. Scatter holds two balls of three, mishits not"
            " counted.",
            "next: carrybook balls log, or carrybook balls import FILE; change with carrybook shots"
            " edit",
        )
    )
