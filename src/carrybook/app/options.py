"""The options that commands share, each with its help; and what was said before the command."""

from dataclasses import dataclass
from pathlib import Path
from typing import Annotated

from typer import Option

__all__ = ["Settings"]


@dataclass(frozen=True, slots=True)
class Settings:
    """What holds for every command: the book, if it is not the usual one, and the units shown."""

    book: Path | None = None
    units: str = "yards"


Json = Annotated[
    bool, Option("--json", help="Print JSON with stable keys, SI unless the key says otherwise.")
]

Air = Annotated[
    str | None,
    Option(
        "--air",
        metavar="WORDS",
        help='The air in one go, any order: "9C 85% 1004hPa". Pressure is station pressure: at the'
        " ball, not reduced to sea level. What you leave out is 20C, 50%, 1013.25hPa.",
    ),
]
Temp = Annotated[
    str | None,
    Option("--temp", metavar="TEMP", help="Air temperature: 12C or 54F.", show_default="20C"),
]
Pressure = Annotated[
    str | None,
    Option(
        "--pressure",
        metavar="PRESSURE",
        help="STATION pressure, at the ball, not reduced to sea level: 1004hPa or 29.65inHg.",
        show_default="1013.25hPa",
    ),
]
Humidity = Annotated[
    str | None,
    Option("--humidity", metavar="SHARE", help="Relative humidity: 85%.", show_default="50%"),
]

DewPoint = Annotated[
    str | None,
    Option("--dew-point", metavar="TEMP", help="Dew point instead of humidity: 8C or 46F."),
]
SeaLevelPressure = Annotated[
    str | None,
    Option(
        "--sea-level-pressure",
        metavar="PRESSURE",
        help="Pressure reduced to sea level (QNH, altimeter setting), as forecasts give it, instead"
        " of station pressure: 1015hPa or 29.97inHg. Needs --elevation.",
    ),
]
Elevation = Annotated[
    str | None,
    Option(
        "--elevation",
        metavar="HEIGHT",
        help="Height of the course above sea level: 120m or 394ft.",
    ),
]
Metar = Annotated[
    str | None,
    Option(
        "--metar",
        metavar="REPORT",
        help='Air from the report of an airport: "ZZZZ 121030Z 24012KT 9999 12/08 Q1015". Needs'
        " --elevation; the airport is not the course. choose takes its wind too, unless you give"
        " --wind; nothing else does.",
    ),
]

Forecast = Annotated[
    Path | None,
    Option(
        "--forecast",
        metavar="FILE",
        help="Air from the forecast of one day, a CSV file: time, temperature, humidity or dew"
        " point, station pressure or sea-level pressure (then --elevation too), wind, wind from;"
        " with units: temperature (C), wind (mph). Needs --at.",
    ),
]
At = Annotated[
    str | None,
    Option("--at", metavar="TIME", help="Which hour of it, local time as in the file: 09:00."),
]

WindSpeed = Annotated[
    str | None,
    Option(
        "--wind",
        metavar="SPEED",
        help="Mean wind at 10 m, as forecasts give it: 12mph, 5mps or 10kt.",
        show_default="calm",
    ),
]
WindFrom = Annotated[
    str | None,
    Option(
        "--wind-from",
        metavar="ANGLE",
        help="Where it comes from along your line: 0deg into, 90deg from the right, 180deg"
        " helping, 270deg from the left.",
        show_default="0deg",
    ),
]
Gust = Annotated[
    str | None,
    Option(
        "--gust",
        metavar="SPEED",
        help="Gusts at 10 m, as forecasts give them: 18mph, 8mps or 15kt; at least --wind, at most"
        " 100mph.",
        show_default="what the surroundings make of the wind",
    ),
]
Surroundings = Annotated[
    str | None,
    Option(
        "--surroundings",
        metavar="WORDS",
        help="What stands around, which slows the wind near the ground: open links, heath,"
        " parkland, trees both sides.",
        show_default="open links",
    ),
]

Lie = Annotated[
    str | None,
    Option(
        "--lie",
        metavar="WORDS",
        help="What it sits on: tee, fairway, light rough, deep rough.",
        show_default="fairway",
    ),
]
LieAhead = Annotated[
    str | None,
    Option(
        "--lie",
        metavar="WORDS",
        help="What the ball will sit on: tee, fairway, light rough, deep rough.",
        show_default="what the map has at each spot",
    ),
]
Moisture = Annotated[
    str | None,
    Option(
        "--moisture",
        metavar="WORD",
        help="Face and ball at impact: dry, dew, wet.",
        show_default="dry",
    ),
]

BallMass = Annotated[
    str | None,
    Option("--ball-mass", metavar="MASS", help="Of the ball: 45.5g.", show_default="45.93g"),
]
BallDiameter = Annotated[
    str | None,
    Option(
        "--ball-diameter", metavar="LENGTH", help="Of the ball: 42.8mm.", show_default="42.67mm"
    ),
]
DragFactor = Annotated[
    str | None,
    Option(
        "--drag-factor",
        metavar="TIMES",
        help="Drag of your ball over that of the sets, 0.5 to 2: 1.05 or 105%.",
        show_default="1",
    ),
]

BallModel = Annotated[
    str | None,
    Option(
        "--ball-model",
        metavar="NAME",
        help="Which ball you play, as your log names it; its drag is what its logged balls show.",
        show_default="the one most logged",
    ),
]
GreenKind = Annotated[
    str | None,
    Option(
        "--kind",
        metavar="WORDS",
        help="Kind of green: gripping (slow to drain, much annual meadow grass), freely drained,"
        " unknown.",
        show_default="unknown",
    ),
]
Competition = Annotated[
    bool, Option("--competition", help="With what playing for a score does to you.")
]
LeftHanded = Annotated[bool, Option("--left-handed", help="Draw and cut of a left-hander.")]

Figure = Annotated[
    Path | None, Option("--figure", metavar="FILE", help="Draw it too: a .png or .svg file.")
]
MovedFigure = Annotated[
    Path | None,
    Option(
        "--moved",
        metavar="FILE",
        help="Draw what air and lie add to each carry: a .png or .svg file.",
    ),
]

Map = Annotated[
    Path,
    Option(
        "--map", metavar="FILE", help="Map of the course: GeoJSON with OpenStreetMap golf tags."
    ),
]
Heights = Annotated[
    Path | None,
    Option(
        "--heights",
        metavar="FILE",
        help="Spot heights of the greens: CSV in degrees and m.",
        show_default="taken as level",
    ),
]
HoleLocation = Annotated[
    str,
    Option(
        "--hole-location",
        metavar="WORDS",
        help='Where it is cut, in paces as on a pin sheet: "24 on, 5 from the right"; or "22m on,'
        ' 4m from the left".',
    ),
]
OffLine = Annotated[
    str | None,
    Option(
        "--off-line",
        metavar="ANGLE",
        help="How far off the line of approach the ball lies, -60deg to 60deg: 10deg is to its"
        " right.",
        show_default="0deg",
    ),
]
Firmness = Annotated[
    str | None,
    Option(
        "--firmness",
        metavar="WORD",
        help="The green: soft, medium, firm, very firm; or a 0.5 kg hammer's reading: 105g.",
        show_default="medium",
    ),
]
GreenSpeed = Annotated[
    str | None,
    Option("--green-speed", metavar="LENGTH", help="Stimp: 10ft or 3.05m.", show_default="10ft"),
]
Workers = Annotated[
    int | None,
    Option("--workers", metavar="N", min=1, max=256, help="Processes.", show_default="one a core"),
]
Scheduler = Annotated[
    str | None,
    Option(
        "--scheduler",
        metavar="ADDRESS",
        help="Let this Dask scheduler do it: tcp://host:8786.",
    ),
]
Cluster = Annotated[bool, Option("--cluster", help="Start a Dask scheduler here and let it do it.")]
Seed = Annotated[
    int, Option("--seed", metavar="N", min=0, help="The same seed gives the same answer.")
]
