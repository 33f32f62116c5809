"""What a stronger or weaker loft, or a ball with more or less spin, would do, by green firmness."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import partial
from math import degrees, radians

from carrybook.base.errors import BadInputError, NoSolutionError
from carrybook.decision.bag_fit.bags import Bag, Saving, saving
from carrybook.decision.bag_fit.doubt import Chance, doubt_of
from carrybook.decision.bag_fit.greens import Greens
from carrybook.decision.bag_fit.table import choose_swings
from carrybook.decision.bag_fit.wedges import Wedge, bent, unknowns
from carrybook.decision.demand import Demand
from carrybook.player.loft_pattern import patterns_of, with_spin
from carrybook.player.summary import ShotSummary
from carrybook.world.lie import Lie, Moisture

__all__ = ["BagChange", "ChangeWorth", "bag_whatif", "usual_changes"]

Progress = Callable[[str, float], None]
OwnedOf = Callable[[Lie, Moisture], Sequence[Wedge]]


@dataclass(frozen=True, slots=True)
class BagChange:
    """One change of the bag: another loft of a club, or another ball.

    Parameters
    ----------
    club : str
        The club; empty for the ball.
    loft_rad : float
        Its new loft. [rad]
    spin : float
        Factor on the spin of every shot. [1]
    """

    club: str = ""
    loft_rad: float = 0.0
    spin: float = 1.0

    @property
    def name(self) -> str:
        """What is changed, in a few words."""
        if self.club:
            return f"{self.club} at {degrees(self.loft_rad):.4g} deg"
        return f"ball with {100.0 * (self.spin - 1.0):+.0f} % spin"


@dataclass(frozen=True, slots=True)
class ChangeWorth:
    """What a change saves on greens of each firmness.

    Parameters
    ----------
    change : BagChange
        The change.
    firmness_g : tuple of float
        Of the greens. [Clegg gravities]
    saves : tuple of Saving
        Against the bag as it is, on each.
    """

    change: BagChange
    firmness_g: tuple[float, ...]
    saves: tuple[Saving, ...]


def usual_changes(wedges: Sequence[Wedge], spin: float = 0.10) -> tuple[BagChange, ...]:
    """One and two degrees stronger and weaker, club by club, and a ball with more or less spin.

    Parameters
    ----------
    wedges : sequence of Wedge
        The clubs.
    spin : float
        How much more, and how much less. [1]
    """
    lofts = tuple(
        BagChange(w.label, w.loft_rad + radians(step)) for w in wedges for step in (-2, -1, 1, 2)
    )
    return (*lofts, BagChange(spin=1.0 - spin), BagChange(spin=1.0 + spin))


def bag_whatif(
    owned_of: OwnedOf,
    changes: Sequence[BagChange],
    demand: Demand,
    greens: Greens,
    firmnesses_g: Sequence[float],
    *,
    chance: Chance | None = None,
    progress: Progress | None = None,
) -> tuple[ChangeWorth, ...]:
    """Say what changes of the bag would save.

    Parameters
    ----------
    owned_of : callable
        Gives the clubs that are carried, off a lie and moisture.
    changes : sequence of BagChange
        The changes.
    demand, greens : Demand, Greens
        What is faced; firmness is set by the next.
    firmnesses_g : sequence of float
        Of the greens. [Clegg gravities]
    chance : Chance, optional
        How much is played.
    progress : callable, optional
        Told what is being done and the share that is done, 0 to 1.

    Raises
    ------
    BadInputError
        A club that is not carried.
    NoSolutionError
        A loft that cannot be guessed from the clubs that are carried.

    Notes
    -----
    The player is taken to learn the changed club or ball. A bent club is as known as it was, but
    for half of what is not known of one that was never hit (ours).
    """
    chance = chance or Chance()
    tell = progress or (lambda _what, _share: None)
    owned = list(owned_of(Lie.FAIRWAY, Moisture.DRY))
    mine: Bag = tuple(range(len(owned)))
    bags = _bags(owned, changes)
    clubs = partial(_clubs, owned_of, tuple(changes))
    unknown = unknowns(clubs(Lie.FAIRWAY, Moisture.DRY))
    faced = replace(demand, shots=tuple(replace(s, firmness_g=None) for s in demand.shots))
    doubts = doubt_of(
        clubs, bags, unknown, faced, greens, chance.fewer(),
        progress=lambda share: tell("asking what is not known of changed clubs", 0.4 * share),
    )  # fmt: skip
    chosen = choose_swings(
        clubs, faced, [replace(greens, firmness_g=each) for each in firmnesses_g],
        count=chance.count, seed=chance.seed, bags=[mine, *bags],
        progress=lambda what, share: tell(what, 0.4 + 0.5 * share),
    )  # fmt: skip
    tables = []
    for done, each in enumerate(chosen):
        tell(f"greens of {firmnesses_g[done]:.0f} g", 0.9 + 0.1 * done / len(chosen))
        tables.append(each.judged([mine, *bags]))
    tell("done", 1.0)
    return tuple(
        ChangeWorth(
            change,
            tuple(firmnesses_g),
            tuple(saving(table, bag, mine, clubs=doubt) for table in tables),
        )
        for change, bag, doubt in zip(changes, bags, doubts, strict=True)
    )


def _bags(owned: Sequence[Wedge], changes: Sequence[BagChange]) -> list[Bag]:
    """The numbers of the clubs of each changed bag, as `_clubs` lists them."""
    labels, first, bags = [w.label.lower() for w in owned], len(owned), []
    for change in changes:
        if not change.club:
            bags.append(tuple(range(first, first + len(owned))))
            first += len(owned)
            continue
        if change.club.lower() not in labels:
            raise BadInputError(
                f"club {change.club!r} has no trusted shot in the book; those that have:"
                f" {', '.join(w.label for w in owned)}"
            )
        place = labels.index(change.club.lower())
        bags.append(tuple(first if k == place else k for k in range(len(owned))))
        first += 1
    return bags


def _clubs(
    owned_of: OwnedOf, changes: tuple[BagChange, ...], lie: Lie, moisture: Moisture
) -> list[Wedge]:
    """The clubs that are carried, then those of every change in turn."""
    owned = list(owned_of(lie, moisture))
    shots: list[ShotSummary] = [s for w in owned for s in w.shots]
    patterns = patterns_of(shots)
    clubs = list(owned)
    for change in changes:
        if not change.club:
            clubs += [_spun(w, change.spin) for w in owned]
            continue
        wedge = next(w for w in owned if w.label.lower() == change.club.lower())
        moved = bent(wedge, patterns, change.loft_rad)
        if moved is None:
            raise NoSolutionError(
                f"{change.name}: that cannot be guessed from the clubs in the book"
            )
        clubs.append(moved)
    return clubs


def _spun(wedge: Wedge, factor: float) -> Wedge:
    shots = tuple(with_spin(s, factor) for s in wedge.shots)
    return replace(wedge, shots=shots)
