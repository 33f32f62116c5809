"""Wedges to choose from: those that are owned, and lofts that nobody has struck yet."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from math import degrees, radians

import numpy as np

from carrybook.base.errors import NoSolutionError
from carrybook.player.bag import Shot
from carrybook.player.loft_pattern import LoftPattern, patterns_of
from carrybook.player.summary import ShotSummary

__all__ = [
    "BENT", "CARRY_A_DEGREE", "NEVER_HIT", "Unknown", "Wedge", "bent", "candidates", "is_wedge",
    "lofts_between", "otherwise", "own_wedges", "wedge_of_loft",
]  # fmt: skip

WEDGE_FROM = radians(45.5)  # ours: a club with at least this loft is a wedge that may be replaced


@dataclass(frozen=True, slots=True)
class Unknown:
    """How unsure it is what a player will do with a club once they know it: standard deviations.

    Parameters
    ----------
    carry : float
        Of how far it goes, relative. [1]
    scatter : float
        Of how much it scatters, relative. [1]
    launch_rad : float
        Of its launch. [rad]
    spin : float
        Of its spin, relative. [1]
    """

    carry: float
    scatter: float
    launch_rad: float
    spin: float


# Ours (judgement): a loft that the player never hit, beside one that they own, and how much less is
# known of its carry for each degree from there; and their own club with its loft changed. Clubs of
# the demo player, each guessed from the others, were 1 to 3 % off in carry between two lofts, 5 and
# 7 % four degrees beyond the last, and 8 to 60 % in scatter, of which a tenth is luck of the log.
NEVER_HIT = Unknown(carry=0.02, scatter=0.25, launch_rad=radians(1.5), spin=0.10)
CARRY_A_DEGREE = 0.01
BENT = Unknown(carry=0.015, scatter=0.05, launch_rad=radians(0.75), spin=0.05)


@dataclass(frozen=True, slots=True)
class Wedge:
    """A club and its shots.

    Parameters
    ----------
    label : str
        What it is called: "56", or "54 deg" for one that is not owned.
    loft_rad : float
        Its loft. [rad]
    shots : tuple of ShotSummary
        What is played with it.
    unknown : Unknown, optional
        What is not known of one that was never hit.
    """

    label: str
    loft_rad: float
    shots: tuple[ShotSummary, ...]
    unknown: Unknown | None = None

    @property
    def owned(self) -> bool:
        """Whether the player has it."""
        return self.unknown is None

    @property
    def replaceable(self) -> bool:
        """Whether it is a wedge, so that another may take its place."""
        return any(map(is_wedge, self.shots))

    @property
    def full_m(self) -> float:
        """Carry of its longest shot at stock feel, on the reference day. [m]"""
        return max(s.stock_m for s in self.shots)


def is_wedge(summary: ShotSummary) -> bool:
    """Whether a shot is played with a wedge that may be replaced."""
    return summary.shot.club.loft_rad >= WEDGE_FROM


def own_wedges(summaries: Iterable[ShotSummary]) -> tuple[Wedge, ...]:
    """Put shots together by club, rising in loft; those not trusted in competition are left out.

    Parameters
    ----------
    summaries : iterable of ShotSummary
        The shots of the player.
    """
    clubs: dict[str, list[ShotSummary]] = {}
    for s in summaries:
        if s.shot.trusted:
            clubs.setdefault(s.shot.club.label, []).append(s)
    found = [Wedge(label, s[0].shot.club.loft_rad, tuple(s)) for label, s in clubs.items()]
    return tuple(sorted(found, key=lambda w: (w.loft_rad, w.label)))


def wedge_of_loft(patterns: Sequence[LoftPattern], loft_rad: float) -> Wedge | None:
    """A club of a loft that is not owned, with every kind of shot that reaches so far.

    Parameters
    ----------
    patterns : sequence of LoftPattern
        What the player does with their own.
    loft_rad : float
        Its loft. [rad]

    Returns
    -------
    wedge : Wedge or None
        None where no kind of shot can be guessed for it.
    """
    label = f"{degrees(loft_rad):.4g} deg"
    shots = []
    for pattern in patterns:
        low, high = pattern.reach_rad
        if low - 1e-9 <= loft_rad <= high + 1e-9:
            try:
                shots.append(pattern.at(loft_rad, label))
            except NoSolutionError:
                continue  # no flight: this kind of shot is not played with it
    owned = [s.shot.club.loft_rad for pattern in patterns for s in pattern.owned]
    away = degrees(min((abs(loft_rad - loft) for loft in owned), default=0.0))
    unknown = replace(NEVER_HIT, carry=NEVER_HIT.carry + CARRY_A_DEGREE * away)
    return Wedge(label, loft_rad, tuple(shots), unknown) if shots else None


def bent(wedge: Wedge, patterns: Sequence[LoftPattern], loft_rad: float) -> Wedge | None:
    """The player's own club with another loft: its shots move as loft moves them, no others.

    Parameters
    ----------
    wedge : Wedge
        The club.
    patterns : sequence of LoftPattern
        What the player does with all of their clubs.
    loft_rad : float
        Its new loft. [rad]

    Returns
    -------
    wedge : Wedge or None
        None where that cannot be guessed.
    """
    moved = wedge_of_loft(patterns, loft_rad)
    if moved is None:
        return None
    own = {(s.shot.flight, s.shot.shape): s for s in wedge.shots}
    shots = tuple(
        replace(s, spread=mine.spread, side_rad=mine.side_rad, bias_se=mine.bias_se)
        for s in moved.shots
        if (mine := own.get((s.shot.flight, s.shot.shape)))
    )
    return replace(moved, shots=shots, unknown=BENT) if shots else None


def lofts_between(low_rad: float, high_rad: float, wedges: Sequence[Wedge]) -> tuple[float, ...]:
    """Whole degrees of a range that none of the wedges has. [rad]

    Parameters
    ----------
    low_rad, high_rad : float
        Ends of the range. [rad]
    wedges : sequence of Wedge
        Those owned.
    """
    owned = [degrees(w.loft_rad) for w in wedges]
    whole = range(int(np.ceil(degrees(low_rad) - 1e-6)), int(degrees(high_rad) + 1e-6) + 1)
    return tuple(radians(d) for d in whole if all(abs(d - o) > 0.49 for o in owned))


def candidates(
    summaries: Sequence[ShotSummary], low_rad: float, high_rad: float
) -> tuple[Wedge, ...]:
    """Owned wedges of a range of lofts, and all lofts between that are not owned.

    Parameters
    ----------
    summaries : sequence of ShotSummary
        The shots of the player; those that are not trusted do not count.
    low_rad, high_rad : float
        Ends of the range. [rad]

    Raises
    ------
    NoSolutionError
        No trusted shot with a wedge.
    """
    trusted = [s for s in summaries if s.shot.trusted]
    wedges = own_wedges(s for s in trusted if is_wedge(s))
    if not wedges:
        raise NoSolutionError(
            "no trusted shot with a wedge (46 deg or more) in the book to go by;"
            " add one: carrybook shots add 54 --loft 54deg --carry 82yd"
        )
    patterns = patterns_of(trusted)
    new = (wedge_of_loft(patterns, loft) for loft in lofts_between(low_rad, high_rad, wedges))
    return tuple(sorted((*wedges, *filter(None, new)), key=lambda w: w.loft_rad))


def unknowns(wedges: Sequence[Wedge]) -> dict[int, Unknown]:
    """By number of a club, what is not known of it; those that are well known are left out.

    Parameters
    ----------
    wedges : sequence of Wedge
        The clubs.
    """
    return {k: w.unknown for k, w in enumerate(wedges) if w.unknown is not None}


def otherwise(wedge: Wedge, unknown: Unknown) -> tuple[Wedge, ...]:
    """The club as it might turn out: each thing that is not known, one standard deviation more.

    Parameters
    ----------
    wedge : Wedge
        The club.
    unknown : Unknown
        What is not known of it.

    Returns
    -------
    wedges : tuple of Wedge
        Longer, wilder, higher, with more spin.
    """
    longer = 1.0 + unknown.carry
    changes: tuple[Callable[[ShotSummary], ShotSummary], ...] = (
        lambda s: replace(s, shot=_stretched(s.shot, longer), stock_m=s.stock_m * longer),
        lambda s: replace(
            s,
            spread=s.spread * (1.0 + unknown.scatter),
            side_rad=s.side_rad * (1.0 + unknown.scatter),
        ),
        lambda s: replace(s, launch_rad=s.launch_rad + unknown.launch_rad),
        lambda s: replace(s, spin_per_speed=s.spin_per_speed * (1.0 + unknown.spin)),
    )
    return tuple(replace(wedge, shots=tuple(map(change, wedge.shots))) for change in changes)


def _stretched(shot: Shot, longer: float) -> Shot:
    return replace(
        shot,
        stock_carry_m=shot.stock_carry_m * longer,
        shortest_m=shot.shortest_m * longer,
        longest_m=shot.longest_m * longer,
        efforts=(),
    )
