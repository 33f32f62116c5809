"""A player, greens and days whose truth is known; the log the player keeps of it; what is forecast.

Everything is invented and drawn from a seed. The truth is told to nobody but the judge.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from math import cos, radians, sin, sqrt

import numpy as np
from numpy.typing import NDArray

from benchmarks.twin.plain import Lawn, Nature, Terrain, carry_level, play
from carrybook.base.constants import CELSIUS_ZERO, YARD
from carrybook.decision.advice import Situation
from carrybook.outcomes.turf import FRICTION_SD
from carrybook.physics.aerodynamics import BAND, Aerodynamics
from carrybook.physics.air import air_density, air_viscosity
from carrybook.physics.bounce import CRATER, RESTITUTION
from carrybook.physics.roll import rolling_resistance
from carrybook.physics.shot import GROUND_ROWS
from carrybook.physics.strike import lie_effect
from carrybook.physics.terrain import height
from carrybook.physics.turf import turf_of_firmness
from carrybook.physics.wind import gust_sd, one_shot_share
from carrybook.player.bag import Club, Flight, Shape, Shot
from carrybook.player.balls import Ball
from carrybook.world.air import REFERENCE_DAY, Air
from carrybook.world.wind import Wind

Floats = NDArray[np.float64]
_SPEEDS = np.linspace(8.0, 55.0, 95)
_FRICTION_SD = 0.15  # of one ball against the next
_IN_AIR = 4.0  # s, over which a gust is averaged
_THIS_LIE = 0.7  # of what is unsure of a lie: this one; the rest is ball against ball


@dataclass(frozen=True)
class TrueShot:
    """How a shot really goes: bias and slope of ln(carry / felt), launch, spin over speed."""

    shot: Shot
    bias: float
    slope: float
    launch: float
    ratio: float


@dataclass(frozen=True)
class TruePlayer:
    """A player: shots, scatter of speed, launch, spin and direction, mishits, and the ball."""

    shots: tuple[TrueShot, ...]
    speed_sd: float
    launch_sd: float
    spin_sd: float
    side_sd: float
    side_bias: float
    lean: float  # share of the direction error that goes with a long ball
    fat: float
    aero: Aerodynamics

    def of(self, label: str) -> TrueShot:
        """The truth of a shot by its label."""
        return next(t for t in self.shots if t.shot.label == label)


def nature(player: TruePlayer, air: Air, wind: tuple[Floats, Floats], level: float) -> Nature:
    """Air and ball as the judge takes them; wind vectors at 10 m, one a ball."""
    a = player.aero
    return Nature(
        air_density(air), air_viscosity(air), *wind, 0.03, level, a.lift_limit, a.lift_scale,
        a.drag_base, a.drag_per_spin, a.drag_crisis, a.crisis_re, a.crisis_width, a.spin_decay,
    )  # fmt: skip


def some_player(rng: np.random.Generator) -> TruePlayer:
    """Draw a good player: a bag of wedges, some of them with a low flight.

    Launch and spin by loft as those of good players are (from memory): 60 degrees near 32 degrees
    and 10 000 turns a minute at 34 m/s, 48 near 25 and 9 300 at 44.
    """
    bag = (
        (60, "stock", 78), (60, "low", 62), (56, "stock", 92), (56, "low", 75),
        (52, "stock", 106), (48, "stock", 119), (43, "low", 114),
    )  # fmt: skip
    stretch = rng.normal(1.0, 0.05)
    shots = []
    for loft, flight, yards in bag:
        said = round(yards * stretch) * YARD
        shot = Shot(
            Club(str(loft), radians(loft)), Flight(flight), Shape.STRAIGHT, said, 0.62 * said, said
        )
        lower = radians(5.5) if flight == "low" else 0.0
        shots.append(
            TrueShot(
                shot,
                bias=float(rng.normal(0.0, 0.025)),
                slope=float(rng.normal(-0.05, 0.06)),
                launch=radians(32.5 - 0.65 * (60 - loft)) - lower + rng.normal(0.0, radians(1.0)),
                ratio=float((30.0 - 0.68 * (60 - loft) - 20.0 * lower) * rng.normal(1.0, 0.05)),
            )
        )
    return TruePlayer(
        shots=tuple(shots),
        speed_sd=float(rng.uniform(0.014, 0.026)),
        launch_sd=radians(1.1),
        spin_sd=0.06,
        side_sd=radians(float(rng.uniform(1.3, 2.6))),
        side_bias=radians(float(rng.normal(0.0, 0.4))),
        lean=float(rng.uniform(-0.3, 0.3)),
        fat=0.03,
        aero=BAND[int(rng.choice(3, p=(0.25, 0.5, 0.25)))],
    )


def swings(
    player: TruePlayer, label: str, felt: Floats, rng: np.random.Generator
) -> tuple[Floats, Floats, Floats, Floats]:
    """What such a player does when a carry is felt: ball speed, launch, spin, direction error."""
    true = player.of(label)
    calm = nature(player, REFERENCE_DAY, (np.zeros(1), np.zeros(1)), 0.0)
    calm = replace(calm, wind_x=0.0, wind_y=0.0)
    carries = carry_level(calm, _SPEEDS, true.launch, true.ratio)
    wanted = felt * np.exp(true.bias + true.slope * np.log(felt / true.shot.stock_carry_m))
    top = int(np.argmax(carries)) + 1
    middle = np.interp(wanted, carries[:top], _SPEEDS[:top])
    n = len(felt)
    stray = rng.standard_t(5, n)
    fat = rng.random(n) < player.fat
    growth = player.speed_sd * stray - 0.09 * fat * (0.5 + rng.random(n))
    aside = player.lean * stray + np.sqrt(1.0 - player.lean**2) * rng.standard_t(5, n)
    speed = middle * np.exp(growth)
    return (
        speed,
        true.launch + player.launch_sd * rng.standard_normal(n),
        speed * true.ratio * np.exp(player.spin_sd * rng.standard_normal(n)),
        player.side_bias + player.side_sd * aside,
    )


def log_of(
    player: TruePlayer, count: int, rng: np.random.Generator, session: int = 40
) -> list[Ball]:
    """Balls as a player logs them: session by session, each in its air, measured to 1 %."""
    balls: list[Ball] = []
    day = datetime(2026, 4, 1, 9, tzinfo=UTC)
    while len(balls) < count:
        air = Air(rng.uniform(8.0, 28.0) + CELSIUS_ZERO, rng.uniform(99e3, 103e3), 0.6)
        balls += _session(player, min(session, count - len(balls)), air, day, rng)
        day += timedelta(days=float(rng.uniform(3.0, 12.0)))
    return balls


def _session(
    player: TruePlayer, count: int, air: Air, day: datetime, rng: np.random.Generator
) -> Iterator[Ball]:
    calm = nature(player, air, (np.zeros(1), np.zeros(1)), 0.0)
    calm = replace(calm, wind_x=0.0, wind_y=0.0)
    measured = rng.random() < 0.6  # whether launch data were taken that day
    which = rng.integers(0, len(player.shots), count)
    for true, n in zip(player.shots, np.bincount(which, minlength=len(player.shots)), strict=True):
        shot = true.shot
        partial = rng.random(n) < 0.5
        felt = shot.stock_carry_m * np.where(partial, rng.uniform(0.65, 1.0, n), 1.0)
        speed, launch, spin, aside = swings(player, shot.label, felt, rng)
        carry = carry_level(calm, speed, launch, spin / speed)
        carry = carry * np.exp(0.01 * rng.standard_normal(n))
        read = (
            speed * np.exp(0.005 * rng.standard_normal(n)),
            launch + radians(0.3) * rng.standard_normal(n),
            np.minimum(spin * np.exp(0.02 * rng.standard_normal(n)), 1600.0),
        )
        for k in range(n):
            names = ("ball_speed_mps", "launch_rad", "spin_rad_s") if measured else ()
            yield Ball(
                shot=shot.label, at=day, intended_m=float(felt[k]),
                carry_m=float(carry[k] * cos(aside[k])), side_m=float(carry[k] * sin(aside[k])),
                air=air, setting="range",
                **{name: float(v[k]) for name, v in zip(names, read, strict=False)},
            )  # fmt: skip


@dataclass(frozen=True)
class TrueDay:
    """What the forecast and the eye do not know: the wind and the green as they are."""

    situation: Situation  # as the tool is told
    wind: Wind
    firmness_g: float
    stimp_m: float
    friction: float  # of this green over that of its firmness and kind
    lie: float  # how this lie is among those of its word, standard normal


def true_day(told: Situation, rng: np.random.Generator) -> TrueDay:
    """Draw a truth around what is told: wind off by 15 % and 10 degrees, the green by a word."""
    wind = replace(
        told.wind,
        speed_mps=max(told.wind.speed_mps * (1.0 + 0.15 * float(rng.standard_normal())), 0.0),
        from_rad=told.wind.from_rad + radians(10.0) * float(rng.standard_normal()),
    )
    firm = float(np.clip(told.firmness_g + told.firmness_sd_g * rng.standard_normal(), 50.0, 150.0))
    stimp = told.stimp_m * float(np.exp(0.05 * rng.standard_normal()))
    of_green = sqrt(FRICTION_SD[told.kind] ** 2 - _FRICTION_SD**2)
    friction = float(np.exp(of_green * rng.standard_normal()))
    return TrueDay(told, wind, firm, stimp, friction, float(rng.standard_normal()))


@dataclass(frozen=True)
class Call:
    """A shot as it is called: which, the carry to feel, and the start line from the line."""

    label: str
    felt_m: float
    start_right_rad: float


def ends_of(
    player: TruePlayer, day: TrueDay, terrain: Terrain, call: Call, seed: int, count: int
) -> Floats:
    """Play a call so many times in the true world; the same seed meets the same chance."""
    rng = np.random.default_rng(seed)
    told = day.situation
    speed, launch, spin, aside = swings(player, call.label, np.full(count, call.felt_m), rng)
    speed, launch, spin = off_the_lie(day, speed, launch, spin, rng)
    dx, dy = told.location.x - told.ball_x, told.location.y - told.ball_y
    line = -np.arctan2(dy, dx)
    right = line + call.start_right_rad + aside
    ground = told.hole.ground
    start = np.array([told.ball_x, told.ball_y, height(ground, told.ball_x, told.ball_y)])
    gusting = sqrt(one_shot_share(_IN_AIR)) * gust_sd(day.wind)
    blow = np.maximum(day.wind.speed_mps + gusting * rng.standard_normal(count), 0.0)
    veer = day.wind.from_rad + line + radians(8.0) * rng.standard_normal(count)
    level = min(start[2], height(ground, told.location.x, told.location.y))
    sky = nature(player, told.air, (-blow * np.cos(veer), blow * np.sin(veer)), level)
    velocity = np.stack(
        [
            speed * np.cos(launch) * np.cos(right),
            -speed * np.cos(launch) * np.sin(right),
            speed * np.sin(launch),
        ],
        axis=-1,
    )
    turning = -spin[:, None] * np.stack([np.sin(right), np.cos(right), np.zeros(count)], axis=-1)
    lawn = _lawn(day, count, rng)
    hole = (told.location.x, told.location.y)
    return play(sky, lawn, terrain, start, velocity, turning, hole)


def off_the_lie(
    day: TrueDay, speed: Floats, launch: Floats, spin: Floats, rng: np.random.Generator
) -> tuple[Floats, Floats, Floats]:
    """What the lie does to a clean strike: less spin, a higher launch, less speed."""
    effect, n = lie_effect(day.situation.lie, day.situation.moisture), len(speed)
    rest = sqrt(1.0 - _THIS_LIE**2)
    left, kept = (
        _factor(stated, _THIS_LIE * day.lie + rest * rng.standard_normal(n))
        for stated in (effect.spin, effect.speed)
    )
    sines = 0.4 * 0.021335 * spin / speed
    higher = np.arcsin(np.minimum(sines, 0.95)) - np.arcsin(np.minimum(left * sines, 0.95))
    return speed * kept, launch + higher, spin * left * kept


def _factor(stated: tuple[float, float, float], z: Floats) -> Floats:
    """A factor whose tenths and middle are as stated."""
    low, middle, high = stated
    edge = np.where(z < 0.0, low, high) / middle
    return np.asarray(middle * edge ** (np.abs(z) / 1.2816))


def _lawn(day: TrueDay, count: int, rng: np.random.Generator) -> Lawn:
    """The green as each ball meets it: of one kind for all of them, spots apart."""
    turf = turf_of_firmness(day.firmness_g, day.situation.kind)
    spot = rng.standard_normal(count)
    return Lawn(
        tilt=np.maximum(turf.tilt_rad + radians(2.0) * spot, 0.0),
        restitution=turf.restitution * np.exp(0.15 * rng.standard_normal(count)),
        friction=turf.friction * day.friction * np.exp(_FRICTION_SD * rng.standard_normal(count)),
        wrap=turf.wrap_rad * np.exp(0.15 * spot),
        resistance=np.full(count, rolling_resistance(day.stimp_m)),
        skid=turf.skid_friction,
        tangential=turf.tangential,
        grounds=GROUND_ROWS,
        penner=RESTITUTION,
        crater=CRATER,
    )
