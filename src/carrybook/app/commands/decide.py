"""`choose`: which shot to play."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from carrybook.app import options
from carrybook.app.commands.ground import (
    Green,
    GreenSpeed,
    Heights,
    HeightsUnit,
    HoleNumber,
    MapFile,
)
from carrybook.app.commands.show import show
from carrybook.app.files import CARDS, FIGURES, require_place
from carrybook.app.forms.choice import SituationForm
from carrybook.app.json_views.base import Json
from carrybook.app.json_views.choice import advice_view
from carrybook.app.json_views.learn import state_view
from carrybook.app.option_groups import AirSaid, WindSaid, grouped
from carrybook.app.progress import bar
from carrybook.app.services.choice import advise, draw_advice, print_card
from carrybook.app.services.learn import learnt_state

if TYPE_CHECKING:
    from carrybook.decision.advice import Advice

__all__ = ["choose"]


@grouped
def choose(
    ctx: typer.Context,
    *,
    map_file: MapFile = None,
    green: Green = None,
    hole: HoleNumber = None,
    hole_location: Annotated[
        str | None,
        typer.Option(
            metavar="WORDS",
            help='Where it is cut, in paces as on a pin sheet: "24 on, 5 from the right"; or'
            ' "22m on, 4m from the left".',
            show_default="as described",
        ),
    ] = None,
    number: Annotated[
        str | None,
        typer.Option(
            metavar="LENGTH",
            help="Ball to hole over the ground: 88yd or 80m.",
            show_default="from the described front edge number",
        ),
    ] = None,
    heights: Heights = None,
    heights_unit: HeightsUnit = None,
    off_line: Annotated[
        str | None,
        typer.Option(
            metavar="ANGLE",
            help="How far off the line of approach the ball lies, -60deg to 60deg: 10deg is to its"
            " right.",
            show_default="0deg",
        ),
    ] = None,
    lie: options.Lie = None,
    moisture: options.Moisture = None,
    air: AirSaid,
    wind: WindSaid,
    firmness: Annotated[
        str | None,
        typer.Option(
            metavar="WORD",
            help="The green: soft, medium, firm, very firm; or a 0.5 kg hammer's reading: 105g.",
            show_default="medium",
        ),
    ] = None,
    turf_moisture: Annotated[
        str | None,
        typer.Option(
            metavar="WORD",
            help="Water in the green since its firmness was judged: dried out, drier, as judged,"
            " wetter, soaked; or a change of its water content such as +6%.",
            show_default="as judged",
        ),
    ] = None,
    kind: options.GreenKind = None,
    green_speed: GreenSpeed = None,
    competition: options.Competition = False,
    ball_model: options.BallModel = None,
    left_handed: options.LeftHanded = False,
    at_most: Annotated[
        int | None,
        typer.Option(
            metavar="N",
            help="Choose for the chance to hole out in so many strokes, 1 to 6, as in match play.",
            show_default="fewest strokes on average",
        ),
    ] = None,
    seed: options.Seed = 1,
    figure: options.Figure = None,
    card: Annotated[
        Path | None, typer.Option(metavar="FILE", help="Print a pocket card too: a .pdf file.")
    ] = None,
    as_json: options.Json = False,
) -> None:
    """Choose the shot: what to play, where to land it, where to start it, what to feel; and why.

    Every shot you own is tried at many landing spots over your own scatter. Where two shots cannot
    be told apart, it says so. You have the last word.

    Example: carrybook choose --map course.geojson --hole 4
    --hole-location "24 on, 5 from the right" --number 88yd --air "9C 85% 1004hPa"
    --wind 12mph --wind-from 90deg --firmness firm --green-speed 10ft
    """
    asked = SituationForm.of(
        map=map_file, green=green, hole=hole, hole_location=hole_location, number=number,
        heights=heights, heights_unit=heights_unit, off_line=off_line, lie=lie, moisture=moisture,
        firmness=firmness, turf_moisture=turf_moisture, kind=kind, green_speed=green_speed,
        competition=competition, ball_model=ball_model, left_handed=left_handed, at_most=at_most,
    )  # fmt: skip
    day, breeze = air.weather(), wind.form()
    require_place(figure, FIGURES, "figure")
    require_place(card, CARDS, "card")
    with bar() as progress:
        advice = advise(ctx.obj.book, asked, day, breeze, seed=seed, progress=progress)
    _print(figure, card, advice, asked, ctx.obj)
    view, text = _said(advice, ctx.obj)
    show(as_json, view, text, weather=day, its_wind=breeze.wind is None)


def _print(
    figure: Path | None,
    card: Path | None,
    advice: "Advice",
    asked: SituationForm,
    said: options.Settings,
) -> None:
    """The files that were asked for."""
    if figure is not None:
        draw_advice(figure, advice, said.units)
    if card is not None:
        print_card(
            card, said.book, advice, said.units,
            ball_model=asked.ball_model, left_handed=asked.left_handed,
        )  # fmt: skip


def _said(advice: "Advice", said: options.Settings) -> tuple[Json, str]:
    """The answer, and what it rests on."""
    from carrybook.app.texts.learn import basis_text
    from carrybook.artefacts.advice_text import advice_text

    state = learnt_state(said.book)
    text = f"{advice_text(advice, units=said.units)}\n{basis_text(state)}"
    return {**advice_view(advice), "learnt": state_view(state)}, text
