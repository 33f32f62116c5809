"""`numbers`: what your shots carry today, and which one carries a distance."""

from pathlib import Path
from typing import Annotated

import typer

from carrybook.app import options
from carrybook.app.commands.show import show
from carrybook.app.files import FIGURES, require_place
from carrybook.app.forms.learn import NumbersForm
from carrybook.app.json_views.base import Json
from carrybook.app.json_views.numbers import for_view, numbers_view
from carrybook.app.option_groups import AirSaid, MeanWind, grouped
from carrybook.app.services.learn import learnt_state
from carrybook.app.services.numbers import (
    draw_ladder,
    draw_moved,
    moved_numbers,
    numbers_on,
    shots_for_carry,
)
from carrybook.base.errors import BadInputError
from carrybook.player.day import Day

__all__ = ["numbers"]


@grouped
def numbers(
    ctx: typer.Context,
    *,
    air: AirSaid,
    wind: MeanWind,
    lie: options.Lie = None,
    moisture: options.Moisture = None,
    ball_temp: Annotated[
        str | None,
        typer.Option(
            metavar="TEMP", help="Of the ball, where it was kept warm: 20C.", show_default="the air"
        ),
    ] = None,
    ball_model: options.BallModel = None,
    left_handed: options.LeftHanded = False,
    competition: options.Competition = False,
    carry: Annotated[
        str | None,
        typer.Option("--for", metavar="LENGTH", help="Which shot carries this, best first: 77yd."),
    ] = None,
    figure: options.Figure = None,
    moved: options.MovedFigure = None,
    as_json: options.Json = False,
) -> None:
    """Give today's numbers: what each of your shots carries in this air, from this lie, in yd or m.

    Beside each stands its carry on the reference day (20C, 1013.25hPa, 50%), what moved it since
    (air, ball, wind, body, lie), how well its middle is known, how far single balls stray, what its
    partials reach, and where two shots overlap or none reaches; how much drag your ball has, by the
    log, and which shots fly where lift and drag are hardly known. What was learnt is used where it
    is fresh (carrybook learn), else the log as it stands; it says which.

    Example: carrybook numbers --air "9C 85% 1004hPa" --lie "light rough" --moisture wet; or
    carrybook numbers --for 77yd --air 9C --wind 10mph
    """
    weather, breeze = air.weather(), wind.form().value()
    form = NumbersForm.of(
        lie=lie, moisture=moisture, ball_temp=ball_temp, ball_model=ball_model,
        left_handed=left_handed, competition=competition, carry=carry,
    )  # fmt: skip
    require_place(figure, FIGURES, "figure")
    require_place(moved, FIGURES, "moved")
    day = form.day(weather.air, breeze)
    if form.carry is None:
        view, text = _numbers(ctx.obj, day, form, figure, moved)
    else:
        view, text = _for_carry(ctx.obj, day, form, form.carry, figure or moved)
    show(as_json, view, text, weather=weather)


def _numbers(
    said: options.Settings, day: Day, form: NumbersForm, figure: Path | None, moved: Path | None
) -> tuple[Json, str]:
    """All of today's numbers, with their pictures."""
    from carrybook.app.texts.numbers import today_text

    rows = numbers_on(said.book, day, ball_model=form.ball_model, left_handed=form.left_handed)
    state = learnt_state(said.book)
    if figure is not None:
        draw_ladder(figure, rows, said.units)
    if moved is not None:
        draw_moved(moved, moved_numbers(rows), said.units)
    return numbers_view(rows, day, state), today_text(rows, day, state, said.units)


def _for_carry(
    said: options.Settings, day: Day, form: NumbersForm, carry: float, picture: Path | None
) -> tuple[Json, str]:
    """The shots that carry a distance."""
    from carrybook.app.texts.numbers import for_text

    if picture is not None:
        raise BadInputError("for = one distance has no picture; leave out --figure and --moved")
    found = shots_for_carry(
        said.book, carry, day, ball_model=form.ball_model, left_handed=form.left_handed
    )
    state = learnt_state(said.book)
    return for_view(found, carry, day, state), for_text(found, carry, day, state, said.units)
