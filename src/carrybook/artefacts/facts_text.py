"""Which fact would change a choice, and what to find out first, in words."""

from collections.abc import Iterator
from math import degrees

from carrybook.artefacts import words as w
from carrybook.base.constants import FOOT
from carrybook.decision.advice import Advice, Fact, Flip

__all__ = ["find_out_lines", "flip_lines"]

_LEAST = 0.005  # strokes; ours: worth less than that, nobody should walk a step for it
_BEARING = 10  # degrees; the draws behind a fact fix its bearing to about 8
_LOOK = {
    Fact.FIRMNESS: "how firm the green is: watch a ball land, press a foot into the apron",
    Fact.WIND: "how strong the wind is up there: treetops, flags, clouds",
    Fact.DIRECTION: "where the wind comes from",
    Fact.GREEN_SPEED: "how fast the green is",
    Fact.LIE: "the lie: how much grass and water is between face and ball",
}


def flip_lines(advice: Advice, u: w.Units) -> Iterator[str]:
    """Say which fact would change the shot, and at what value.

    Parameters
    ----------
    advice : Advice
        The answer.
    u : Units
        How lengths and speeds are shown.
    """
    for flip in advice.flips:
        yield f"{_if(flip, u)}: the {w.one_line(flip.instead)} instead"


def find_out_lines(advice: Advice) -> Iterator[str]:
    """Say what is worth finding out first, and what it would save.

    Parameters
    ----------
    advice : Advice
        The answer.
    """
    unit = "strokes" if advice.at_most is None else "of the chance"
    for worth in advice.worths:
        if worth.strokes >= max(_LEAST, 2.0 * worth.error):
            saved = f"{worth.strokes:.2f} {w.standard_error(worth.error)}"
            yield f"{_LOOK[worth.fact]} (worth {saved} {unit})"


def _if(flip: Flip, u: w.Units) -> str:
    more = flip.deviation > 0.0
    over = "over" if more else "under"
    match flip.fact:
        case Fact.FIRMNESS:
            than = "firmer" if more else "softer"
            name = w.firmness_words(flip.value)
            return f"if the green is {than} than {flip.value:.0f} g ({name})"
        case Fact.WIND:
            return f"if the wind is {over} {w.speed(flip.value, u)}"
        case Fact.DIRECTION:
            turned = round(degrees(flip.value) / _BEARING) * _BEARING % 360
            side = "clockwise" if more else "the other way"
            return f"if the wind comes from {turned} degrees, or further {side}"
        case Fact.GREEN_SPEED:
            return f"if the green runs {over} {flip.value / FOOT:.1f} ft"
        case Fact.LIE:
            than = "more" if more else "less"
            return f"if it comes out with {than} than {100.0 * flip.value:.0f} % of its dry spin"
