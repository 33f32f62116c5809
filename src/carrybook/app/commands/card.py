"""`card`: the pocket card, printed at exact size; or a file measured against its limits."""

from pathlib import Path
from typing import Annotated

import typer

from carrybook.app import options
from carrybook.app.commands.show import show
from carrybook.app.files import CARDS, require_place
from carrybook.app.forms.card import CardForm
from carrybook.app.json_views.card import card_view, checked_view
from carrybook.app.option_groups import AirSaid, WindSaid, grouped
from carrybook.app.progress import bar
from carrybook.app.services.card import check_file, print_new_card
from carrybook.base.errors import BadInputError

__all__ = ["card"]


@grouped
def card(
    ctx: typer.Context,
    *,
    out: Annotated[
        Path | None, typer.Argument(metavar="OUT.pdf", help="Where to print the card.")
    ] = None,
    check: Annotated[
        Path | None,
        typer.Option(
            metavar="FILE",
            help="Print nothing; measure this PDF, line by line. Exit code 1 where"
            " a limit does not hold.",
        ),
    ] = None,
    profile: Annotated[
        str | None,
        typer.Option(
            metavar="WORD",
            help="ordinary (Rule 4.3a: greens at most 3/8 in for 5 yd), or restricted (Local Rule"
            " G-11: no green, nothing of slope).",
            show_default="ordinary; with --check what the file says",
        ),
    ] = None,
    layout: Annotated[
        str | None,
        typer.Option(
            metavar="WORD",
            help="single (4.25 x 7 in), fold (that page folded across, two sides), a4 or letter"
            " (two cards with cut marks).",
            show_default="single",
        ),
    ] = None,
    title: Annotated[
        str | None,
        typer.Option(metavar="TEXT", help="On top of every page.", show_default="the venue"),
    ] = None,
    advice: Annotated[
        list[str] | None,
        typer.Option(
            metavar="WORDS",
            help='A plan: hole; hole location; number, and its wind: "4; 27 on, 9 from the left;'
            ' 91yd; 8mph 45deg". Say it once for each. Needs --map.',
        ),
    ] = None,
    map_file: Annotated[
        Path | None,
        typer.Option(
            "--map", metavar="FILE", help="Map of the course: GeoJSON with OpenStreetMap golf tags."
        ),
    ] = None,
    heights: Annotated[
        Path | None,
        typer.Option(metavar="FILE", help="Spot heights of the greens: CSV in degrees and m."),
    ] = None,
    lie: options.Lie = None,
    moisture: options.Moisture = None,
    firmness: Annotated[
        str | None, typer.Option(metavar="WORD", help="The greens, as for choose: firm, 105g.")
    ] = None,
    green_speed: Annotated[
        str | None, typer.Option(metavar="LENGTH", help="Stimp: 10ft or 3.05m.")
    ] = None,
    air: AirSaid,
    wind: WindSaid,
    seed: Annotated[
        int, typer.Option(metavar="N", min=0, help="The same seed gives the same card.")
    ] = 1,
    as_json: options.Json = False,
) -> None:
    """Print the pocket card: today's carries and partials, strips to adjust by hand, plans.

    In yd or m, black and white, at exact size, with room for a pencil. Lie, green and wind hold for
    the plans; carries and strips are for a clean dry lie, level and calm.

    Example: carrybook card card.pdf --air "9C 85% 1004hPa" --layout a4
    """
    from carrybook.app.texts.card import card_text, checked_text

    asked = CardForm.of(profile=profile, layout=layout, title=title, advice=advice)
    if check is not None:
        found = check_file(check, asked.profile)
        show(as_json, checked_view(found), checked_text(found))
        raise typer.Exit(0 if found.holds else 1)
    place = _require_card(out)
    day, breeze, alike = air.weather(), wind.form(), {
        "map": map_file, "heights": heights, "lie": lie, "moisture": moisture,
        "firmness": firmness, "green_speed": green_speed,
    }  # fmt: skip
    with bar() as progress:
        printed = print_new_card(
            place, ctx.obj.book, asked, day, breeze,
            situation=alike, units=ctx.obj.units, seed=seed, progress=progress,
        )  # fmt: skip
    its_wind = bool(advice) and breeze.wind is None
    show(as_json, card_view(printed), card_text(printed), weather=day, its_wind=its_wind)


def _require_card(out: Path | None) -> Path:
    if out is None:
        raise BadInputError("card = nothing: name the file to print, like card.pdf, or --check one")
    require_place(out, CARDS, "card")
    return out
