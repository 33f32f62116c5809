"""A cold ball is slower off the face: what its temperature does to ball speed."""

from carrybook.world.air import REFERENCE_DAY

__all__ = ["speed_when_at"]

# Ours, an assumption (no measured rate was found; the sign is that of every cold morning): the
# restitution of ball on club falls 0.001 per K below 23 C, believable 0 to 0.002. Ball speed goes
# with 1 + e, about 1.78, so 0.00056 per K. Ruling bodies test balls at 23 C (equipment-rules).
_PER_KELVIN = 0.00056
_WARM_K = 296.15


def speed_when_at(temperature_k: float) -> float:
    """Ball speed over that of a ball at the temperature of the reference day, same swing.

    Parameters
    ----------
    temperature_k : float
        Of the ball; one that lies outside takes the temperature of the air. [K]

    Returns
    -------
    factor : float
        1 at 20 C; 0.9933 at 5 C, which is about 1.1 % of carry. [1]
    """
    return _share(temperature_k) / _share(REFERENCE_DAY.temperature_k)


def _share(temperature_k: float) -> float:
    return 1.0 - _PER_KELVIN * max(0.0, _WARM_K - temperature_k)
