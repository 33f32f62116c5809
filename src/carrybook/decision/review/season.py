"""Recorded shots as columns, ready to be weighed all at once."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from carrybook.base.errors import BadInputError
from carrybook.base.numerics import Flags, Floats, Ints
from carrybook.decision.review.flights import Asked, fly_asked, lie_factors, wind_rows
from carrybook.decision.review.greens import Cut, cut_of
from carrybook.player.round_shots import PlayedRound, RoundShot
from carrybook.player.summary import ShotSummary
from carrybook.world.air import REFERENCE_DAY
from carrybook.world.firmness import UNSEEN
from carrybook.world.lie import Lie, Moisture

__all__ = ["Condition", "Season", "columns_of", "condition_of", "fly_in"]

_STATED_SD = 10.0  # Clegg gravities; ours: of a green that somebody called


@dataclass(frozen=True, slots=True)
class Season:
    """The shots of a season.

    Parameters
    ----------
    rounds : tuple of PlayedRound
        With their shots.
    shots : tuple of RoundShot, length n
        All of them.
    round_of : ndarray of int64, shape (n,)
        Which of the rounds each is of.
    cuts : tuple of Cut, length n
        Where the holes were cut.
    played : ndarray of int64, shape (n,)
        Which of the player's shots each was.
    """

    rounds: tuple[PlayedRound, ...]
    shots: tuple[RoundShot, ...]
    round_of: Ints
    cuts: tuple[Cut, ...]
    played: Ints

    def __len__(self) -> int:
        """Number of shots."""
        return len(self.shots)


@dataclass(frozen=True, slots=True)
class Condition:
    """What shots are taken to meet, as believed or as it was.

    Parameters
    ----------
    number : ndarray, shape (n,)
        Ball to hole. [m]
    winds : ndarray, shape (n, 5)
        For the flights.
    lies : ndarray, shape (n, 2)
        What the lie leaves of spin and speed. [1]
    firmness : ndarray, shape (n, 2)
        Of the green, and how unsure that is. [Clegg gravities]
    temperature : ndarray, shape (n,)
        Of the air. [K]
    """

    number: Floats
    winds: Floats
    lies: Floats
    firmness: Floats
    temperature: Floats

    def rows(self, some: Ints) -> "Condition":
        """Give the condition of some shots."""
        return Condition(
            self.number[some], self.winds[some], self.lies[some], self.firmness[some],
            self.temperature[some],
        )  # fmt: skip

    def mixed(self, other: "Condition", takes: dict[str, bool]) -> "Condition":
        """Give it with those facts of another that are to be taken from there."""
        names = {"number": "number", "wind": "winds", "lie": "lies", "firmness": "firmness"}
        taken = {names[f]: getattr(other, names[f]) for f, take in takes.items() if take}
        return replace(self, **taken)


def columns_of(rounds: Sequence[PlayedRound], summaries: Sequence[ShotSummary]) -> Season:
    """Put rounds into columns.

    Raises
    ------
    BadInputError
        A shot that none of the summaries is of.
    """
    labels = {s.shot.label.lower(): k for k, s in enumerate(summaries)}
    shots = tuple(shot for each in rounds for shot in each.shots)
    for shot in shots:
        if shot.shot.lower() not in labels:
            raise BadInputError(f"shot {shot.shot!r} of a round is not among your shots")
    return Season(
        tuple(rounds),
        shots,
        np.repeat(np.arange(len(rounds)), [len(each.shots) for each in rounds]),
        tuple(cut_of(shot) for shot in shots),
        np.array([labels[shot.shot.lower()] for shot in shots], dtype=np.int64),
    )


def condition_of(season: Season, *, true: bool) -> tuple[Condition, dict[str, Flags]]:
    """What the shots are taken to have met, and which facts were said, as shape (n,).

    Parameters
    ----------
    season : Season
        The shots.
    true : bool
        As it turned out, and as believed where nothing else was learnt; else as believed.
    """
    facts = [shot.met if true else shot.known for shot in season.shots]
    source = [shot.true if true else shot.known for shot in season.shots]
    said = {
        "number": np.array([f.number_m is not None for f in source]),
        "wind": np.array([f.wind_mps is not None for f in source]),
        "lie": np.array([f.lie is not None or f.moisture is not None for f in source]),
        "firmness": np.array([f.firmness_g is not None for f in source]),
    }
    firmness = [(f.firmness_g, _STATED_SD) if f.firmness_g is not None else UNSEEN for f in facts]
    air = [shot.temperature_k or REFERENCE_DAY.temperature_k for shot in season.shots]
    wind = np.array([(f.wind_mps or 0.0, f.wind_from_rad or 0.0) for f in facts]).reshape(-1, 2)
    condition = Condition(
        number=np.array([f.number_m or 0.0 for f in facts]),
        winds=wind_rows(wind[:, 0], wind[:, 1]),
        lies=lie_factors(
            [f.lie or Lie.FAIRWAY for f in facts], [f.moisture or Moisture.DRY for f in facts]
        ),
        firmness=np.array(firmness).reshape(-1, 2),
        temperature=np.array(air),
    )
    return condition, said


def fly_in(
    summaries: Sequence[ShotSummary], condition: Condition, shot: Ints, felt: Floats
) -> Floats:
    """Fly one shot in each condition, shape (n, 5): columns of `ARRIVAL_ROW`."""
    lies = condition.lies
    asked = Asked(shot, felt, condition.winds, lies[:, 0], lies[:, 1], condition.temperature)
    return fly_asked(summaries, asked)
