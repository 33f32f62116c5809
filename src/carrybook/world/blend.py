"""Smooth pieces that surfaces are put together from; all have a continuous slope."""

import numpy as np

from carrybook.base.numerics import Floats

__all__ = ["hinge", "levelled", "ramp", "run_out", "settled", "smooth_step"]

_ROUND = 0.15  # ours: share of a ramp over which its foot, and its brow, are rounded
_KEPT, _GONE = 8.0, 45.0  # m outside the bounds, ours
_LEVELLING = 8.0  # m, ours: length over which a coordinate comes to rest
_HALF_HINGE = 0.6  # m, ours: half the length over which a hinge bends


def levelled(u: Floats, low: float, high: float, apron: float) -> Floats:
    """The coordinate itself between two limits and `apron` around them; beyond, it comes to rest.

    Parameters
    ----------
    u : ndarray
        Coordinates. [m]
    low, high : float
        The limits. [m]
    apron : float
        How far beyond them nothing changes. [m]
    """
    low, high = low - apron, high + apron
    over = np.clip(u - high, 0.0, _LEVELLING) - np.clip(low - u, 0.0, _LEVELLING)
    slowed = over - np.sign(over) * over**2 / (2.0 * _LEVELLING)
    return np.asarray(np.clip(u, low, high) + slowed)


def ramp(u: Floats) -> Floats:
    """From 0 at 0 to 1 at 1, even in the middle, rounded at both ends."""
    u = np.clip(u, 0.0, 1.0)
    steep = 1.0 / (1.0 - _ROUND)
    foot = 0.5 * steep * np.minimum(u, _ROUND) ** 2 / _ROUND
    brow = 0.5 * steep * np.maximum(u - (1.0 - _ROUND), 0.0) ** 2 / _ROUND
    return np.asarray(foot + steep * np.maximum(u - _ROUND, 0.0) - brow)


def smooth_step(u: Floats) -> Floats:
    """From 0 at 0 to 1 at 1, level at both ends."""
    u = np.clip(u, 0.0, 1.0)
    return np.asarray(u * u * (3.0 - 2.0 * u))


def hinge(u: Floats) -> Floats:
    """Zero before 0, then `u`, with a bend of 0.6 m either side of it. [m]"""
    bend = np.clip((u + _HALF_HINGE) / (2.0 * _HALF_HINGE), 0.0, 1.0)
    return np.asarray(np.where(u >= _HALF_HINGE, u, _HALF_HINGE * bend**2))


def run_out(u: Floats, length: float) -> Floats:
    """Grow with `u` up to `length` and stay there, both bends rounded. [m]"""
    return np.asarray(hinge(u) - hinge(u - length))


def settled(
    x: Floats, y: Floats, bounds: tuple[float, float, float, float], apron: float
) -> tuple[Floats, Floats]:
    """Where on the green, or on its apron, the relief of each node of a net is looked up.

    On the green and its apron that is the node itself. Farther out the coordinates come to rest,
    and the one along the edge draws in to the middle: the relief levels out, without a step.

    Parameters
    ----------
    x, y : ndarray, shape (nx,), (ny,)
        The nodes. [m]
    bounds : tuple of float
        Front, right, back and left of the green. [m]
    apron : float
        How far outside the bounds nothing changes. [m]

    Returns
    -------
    x, y : ndarray, shape (nx, ny)
        The places. [m]
    """
    front, right, back, left = bounds
    rest_x, rest_y = levelled(x, front, back, apron), levelled(y, right, left, apron)
    middle_x, middle_y = 0.5 * (front + back), 0.5 * (right + left)
    keep_x, keep_y = _drawn_in(y, right, left), _drawn_in(x, front, back)
    return (
        middle_x + (rest_x - middle_x)[:, None] * keep_x[None, :],
        middle_y + (rest_y - middle_y)[None, :] * keep_y[:, None],
    )


def _drawn_in(u: Floats, low: float, high: float) -> Floats:
    """How much is kept of the other coordinate: 1 between the limits, 0 from 45 m outside."""
    outside = np.maximum(np.maximum(low - u, u - high), 0.0)
    return np.asarray(1.0 - smooth_step((outside - _KEPT) / (_GONE - _KEPT)))
