"""Which owned shots may be played from a lie, and why not the others."""

from collections.abc import Sequence

from carrybook.decision.advice import Situation
from carrybook.player.bag import Flight, Shot
from carrybook.player.summary import ShotSummary
from carrybook.world.lie import Lie

__all__ = ["allowed_from", "why_not"]

_LEAST_LOFT_IN_DEEP_ROUGH = 0.80  # rad, 46 deg; ours


def allowed_from(
    summaries: Sequence[ShotSummary], situation: Situation
) -> tuple[list[ShotSummary], list[str]]:
    """Part shots into those that may be played from here and, of the others, why not.

    Parameters
    ----------
    summaries : sequence of ShotSummary
        The shots the player owns.
    situation : Situation
        Where the ball lies.

    Returns
    -------
    allowed : list of ShotSummary
        In their order.
    left_out : list of str
        A line for each of the others.
    """
    allowed, left_out = [], []
    for summary in summaries:
        reason = why_not(summary.shot, situation.lie)
        if reason:
            left_out.append(f"{summary.shot.label}: {reason}")
        else:
            allowed.append(summary)
    return allowed, left_out


def why_not(shot: Shot, lie: Lie) -> str:
    """Why a shot is not for this lie, or for competition; empty where it is. The lie is ours."""
    if not shot.trusted:
        return "you do not trust it in competition"
    if lie is Lie.DEEP_ROUGH:
        if shot.flight is Flight.LOW:
            return "a low flight does not get out of deep rough"
        if shot.club.loft_rad < _LEAST_LOFT_IN_DEEP_ROUGH:
            return "deep rough takes more loft than it has"
    return ""
