"""What distance to leave."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from carrybook.app.files import save_figure
from carrybook.app.forms.ground import GroundForm
from carrybook.app.forms.plan import DayForm, LeaveForm
from carrybook.app.forms.weather import WindForm
from carrybook.app.services.choice import wind_on_line
from carrybook.app.services.ground import location_on, open_ground
from carrybook.app.services.learn import day_summaries
from carrybook.app.services.weather import Weather

if TYPE_CHECKING:
    from collections.abc import Sequence

    from carrybook.decision.advice import Situation
    from carrybook.decision.lay_ups import LayUpScatter
    from carrybook.decision.leave import LeaveTable
    from carrybook.player.summary import ShotSummary
    from carrybook.world.hole import Hole, HoleLocation

__all__ = ["day_on", "draw_leave", "leave_table"]


def leave_table(
    book: Path | None,
    asked: LeaveForm,
    weather: Weather,
    wind: WindForm,
    *,
    seed: int = 1,
    progress: Callable[[str, float], None] | None = None,
) -> "LeaveTable":
    """Say what each distance that could be left costs.

    Parameters
    ----------
    book : Path, optional
        The book.
    asked : LeaveForm
        Hole, distances, lie, scatter of the lay-up.
    weather : Weather
        The day.
    wind : WindForm
        Relative to the line of approach; where none was typed, that of the report or forecast.
    seed : int, default 1
        The same seed gives the same answer.
    progress : callable, optional
        Told what is being done and which share of it is done.

    Raises
    ------
    BadInputError
        A file that cannot be read, a hole or hole location that is not there, a number outside its
        range, a lie that is not modelled.
    NoSolutionError
        No owned shot reaches from any of the distances, no book or shot yet, or a round is on.
    """
    from carrybook.decision.lay_ups import LeaveAsked
    from carrybook.decision.leave import leave
    from carrybook.player.day import Day
    from carrybook.world.lie import Lie

    lie, competition = asked.lie or Lie.FAIRWAY, asked.competition
    day = Day(weather.air, lie=lie, moisture=asked.moisture, competition=competition)
    summaries = day_summaries(book, day, ball_model=asked.ball_model, left_handed=asked.left_handed)
    hole = open_ground(GroundForm.of(map=asked.map, hole=asked.hole, heights=asked.heights))
    location = location_on(hole, asked.hole_location)
    question = LeaveAsked(
        asked.distances(),
        _scatter(asked, summaries),
        lie=asked.lie,
        off_line_rad=asked.off_line,
        favourite_m=asked.favourite,
    )
    situation = day_on(hole, location, asked, weather, wind, off_line_rad=asked.off_line)
    return leave(situation, summaries, question, seed=seed, progress=progress)


def day_on(
    hole: "Hole",
    location: "HoleLocation",
    asked: DayForm,
    weather: Weather,
    wind: WindForm,
    *,
    off_line_rad: float = 0.0,
) -> "Situation":
    """Put a hole and a day together; where the ball lies is not said yet.

    Raises
    ------
    BadInputError
        A reported wind that has no direction, or a green outside its range.
    """
    from carrybook.decision.advice import Situation
    from carrybook.world.lie import Lie

    firmness_g, firmness_sd_g = asked.firmness
    return Situation(
        hole=hole,
        location=location,
        ball_x=location.x,
        ball_y=location.y,
        lie=asked.lie or Lie.FAIRWAY,
        moisture=asked.moisture,
        air=weather.air,
        wind=wind_on_line(weather, wind, hole.bearing_rad, off_line_rad),
        firmness_g=firmness_g,
        firmness_sd_g=firmness_sd_g,
        stimp_m=asked.green_speed,
        kind=asked.kind,
    )


def draw_leave(path: Path, table: "LeaveTable", units: str) -> None:
    """Draw strokes against the distance left into a file.

    Raises
    ------
    BadInputError
        The file cannot be written.
    """
    from carrybook.artefacts.leave import leave_figure

    save_figure(path, leave_figure(table, units=units))


def _scatter(asked: LeaveForm, summaries: "Sequence[ShotSummary]") -> "LayUpScatter":
    """The scatter that was typed; what was not is that of the longest shot."""
    from carrybook.decision.lay_ups import LayUpScatter, scatter_of

    if asked.scatter is not None and asked.side_scatter is not None:
        return LayUpScatter(asked.scatter, asked.side_scatter)
    usual = scatter_of(summaries)
    if asked.scatter is not None:
        side = "you said; to the side "
        return replace(usual, depth_m=asked.scatter, source=f"as {side}{usual.source}")
    if asked.side_scatter is not None:
        return replace(usual, side_m=asked.side_scatter, source=f"{usual.source}; side as you said")
    return usual
