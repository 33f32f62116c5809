"""The pocket card: what it carries, printed into a file; and a file looked at."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from math import ceil, floor
from pathlib import Path
from typing import TYPE_CHECKING

from carrybook.app.files import write_file
from carrybook.app.forms.card import CardForm, PlanForm
from carrybook.app.forms.choice import SituationForm
from carrybook.app.forms.weather import WindForm
from carrybook.app.services.choice import advise
from carrybook.app.services.numbers import numbers_on
from carrybook.app.services.weather import Weather
from carrybook.artefacts.paper import Layout, Profile
from carrybook.base import constants as c
from carrybook.base.errors import BadInputError

if TYPE_CHECKING:
    from carrybook.app.services.plan import VenuePlan
    from carrybook.artefacts.card import CardContent
    from carrybook.artefacts.card_check import CardCheck
    from carrybook.decision.advice import Advice
    from carrybook.player.bag import Shot
    from carrybook.player.strips import Fact, ShotPartials, ShotStrip
    from carrybook.player.summary import ShotSummary
    from carrybook.world.air import Air

__all__ = ["PrintedCard", "check_file", "print_new_card", "print_plans", "tables_for"]

_UNTITLED = "Carries today"
# Ours: round carries of the table of partials, the steps to choose from, and how many fit.
_STEPS = (10, 15, 20, 25, 50)
_MOST_CARRIES = 10
_WARMTH_K = 10.0  # ours: the strip of warmth; as for the winds and heights below
_WINDS = {"yards": (5.0 * c.MILE_PER_HOUR, 10.0 * c.MILE_PER_HOUR), "metres": (2.0, 5.0)}
_HEIGHTS = {"yards": 10.0 * c.FOOT, "metres": 3.0}

Progress = Callable[[str, float], None]


@dataclass(frozen=True, slots=True)
class PrintedCard:
    """A card that was printed: where, how, and what stands on it."""

    path: Path
    profile: Profile
    layout: Layout
    content: "CardContent"
    pages: int


def print_new_card(
    path: Path,
    book: Path | None,
    asked: CardForm,
    weather: Weather,
    wind: WindForm,
    *,
    situation: Mapping[str, object],
    units: str,
    seed: int = 1,
    progress: Progress | None = None,
) -> PrintedCard:
    """Compute what a card carries, and print it into a file.

    Parameters
    ----------
    path : Path
        The file.
    book : Path, optional
        The book.
    asked : CardForm
        Profile (ordinary where none is named), layout, title and plans.
    weather : Weather
        The day.
    wind : WindForm
        For plans that do not say their own; its surroundings hold for the wind strip too.
    situation : mapping
        What all plans share: map, heights, lie, moisture, firmness, green speed, as typed.
    units : str
        "yards" or "metres": steps of the tables are round in them.
    seed : int, default 1
        The same seed gives the same card.
    progress : callable, optional
        Told what is being done and which share of it is done.

    Raises
    ------
    BadInputError
        Plans without a map, whatever `choose` refuses, or a file that cannot be written.
    NoSolutionError
        There is no book yet, no shot in it, or a carry that no flight gives.
    """
    if asked.advice and situation.get("map") is None:
        raise BadInputError("advice needs a map of the course; add it like --map course.geojson")
    advices = tuple(_plans(book, asked.advice, weather, wind, situation, seed, progress))
    content = _content(book, asked, weather.air, advices, units, wind.surroundings)
    return _print(path, content, asked, units)


def print_plans(
    path: Path,
    book: Path | None,
    asked: CardForm,
    air: "Air",
    advices: "Sequence[Advice]",
    *,
    venue: "VenuePlan | None",
    units: str,
    roughness_m: float,
) -> PrintedCard:
    """Print a card with plans that were made already, single ones and those of a venue.

    Parameters
    ----------
    path : Path
        The file.
    book : Path, optional
        The book.
    asked : CardForm
        Profile, layout and title; its own plans are not made here.
    air : Air
        Of the day.
    advices : sequence of Advice
        Plans for single shots.
    venue : VenuePlan, optional
        Plans by zone, and what to leave.
    units : str
        "yards" or "metres".
    roughness_m : float
        Of the surroundings, for the wind strip. [m]

    Raises
    ------
    BadInputError
        A file that cannot be written.
    NoSolutionError
        There is no book yet, no shot in it, or a carry that no flight gives.
    """
    from carrybook.decision.plan import zone_plan_of

    content = _content(book, asked, air, tuple(advices), units, roughness_m)
    if venue is not None:
        content = replace(
            content,
            title=asked.title or venue.venue,
            zones=tuple(zone_plan_of(cell) for cell in venue.cells),
            lay_ups=venue.lay_ups,
        )
    return _print(path, content, asked, units)


def _content(
    book: Path | None,
    asked: CardForm,
    air: "Air",
    advices: "tuple[Advice, ...]",
    units: str,
    roughness_m: float,
) -> "CardContent":
    """Carries, partials and strips, beside the plans that were made."""
    from carrybook.artefacts.card import CardContent
    from carrybook.player.day import Day

    numbers = numbers_on(book, Day(air))
    partials, strips = tables_for([n.summary for n in numbers], air, units, roughness_m)
    venue = advices[0].situation.hole.venue if advices else _UNTITLED
    return CardContent(
        title=asked.title or venue,
        air=air,
        numbers=numbers,
        partials=partials,
        strips=strips,
        advices=advices,
    )


def tables_for(
    shots: "Sequence[ShotSummary]", air: "Air", units: str, roughness_m: float
) -> "tuple[tuple[ShotPartials, ...], tuple[ShotStrip, ...]]":
    """Work out partials and strips of a card.

    Parameters
    ----------
    shots : sequence of ShotSummary
        The shots on that day.
    air : Air
        The air of the day.
    units : str
        "yards" or "metres": steps are round in them.
    roughness_m : float
        Of the surroundings. [m]

    Raises
    ------
    NoSolutionError
        A carry that no flight gives.
    """
    from carrybook.player.strips import partials_today, strips_today

    carries = _round_carries([s.shot for s in shots], c.YARD if units == "yards" else 1.0)
    return (
        partials_today(shots, air, carries),
        strips_today(shots, air, _facts(air, units), roughness_m=roughness_m),
    )


def _print(path: Path, content: "CardContent", asked: CardForm, units: str) -> PrintedCard:
    from carrybook.artefacts.card import pocket_card
    from carrybook.artefacts.pdf_facts import count_pages

    profile = asked.profile or Profile.ORDINARY
    pdf = pocket_card(content, profile=profile, layout=asked.layout, units=units)
    write_file(path, pdf)
    return PrintedCard(path, profile, asked.layout, content, count_pages(pdf))


def check_file(path: Path, profile: Profile | None) -> "CardCheck":
    """Measure a PDF against the limits of a card.

    Raises
    ------
    BadInputError
        It cannot be read, or is no PDF.
    """
    from carrybook.artefacts.card_check import check_card

    try:
        content = path.read_bytes()
    except OSError as error:
        raise BadInputError(f"card = '{path}' cannot be read: {error.strerror}") from None
    return check_card(content, str(path), profile)


def _plans(
    book: Path | None,
    plans: Sequence[PlanForm],
    weather: Weather,
    wind: WindForm,
    situation: Mapping[str, object],
    seed: int,
    progress: Progress | None,
) -> "Iterator[Advice]":
    for k, plan in enumerate(plans):
        if progress is not None:
            progress(f"hole {plan.hole}", k / len(plans))
        where = {"hole": plan.hole, "hole_location": plan.hole_location, "number": plan.number}
        own = _wind_of(plan, wind)
        yield advise(book, SituationForm.of(**situation, **where), weather, own, seed=seed)


def _wind_of(plan: PlanForm, wind: WindForm) -> WindForm:
    """The wind of a plan: its own over the same surroundings, or everyone's."""
    if plan.wind is None:
        return wind
    own = WindForm.of(wind=plan.wind, wind_from=plan.wind_from)
    return own.model_copy(update={"surroundings": wind.surroundings})


def _facts(air: "Air", units: str) -> "tuple[Fact, ...]":
    """What may differ from the day, in steps that are round in the person's units."""
    from carrybook.player.strips import Fact, FactKind

    light, stronger = _WINDS[units]
    celsius = air.temperature_k - c.CELSIUS_ZERO
    facts = [
        Fact(FactKind.INTO, light),
        Fact(FactKind.INTO, stronger),
        Fact(FactKind.HELPING, light),
        Fact(FactKind.HELPING, stronger),
        Fact(FactKind.ACROSS, stronger),
    ]
    facts += [Fact(FactKind.COLDER, _WARMTH_K)] if celsius - _WARMTH_K >= -25.0 else []
    facts += [Fact(FactKind.WARMER, _WARMTH_K)] if celsius + _WARMTH_K <= 50.0 else []
    facts += [Fact(kind, _HEIGHTS[units]) for kind in (FactKind.HIGHER, FactKind.LOWER)]
    wet = (FactKind.DEW, FactKind.WET, FactKind.LIGHT_ROUGH, FactKind.DEEP_ROUGH)
    return (*facts, *(Fact(kind) for kind in wet))


def _round_carries(shots: "Sequence[Shot]", far_m: float) -> list[float]:
    """Round carries over all partials, at most ten of them. [m]"""
    low = min(shot.shortest_m for shot in shots) / far_m
    high = max(shot.longest_m for shot in shots) / far_m
    for step in _STEPS:
        steps = range(ceil(low / step), floor(high / step) + 1)
        if len(steps) <= _MOST_CARRIES:
            break
    return [k * step * far_m for k in steps]
