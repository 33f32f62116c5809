"""Smooth pieces that surfaces are put together from; all have a continuous slope."""

import numpy as np

from carrybook.base.numerics import Floats

__all__ = ["hinge", "levelled", "ramp", "run_out", "smooth_step"]

_ROUND = 0.15  # ours: share of a ramp over which its foot, and its brow, are rounded
_HALF_HINGE = 0.6  # m, ours: half the length over which a hinge bends


def levelled(u: Floats, low: float, high: float, apron: float, levelling: float) -> Floats:
    """The coordinate itself between two limits and `apron` around them; beyond, it comes to rest.

    Parameters
    ----------
    u : ndarray
        Coordinates. [m]
    low, high : float
        The limits. [m]
    apron : float
        How far beyond them nothing changes. [m]
    levelling : float
        Length over which it then slows down and stands still. [m]
    """
    low, high = low - apron, high + apron
    over = np.clip(u - high, 0.0, levelling) - np.clip(low - u, 0.0, levelling)
    return np.asarray(np.clip(u, low, high) + over - np.sign(over) * over**2 / (2.0 * levelling))


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
