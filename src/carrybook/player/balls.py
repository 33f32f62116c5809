"""One logged strike, in SI. Whatever was not measured is None: nothing is filled in here."""

from dataclasses import dataclass
from datetime import datetime
from math import pi

from carrybook.base import constants as c
from carrybook.base.errors import require_range
from carrybook.world.air import Air
from carrybook.world.lie import Lie, Moisture

__all__ = ["BELIEVABLE", "Ball"]

# What a logged ball can be: field, what it is called, low, high, unit of the message, SI per unit.
BELIEVABLE: tuple[tuple[str, str, float, float, str, float], ...] = (
    ("intended_m", "intended carry", 3.0, 330.0, "yd", c.YARD),
    ("called_m", "called carry", 3.0, 330.0, "yd", c.YARD),
    ("carry_m", "carry", 0.5, 380.0, "yd", c.YARD),
    ("total_m", "total", 0.0, 440.0, "yd", c.YARD),
    ("side_m", "side", -110.0, 110.0, "yd", c.YARD),
    ("ball_speed_mps", "ball speed", 5.0, 200.0, "mph", c.MILE_PER_HOUR),
    ("club_speed_mps", "club speed", 5.0, 150.0, "mph", c.MILE_PER_HOUR),
    ("launch_rad", "launch angle", -5.0, 75.0, "deg", pi / 180.0),
    ("start_line_rad", "start line", -45.0, 45.0, "deg", pi / 180.0),
    ("attack_rad", "attack angle", -20.0, 15.0, "deg", pi / 180.0),
    ("spin_rad_s", "spin", 0.0, 16_000.0, "rpm", c.RPM),
    ("spin_axis_rad", "spin axis", -60.0, 60.0, "deg", pi / 180.0),
    ("wind_speed_mps", "wind speed", 0.0, 67.0, "mph", c.MILE_PER_HOUR),
    ("wind_from_rad", "wind direction", -360.0, 360.0, "deg", pi / 180.0),
    ("rise_m", "rise", -330.0, 330.0, "ft", c.FOOT),
)
# Of these, what says how the ball was struck or flew; the rest was meant, or is weather or ground.
_OF_THE_DAY = frozenset({"wind_speed_mps", "wind_from_rad", "rise_m"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Ball:
    """One logged ball.

    Parameters
    ----------
    shot : str
        Label of the shot it was meant to be.
    at : datetime, optional
        When it was struck, with its time zone where known.
    intended_m : float, optional
        Carry the player meant to feel, on the player's own scale. [m]
    called_m : float, optional
        Carry the player called before seeing it. [m]
    carry_m, total_m : float, optional
        Measured carry, and carry with bounce and roll. [m]
    side_m : float, optional
        Where it landed beside the line, right positive. [m]
    ball_speed_mps, club_speed_mps : float, optional
        Speed of ball and club at impact. [m/s]
    launch_rad, start_line_rad, attack_rad : float, optional
        Launch angle; start line, right positive; attack angle, down negative. [rad]
    spin_rad_s, spin_axis_rad : float, optional
        Spin rate, and axis tilt, right positive. [rad/s], [rad]
    air : Air, optional
        The air it flew through; none means not known.
    lie, moisture : Lie, Moisture
        Where it lay and how wet it was.
    setting : str
        "range", "practice green", "course" or "competition"; empty where not said.
    ball_model, note : str
        As the player wrote them.
    effort : str
        The swing that was meant, in the player's own words; empty where felt carry says it.
    called_first : bool, optional
        Whether the call was in the book before the measured number; none means not known.
    wind_speed_mps, wind_from_rad : float, optional
        Wind at 10 m, and where it came from: 0 into, pi/2 from the right. [m/s], [rad]
    rise_m : float, optional
        Height of the landing above the ball. [m]

    Raises
    ------
    OutOfRangeError
        A number that no struck ball has.
    """

    shot: str
    at: datetime | None = None
    intended_m: float | None = None
    called_m: float | None = None
    carry_m: float | None = None
    total_m: float | None = None
    side_m: float | None = None
    ball_speed_mps: float | None = None
    club_speed_mps: float | None = None
    launch_rad: float | None = None
    start_line_rad: float | None = None
    attack_rad: float | None = None
    spin_rad_s: float | None = None
    spin_axis_rad: float | None = None
    air: Air | None = None
    lie: Lie = Lie.FAIRWAY
    moisture: Moisture = Moisture.DRY
    setting: str = ""
    ball_model: str = ""
    note: str = ""
    effort: str = ""
    called_first: bool | None = None
    wind_speed_mps: float | None = None
    wind_from_rad: float | None = None
    rise_m: float | None = None

    def __post_init__(self) -> None:
        for name, called, low, high, unit, si in BELIEVABLE:
            value = getattr(self, name)
            if value is not None and not low <= value / si <= high:
                require_range(called, value / si, low, high, unit)

    def measured(self) -> dict[str, float]:
        """The numbers this ball has, by field name; wind and rise are not the ball's."""
        numbers = (name for name, *_ in BELIEVABLE if name not in _OF_THE_DAY)
        return {n: v for n in numbers if (v := getattr(self, n)) is not None}
