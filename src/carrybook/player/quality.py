"""Logged balls that look odd. They are named with reasons; nothing is dropped or changed."""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import asin, degrees, radians

import numpy as np

from carrybook.base import constants as c
from carrybook.base.numerics import Floats
from carrybook.physics.aerodynamics import HIGH, LOW
from carrybook.physics.air import air_density
from carrybook.physics.delivery import is_consistent
from carrybook.physics.flight import level_carries
from carrybook.physics.strike import TYPICAL_ATTACK, delivered_loft, launch_from_loft
from carrybook.player.bag import Shot
from carrybook.player.balls import Ball
from carrybook.world.air import REFERENCE_DAY, Air
from carrybook.world.lie import Lie

__all__ = ["OddBall", "odd_balls", "suspicious", "unit_slips"]

# Ours (judgement): how far the loft that a ball implies may be from the one usually delivered; how
# far a carry may lie outside what the low and the high set give for the measured launch, and where
# launch or spin is a guess from the loft; which densities count as one, in kg/m3.
_LOFT_ROOM = radians(15.0)
_CARRY_ROOM = 0.15
_GUESSED_ROOM = 0.30
_SAME_DENSITY = 0.01
# Ours: two strikes do not share so many measured numbers by chance.
_ALIKE = 4
# Ours: a ball that lands may come back so far and no further.
_SPUN_BACK = 25.0 * c.YARD
# Ours: a wedge caught thin may carry half as far again as its longest; more is a slip of the pen.
_FARTHEST = 1.6
# A head of 0.2 to 0.3 kg at restitution 0.83 gives the ball at most 1.50 of its speed; with room.
_GREATEST_SMASH = 1.55
_NOT_MEASURED = ("intended_m", "called_m")
# A yard is 0.9144 m; how near the ratio must be, and how many balls make a habit, is ours.
_SLIPS = ((c.YARD, "metres read as yards"), (1.0 / c.YARD, "yards read as metres"))
_SLIP_ROOM = 0.04
_SLIP_BALLS = 5


@dataclass(frozen=True, slots=True)
class OddBall:
    """A logged ball that looks odd, and why."""

    ball: Ball
    reasons: tuple[str, ...]


def suspicious(ball: Ball, shot: Shot) -> tuple[str, ...]:
    """Say what is odd about one ball of a shot; empty where nothing is.

    Parameters
    ----------
    ball : Ball
        A logged ball.
    shot : Shot
        The shot it was meant to be.
    """
    odd = odd_balls([ball], {shot.label: shot})
    return odd[0].reasons if odd else ()


def odd_balls(balls: Sequence[Ball], shots: Mapping[str, Shot]) -> tuple[OddBall, ...]:
    """Find the balls that look odd.

    Parameters
    ----------
    balls : sequence of Ball
        The log, in its order.
    shots : mapping of str to Shot
        The shots by label; balls of other shots are passed over.

    Returns
    -------
    odd : tuple of OddBall
        In the order of `balls`.

    Notes
    -----
    Launch and spin: sin(delta) = 0.4 r w / v gives the loft that was delivered, whatever the
    friction. Carry: level ground, calm air; a strong wind or a slope can explain it too. Copies:
    the same shot with at least four measured numbers, all alike; the first of them is not odd. Too
    far: more than 1.6 times the longest that the shot is used for.
    Impossible together: a total far short of the carry, a side beyond it, a ball faster than a club
    can send it.
    """
    known = [ball for ball in balls if ball.shot in shots]
    copies = _copies(known)
    carries = _carry_reasons(known, shots)
    found = []
    for k, ball in enumerate(known):
        launch = _launch_reasons(ball, shots[ball.shot])
        far = _too_far(ball, shots[ball.shot])
        reasons = (*launch, *_impossible(ball), far, carries[k], copies[k])
        if some := tuple(reason for reason in reasons if reason):
            found.append(OddBall(ball, some))
    return tuple(found)


def unit_slips(balls: Sequence[Ball]) -> tuple[str, ...]:
    """Say which shots of one import look as if yards and metres were mistaken.

    Parameters
    ----------
    balls : sequence of Ball
        Balls of one import.

    Returns
    -------
    slips : tuple of str
        One line a kind of slip, naming its shots; empty where there is none.

    Notes
    -----
    Of a shot with five balls or more, most carry within 4 % of 0.9144 or of 1.0936 of what was
    meant. A player who is so much short or long looks the same.
    """
    ratios: dict[str, list[float]] = defaultdict(list)
    for ball in balls:
        if ball.carry_m is not None and ball.intended_m is not None:
            ratios[ball.shot].append(ball.carry_m / ball.intended_m)
    lines = []
    for ratio, what in _SLIPS:
        shots = [label for label, found in ratios.items() if _mostly(found, ratio)]
        if shots:
            lines.append(
                f"most balls of {', '.join(shots)} carry about {ratio:.2f} of what was meant:"
                f" {what}?"
            )
    return tuple(lines)


def _mostly(found: Sequence[float], ratio: float) -> bool:
    near = sum(abs(one / ratio - 1.0) <= _SLIP_ROOM for one in found)
    return len(found) >= _SLIP_BALLS and near > len(found) / 2.0


def _launch_reasons(ball: Ball, shot: Shot) -> tuple[str, ...]:
    """What is odd about speed, launch and spin together."""
    v, launch, spin = ball.ball_speed_mps, ball.launch_rad, ball.spin_rad_s
    if v is None or launch is None or spin is None or ball.lie is Lie.SAND:
        return ()
    sine = 0.4 * c.BALL_RADIUS * spin / v
    attack = TYPICAL_ATTACK if ball.attack_rad is None else ball.attack_rad
    loft = launch + asin(min(sine, 1.0))
    if not is_consistent(v, launch, spin, attack, loft):  # against itself: can any strike do it?
        return ("no strike gives that launch and spin at that ball speed",)
    usual = delivered_loft(shot.club.loft_rad, shot.flight.value)
    if abs(loft - usual) <= _LOFT_ROOM:
        return ()
    low, high = (degrees(usual + way * _LOFT_ROOM) for way in (-1.0, 1.0))
    return (
        f"launch and spin imply {degrees(loft):.0f} deg of loft at impact; {shot.label} delivers"
        f" {low:.0f} to {high:.0f} deg",
    )


def _impossible(ball: Ball) -> Iterator[str]:
    """What cannot be true together, whatever the shot."""
    carry, total, side = ball.carry_m, ball.total_m, ball.side_m
    if carry is not None and total is not None and total < carry - _SPUN_BACK:
        yield f"total is {(carry - total) / c.YARD:.0f} yd under carry: no ball spins back so far"
    if carry is not None and side is not None and abs(side) > carry:
        yield "landed further beside the line than it carried"
    if ball.club_speed_mps is not None and ball.ball_speed_mps is not None:
        ratio = ball.ball_speed_mps / ball.club_speed_mps
        if ratio > _GREATEST_SMASH:
            yield f"ball speed is {ratio:.2f} of club speed; no club gives more than 1.55"


def _too_far(ball: Ball, shot: Shot) -> str:
    if ball.carry_m is None or ball.carry_m <= _FARTHEST * shot.longest_m:
        return ""
    return (
        f"carries {ball.carry_m / shot.longest_m:.1f} times as far as {shot.label} at its longest"
    )


def _carry_reasons(balls: Sequence[Ball], shots: Mapping[str, Shot]) -> list[str]:
    """What is odd about each carry against its ball speed; all of one density in one batch."""
    reasons = [""] * len(balls)
    groups: dict[int, list[int]] = defaultdict(list)
    densities: dict[Air, int] = {}
    for k, ball in enumerate(balls):
        if ball.carry_m is not None and ball.ball_speed_mps is not None:
            air = ball.air or REFERENCE_DAY
            if air not in densities:
                densities[air] = round(air_density(air) / _SAME_DENSITY)
            groups[densities[air]].append(k)
    loft_launches = {label: _from_loft(shot) for label, shot in shots.items()}
    for where in groups.values():
        rows = np.array([_carry_row(balls[k], loft_launches[balls[k].shot]) for k in where])
        air = balls[where[0]].air or REFERENCE_DAY
        for k, part in zip(where, _outside(rows, air), strict=True):
            if part:
                way = "more" if part > 0.0 else "less"
                reasons[k] = (
                    f"carries {100.0 * abs(part):.0f} % {way} than its ball speed allows in calm"
                    " air"
                )
    return reasons


def _from_loft(shot: Shot) -> tuple[float, float]:
    return launch_from_loft(shot.club.loft_rad, shot.flight.value)


def _carry_row(ball: Ball, usual: tuple[float, float]) -> tuple[float, ...]:
    """Carry, speed, launch, spin over speed, room."""
    carry, speed = ball.carry_m or np.nan, ball.ball_speed_mps or np.nan
    guessed = ball.launch_rad is None or ball.spin_rad_s is None
    launch = usual[0] if ball.launch_rad is None else ball.launch_rad
    ratio = usual[1] if ball.spin_rad_s is None else ball.spin_rad_s / speed
    return carry, speed, launch, ratio, _GUESSED_ROOM if guessed else _CARRY_ROOM


def _outside(rows: Floats, air: Air) -> Floats:
    """How far each carry is beyond what is allowed, relative to it; 0 inside or not flown."""
    carry, speed, launch, ratio, room = rows.T
    flown = [level_carries(speed, launch, ratio, air, aerodynamics=a) for a in (LOW, HIGH)]
    least = np.minimum(*flown) * (1.0 - room)
    most = np.maximum(*flown) * (1.0 + room)
    beyond = np.where(carry > most, carry / most - 1.0, 0.0)
    beyond = np.where(carry < least, carry / least - 1.0, beyond)
    return np.asarray(np.nan_to_num(beyond))


def _copies(balls: Sequence[Ball]) -> list[str]:
    seen: set[tuple[object, ...]] = set()
    reasons = []
    for ball in balls:
        numbers = {n: v for n, v in ball.measured().items() if n not in _NOT_MEASURED}
        key = (ball.shot, *numbers.items())
        copied = len(numbers) >= _ALIKE and key in seen
        reasons.append("every measured number is that of an earlier ball" if copied else "")
        seen.add(key)
    return reasons
