"""What the log says of each shot: carry on the reference day, scatter, launch; each with its uncertainty."""

from dataclasses import dataclass

from carrybook.player.bag import Shot

__all__ = ["ShotSummary"]


@dataclass(frozen=True, slots=True)
class ShotSummary:
    """One owned shot as its logged balls show it.

    Parameters
    ----------
    shot : Shot
        The shot.
    balls : int
        Logged balls it rests on; 0 means the player's own word and a prior only.
    stock_m : float
        Carry on the reference day when the player feels the stock carry: robust centre. [m]
    stock_se_m : float
        Standard error of that centre. [m]
    bias, bias_se : float
        Natural logarithm of reference-day carry over felt carry, and its standard error. [1]
    spread : float
        Robust standard deviation of carry relative to carry. [1]
    side_rad : float
        Robust standard deviation of direction. [rad]
    side_bias_rad : float
        Robust centre of direction, right positive. [rad]
    correlation : float
        Between relative carry error and direction error (long and right positive). [1]
    launch_rad : float
        Launch angle of the shot. [rad]
    spin_per_speed : float
        Spin over ball speed from a clean dry lie. [rad/m]
    launch_measured : int
        Balls with measured launch and spin behind the last two; 0 means from loft by the strike model.
    """

    shot: Shot
    balls: int
    stock_m: float
    stock_se_m: float
    bias: float
    bias_se: float
    spread: float
    side_rad: float
    side_bias_rad: float
    correlation: float
    launch_rad: float
    spin_per_speed: float
    launch_measured: int
