"""Lift and drag of a spinning golf ball, with a band for what nobody has published.

Above a spin parameter of 0.3, where wedges fly, nobody has measured the balls of today in the open
(davies-1949 went to 0.56 with those of his). The three sets below agree where data exist and
bracket how drag behaves beyond (docs/sources.md, patent-nodes).
"""

from dataclasses import dataclass, fields, replace

import numpy as np

from carrybook.base.numerics import Floats

__all__ = ["BAND", "HIGH", "LOW", "MID", "Aerodynamics", "lift_and_drag"]


@dataclass(frozen=True, slots=True)
class Aerodynamics:
    """One set of coefficients.

    C_L = lift_limit (1 - exp(-S / lift_scale)),
    C_D = drag_base + drag_per_spin S + drag_crisis / (1 + exp((Re - crisis_re) / crisis_width)),
    and the spin w decays as dw/dt = -spin_decay w U / r.
    """

    lift_limit: float
    lift_scale: float
    drag_base: float
    drag_per_spin: float
    drag_crisis: float
    crisis_re: float = 6.2e4  # ours: centre of the drag crisis, lyu-2018
    crisis_width: float = 7.0e3  # ours: its width, lyu-2018
    spin_decay: float = 2.0e-5  # smits-smith-1994 as quoted in penner-2001, eq. 16

    def row(self) -> Floats:
        """The eight numbers in the order in which kernels read them."""
        return np.array([getattr(self, f.name) for f in fields(self)])

    def with_drag(self, factor: float) -> "Aerodynamics":
        """The same set with so many times its drag; lift and spin decay stay.

        Parameters
        ----------
        factor : float
            On the three coefficients of drag. [1]
        """
        return replace(
            self,
            drag_base=factor * self.drag_base,
            drag_per_spin=factor * self.drag_per_spin,
            drag_crisis=factor * self.drag_crisis,
        )


# Ours: least squares on the centres of the eight published nodes (patent-nodes), each under
# another assumption on the drag crisis. Their own uncertainty is about 0.02 in each coefficient.
LOW = Aerodynamics(0.3489, 0.1646, 0.1610, 0.5369, 0.0)  # spin trips the layer: no crisis
MID = Aerodynamics(0.3489, 0.1646, 0.1880, 0.3123, 0.20)
HIGH = Aerodynamics(0.3489, 0.1646, 0.2016, 0.1999, 0.30)  # full crisis
BAND = (LOW, MID, HIGH)


def lift_and_drag(
    spin_parameter: float, reynolds: float, aerodynamics: Aerodynamics = MID
) -> tuple[float, float]:
    """Coefficients of lift and drag.

    Parameters
    ----------
    spin_parameter : float
        Surface speed over air speed, r w / U. [1]
    reynolds : float
        Reynolds number on the diameter. [1]
    aerodynamics : Aerodynamics
        Set of coefficients.

    Returns
    -------
    lift, drag : float
        On the frontal area. [1]

    Notes
    -----
    Fitted for S 0.08 to 0.29 and Re 6.9e4 to 2.3e5; beyond, the three sets part and give the band.
    Below Re 7e4 with little spin, lift can vanish or reverse (lyu-2020); this is not modelled.
    """
    a = aerodynamics
    lift = a.lift_limit * (1.0 - np.exp(-spin_parameter / a.lift_scale))
    crisis = a.drag_crisis / (1.0 + np.exp((reynolds - a.crisis_re) / a.crisis_width))
    return float(lift), float(a.drag_base + a.drag_per_spin * spin_parameter + crisis)
