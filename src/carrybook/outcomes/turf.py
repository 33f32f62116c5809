"""The turf as single balls meet it: how far it may lie from what its firmness promises."""

import numpy as np

from carrybook.base.numerics import Floats
from carrybook.physics.turf import TurfKind, turf_rows

__all__ = ["FRICTION_SD", "drawn_turf"]

# Ours (docs/turf.md): one ball against the next, and what firmness does not say of a green. Tilt in
# rad, the others relative. A deeper crater also wraps the ball more.
_TILT_SD = np.radians(2.0)
_RESTITUTION_SD = 0.15
_WRAP_SD = 0.15
FRICTION_SD = {TurfKind.UNKNOWN: 0.40, TurfKind.GRIPPING: 0.25, TurfKind.FREE: 0.25}


def drawn_turf(
    firmness_g: Floats,
    tilt: Floats,
    restitution: Floats,
    friction: Floats,
    kind: TurfKind = TurfKind.UNKNOWN,
) -> Floats:
    """Turf of many balls.

    Parameters
    ----------
    firmness_g : ndarray, shape (n,)
        Of the green that each lands on. [Clegg gravities]
    tilt, restitution, friction : ndarray, shape (n,)
        Standard normal: how far each is from its middle. [1]
    kind : TurfKind
        Whether the green grips; while unknown, friction is unsurest.

    Returns
    -------
    rows : ndarray, shape (n, 8)
        Columns :data:`carrybook.physics.turf.TURF_ROW`; green resistance and cup shift at nothing.
    """
    rows = turf_rows(firmness_g, kind)
    rows[:, 0] = np.maximum(rows[:, 0] + _TILT_SD * tilt, 0.0)
    rows[:, 1] *= np.exp(_RESTITUTION_SD * restitution)
    rows[:, 2] *= np.exp(FRICTION_SD[kind] * friction)
    rows[:, 7] *= np.exp(_WRAP_SD * tilt)
    return rows
