"""What an answer rests on that is not well known, in words."""

from carrybook.decision.advice import Option, Situation
from carrybook.player.bag import Shape

__all__ = ["SHORT_PARTIAL", "doubts_of"]

# Ours: when a log is short, a curve or a firmness a guess, a partial short of its stock carry, a
# wind strong, and a tendency worth saying.
_FEW_BALLS = 20
_FEW_CURVES = 10
_GUESSED_FIRMNESS_G = 8.0
SHORT_PARTIAL = 0.75
_STRONG_WIND = 9.0  # m/s
_SIDE_BIAS_WORTH_SAYING = 0.008  # rad


def doubts_of(situation: Situation, best: Option, tie_broken: bool) -> tuple[str, ...]:
    """Say what the first option rests on that is not well known.

    Parameters
    ----------
    situation : Situation
        What was asked.
    best : Option
        The first option.
    tie_broken : bool
        Whether simplicity put it first.
    """
    doubts = []
    if tie_broken:
        doubts.append("the first options do not separate; the simpler swing was put first")
    summary = best.summary
    label, shot = summary.shot.label, summary.shot
    if summary.balls < _FEW_BALLS:
        doubts.append(f"{label} rests on few balls; its carry and scatter lean on a prior")
    if summary.not_flown:
        doubts.append(
            f"{summary.not_flown} logged carries of {label} fit no flight and do not count"
        )
    if not summary.launch_measured:
        doubts.append(f"launch and spin of {label} come from its loft, not from measured balls")
    if shot.shape is not Shape.STRAIGHT and summary.curve.balls < _FEW_CURVES:
        doubts.append(
            f"how far {label} curves is mostly a guess; balls with spin axis, or start line and"
            " side, would show it"
        )
    if best.feel_m < SHORT_PARTIAL * shot.stock_carry_m:
        doubts.append("so short a partial is taken to launch and spin as the full swing does")
    if abs(summary.side_bias_rad) > _SIDE_BIAS_WORTH_SAYING:
        side = "right" if summary.side_bias_rad > 0.0 else "left"
        doubts.append(f"your {label} tends to the {side}; the start line allows for that")
    doubts += best.warnings
    if situation.wind.speed_mps > _STRONG_WIND:
        doubts.append("so strong a wind is beyond what lift and drag were measured for")
    if situation.firmness_sd_g >= _GUESSED_FIRMNESS_G:
        doubts.append("firmness is a guess; watch one ball land and the run is known far better")
    if not situation.hole.heights_known:
        doubts.append("no heights for this hole: the green counts as level")
    doubts.extend(situation.hole.notes)
    doubts.append("putts, and strokes off the green, are a tour player's, not yours")
    return tuple(doubts)
