"""What a player faces, from recorded rounds, a file or a word: for the bag and for practice alike.

Both count with the functions here and make a :class:`Demand`. What they ask of it differs, and each
says so beside its own counting: the bag wants shares, in steps of 5 yd because another loft moves a
carry by little more, dew and dry apart because dew takes spin; practice wants times a round, in
steps of 10 yd because a session has room for a few targets, wherever the dew lies.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace

import numpy as np

from carrybook.base.numerics import Floats
from carrybook.player.round_shots import PlayedRound
from carrybook.world.faced import FacedShot
from carrybook.world.lie import Lie, Moisture

__all__ = ["ENOUGH", "Demand", "count_alike", "recorded_shots"]

ENOUGH = 30  # ours: recorded shots before they speak for what is faced


@dataclass(frozen=True, slots=True)
class Demand:
    """All that is faced, and where that is known from.

    Parameters
    ----------
    shots : tuple of FacedShot
        What is faced, and how often each.
    source : str
        Where that comes from, in a few words.
    recorded : int
        Recorded shots behind it; 0 where it was said.
    played_with : str
        The one shot of the player that all of it is for; empty: whichever is best.
    """

    shots: tuple[FacedShot, ...]
    source: str
    recorded: int = 0
    played_with: str = ""

    @property
    def shares(self) -> Floats:
        """Part of all that each is, shape (shots,). [1]"""
        times = np.array([shot.times for shot in self.shots])
        return np.asarray(times / times.sum())


def recorded_shots(rounds: Iterable[PlayedRound]) -> list[FacedShot]:
    """The scoring shots of recorded rounds one by one, but those from sand.

    Parameters
    ----------
    rounds : iterable of PlayedRound
        Those that were recorded.
    """
    return [
        FacedShot(shot.number_m, shot.lie, shot.known.moisture or Moisture.DRY)
        for played in rounds
        for shot in played.shots
        if shot.lie is not Lie.SAND
    ]


def count_alike(shots: Iterable[FacedShot], step_m: float | None = None) -> list[FacedShot]:
    """Put shots together that differ in how often they are faced only.

    Parameters
    ----------
    shots : iterable of FacedShot
        What is faced.
    step_m : float, optional
        Distances are taken to the nearest of such steps; as they are if not given. [m]

    Returns
    -------
    shots : list of FacedShot
        In the order in which they were met first.
    """
    counted: dict[FacedShot, float] = {}
    for shot in shots:
        distance = shot.distance_m if step_m is None else round(shot.distance_m / step_m) * step_m
        kind = replace(shot, distance_m=distance, times=0.0)
        counted[kind] = counted.get(kind, 0.0) + shot.times
    return [replace(kind, times=times) for kind, times in counted.items()]
