"""Wind over the ground, as a frozen value: mean, direction, and how rough the surroundings are."""

from dataclasses import dataclass
from math import pi

from carrybook.base.errors import BadInputError, require_range

__all__ = ["CALM", "EXPOSURE", "Wind", "exposure_named", "wind_on_line"]

# Roughness length z0 [m]: wmo-guide-8 and epa-roughness classes, in words a golfer uses.
EXPOSURE: dict[str, float] = {
    "open links": 0.03,  # open flat grass, few isolated obstacles
    "open": 0.03,
    "heath": 0.10,  # low crops, occasional large obstacles
    "parkland": 0.50,  # parkland, bushes
    "trees both sides": 1.0,  # forest, suburb
}

_STRONGEST_GUST = 45.0  # m/s, ours: one and a half times the strongest mean


@dataclass(frozen=True, slots=True)
class Wind:
    """Mean wind at a stated height, with a logarithmic profile below and above it.

    Parameters
    ----------
    speed_mps : float
        Ten-minute mean at `height_m`, 0 to 30. [m/s]
    from_rad : float
        Where it comes from, seen from the ball along the start line: 0 into, pi/2 from the
        right, pi helping, 3 pi/2 from the left. [rad]
    roughness_m : float, default 0.03
        Roughness length z0 of the surroundings, 0.0002 to 2. [m]
    height_m : float, default 10
        Height at which the speed was stated, 0.5 to 50 and above 2 z0. [m]
    gust_mps : float, optional
        Gusts at that height, of about three seconds; at least the mean, at most 45. None: not
        stated, so they are those of the roughness. [m/s]

    Raises
    ------
    OutOfRangeError
        A quantity is outside its range.
    """

    speed_mps: float
    from_rad: float = 0.0
    roughness_m: float = 0.03
    height_m: float = 10.0
    gust_mps: float | None = None

    def __post_init__(self) -> None:
        require_range("wind speed", self.speed_mps, 0.0, 30.0, "m/s")
        require_range("wind direction", self.from_rad, -2.0 * pi, 2.0 * pi, "rad")
        require_range("roughness length", self.roughness_m, 2e-4, 2.0, "m")
        require_range("wind height", self.height_m, max(0.5, 2.0 * self.roughness_m), 50.0, "m")
        if self.gust_mps is not None:
            require_range("gust", self.gust_mps, self.speed_mps, _STRONGEST_GUST, "m/s")


CALM = Wind(0.0)


def exposure_named(words: str) -> float:
    """Roughness length for surroundings in words.

    Parameters
    ----------
    words : str
        One of :data:`EXPOSURE`.

    Returns
    -------
    roughness_m : float
        Roughness length z0. [m]

    Raises
    ------
    BadInputError
        Words we do not know; the message lists those we do.
    """
    try:
        return EXPOSURE[words.strip().lower()]
    except KeyError:
        known = ", ".join(EXPOSURE)
        raise BadInputError(f"surroundings = {words!r} is not one of: {known}") from None


def wind_on_line(
    speed_mps: float,
    from_true_rad: float | None,
    line_bearing_rad: float,
    roughness_m: float,
    *,
    gust_mps: float | None = None,
) -> Wind:
    """Wind as seen along a line of play, from wind as reports give it.

    Parameters
    ----------
    speed_mps : float
        Mean at 10 m. [m/s]
    from_true_rad : float, optional
        Where it comes from, clockwise from true north; none where variable or not reported. [rad]
    line_bearing_rad : float
        Direction of the line of play, clockwise from true north. [rad]
    roughness_m : float
        Roughness length z0 of the surroundings. [m]
    gust_mps : float, optional
        Gusts at 10 m; none where there were none worth a word. [m/s]

    Raises
    ------
    BadInputError
        A wind without a direction, or a quantity outside its range.
    """
    if speed_mps == 0.0:
        return Wind(0.0, roughness_m=roughness_m)  # gusts of a calm come from nowhere
    if from_true_rad is None:
        raise BadInputError(
            f"wind = {speed_mps:.3g} m/s has no direction (variable or not reported); look at the"
            " course where it comes from and say so, seen along your line"
        )
    from_rad = (from_true_rad - line_bearing_rad) % (2.0 * pi)
    return Wind(speed_mps, from_rad, roughness_m, gust_mps=gust_mps)
