"""Which wedges to carry: the best bag, gaps, what a change would do, a shot on trial."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from math import degrees
from pathlib import Path
from typing import TYPE_CHECKING

from carrybook.app.files import save_figure
from carrybook.app.forms.bag import BagForm, FitForm, TryOutForm, WhatIfForm
from carrybook.app.services.bag_question import BagQuestion
from carrybook.app.services.book import open_book, some_shots
from carrybook.base.errors import BadInputError, NoSolutionError
from carrybook.player.bag import MOST_CLUBS
from carrybook.player.day import Day
from carrybook.world.lie import Lie, Moisture

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from carrybook.decision.bag_fit.gaps import BagGaps
    from carrybook.decision.bag_fit.greens import Greens
    from carrybook.decision.bag_fit.options import BagFit
    from carrybook.decision.bag_fit.tryout import TryOut
    from carrybook.decision.bag_fit.whatif import ChangeWorth
    from carrybook.decision.demand import Demand
    from carrybook.player.learn.feel import FeelGap
    from carrybook.player.summary import ShotSummary

__all__ = ["Changes", "Tried", "change_bag", "draw_bag", "fit_book", "gaps_of_book", "try_shot"]

Told = Callable[[str, float], None]
_READING = 0.1  # about the share of the time that book, greens and clubs take
_MUCH = 0.3  # ours: so much of a saving is worth a word
_INVENTED = "greens are level and round, 30 yd across, the hole in front, middle or at the back"
_COURSE = (
    "greens are those of the map, the hole in front, middle and back; their slopes count for putts,"
    " not for the roll after landing"
)
_CALM = "it is calm, so that a low flight earns nothing for the wind: try --wind too"
_PUTTS = "putts, and strokes off the green, are a tour player's, not yours"


@dataclass(frozen=True, slots=True)
class Changes:
    """What changes of the bag would save, and what was faced."""

    demand: "Demand"
    greens: "Greens"
    worths: "tuple[ChangeWorth, ...]"
    draws: int
    doubts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Tried:
    """A shot on trial, and how the player reads it: called against measured, meant against called.

    The gaps are none where too few balls were called.
    """

    answer: "TryOut"
    called: "FeelGap | None"
    intended: "FeelGap | None"
    doubts: tuple[str, ...]


def fit_book(
    book: Path | None, asked: FitForm, day: Day, *, seed: int = 1, progress: Told | None = None
) -> "BagFit":
    """Find the bag that costs fewest strokes.

    Parameters
    ----------
    book : Path, optional
        The book.
    asked : FitForm
        What is faced, and how many wedges.
    day : Day
        Air and wind along every line.
    seed : int, default 1
        The same seed gives the same answer.
    progress : callable, optional
        Told what is being done and which share of it is done.

    Raises
    ------
    BadInputError
        A file that cannot be read, a club that is not there, or more than 14 clubs.
    NoSolutionError
        There is no book yet, no trusted wedge in it, or a round is on.
    """
    from carrybook.decision.bag_fit.doubt import Chance
    from carrybook.decision.bag_fit.fit import fit_bag

    tell = _begun(progress)
    question = BagQuestion(book, asked, day)
    others = _require_room(book, asked)
    fit = fit_bag(
        question.candidates, question.demand(), question.greens(), sizes=asked.sizes(),
        keep=asked.keep, chance=Chance(seed=seed), progress=tell,
    )  # fmt: skip
    return replace(fit, doubts=tuple(_fit_doubts(fit, day, asked, others)))


def gaps_of_book(
    book: Path | None, asked: BagForm, day: Day, *, seed: int = 1, progress: Told | None = None
) -> "BagGaps":
    """Say where the bag has gaps, and what each club is worth; as :func:`fit_book`."""
    from carrybook.decision.bag_fit.doubt import Chance
    from carrybook.decision.bag_fit.gaps import gaps_of

    tell = _begun(progress)
    question = BagQuestion(book, asked, day)
    gaps = gaps_of(
        question.candidates,
        question.demand(),
        question.greens(),
        chance=Chance(seed=seed),
        progress=tell,
    )
    return replace(gaps, doubts=(*_doubts(day, asked), _guessed(), _PUTTS))


def change_bag(
    book: Path | None, asked: WhatIfForm, day: Day, *, seed: int = 1, progress: Told | None = None
) -> Changes:
    """Say what other lofts, or another ball, would save by firmness; as :func:`fit_book`."""
    from carrybook.decision.bag_fit.doubt import Chance
    from carrybook.decision.bag_fit.whatif import BagChange, bag_whatif, usual_changes
    from carrybook.world.firmness import FIRMNESS

    tell = _begun(progress)
    question = BagQuestion(book, asked, day)
    demand, greens = question.demand(), question.greens()
    club, loft, spin = asked.asked()
    changes = [BagChange(club, loft)] if loft is not None else []
    changes += [BagChange(spin=spin)] if spin is not None else []
    chance = Chance(count=512 if changes else 256, seed=seed)
    if not changes:
        changes = list(usual_changes(question.wedges()))
    firmnesses = tuple(FIRMNESS.values())
    worths = bag_whatif(
        question.owned, changes, demand, greens, firmnesses, chance=chance, progress=tell
    )
    bent = (
        "a club with another loft is taken to carry within 1.5 %, scatter within 5 %, launch within"
        " 0.75 deg and spin within 5 % of what is guessed (one standard deviation; ours)"
    )
    return Changes(demand, greens, worths, chance.count, (*_doubts(day, asked), bent, _PUTTS))


def try_shot(
    book: Path | None, asked: TryOutForm, day: Day, *, seed: int = 1, progress: Told | None = None
) -> Tried:
    """Say whether a shot on trial earns a place.

    Parameters are those of :func:`fit_book`.

    Raises
    ------
    BadInputError
        No such shot, or a number outside its range.
    NoSolutionError
        There is no book yet, no other trusted shot in it, no ball of the shot, or a round is on.
    """
    from carrybook.decision.bag_fit.doubt import Chance
    from carrybook.decision.bag_fit.tryout import try_out

    tell = _begun(progress)
    question = BagQuestion(book, asked, day)
    label = _label_of(question.summaries(Lie.FAIRWAY, Moisture.DRY), asked.label)
    tried = next(s for s in question.summaries(Lie.FAIRWAY, Moisture.DRY) if s.shot.label == label)
    if not tried.balls:
        raise NoSolutionError(
            f"no ball of {label} is logged yet: log a couple of dozen beside the shots you own,"
            f' like carrybook balls log "{label} 70 called 72 got 68 3R"'
        )
    demand = question.demand(asked.carries)
    answer = try_out(
        question.summaries,
        label,
        demand,
        question.greens(),
        chance=Chance(seed=seed),
        progress=tell,
    )
    called, intended = _felt(book, tried)
    return Tried(answer, called, intended, (*_doubts(day, asked), _PUTTS))


def draw_bag(path: Path, fit: "BagFit", units: str) -> None:
    """Draw a bag against the one that is carried into a file.

    Raises
    ------
    BadInputError
        The file cannot be written.
    """
    from carrybook.artefacts.bag import bag_figure

    save_figure(path, bag_figure(fit, units=units))


def _begun(progress: Told | None) -> Told:
    """Say that the book and the greens are read, and give what tells of the rest."""
    if progress is None:
        return lambda _what, _share: None
    progress("reading your book and the greens", 0.0)
    return lambda what, share: progress(what, _READING + (1.0 - _READING) * share)


def _require_room(book: Path | None, asked: FitForm) -> int:
    """Refuse more than 14 clubs; give how many beside the wedges the book has."""
    from carrybook.decision.bag_fit.wedges import WEDGE_FROM
    from carrybook.store.shots import load_shots

    with open_book(book, reading=True) as opened, opened.session() as session:
        shots = some_shots(load_shots(session))
    others = {s.club.label for s in shots if s.club.loft_rad < WEDGE_FROM}
    most = len(others) + max(asked.sizes())
    if most > MOST_CLUBS:
        raise BadInputError(
            f"{max(asked.sizes())} wedges beside the {len(others)} other clubs of the book make"
            f" {most}; Rule 4.1b allows {MOST_CLUBS}: ask for fewer with --wedges"
        )
    return len(others)


def _doubts(day: Day, asked: BagForm) -> "Iterator[str]":
    yield _INVENTED if asked.map is None else _COURSE
    if not day.wind.speed_mps:
        yield _CALM


def _fit_doubts(fit: "BagFit", day: Day, asked: BagForm, others: int) -> "Iterator[str]":
    from carrybook.decision.bag_fit.options import from_short_partials

    yield from _doubts(day, asked)
    yield _guessed()
    short = from_short_partials(fit)
    if short > _MUCH:
        yield (
            f"{100.0 * short:.0f} % of what the best bag saves comes from distances no further than"
            " your shortest partials: a shorter partial of a wedge you own may do the same"
        )
    yield "a partial of a new club goes down to the share of its stock carry that yours do"
    left = MOST_CLUBS - others
    yield (
        f"clubs of the book beside the wedges: {others}, which leaves room for {left} (Rule 4.1b);"
        " count those that it does not list"
    )
    yield _PUTTS


def _guessed() -> str:
    from carrybook.decision.bag_fit.wedges import CARRY_A_DEGREE, NEVER_HIT

    return (
        f"a loft you never hit is taken to carry within {100.0 * NEVER_HIT.carry:.0f} %, and"
        f" {100.0 * CARRY_A_DEGREE:.0f} % more for each degree from the nearest you own, scatter"
        f" within {100.0 * NEVER_HIT.scatter:.0f} %, launch within"
        f" {degrees(NEVER_HIT.launch_rad):.1f} deg and spin within {100.0 * NEVER_HIT.spin:.0f} %"
        " of what your other clubs say (one standard deviation; ours)"
    )


def _label_of(summaries: "Sequence[ShotSummary]", typed: str) -> str:
    name = " ".join(typed.split()).lower()
    labels = [s.shot.label for s in summaries]
    for label in labels:
        if label.lower() == name:
            return label
    raise BadInputError(f"shot {typed!r} is not in the book; its shots: {', '.join(labels)}")


def _felt(book: Path | None, tried: "ShotSummary") -> "tuple[FeelGap | None, FeelGap | None]":
    """Gaps of one shot between meant, called and measured, where there are any."""
    import numpy as np

    from carrybook.player.learn.feel import feel_of
    from carrybook.store.balls import load_balls

    with open_book(book, reading=True) as opened, opened.session() as session:
        balls = [ball for ball in load_balls(session) if ball.shot == tried.shot.label]
    if not any(ball.called_m for ball in balls):
        return None, None
    feel = feel_of((tried.shot,), balls, np.random.default_rng(1))
    return next(iter(feel.called), None), next(iter(feel.intended), None)
