"""The shots a bag is held against: distances, lies, and the share of each."""

from collections.abc import Iterable, Sequence
from dataclasses import replace

import numpy as np

from carrybook.base.constants import YARD
from carrybook.base.errors import BadInputError, require_range
from carrybook.decision.demand import Demand, count_alike
from carrybook.world.faced import FacedShot
from carrybook.world.lie import Lie, Moisture

__all__ = ["bag_demand", "demand_of_shots", "demand_over", "on_greens"]

_NEAREST, _FURTHEST = 10.0, 200.0  # yd
_MOST = 800  # ours: kinds of shots
_BIN = 5.0 * YARD  # ours: recorded distances are counted in steps of so much


def bag_demand(shots: Sequence[FacedShot], source: str, recorded: int = 0) -> Demand:
    """What is faced, within what a bag can be held against.

    Parameters
    ----------
    shots : sequence of FacedShot
        What is faced, 10 to 200 yd to the hole; only ratios of their times count.
    source : str
        Where that comes from, in a few words.
    recorded : int
        Recorded shots behind it; 0 where it was said.

    Raises
    ------
    BadInputError
        Nothing, too much, or sand: a splash shot is not modelled.
    OutOfRangeError
        A distance outside its range, or a number of times that is not above 0.
    """
    for shot in shots:
        require_range("distance", shot.distance_m / YARD, _NEAREST, _FURTHEST, "yd")
        if shot.lie is Lie.SAND:
            raise BadInputError("lie = 'sand' is not modelled: the club does not touch the ball")
    if not 0 < len(shots) <= _MOST:
        raise BadInputError(f"a demand of {len(shots)} places; 1 to {_MOST} are needed")
    require_range("weight", np.array([shot.times for shot in shots]), 1e-6, 1e6, "")
    return Demand(tuple(shots), source, recorded)


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
    source = (
        f"every distance from {nearest_m / YARD:.0f} to {furthest_m / YARD:.0f} yd alike,"
        f" {lie}, {moisture}"
    )
    shots = [FacedShot(nearest_m + k * step_m, lie, moisture) for k in range(count)]
    return bag_demand(shots, source)


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
    shots = [replace(shot, green=k) for k in range(greens) for shot in demand.shots]
    return bag_demand(shots, f"{demand.source}; {source}", demand.recorded)


def demand_of_shots(shots: Iterable[FacedShot]) -> Demand:
    """What was faced in recorded rounds, counted in steps of 5 yd.

    Parameters
    ----------
    shots : iterable of FacedShot
        As :func:`carrybook.decision.demand.recorded_shots` gives them. Those from sand, nearer than
        10 yd or beyond 200 yd are passed over.

    Raises
    ------
    BadInputError
        None is left.
    """
    counted = [
        shot
        for shot in count_alike(shots, _BIN)
        if shot.lie is not Lie.SAND and _NEAREST <= shot.distance_m / YARD <= _FURTHEST
    ]
    if not counted:
        raise BadInputError("no recorded shot from 10 to 200 yd that is not from sand")
    ordered = sorted(counted, key=lambda shot: (shot.lie, shot.moisture, shot.distance_m))
    total = int(sum(shot.times for shot in counted))
    return bag_demand(ordered, f"{total} shots of your recorded rounds", total)
