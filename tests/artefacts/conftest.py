"""One hand-made answer: a small green with a tier, a bunker and a pond; no engine run."""

from dataclasses import replace
from math import pi, radians

import numpy as np
import pytest

from carrybook.artefacts.card import CardContent
from carrybook.base.constants import CELSIUS_ZERO, FOOT, YARD
from carrybook.decision.advice import Advice, Cause, Leave, Option, Situation, Trouble
from carrybook.decision.prepared import LayUp, Zone, ZonePlan
from carrybook.player.bag import Club, Flight, Shape, Shot
from carrybook.player.numbers import Split, TodayNumber
from carrybook.player.strips import Adjustment, Fact, FactKind, Partial, ShotPartials, ShotStrip
from carrybook.player.summary import ShotSummary
from carrybook.world.air import Air
from carrybook.world.ground import Ground, Surface
from carrybook.world.hole import Hole, HoleLocation
from carrybook.world.lie import Moisture
from carrybook.world.wind import Wind

NASTY_CUE = "hands ahead 🏌️ <script>alert('x')</script> $\\frac{1}{2}$ \x1b[31m\n& " + "long" * 35


def ellipse(x: float, y: float, half_x: float, half_y: float) -> np.ndarray:
    turn = np.linspace(0.0, 2.0 * pi, 48, endpoint=False)
    return np.column_stack([x + half_x * np.cos(turn), y + half_y * np.sin(turn)])


def inside(outline: np.ndarray, x: np.ndarray, y: np.ndarray) -> np.ndarray:
    centre, half = outline.mean(axis=0), np.ptp(outline, axis=0) / 2.0
    return ((x - centre[0]) / half[0]) ** 2 + ((y - centre[1]) / half[1]) ** 2 < 1.0


@pytest.fixture
def hole() -> Hole:
    """Build a green 28 m deep that falls to the front left, with a tier at 16 m."""
    green = ellipse(14.0, 0.0, 14.0, 11.0)
    areas = (("bunker", ellipse(6.0, -14.5, 4.0, 2.5)), ("water", ellipse(10.0, 19.0, 16.0, 5.0)))
    x = np.arange(-110.0, 50.0, 1.0)[:, None]
    y = np.arange(-40.0, 40.5, 1.0)[None, :]
    heights = 0.012 * x - 0.015 * y + 0.25 * np.tanh((x - 16.0 + 0.2 * y) / 2.5)
    surfaces = np.full(heights.shape, int(Surface.FAIRWAY), dtype=np.int64)
    for outline, surface in ((green, Surface.GREEN), (areas[0][1], Surface.BUNKER)):
        surfaces[inside(outline, x, y)] = int(surface)
    ground = Ground(-110.0, -40.0, 1.0, heights, surfaces)
    return Hole("Heron Bank", "7", 4, ground, green, areas, bearing_rad=0.3)


@pytest.fixture
def situation(hole: Hole) -> Situation:
    """112 yd, hole 24 paces on and 5 from the right, cold, wind quartering into from the right."""
    return Situation(
        hole=hole,
        location=HoleLocation(
            x=24.0 * YARD,
            y=-5.6,
            on_m=24.0 * YARD,
            from_left_m=13.0 * YARD,
            from_right_m=5.0 * YARD,
            behind_m=6.0 * YARD,
        ),
        ball_x=24.0 * YARD - 112.0 * YARD * np.cos(0.06),
        ball_y=-5.6 + 112.0 * YARD * np.sin(0.06),
        moisture=Moisture.DEW,
        air=Air(12.0 + CELSIUS_ZERO, 100_400.0, 0.7),
        wind=Wind(3.6, pi / 4.0),
        firmness_g=92.0,
        stimp_m=10.0 * FOOT,
    )


def summary(
    label: str, carry_yd: float, *, cue: str = "", low: bool = False, balls: int = 62
) -> ShotSummary:
    shot = Shot(
        club=Club(label, radians(54.0)),
        flight=Flight.LOW if low else Flight.STOCK,
        shape=Shape.STRAIGHT,
        stock_carry_m=carry_yd * YARD,
        shortest_m=0.6 * carry_yd * YARD,
        longest_m=1.05 * carry_yd * YARD,
        cue=cue,
    )
    return ShotSummary(
        shot=shot,
        balls=balls,
        stock_m=(carry_yd - 1.6) * YARD,
        stock_se_m=0.7 * YARD,
        bias=-0.014,
        bias_se=0.006,
        spread=0.034,
        side_rad=0.03,
        side_bias_rad=0.0,
        correlation=0.1,
        launch_rad=radians(28.0),
        spin_per_speed=25.0,
        launch_measured=40,
    )


def flown(
    start: tuple[float, float, float], end: tuple[float, float, float], apex_m: float
) -> np.ndarray:
    share = np.linspace(0.0, 1.0, 41)
    line = np.outer(1.0 - share, start) + np.outer(share, end)
    line[:, 2] += 4.0 * apex_m * share**0.8 * (1.0 - share**0.8)
    line[:, 1] += 3.0 * share * (1.0 - share)
    return line


@pytest.fixture
def best(situation: Situation) -> Option:
    """Land 6.2 yd short, 2.1 yd left; feel 113.4 yd."""
    at = situation.location
    toward = np.array([at.x - situation.ball_x, at.y - situation.ball_y]) / situation.number_m
    right = np.array([toward[1], -toward[0]])
    landing = np.array([at.x, at.y]) - 6.2 * YARD * toward - 2.1 * YARD * right
    noise = np.random.default_rng(4).normal(size=(600, 2))
    along = 2.2 * YARD + noise[:, 0] * 3.9 * YARD
    finishes = landing + along[:, None] * toward + (noise[:, 1] * 3.0 * YARD)[:, None] * right
    landing_m = float(np.hypot(105.8, 2.1)) * YARD
    why = (
        Cause("landing spot", landing_m - situation.number_m, "run and aim taken into account"),
        Cause("cold air", 2.13 * YARD, "12 C against 20 C"),
        Cause("wind", 4.37 * YARD, "8 mph quartering into from the right"),
        Cause("dew on the face", -0.84 * YARD),
        Cause("green above the ball", 0.91 * YARD),
        Cause("your bias at this carry", 1.03 * YARD),
    )
    return Option(
        summary=summary("54", 118.0, cue="hands ahead, chest through"),
        landing_m=landing_m,
        landing_x=float(landing[0]),
        landing_y=float(landing[1]),
        landing_to_hole_m=6.2 * YARD,
        landing_right_m=-2.1 * YARD,
        start_right_rad=radians(0.6),
        aim_right_m=1.2 * YARD,
        playing_m=situation.number_m + sum(cause.metres for cause in why[:-1]),
        feel_m=situation.number_m + sum(cause.metres for cause in why),
        apex_m=24.0,
        time_s=5.12,
        descent_rad=radians(47.0),
        landing_spin_rad_s=700.0,
        run_m=2.2 * YARD,
        run_low_m=-1.1 * YARD,
        run_high_m=5.2 * YARD,
        strokes=2.843,
        strokes_se=0.006,
        behind=0.0,
        behind_se=0.0,
        close_call=False,
        near_m=14.3 * FOOT,
        far_m=29.4 * FOOT,
        green=0.874,
        holed=0.004,
        troubles={Trouble.SHORT: 0.021, Trouble.BUNKER: 0.083, Trouble.WATER: 0.002},
        miss=Trouble.BUNKER,
        leave=Leave(length_m=13.1 * FOOT, rise_m=0.11, above=0.3, below=0.7, left=0.6, right=0.4),
        finishes=finishes,
        flight=flown(
            (situation.ball_x, situation.ball_y, -1.2), (landing[0], landing[1], 0.5), 24.0
        ),
        why=why,
    )


@pytest.fixture
def advice(situation: Situation, best: Option) -> Advice:
    """Answer with the best option, one too close to call, one that is not, and the habit."""
    shift = np.array([1.5, 1.0])
    close = replace(
        best,
        summary=summary("60", 104.0, balls=17),
        landing_to_hole_m=3.4 * YARD,
        landing_x=best.landing_x + 2.6,
        finishes=best.finishes + shift,
        behind=0.011,
        behind_se=0.009,
        close_call=True,
        strokes=2.854,
    )
    low = replace(
        close, summary=summary("54", 101.0, low=True, balls=0), behind=0.062, close_call=False
    )
    flag = replace(best, landing_to_hole_m=0.0, landing_right_m=0.0, behind=0.094, behind_se=0.004)
    return Advice(
        situation=situation,
        options=(best, close, low),
        at_flag=flag,
        candidates=244,
        draws=10_000,
        seed=1,
        left_out=("50: 134 yd stock, its shortest partial is 120 yd",),
        doubts=("54 low rests on your word: log ten balls",),
    )


@pytest.fixture
def nasty(advice: Advice) -> Advice:
    """Give the same answer to a player who writes anything, at a venue with an odd name."""
    best = advice.options[0]
    shot = replace(best.summary.shot, cue=NASTY_CUE[:200], club=Club("🏌 $x_1$ <b>&amp;", 0.9))
    best = replace(best, summary=replace(best.summary, shot=shot))
    situation = replace(
        advice.situation,
        hole=replace(advice.situation.hole, venue="Löch & <i>Ness</i> $50$ \x1b[2J 漢"),
    )
    return replace(advice, situation=situation, options=(best, *advice.options[1:]))


@pytest.fixture
def numbers(advice: Advice) -> tuple[TodayNumber, ...]:
    """Three shots: one well known, one with a wide band, one without balls."""

    def today(option: Option, band_yd: float, se_yd: float) -> TodayNumber:
        reference = option.summary.stock_m
        return TodayNumber(
            summary=option.summary,
            reference_m=reference,
            today_m=reference - 3.0 * YARD,
            today_low_m=reference - (3.0 + band_yd) * YARD,
            today_high_m=reference - (3.0 - band_yd) * YARD,
            centre_se_m=se_yd * YARD,
            spread_m=4.0 * YARD,
            shortest_m=0.6 * reference,
            longest_m=reference,
            split=Split(-2.0 * YARD, -0.5 * YARD, 0.0, -0.5 * YARD, 0.0),
        )

    first, second, third = advice.options
    return today(first, 0.3, 0.7), today(second, 1.5, 1.4), today(third, 2.5, 5.2)


FACTS = (
    Fact(FactKind.INTO, 2.235),
    Fact(FactKind.INTO, 4.47),
    Fact(FactKind.ACROSS, 4.47),
    Fact(FactKind.COLDER, 10.0),
    Fact(FactKind.HIGHER, 3.048),
    Fact(FactKind.WET),
    Fact(FactKind.DEEP_ROUGH),
)


@pytest.fixture
def content(numbers: tuple[TodayNumber, ...], advice: Advice) -> CardContent:
    """Fill every part of a card by hand; no engine run."""

    def adjusted(fact: Fact, k: int) -> Adjustment:
        return Adjustment(fact, -6.2 * YARD - k, -8.0 * YARD - k, -4.0 * YARD, -9.0, -12.0, -8.0)

    shots = tuple(n.summary for n in numbers)
    return CardContent(
        title="A. Player, Heron Bank, Thursday",
        air=advice.situation.air,
        numbers=numbers,
        partials=tuple(
            ShotPartials(s, (Partial(80.0 * YARD, (78.0 + k) * YARD, 3.4 * YARD), None))
            for k, s in enumerate(shots)
        ),
        strips=tuple(
            ShotStrip(s, tuple(adjusted(fact, k) for fact in FACTS)) for k, s in enumerate(shots)
        ),
        advices=(advice,),
        zones=(
            ZonePlan(
                "7", Zone.BACK_LEFT, 96.0 * YARD, "54", 94.0 * YARD, 3.0 * YARD, -2.0 * YARD,
                Trouble.WATER, close_call=True,
            ),
            ZonePlan("7", Zone.FRONT_RIGHT, 78.0 * YARD, "60", 77.0 * YARD, 0.0, 0.0),
        ),
        lay_ups=(
            LayUp(
                "12", (60.0 * YARD, 80.0 * YARD), (2.78, 2.80), (0.01, 0.02),
                55.0 * YARD, 85.0 * YARD, "water at 40 yd",
            ),
        ),
    )  # fmt: skip
