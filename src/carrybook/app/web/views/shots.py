"""Owned shots as rows of words, and as the answers that would make them again."""

from collections.abc import Iterable
from dataclasses import dataclass
from math import degrees, expm1
from urllib.parse import urlencode

from carrybook.artefacts.numbers_text import rests_on
from carrybook.artefacts.words import Units, one_line, tenths_below_ten, whole
from carrybook.player.bag import Shot
from carrybook.player.summary import ShotSummary

__all__ = ["ShotRow", "shot_answers", "shot_rows"]

_SURE = 2.0  # standard errors from which a feel is told as such; ours


@dataclass(frozen=True, slots=True)
class ShotRow:
    """One shot: what the player says, and what the log says."""

    name: str
    link: str
    loft: str
    says: str
    carry: str
    centre: str
    one_ball: str
    side: str
    partials: str
    feel: str
    cue: str
    trusted: bool
    rests_on: str
    days: int


def shot_rows(summaries: Iterable[ShotSummary], units: Units) -> tuple[ShotRow, ...]:
    """Put shots into words, the longest first."""
    ordered = sorted(summaries, key=lambda s: s.stock_m, reverse=True)
    return tuple(_row(s, units) for s in ordered)


def _row(s: ShotSummary, units: Units) -> ShotRow:
    shot = s.shot
    return ShotRow(
        name=one_line(shot.label),
        link="/book/shot?" + urlencode({"name": shot.label}),
        loft=f"{degrees(shot.club.loft_rad):.4g}°",
        says=whole(shot.stock_carry_m, units),
        carry=whole(s.stock_m, units),
        centre=f"± {tenths_below_ten(s.stock_se_m / units.far_m)}",
        one_ball=f"± {max(1, round(s.spread * s.stock_m / units.far_m))}",
        side=f"± {degrees(s.side_rad):.1f}°",
        partials=f"{whole(shot.shortest_m, units)} to {whole(shot.longest_m, units)}",
        feel=_feel(s),
        cue=shot.cue,
        trusted=shot.trusted,
        rests_on=rests_on(s.balls),
        days=s.days,
    )


def _feel(s: ShotSummary) -> str:
    """What feel and carry differ by, where the log can tell."""
    share = 100.0 * expm1(s.bias)
    if s.balls == 0:
        return "no balls yet: feel is taken at its word"
    if abs(s.bias) < _SURE * s.bias_se:
        return "feel and carry agree as far as the log can tell"
    does = "further" if share > 0.0 else "shorter"
    return f"it carries {abs(share):.0f} % {does} than it feels (± {100.0 * s.bias_se:.0f} %)"


def shot_answers(shot: Shot, units: Units) -> dict[str, str]:
    """What would be typed to put the shot into the book again."""
    unit = units.far

    def told(metres: float) -> str:
        return f"{metres / units.far_m:.4g}{unit}"

    return {
        "club": shot.club.label,
        "loft": f"{degrees(shot.club.loft_rad):.4g}deg",
        "carry": told(shot.stock_carry_m),
        "flight": shot.flight.value,
        "shape": shot.shape.value,
        "partials": f"{told(shot.shortest_m)}..{told(shot.longest_m)}",
        "cue": shot.cue,
        "trusted": "trusted" if shot.trusted else "not yet",
    }
