"""The shots a player faces: distances, lies, and how often each."""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, replace

import numpy as np

from carrybook.base.constants import YARD
from carrybook.base.errors import BadInputError, require_range
from carrybook.base.numerics import Floats
from carrybook.world.lie import Lie, Moisture

__all__ = ["Demand", "FacedPlace", "demand_of_shots", "demand_over", "on_greens"]

_NEAREST, _FURTHEST = 10.0, 200.0  # yd
_MOST_PLACES = 800  # ours
_BIN = 5.0 * YARD  # ours: recorded distances are counted in steps of so much


@dataclass(frozen=True, slots=True)
class FacedPlace:
    """One kind of shot that is faced.

    Parameters
    ----------
    distance_m : float
        To the hole, 10 to 200 yd. [m]
    lie, moisture : Lie, Moisture
        What the ball lies on, and how wet it is; not sand.
    firmness_g : float, optional
        Of the green; none: as asked for all of them. [Clegg gravities]
    green : int
        Which of the greens it is, of a course.

    Raises
    ------
    BadInputError
        Sand: a splash shot is not modelled.
    OutOfRangeError
        A distance outside its range.
    """

    distance_m: float
    lie: Lie = Lie.FAIRWAY
    moisture: Moisture = Moisture.DRY
    firmness_g: float | None = None
    green: int = 0

    def __post_init__(self) -> None:
        require_range("distance", self.distance_m / YARD, _NEAREST, _FURTHEST, "yd")
        if self.lie is Lie.SAND:
            raise BadInputError("lie = 'sand' is not modelled: the club does not touch the ball")


@dataclass(frozen=True, slots=True)
class Demand:
    """All that is faced.

    Parameters
    ----------
    places : tuple of FacedPlace
        What is faced.
    weights : tuple of float
        How often each, above 0; only their ratios count. [1]
    source : str
        Where that comes from, in a few words.
    shots : int
        Recorded shots behind it; 0 where it was said.

    Raises
    ------
    BadInputError
        Nothing, too much, or as many weights as places are not there.
    OutOfRangeError
        A weight that is not above 0.
    """

    places: tuple[FacedPlace, ...]
    weights: tuple[float, ...]
    source: str
    shots: int = 0

    def __post_init__(self) -> None:
        if not 0 < len(self.places) == len(self.weights) <= _MOST_PLACES:
            raise BadInputError(
                f"a demand of {len(self.places)} places and {len(self.weights)} weights;"
                f" 1 to {_MOST_PLACES} are needed, each with its weight"
            )
        require_range("weight", np.array(self.weights), 1e-6, 1e6, "")

    @property
    def shares(self) -> Floats:
        """Share of each place, shape (places,). [1]"""
        weights = np.array(self.weights)
        return np.asarray(weights / weights.sum())


def demand_over(
    nearest_m: float,
    furthest_m: float,
    step_m: float = 5.0 * YARD,
    *,
    lie: Lie = Lie.FAIRWAY,
    moisture: Moisture = Moisture.DRY,
) -> Demand:
    """Every distance of a range as often as any other.

    Parameters
    ----------
    nearest_m, furthest_m, step_m : float
        The range, and between two distances of it. [m]
    lie, moisture : Lie, Moisture
        Off which all are played.

    Raises
    ------
    BadInputError
        An end before its start, or sand.
    OutOfRangeError
        A distance or step outside its range.
    """
    require_range("step", step_m / YARD, 1.0, 50.0, "yd")
    if furthest_m < nearest_m:
        raise BadInputError(
            f"from = {nearest_m / YARD:.0f} yd is beyond to = {furthest_m / YARD:.0f} yd"
        )
    count = int((furthest_m - nearest_m) / step_m + 1e-9) + 1
    places = tuple(FacedPlace(nearest_m + k * step_m, lie, moisture) for k in range(count))
    source = (
        f"every distance from {nearest_m / YARD:.0f} to {furthest_m / YARD:.0f} yd alike,"
        f" {lie}, {moisture}"
    )
    return Demand(places, (1.0,) * count, source)


def on_greens(demand: Demand, greens: int, source: str) -> Demand:
    """The same shots into every green of a course, each green as often as the others.

    Parameters
    ----------
    demand : Demand
        What is faced.
    greens : int
        How many greens, 1 or more.
    source : str
        Which course, in a few words.

    Raises
    ------
    BadInputError
        Too many places in all.
    """
    places = tuple(replace(p, green=k) for k in range(greens) for p in demand.places)
    return Demand(places, demand.weights * greens, f"{demand.source}; {source}", demand.shots)


def demand_of_shots(shots: Iterable[tuple[float, Lie, Moisture]]) -> Demand:
    """What was faced in recorded rounds: shots into greens, counted in steps of 5 yd.

    Parameters
    ----------
    shots : iterable of (float, Lie, Moisture)
        Distance to the hole [m], and the lie. Those from sand, nearer than 10 yd or beyond 200 yd
        are passed over.

    Raises
    ------
    BadInputError
        None is left.
    """
    counted: Counter[FacedPlace] = Counter()
    for distance, lie, moisture in shots:
        binned = round(distance / _BIN) * _BIN
        if lie is not Lie.SAND and _NEAREST <= binned / YARD <= _FURTHEST:
            counted[FacedPlace(binned, lie, moisture)] += 1
    if not counted:
        raise BadInputError("no recorded shot from 10 to 200 yd that is not from sand")
    ordered = sorted(counted, key=lambda p: (p.lie, p.moisture, p.distance_m))
    weights = tuple(float(counted[p]) for p in ordered)
    total = sum(counted.values())
    return Demand(tuple(ordered), weights, f"{total} shots of your recorded rounds", total)
