"""One function for each thing a person can ask for; the command line calls nothing else.

Frozen values go in and come out. Heavy rooms are imported by the service that needs them, so that
asking for help stays quick.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from math import degrees
from pathlib import Path
from typing import TYPE_CHECKING

from carrybook.app.files import write_file
from carrybook.app.forms import AirForm, SituationForm, WindForm
from carrybook.base.constants import YARD
from carrybook.base.errors import BadInputError, NoSolutionError
from carrybook.player.bag import Shot
from carrybook.player.balls import Ball
from carrybook.world.air import REFERENCE_DAY, Air
from carrybook.world.lie import Lie, Moisture
from carrybook.world.wind import Wind

if TYPE_CHECKING:
    from matplotlib.figure import Figure

    from carrybook.decision.advice import Advice
    from carrybook.physics.ball_model import BallModel
    from carrybook.physics.band import FlownBand
    from carrybook.physics.flight import Launch
    from carrybook.player.moved import Moved
    from carrybook.player.numbers import TodayNumber
    from carrybook.player.quality import OddBall
    from carrybook.player.summary import ShotSummary
    from carrybook.player.whatif import Explained
    from carrybook.store.balls import UndoneImport
    from carrybook.store.book import Book
    from carrybook.store.imports import ImportReport
    from carrybook.world.forecast import Hour
    from carrybook.world.weather import WeatherReport

__all__ = [
    "AirReport",
    "BookReport",
    "CheckReport",
    "Weather",
    "add_shot",
    "advise",
    "air_report",
    "book_path",
    "check_balls",
    "draw_advice",
    "draw_flight",
    "draw_ladder",
    "draw_moved",
    "explain_shot",
    "fly_ball",
    "import_balls",
    "logged_balls",
    "look_into",
    "moved_numbers",
    "odd_of_import",
    "owned_shots",
    "print_card",
    "remove_shot",
    "summaries_of",
    "todays_numbers",
    "undo_import",
    "weather_of",
]

_DOTS_PER_INCH = 200  # of a PNG: sharp on a phone and on paper
_ANY_LOFT_CARRIES = 70.0  # m, ours: some ball speed gives that with every loft; a test flies them
_ADD_A_SHOT = "carrybook shots add 54 --loft 54deg --carry 82yd"


@dataclass(frozen=True, slots=True)
class AirReport:
    """Air: density [kg/m3], viscosity [Pa s], and density over that of the reference day [1]."""

    air: Air
    density: float
    viscosity: float
    ratio: float


@dataclass(frozen=True, slots=True)
class Weather:
    """The air of an answer, and the report or forecast that told it; none where it was typed."""

    air: Air
    told: "WeatherReport | Hour | None" = None


@dataclass(frozen=True, slots=True)
class CheckReport:
    """Balls looked over, the odd ones, and files (name, line) in which units look mistaken."""

    balls: int
    odd: "tuple[OddBall, ...]"
    slips: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class BookReport:
    """What a book holds: version of its tables, size of its file, shots and balls."""

    version: str
    size_bytes: int
    shots: int
    balls: int


def weather_of(form: AirForm) -> Weather:
    """Give the air that was typed or reported, or that a file forecasts.

    Raises
    ------
    BadInputError
        Parts that cannot be together, a report that lacks one, a file that cannot be read, or an
        hour that is not in it.
    """
    if form.forecast is None or form.at is None:  # never one without the other
        return Weather(form.value(), form.metar)
    from carrybook.world.forecast import hour_at, read_forecast

    hour = hour_at(read_forecast(form.forecast, elevation_m=form.elevation), form.at)
    return Weather(hour.air, hour)


def air_report(air: Air) -> AirReport:
    """Say how dense the air is.

    Parameters
    ----------
    air : Air
        The air.
    """
    from carrybook.physics.air import air_density, air_viscosity

    density = air_density(air)
    return AirReport(air, density, air_viscosity(air), density / air_density(REFERENCE_DAY))


def fly_ball(
    launch: "Launch",
    air: Air,
    wind: Wind,
    *,
    height_change_m: float = 0.0,
    ball: "BallModel | None" = None,
) -> "FlownBand":
    """Fly one ball with the middle set of coefficients, and with the others for the band.

    Parameters are those of :func:`carrybook.physics.band.fly_band`.

    Raises
    ------
    OutOfRangeError
        A height change that is not modelled.
    NoSolutionError
        The ball never comes down on ground of that height.
    """
    from carrybook.physics.ball_model import STANDARD_BALL
    from carrybook.physics.band import fly_band

    return fly_band(launch, air, wind, height_change_m=height_change_m, ball=ball or STANDARD_BALL)


def book_path(book: Path | None) -> Path:
    """Where the book is: as named, or where this system keeps a person's data."""
    from carrybook.store.book import default_book_path

    return (book or default_book_path()).absolute()


def look_into(book: Path | None) -> BookReport:
    """Say what the book holds.

    Raises
    ------
    BadInputError
        The file cannot be used as a book.
    NoSolutionError
        There is no book yet.
    """
    from carrybook.store.balls import count_balls
    from carrybook.store.book import HEAD
    from carrybook.store.shots import load_shots

    with _open(book, reading=True) as opened, opened.session() as session:
        shots, balls = len(load_shots(session)), count_balls(session)
    return BookReport(HEAD, book_path(book).stat().st_size, shots, balls)


def add_shot(book: Path | None, shot: Shot) -> None:
    """Put a shot into the book, or replace its numbers.

    Raises
    ------
    BadInputError
        The book cannot be used, or cannot hold the shot beside those it has.
    NoSolutionError
        A stock carry that no flight gives.
    """
    from carrybook.store.shots import save_shot

    if shot.stock_carry_m > _ANY_LOFT_CARRIES:  # below, no flight is asked for
        _require_flight(shot)
    with _open(book, create=True) as opened, opened.session() as session:
        save_shot(session, shot)


def owned_shots(book: Path | None) -> tuple[Shot, ...]:
    """Every shot in the book.

    Raises
    ------
    NoSolutionError
        There is no book yet, or no shot in it.
    """
    from carrybook.store.shots import load_shots

    with _open(book, reading=True) as opened, opened.session() as session:
        return _some(load_shots(session))


def remove_shot(book: Path | None, label: str) -> None:
    """Take a shot out of the book.

    Raises
    ------
    BadInputError
        No such shot, or one with balls.
    NoSolutionError
        There is no book yet.
    """
    from carrybook.store.shots import remove_shot as remove

    with _open(book) as opened, opened.session() as session:
        remove(session, label)


def import_balls(
    book: Path | None, file: Path, *, columns: Mapping[str, str], units: Mapping[str, str]
) -> "ImportReport":
    """Read a file of balls into the book; rows that are there already are not added again.

    Raises
    ------
    BadInputError
        The file as a whole cannot be used; the message says why and what to do.
    NoSolutionError
        There is no book yet, or no shot in it to which a ball could belong.
    """
    from carrybook.store.imports import import_balls as read_in

    owned_shots(book)
    with _open(book) as opened:
        return read_in(opened, file, columns=columns, units=units)


def logged_balls(
    book: Path | None, *, shot: str | None = None, last: int | None = None
) -> tuple[Ball, ...]:
    """Balls in the book, the newest first.

    Parameters
    ----------
    book : Path, optional
        The book.
    shot : str, optional
        Only balls of the shot with this name.
    last : int, optional
        Only so many.

    Raises
    ------
    BadInputError
        No such shot.
    NoSolutionError
        There is no book yet.
    """
    from carrybook.store.balls import load_balls

    with _open(book, reading=True) as opened, opened.session() as session:
        return load_balls(session, shot=shot, limit=last, newest_first=True)


def check_balls(book: Path | None, *, shot: str | None = None) -> CheckReport:
    """Look over the logged balls for odd ones; none is dropped.

    Raises
    ------
    BadInputError
        No such shot.
    NoSolutionError
        There is no book yet.
    """
    from carrybook.player.quality import odd_balls, unit_slips
    from carrybook.store.balls import load_imports
    from carrybook.store.shots import load_shots

    with _open(book, reading=True) as opened, opened.session() as session:
        shots = {each.label: each for each in load_shots(session)}
        imports = load_imports(session, shot=shot)
    balls = [ball for _, of_file in imports for ball in of_file]
    slips = tuple((file, line) for file, of_file in imports for line in unit_slips(of_file))
    return CheckReport(len(balls), odd_balls(balls, shots), slips)


def odd_of_import(book: Path | None, report: "ImportReport") -> int:
    """How many of the balls that an import has just added look odd.

    Errors are those of `check_balls`.
    """
    from carrybook.player.quality import odd_balls
    from carrybook.store.balls import load_imports
    from carrybook.store.shots import load_shots

    if not report.added:
        return 0
    with _open(book, reading=True) as opened, opened.session() as session:
        shots = {each.label: each for each in load_shots(session)}
        imports = load_imports(session)
    balls = [ball for _, of_file in imports for ball in of_file]
    new = {id(ball) for ball in balls[-report.added :]}
    return sum(id(odd.ball) in new for odd in odd_balls(balls, shots))


def undo_import(book: Path | None) -> "UndoneImport":
    """Take the last import back.

    Raises
    ------
    BadInputError
        No import to take back.
    NoSolutionError
        There is no book yet.
    """
    from carrybook.store.balls import undo_last_import

    with _open(book) as opened, opened.session() as session:
        return undo_last_import(session)


def summaries_of(book: Path | None) -> "tuple[ShotSummary, ...]":
    """Say what the log says of every owned shot.

    Raises
    ------
    NoSolutionError
        There is no book yet, or no shot in it.
    """
    from carrybook.player.summary import summarise
    from carrybook.store.balls import load_balls
    from carrybook.store.shots import load_shots

    with _open(book, reading=True) as opened, opened.session() as session:
        shots, balls = _some(load_shots(session)), load_balls(session)
    return summarise(shots, balls)


def todays_numbers(
    book: Path | None, air: Air, *, lie: Lie = Lie.FAIRWAY, moisture: Moisture = Moisture.DRY
) -> "tuple[TodayNumber, ...]":
    """Say what every owned shot carries today, the longest first.

    Raises
    ------
    BadInputError
        A lie that is not modelled.
    NoSolutionError
        There is no book yet, no shot in it, or a carry that no flight gives.
    """
    from carrybook.player.numbers import numbers_today

    numbers = numbers_today(summaries_of(book), air, lie=lie, moisture=moisture)
    return tuple(sorted(numbers, key=lambda n: n.today_m, reverse=True))


def explain_shot(
    book: Path | None, label: str, air: Air, *, left_handed: bool = False
) -> "Explained":
    """Say what lie, delivery and shape would change in an owned shot.

    Raises
    ------
    BadInputError
        No such shot.
    NoSolutionError
        There is no book yet, no shot in it, or a carry that no flight gives.
    """
    from carrybook.player.whatif import explain

    summaries = {s.shot.label: s for s in summaries_of(book)}
    name = " ".join(label.split())
    if name not in summaries:
        raise BadInputError(f"shot {name!r} is not in the book; its shots: {', '.join(summaries)}")
    return explain(summaries[name], air, left_handed=left_handed)


def advise(
    book: Path | None,
    asked: SituationForm,
    weather: Weather,
    wind: WindForm,
    *,
    seed: int = 1,
    progress: Callable[[str, float], None] | None = None,
) -> "Advice":
    """Choose a shot: what to play, where to land it, where to start it.

    Parameters
    ----------
    book : Path, optional
        The book.
    asked : SituationForm
        Map, hole, hole location, number, lie and green.
    weather : Weather
        The day.
    wind : WindForm
        Relative to the line from ball to hole. Where none was typed, it is that of the report or
        forecast, over the surroundings that were typed.
    seed : int, default 1
        The same seed gives the same answer.
    progress : callable, optional
        Told what is being done and which share of it is done.

    Raises
    ------
    BadInputError
        A file that cannot be read, a hole or hole location that is not there, a number outside its
        range, a lie that is not modelled, a reported wind that has no direction.
    NoSolutionError
        No owned shot can be played from there.
    """
    from carrybook.decision.advice import Situation
    from carrybook.decision.choose import choose
    from carrybook.world.hole_map import read_hole
    from carrybook.world.locate import ball_behind, locate

    summaries = summaries_of(book)
    hole = read_hole(asked.map, asked.hole, asked.heights)
    location = locate(hole, asked.hole_location)
    x, y = ball_behind(hole, location, asked.number, off_line_rad=asked.off_line)
    firmness_g, firmness_sd_g = asked.firmness
    situation = Situation(
        hole=hole,
        location=location,
        ball_x=x,
        ball_y=y,
        lie=asked.lie,
        moisture=asked.moisture,
        air=weather.air,
        wind=_wind_of(weather, wind, hole.bearing_rad - asked.off_line),
        firmness_g=firmness_g,
        firmness_sd_g=firmness_sd_g,
        stimp_m=asked.green_speed,
    )
    return choose(situation, summaries, seed=seed, progress=progress)


def _wind_of(weather: Weather, typed: WindForm, line_bearing_rad: float) -> Wind:
    """Give the wind along a line: as typed, else as reported or forecast, else calm."""
    if typed.wind is not None or weather.told is None:
        return typed.value()
    try:
        return weather.told.wind(line_bearing_rad, typed.surroundings)
    except BadInputError as error:
        raise BadInputError(f"{error}; add it like --wind 12mph --wind-from 90deg") from None


def draw_ladder(path: Path, numbers: "Sequence[TodayNumber]", units: str) -> None:
    """Draw today's numbers into a file.

    Raises
    ------
    BadInputError
        The file cannot be written.
    """
    from carrybook.artefacts.figures import ladder

    _save_figure(path, ladder(numbers, units=units))


def draw_flight(path: Path, flown: "FlownBand", units: str) -> None:
    """Draw a flown ball with every set of coefficients into a file.

    Raises
    ------
    BadInputError
        The file cannot be written.
    """
    from carrybook.artefacts.flown import flight_side_and_plan

    _save_figure(path, flight_side_and_plan(flown, units=units))


def moved_numbers(
    book: Path | None, air: Air, *, lie: Lie = Lie.FAIRWAY, moisture: Moisture = Moisture.DRY
) -> "tuple[Moved, ...]":
    """Say what moved every owned shot since the reference day. Errors as `todays_numbers`."""
    from carrybook.player.moved import moved_today

    return moved_today(summaries_of(book), air, lie=lie, moisture=moisture)


def draw_moved(path: Path, moves: "Sequence[Moved]", units: str) -> None:
    """Draw what moved the carries into a file.

    Raises
    ------
    BadInputError
        The file cannot be written.
    """
    from carrybook.artefacts.moved import what_moved

    _save_figure(path, what_moved(moves, units=units))


def draw_advice(path: Path, advice: "Advice", units: str) -> None:
    """Draw an answer into a file.

    Raises
    ------
    BadInputError
        The file cannot be written.
    """
    from carrybook.artefacts.figures import plan_and_side

    _save_figure(path, plan_and_side(advice, units=units))


def print_card(path: Path, book: Path | None, advice: "Advice", units: str) -> None:
    """Print a pocket card with today's numbers and one plan into a file.

    Raises
    ------
    BadInputError
        The file cannot be written.
    """
    from carrybook.artefacts.card import pocket_card

    s = advice.situation
    numbers = todays_numbers(book, s.air)
    card = pocket_card(numbers, s.air, title=s.hole.venue, advices=[advice], units=units)
    write_file(path, card)


def _require_flight(shot: Shot) -> None:
    """Refuse a stock carry that no ball speed gives on the reference day."""
    from carrybook.physics.solve import speed_for_carry
    from carrybook.physics.strike import launch_from_loft

    loft = shot.club.loft_rad
    try:
        speed_for_carry(
            shot.stock_carry_m, *launch_from_loft(loft, shot.flight.value), REFERENCE_DAY
        )
    except NoSolutionError:
        raise NoSolutionError(
            f"no flight carries {shot.label} its {shot.stock_carry_m / YARD:.0f} yd with a loft of"
            f" {degrees(loft):.4g} deg; check carry and loft; nothing was stored"
        ) from None


def _open(book: Path | None, *, create: bool = False, reading: bool = False) -> "Book":
    """Open the book; only a first shot makes one where there is none."""
    from carrybook.store.book import open_book

    path = book_path(book)
    if not create and not path.exists():
        raise NoSolutionError(
            f"there is no book at {path} yet; a first shot starts it: {_ADD_A_SHOT}"
        )
    return open_book(path, create=create, reading=reading)


def _some(shots: tuple[Shot, ...]) -> tuple[Shot, ...]:
    if not shots:
        raise NoSolutionError(f"the book holds no shots yet; add one: {_ADD_A_SHOT}")
    return shots


def _save_figure(path: Path, figure: "Figure") -> None:
    from io import BytesIO

    buffer = BytesIO()
    figure.savefig(buffer, format=path.suffix.lower().lstrip("."), dpi=_DOTS_PER_INCH)
    write_file(path, buffer.getvalue())
