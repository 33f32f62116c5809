"""The failures a person can act on; everything else is a bug and should look like one."""

import numpy as np
from numpy.typing import ArrayLike

from carrybook.base.constants import YARD

__all__ = ["BadInputError", "NoSolutionError", "OutOfRangeError", "require_range"]


class BadInputError(ValueError):
    """Something given from outside cannot be used; the message is one line a person can act on."""


class OutOfRangeError(BadInputError):
    """A quantity lies outside the range in which the model was validated."""


class NoSolutionError(RuntimeError):
    """A question has no answer here; the message says why and what to change."""


def require_range(name: str, value: ArrayLike, low: float, high: float, unit: str) -> None:
    """Raise :class:`OutOfRangeError` naming the first offending value, or return quietly.

    Parameters
    ----------
    name : str
        What the quantity is, as the person knows it.
    value : array_like, shape (...)
        The value or values to check, in `unit`.
    low, high : float
        Inclusive limits, in `unit`.
    unit : str
        Unit shown in the message; yards are told in metres too, as they may have been typed.

    Raises
    ------
    OutOfRangeError
        A value is outside the limits, or is not a number.
    """
    x = np.asarray(value, dtype=float)
    bad = ~((x >= low) & (x <= high))  # written so that NaN counts as bad
    if bad.any():
        first = x[bad].flat[0]
        count = f" ({int(bad.sum())} of {x.size} values)" if x.size > 1 else ""
        also = _in_metres(float(first), low, high) if unit == "yd" else ""
        unit = f" {unit}" if unit else ""
        raise OutOfRangeError(
            f"{name} = {first:.6g}{unit} is outside {low:.6g} to {high:.6g}{unit}{also}{count}"
        )


def _in_metres(value: float, low: float, high: float) -> str:
    """Say a value and its limits, given in yards, in metres."""
    value, low, high = (each * YARD for each in (value, low, high))
    return f" ({value:.4g} m; {low:.3g} to {high:.3g} m)"
