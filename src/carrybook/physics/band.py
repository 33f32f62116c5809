"""One ball flown with every set of coefficients, whole paths kept: what a picture of it needs."""

from dataclasses import dataclass

from carrybook.base.numerics import Floats
from carrybook.physics.aerodynamics import BAND
from carrybook.physics.flight import Landing, Launch, fly, fly_path
from carrybook.world.air import REFERENCE_DAY, Air
from carrybook.world.wind import CALM, Wind

__all__ = ["FlownBand", "fly_band"]


@dataclass(frozen=True, slots=True)
class FlownBand:
    """One ball as each set of the band flies it.

    Parameters
    ----------
    launch : Launch
        How it left the face.
    air, wind : Air, Wind
        What it flew through; the wind relative to its start line.
    landings : tuple of Landing
        Low, middle and high set.
    paths : tuple of ndarray, shape (n, 3)
        Their flights, as :func:`carrybook.physics.flight.fly_path` gives them. [m]
    """

    launch: Launch
    air: Air
    wind: Wind
    landings: tuple[Landing, ...]
    paths: tuple[Floats, ...]


def fly_band(
    launch: Launch,
    air: Air = REFERENCE_DAY,
    wind: Wind = CALM,
    *,
    height_change_m: float = 0.0,
) -> FlownBand:
    """Fly one ball with every set of the band.

    Parameters and errors are those of :func:`carrybook.physics.flight.fly`.
    """
    landings = tuple(
        fly(launch, air, wind, aerodynamics=a, height_change_m=height_change_m) for a in BAND
    )
    paths = tuple(
        fly_path(launch, air, wind, aerodynamics=a, height_change_m=height_change_m) for a in BAND
    )
    return FlownBand(launch, air, wind, landings, paths)
