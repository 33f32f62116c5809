"""Today's numbers: what every owned shot carries in this air, from this lie."""

from dataclasses import dataclass

from carrybook.player.summary import ShotSummary

__all__ = ["TodayNumber"]


@dataclass(frozen=True, slots=True)
class TodayNumber:
    """One shot's carry on the reference day and today.

    Parameters
    ----------
    summary : ShotSummary
        What the log says of the shot.
    reference_m, today_m : float
        Carry at stock feel on the reference day and today, level and calm. [m]
    today_low_m, today_high_m : float
        Today's carry with the low and high end of the lift-and-drag band and of the lie. [m]
    centre_se_m : float
        Standard error of the centre. [m]
    spread_m : float
        Standard deviation of a single ball around the centre, today. [m]
    """

    summary: ShotSummary
    reference_m: float
    today_m: float
    today_low_m: float
    today_high_m: float
    centre_se_m: float
    spread_m: float
