"""What shots were worth before they were struck: expected strokes over where they might land."""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from carrybook.base.numerics import Floats, Ints
from carrybook.decision.review.baselines import Baseline
from carrybook.decision.review.flights import scatter_of
from carrybook.decision.review.greens import nets_of
from carrybook.decision.review.season import Condition, Season, fly_in
from carrybook.outcomes.after_landing import Chance, GreenNets, mean_after, runs_of
from carrybook.player.summary import ShotSummary

__all__ = ["Flown", "Scales", "flown_in", "scales_of"]

# Ours: balls that come down so nearly alike run alike: speed [m/s], descent [rad], spin [rad/s],
# firmness and how unsure it is [g].
_ALIKE = np.array([2.0, np.radians(4.0), 150.0, 5.0, 5.0])
_MOST_KEPT = 20_000  # kinds of balls whose runs are kept, 1 kB each
# Ours: how far the wind of one shot is from the mean that is told: misjudged and gusting, relative.
_WIND_SD = 0.25
_CALM = np.array([0.0, 0.0])


@dataclass(frozen=True, slots=True)
class Flown:
    """Shots as the book says they go.

    Parameters
    ----------
    arrivals : ndarray, shape (n, 5)
        Columns :data:`carrybook.decision.review.flights.ARRIVAL_ROW`.
    scatter : ndarray, shape (n, 4)
        Scale in depth and to the side, what is unsure in depth [m], correlation [1].
    firmness : ndarray, shape (n, 2)
        Of the green, and how unsure that is. [Clegg gravities]
    """

    arrivals: Floats
    scatter: Floats
    firmness: Floats

    def rows(self, some: Ints) -> "Flown":
        """Give some of them."""
        return Flown(self.arrivals[some], self.scatter[some], self.firmness[some])


@dataclass(slots=True)
class Scales:
    """Weighs shots of a season; runs of balls that were drawn once are kept.

    Parameters
    ----------
    nets : GreenNets
        Strokes around each place that a hole was cut.
    net_of : ndarray of int64, shape (n,)
        Which of them each shot played to.
    cut : ndarray, shape (n, 2)
        Where the hole was cut, in the axes of the hole. [m]
    """

    nets: GreenNets
    net_of: Ints
    cut: Floats
    _kinds: dict[tuple[float, ...], int] = field(default_factory=dict)
    _runs: list[Floats] = field(default_factory=list)

    def worth(
        self, rows: Ints, past: Floats, right: Floats, flown: Flown, drawn: Chance,
        *, deep: bool = True, wide: bool = True,
    ) -> Floats:  # fmt: skip
        """Expected strokes of shots, this one included.

        Parameters
        ----------
        rows : ndarray of int64, shape (m,)
            Which shot of the season each is.
        past, right : ndarray, shape (m,)
            Where they land on average, from the hole. [m]
        flown : Flown, length m
            How they come down and scatter.
        drawn : Chance
            What they share.
        deep, wide : bool
            Whether they scatter in depth, and to the side.
        """
        if not len(rows):
            return np.empty(0)
        x, y = self.cut[rows, 0] + past, self.cut[rows, 1] - right
        scatter = flown.scatter * np.array([deep, wide, deep, deep and wide])
        which = np.column_stack([self.net_of[rows], self._kind_of(flown)])
        aims = np.column_stack([x, y, scatter])
        return 1.0 + mean_after(self.nets, np.array(self._runs), which, aims, drawn)

    def runs(self, flown: Flown) -> Floats:
        """Runs of each on every surface, shape (m, 4, 32). [m]"""
        kinds = self._kind_of(flown)
        return np.array(self._runs)[kinds]

    def _kind_of(self, flown: Flown) -> Ints:
        """Which kind of ball each is; new kinds are drawn, all at once."""
        raw = np.column_stack([flown.arrivals[:, 2:], flown.firmness])
        alike, which = np.unique(np.rint(raw / _ALIKE), axis=0, return_inverse=True)
        keys = [tuple(row) for row in alike.tolist()]
        new = [key for key in keys if key not in self._kinds]
        if new:
            self._runs += _drawn_runs(new)
            self._kinds |= {key: len(self._kinds) + k for k, key in enumerate(new)}
        return np.array([self._kinds[key] for key in keys], dtype=np.int64)[which.ravel()]


def scales_of(season: Season, after: Baseline) -> Scales:
    """Make ready to weigh the shots of a season.

    Parameters
    ----------
    season : Season
        The shots.
    after : Baseline
        Who plays on once a ball is at rest.
    """
    nets, net_of = nets_of(list(season.cuts), after)
    cut = np.array([(c.x, c.y) for c in season.cuts]).reshape(-1, 2)
    return Scales(nets, net_of, cut)


def flown_in(
    summaries: Sequence[ShotSummary], condition: Condition, shot: Ints, felt: Floats
) -> Flown:
    """Fly one shot in each condition, with what the wind leaves unsure.

    Parameters
    ----------
    summaries : sequence of ShotSummary
        The player's shots.
    condition : Condition, length n
        What each meets.
    shot : ndarray of int64, shape (n,)
        Which shot.
    felt : ndarray, shape (n,)
        What is felt. [m]
    """
    arrivals = fly_in(summaries, condition, shot, felt)
    winds = condition.winds.copy()
    winds[:, :2] = _CALM
    still = fly_in(summaries, replace(condition, winds=winds), shot, felt)
    scatter = scatter_of(summaries, shot, felt, arrivals[:, 0])
    blown = _WIND_SD * np.abs(arrivals[:, :2] - still[:, :2])
    scatter[:, 2] = np.hypot(scatter[:, 2], blown[:, 0])
    scatter[:, 1] = np.hypot(scatter[:, 1], blown[:, 1])
    return Flown(arrivals, scatter, condition.firmness)


_KNOWN: dict[tuple[float, ...], Floats] = {}  # kinds that were drawn before, whoever asked


def _drawn_runs(kinds: list[tuple[float, ...]]) -> list[Floats]:
    """Runs of kinds of balls, drawn once and kept."""
    missing = [kind for kind in kinds if kind not in _KNOWN]
    if len(_KNOWN) + len(missing) > _MOST_KEPT:
        _KNOWN.clear()
        missing = kinds
    if missing:
        _KNOWN.update(zip(missing, runs_of(np.array(missing) * _ALIKE), strict=True))
    return [_KNOWN[kind] for kind in kinds]
