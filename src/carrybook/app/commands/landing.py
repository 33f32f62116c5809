"""`land` and `firmness`: a ball that comes down, and what balls that came down say of a green."""

from typing import Annotated

import typer

from carrybook.app import options
from carrybook.app.commands.show import show
from carrybook.app.files import FIGURES, require_place
from carrybook.app.forms.landing import FirmnessForm, LandForm, seen_named
from carrybook.app.json_views.landing import firmness_view, landed_view
from carrybook.app.progress import waiting
from carrybook.app.services.landing import draw_firmness, draw_landed, land_ball, learn_firmness

__all__ = ["firmness", "land"]

_GreenSpeed = Annotated[
    str | None,
    typer.Option(
        "--stimp", "--green-speed", metavar="LENGTH", help="Stimp: 10ft.", show_default="10ft"
    ),
]
_Slope = Annotated[
    str | None,
    typer.Option("--slope", metavar="SHARE", help="How much it rises: 2%.", show_default="0%"),
]
_SlopeDirection = Annotated[
    str | None,
    typer.Option(
        "--slope-direction",
        metavar="WORDS",
        help="Where it rises, seen from the ball: uphill, downhill, right to left (it rises on the"
        " right), left to right; or clockwise from uphill: 45deg.",
        show_default="uphill",
    ),
]


def land(
    ctx: typer.Context,
    speed: Annotated[
        str, typer.Option(metavar="SPEED", help="Speed of the ball as it lands: 19mps or 42mph.")
    ],
    descent: Annotated[
        str, typer.Option(metavar="ANGLE", help="How steeply it comes down: 50deg.")
    ],
    spin: Annotated[str, typer.Option(metavar="SPIN", help="Backspin as it lands: 8000rpm.")],
    spin_axis: Annotated[
        str | None,
        typer.Option(
            metavar="ANGLE",
            help="Tilt of the spin axis: 5deg for a ball that curved right, -5deg left.",
            show_default="0deg",
        ),
    ] = None,
    firmness: Annotated[
        str | None,
        typer.Option(
            metavar="WORDS",
            help="How firm: soft, medium, firm, very firm, or a 0.5 kg hammer's reading, 105g or"
            " 108g+-6g.",
            show_default="medium",
        ),
    ] = None,
    moisture: Annotated[
        str | None,
        typer.Option(
            metavar="WORDS",
            help="Water in the turf since its firmness was judged: dried out, drier, as judged,"
            " damper, wet, soaked, or +6% of its volume.",
            show_default="as judged",
        ),
    ] = None,
    stimp: _GreenSpeed = None,
    slope: _Slope = None,
    slope_direction: _SlopeDirection = None,
    surface: Annotated[
        str | None,
        typer.Option(
            metavar="WORD",
            help="What it lands on: green, fringe, fairway, rough, bunker, path.",
            show_default="green",
        ),
    ] = None,
    kind: options.GreenKind = None,
    figure: options.Figure = None,
    as_json: options.Json = False,
) -> None:
    """Land one ball: first bounce, check or release, where it stops, and how sure that is.

    How a ball comes down is what `fly` says at the end. Firmness, crater, friction and green speed
    are unsure; the spread of the run shows how much that matters.

    Example: carrybook land --speed 19mps --descent 51deg --spin 8700rpm --firmness firm --slope 2%
    """
    from carrybook.app.texts.landing import landed_text

    form = LandForm.of(
        speed=speed, descent=descent, spin=spin, spin_axis=spin_axis, firmness=firmness,
        moisture=moisture, green_speed=stimp, slope=slope, slope_direction=slope_direction,
        surface=surface, kind=kind,
    )  # fmt: skip
    require_place(figure, FIGURES, "figure")
    with waiting("landing balls"):
        landed = land_ball(form.arrival(), form.patch(), book=ctx.obj.book)
    if figure is not None:
        draw_landed(figure, landed, ctx.obj.units)
    show(as_json, landed_view(landed), landed_text(landed, ctx.obj.units))


def firmness(
    ctx: typer.Context,
    saw: Annotated[
        list[str],
        typer.Option(
            "--saw",
            metavar="WORDS",
            help="What a ball did: one hop and stopped, checked, released 4 paces, ran out, came"
            " back 2yd; a comma and its pitch mark may follow: plugged, deep, usual, shallow, none."
            " Once for each ball.",
        ),
    ],
    before: Annotated[
        str | None,
        typer.Option(
            "--before",
            metavar="WORDS",
            help="What you thought before: soft, medium, firm, very firm, 105g, 108g+-6g.",
            show_default="nothing: 95g+-20g",
        ),
    ] = None,
    speed: Annotated[
        str | None,
        typer.Option(
            metavar="SPEED",
            help="How those balls came down, if you know: 19mps.",
            show_default="a full wedge, unsure",
        ),
    ] = None,
    descent: Annotated[
        str | None, typer.Option(metavar="ANGLE", help="How steeply: 51deg.")
    ] = None,
    spin: Annotated[
        str | None, typer.Option(metavar="SPIN", help="With how much spin: 8700rpm.")
    ] = None,
    stimp: _GreenSpeed = None,
    slope: _Slope = None,
    slope_direction: _SlopeDirection = None,
    kind: options.GreenKind = None,
    figure: options.Figure = None,
    as_json: options.Json = False,
) -> None:
    """Read a green's firmness off balls seen to land on it, and how sure that makes you.

    Say what each ball did from its pitch mark on. The answer is a firmness for `choose` and `land`;
    give it back as --before when more balls land.

    Example: carrybook firmness --before medium --saw "released 4 paces" --saw "one hop and stopped"
    """
    from carrybook.app.texts.landing import firmness_text

    form = FirmnessForm.of(
        firmness=before, speed=speed, descent=descent, spin=spin, green_speed=stimp, slope=slope,
        slope_direction=slope_direction, kind=kind,
    )  # fmt: skip
    arrival = form.arrival()
    seen = [seen_named(words, arrival) for words in saw]
    require_place(figure, FIGURES, "figure")
    with waiting("landing balls"):
        learnt = learn_firmness(form.firmness, seen, form.patch(), book=ctx.obj.book)
    if figure is not None:
        draw_firmness(figure, learnt)
    show(as_json, firmness_view(learnt), firmness_text(learnt))
