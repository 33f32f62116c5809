"""`venue`: the page of a venue in the book. All of it records, so it goes on during a round."""

from datetime import date
from pathlib import Path
from typing import Annotated

import typer

from carrybook.app import options
from carrybook.app.commands.show import show
from carrybook.app.forms.venue import ElevationForm, NoteForm, TeeForm, VenuePageForm, day_named
from carrybook.app.json_views.venue import note_part, page_view, venues_view
from carrybook.app.services import venues as service

__all__ = ["app"]

app = typer.Typer(
    no_args_is_help=True, help="Venues: course, notes, tee times, hole locations, forecasts."
)

_Name = Annotated[str, typer.Argument(metavar="VENUE", help="Its name.")]
_Date = Annotated[
    str | None,
    typer.Option("--date", metavar="DATE", help="Which day: 2026-05-31.", show_default="today"),
]
_Day = Annotated[str, typer.Option("--date", metavar="DATE", help="Which day: 2026-05-31.")]


@app.command()
def add(
    ctx: typer.Context,
    venue: _Name,
    course: Annotated[
        Path | None,
        typer.Option(
            metavar="PATH",
            help="Where its holes are drawn: a map (GeoJSON, .osm), a described green (.txt), or a"
            " folder with one map, heights.csv or heights.tif beside it, and described greens.",
        ),
    ] = None,
    heights: Annotated[
        Path | None,
        typer.Option(metavar="FILE", help="Heights of its greens, where they lie elsewhere."),
    ] = None,
    elevation: options.Elevation = None,
    surroundings: options.Surroundings = None,
    numbers: Annotated[
        str | None,
        typer.Option(metavar="LENGTHS", help="Likely distances.", show_default="70yd,90yd,110yd"),
    ] = None,
    as_json: options.Json = False,
) -> None:
    """Add a venue, or say more of one that is there; its notes stay.

    Example: carrybook venue add "Saltfen Reach" --course demo-out --numbers 70yd,90yd,110yd
    """
    asked = VenuePageForm.of(
        name=venue, course=course, heights=heights, elevation=elevation,
        surroundings=surroundings, numbers=numbers,
    )  # fmt: skip
    _show(ctx, service.save_venue(ctx.obj.book, asked), as_json)


@app.command()
def note(
    ctx: typer.Context,
    venue: _Name,
    day: _Date = None,
    hole: Annotated[
        str, typer.Option(metavar="REF", help="Which green.", show_default="the whole course")
    ] = "",
    firmness: Annotated[
        str | None,
        typer.Option(metavar="WORDS", help="soft, medium, firm, very firm, 105g, 108g+-6g."),
    ] = None,
    stimp: Annotated[
        str | None,
        typer.Option("--stimp", "--green-speed", metavar="LENGTH", help="Green speed: 10ft."),
    ] = None,
    saw: Annotated[
        list[str] | None,
        typer.Option(
            metavar="WORDS",
            help="What a ball did that landed, as for `firmness`: released 4 paces, one hop and"
            " stopped, shallow mark. Once for each ball; `prepare` learns from it.",
        ),
    ] = None,
    text: Annotated[
        str, typer.Option(metavar="TEXT", help="In your own words. Never on a restricted card.")
    ] = "",
    as_json: options.Json = False,
) -> None:
    """Note what you found on a practice day; it stays with the venue for next year.

    Example: carrybook venue note "Saltfen Reach" --hole 4 --saw "released 4 paces" --stimp 10.5ft
    """
    from carrybook.app.texts.venue import noted_text

    asked = NoteForm.of(
        day=day or date.today().isoformat(), hole=hole, firmness=firmness, stimp=stimp,
        saw=saw or None, text=text,
    )  # fmt: skip
    page = service.note_venue(ctx.obj.book, venue, asked)
    show(as_json, page_view(page), noted_text(page, asked.value(), ctx.obj.units))


@app.command()
def undo(ctx: typer.Context, venue: _Name, as_json: options.Json = False) -> None:
    """Take back the note that was written last.

    Example: carrybook venue undo "Saltfen Reach"
    """
    from carrybook.app.texts.venue import undone_text

    taken = service.undo_note(ctx.obj.book, venue)
    show(as_json, note_part(taken), undone_text(taken, ctx.obj.units))


@app.command()
def tee(
    ctx: typer.Context,
    venue: _Name,
    at: Annotated[str, typer.Argument(metavar="TIME", help="Local time: 08:10.")],
    day: _Day,
    from_hole: Annotated[
        str, typer.Option(metavar="N", help="On which hole the round starts.")
    ] = "1",
    as_json: options.Json = False,
) -> None:
    """Say when a round starts.

    Example: carrybook venue tee "Saltfen Reach" 08:10 --date 2026-05-31 --from-hole 10
    """
    from carrybook.app.texts.venue import days_text

    asked = TeeForm.of(day=day, tee_off=at, first_hole=from_hole)
    page = service.keep_tee(ctx.obj.book, venue, asked)
    show(as_json, page_view(page), days_text(page, [asked.day]))


@app.command()
def holes(
    ctx: typer.Context,
    venue: _Name,
    file: Annotated[
        Path,
        typer.Argument(
            metavar="FILE",
            help="The hole-location sheet: a line a hole, '4: 27 on, 9 from the left'.",
        ),
    ],
    day: _Day,
    as_json: options.Json = False,
) -> None:
    """Read the hole-location sheet of a day; every place is looked up on its green.

    Example: carrybook venue holes "Saltfen Reach" sunday.txt --date 2026-05-31
    """
    from carrybook.app.texts.venue import days_text

    of = day_named(day)
    page = service.keep_sheet(ctx.obj.book, venue, of, file)
    show(as_json, page_view(page), days_text(page, [of]))


@app.command()
def forecast(
    ctx: typer.Context,
    venue: _Name,
    file: Annotated[
        Path,
        typer.Argument(
            metavar="FILE",
            help="CSV by hour: time, temperature, humidity or dew point, station pressure or"
            " sea-level pressure, wind, wind from, gust, rain; with units: temperature (C).",
        ),
    ],
    day: Annotated[
        str | None,
        typer.Option(
            "--date", metavar="DATE", help="Which day, where its times have no date: 2026-05-31."
        ),
    ] = None,
    elevation: options.Elevation = None,
    as_json: options.Json = False,
) -> None:
    """Read a forecast by the hour, of one or more days; a newer one stands in for the older.

    Example: carrybook venue forecast "Saltfen Reach" week.csv
    """
    from carrybook.app.texts.venue import days_text

    page = service.keep_forecast(
        ctx.obj.book, venue, file,
        today=date.today(), day=None if day is None else day_named(day),
        elevation_m=ElevationForm.of(elevation=elevation).elevation,
    )  # fmt: skip
    show(as_json, page_view(page), days_text(page, page.forecasts))


@app.command(name="show")
def show_venue(
    ctx: typer.Context,
    venue: Annotated[
        str | None,
        typer.Argument(metavar="VENUE", help="Its name.", show_default="all, by name"),
    ] = None,
    as_json: options.Json = False,
) -> None:
    """Show the page of a venue as it was written, or list the venues.

    Example: carrybook venue show "Saltfen Reach"
    """
    from carrybook.app.texts.venue import venues_text

    if venue is not None:
        _show(ctx, service.look_at_venue(ctx.obj.book, venue), as_json)
        return
    found = service.venues_of(ctx.obj.book)
    show(as_json, venues_view(found), venues_text(found))


def _show(ctx: typer.Context, page: service.VenuePage, as_json: bool) -> None:
    from carrybook.app.texts.venue import page_text

    show(as_json, page_view(page), page_text(page, ctx.obj.units))
