"""What `choose` is asked and what it answers, as frozen values in SI."""

from dataclasses import dataclass, field

from carrybook.base.constants import FOOT
from carrybook.base.errors import require_range
from carrybook.base.numerics import Floats
from carrybook.decision.parts import Cause, Fact, Flip, Leave, Trouble, Worth
from carrybook.player.summary import ShotSummary
from carrybook.world.air import REFERENCE_DAY, Air
from carrybook.world.firmness import TurfKind
from carrybook.world.hole import Hole, HoleLocation
from carrybook.world.lie import Lie, Moisture
from carrybook.world.wind import CALM, Wind

__all__ = [
    "Advice", "Cause", "Fact", "Flip", "Leave", "Option", "Situation", "Trouble", "Worth",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Situation:
    """One approach shot: where the ball lies, where the hole is cut, and the day.

    Parameters
    ----------
    hole : Hole
        The hole in its own axes.
    location : HoleLocation
        Where the hole is cut.
    ball_x, ball_y : float
        Where the ball lies, in the axes of the hole. [m]
    lie, moisture : Lie, Moisture
        What it sits on and how wet it is.
    air : Air
        The air it will fly through.
    wind : Wind
        Relative to the line from ball to hole.
    firmness_g : float
        Firmness of the green, 40 to 160. [Clegg gravities, 0.5 kg hammer]
    firmness_sd_g : float
        How unsure that is: standard deviation, 0 to 40. [Clegg gravities]
    stimp_m : float
        Green speed, 1.2 to 5.5. [m]
    kind : TurfKind
        Whether the green grips; while nobody knows, friction is unsurest.

    Raises
    ------
    OutOfRangeError
        A quantity is outside its range.
    """

    hole: Hole
    location: HoleLocation
    ball_x: float
    ball_y: float
    lie: Lie = Lie.FAIRWAY
    moisture: Moisture = Moisture.DRY
    air: Air = REFERENCE_DAY
    wind: Wind = CALM
    firmness_g: float = 90.0
    firmness_sd_g: float = 10.0
    stimp_m: float = 10.0 * FOOT
    kind: TurfKind = TurfKind.UNKNOWN

    def __post_init__(self) -> None:
        require_range("firmness", self.firmness_g, 40.0, 160.0, "g")
        require_range("uncertainty of the firmness", self.firmness_sd_g, 0.0, 40.0, "g")
        require_range("green speed", self.stimp_m / FOOT, 4.0, 18.0, "ft")

    @property
    def number_m(self) -> float:
        """Distance from the ball to the hole over the ground. [m]"""
        dx, dy = self.location.x - self.ball_x, self.location.y - self.ball_y
        return float((dx * dx + dy * dy) ** 0.5)


@dataclass(frozen=True, slots=True)
class Option:
    """One shot, where to land it and where to start it, and what comes of it.

    Distances are over the ground; "right" is as the player sees it from behind the ball.

    Parameters
    ----------
    summary : ShotSummary
        The shot and what the log says of it.
    landing_m : float
        Distance from ball to landing spot: the carry wanted today. [m]
    landing_x, landing_y : float
        Landing spot in the axes of the hole. [m]
    landing_to_hole_m : float
        Hole depth minus landing depth along the line: positive lands short of the hole. [m]
    landing_right_m : float
        Landing spot right of the line from ball to hole. [m]
    start_right_rad : float
        Start line right of the line from ball to hole, the player's usual miss allowed for. [rad]
    aim_right_m : float
        Where that start line passes the hole: right of it. [m]
    playing_m : float
        Carry on the reference day of the swing that is needed: the playing number. [m]
    feel_m : float
        What to feel, on the player's own scale. [m]
    apex_m, time_s, descent_rad, landing_spin_rad_s : float
        Height above the ball, time in the air, descent angle, spin at landing. [m, s, rad, rad/s]
    run_m, run_low_m, run_high_m : float
        Run after the first touch along the line, median and 10 % / 90 %; negative comes back. [m]
    strokes, strokes_se : float
        Expected strokes to hole out from fresh draws, and standard error. [1]
    behind : float
        Expected strokes more than the first option, on the same draws, or so much less chance where
        a number of strokes was asked for; 0 for the first. [1]
    behind_se : float
        Standard error of that paired difference. [1]
    close_call : bool
        The difference does not separate from the first, or is too small to matter.
    near_m, far_m : float
        50 % and 90 % of all balls finish within this distance of the hole. [m]
    green, holed : float
        Share of balls that finish on the green (or in the hole), and in the hole. [1]
    troubles : dict of Trouble to float
        Share of balls by kind of trouble; only kinds that occur. [1]
    curve_right_m : float
        Where the middle ball lands beside its start line, right positive: shape and wind. [m]
    curve_se_m : float
        How unsure that is for what is not known of the shape. [m]
    warnings : tuple of str
        Where its flight leaves what lift and drag were made for.
    chance : float, optional
        To hole out in the strokes that were asked for; none where fewest strokes were. [1]
    miss : Trouble, optional
        The kind of trouble that costs most: its share times what it costs over the average.
    leave : Leave
        The usual putt.
    finishes : ndarray, shape (n, 2)
        Some finishes, for the picture. [m]
    flight : ndarray, shape (m, 3)
        The middle ball's flight in the axes of the hole. [m]
    why : tuple of Cause
        From the distance to the hole to the feel number, fact by fact; the landing spot comes
        first, and the sum is exact.
    """

    summary: ShotSummary
    landing_m: float
    landing_x: float
    landing_y: float
    landing_to_hole_m: float
    landing_right_m: float
    start_right_rad: float
    aim_right_m: float
    playing_m: float
    feel_m: float
    apex_m: float
    time_s: float
    descent_rad: float
    landing_spin_rad_s: float
    run_m: float
    run_low_m: float
    run_high_m: float
    strokes: float
    strokes_se: float
    behind: float
    behind_se: float
    close_call: bool
    near_m: float
    far_m: float
    green: float
    holed: float
    troubles: dict[Trouble, float]
    miss: Trouble | None
    leave: Leave
    finishes: Floats
    flight: Floats
    why: tuple[Cause, ...]
    curve_right_m: float = 0.0
    curve_se_m: float = 0.0
    warnings: tuple[str, ...] = ()
    chance: float | None = None


@dataclass(frozen=True, slots=True)
class Advice:
    """The answer to one situation.

    Parameters
    ----------
    situation : Situation
        What was asked.
    options : tuple of Option
        Best first, different in kind (one for each shot), at most four.
    at_flag : Option, optional
        The stock shot that needs the least adjusting, landed at the hole: what habit would do;
        none where no shot lands there.
    candidates, draws : int
        How many candidates were tried, and draws behind each quoted figure.
    seed : int
        Seed; the same seed gives the same answer.
    left_out : tuple of str
        Shots that were not considered, each with the reason.
    doubts : tuple of str
        What the answer rests on that is not well known.
    at_most : int, optional
        Strokes that were to be enough; none where fewest strokes were asked for. [1]
    flips : tuple of Flip
        Facts that would change the shot, the nearest first.
    worths : tuple of Worth
        What knowing each fact would save, the most first.
    """

    situation: Situation
    options: tuple[Option, ...]
    at_flag: Option | None
    candidates: int
    draws: int
    seed: int
    left_out: tuple[str, ...] = field(default_factory=tuple)
    doubts: tuple[str, ...] = field(default_factory=tuple)
    at_most: int | None = None
    flips: tuple[Flip, ...] = ()
    worths: tuple[Worth, ...] = ()

    @property
    def too_close_to_call(self) -> bool:
        """Whether some other option does not separate from the first."""
        return any(option.close_call for option in self.options[1:])
