"""From a played candidate to an option with its reasons: landing, run, leave, trouble, and why."""

from dataclasses import dataclass, replace
from math import exp, hypot, tau

import numpy as np

from carrybook.base.numerics import Flags, Floats
from carrybook.decision.advice import Cause, Leave, Option, Situation, Trouble
from carrybook.decision.candidates import Candidate, landing_point
from carrybook.decision.select import Played
from carrybook.outcomes.simulate import World
from carrybook.outcomes.strokes import Finish
from carrybook.physics.air import air_density
from carrybook.physics.band import guard_flight
from carrybook.physics.flight import Launch, body_row, fly, fly_path, level_carries, wind_row
from carrybook.physics.solve import solve_landings
from carrybook.physics.strike import off_this_lie
from carrybook.physics.terrain import height, heights_at
from carrybook.player.summary import ShotSummary
from carrybook.world.air import REFERENCE_DAY
from carrybook.world.ground import Surface
from carrybook.world.wind import CALM

__all__ = ["option_of"]

_SHOWN = 400  # finishes kept for a picture


def option_of(
    world: World,
    situation: Situation,
    candidate: Candidate,
    played: Played,
    row: int,
    costs: Floats,
) -> Option:
    """Describe one candidate from its draws.

    Parameters
    ----------
    world : World
        Everything around the swing.
    situation : Situation
        What was asked.
    candidate : Candidate
        Which shot, landed where.
    played : Played
        All finalists under the same fresh draws.
    row : int
        Which of them this candidate is.
    costs : ndarray, shape (k, n)
        What was minimised, of every finalist under the same draws; the first row is the best. [1]
    """
    ends, finish = played.ends[row], _row(played.finish, row)
    x, y = landing_point(world, candidate.spot)
    number = situation.number_m
    start = float(candidate.solved[1]) - world.line_right_rad
    behind = costs[row] - costs[0]
    n = len(behind)
    run, flown = _run(ends, world.line_right_rad), _flown(world, candidate)
    green = (finish.surface == Surface.GREEN) | finish.holed
    kinds = _troubles(ends, finish, situation)
    low, middle, high = (float(v) for v in np.percentile(run, [10.0, 50.0, 90.0]))
    return Option(
        summary=candidate.summary,
        landing_m=hypot(x - situation.ball_x, y - situation.ball_y),
        landing_x=x,
        landing_y=y,
        landing_to_hole_m=-candidate.spot.past_m,
        landing_right_m=candidate.spot.right_m,
        start_right_rad=start - candidate.summary.side_bias_rad,
        aim_right_m=number * float(np.tan(start - candidate.summary.side_bias_rad)),
        playing_m=candidate.swing.playing_m,
        feel_m=candidate.feel_m,
        apex_m=float(candidate.solved[3]),
        time_s=float(candidate.solved[2]),
        descent_rad=float(candidate.solved[4]),
        landing_spin_rad_s=float(candidate.solved[5]),
        run_m=middle,
        run_low_m=low,
        run_high_m=high,
        strokes=float(finish.strokes.mean()),
        strokes_se=float(finish.strokes.std(ddof=1) / np.sqrt(n)),
        behind=float(behind.mean()),
        behind_se=float(behind.std(ddof=1) / np.sqrt(n)),
        close_call=False,
        near_m=float(np.percentile(finish.distance, 50.0)),
        far_m=float(np.percentile(finish.distance, 90.0)),
        green=float(green.mean()),
        holed=float(finish.holed.mean()),
        troubles={kind: float(hit.mean()) for kind, hit in kinds.items()},
        miss=_costliest(kinds, finish.strokes),
        leave=_leave(ends[green & ~finish.holed], world),
        finishes=ends[:_SHOWN, :2].copy(),
        flight=flown.path + world.start,
        curve_right_m=flown.curve_right_m,
        curve_se_m=flown.curve_se_m,
        warnings=flown.warnings,
        why=_why(world, situation, candidate),
    )


def _row(finish: Finish, row: int) -> Finish:
    return replace(
        finish,
        strokes=finish.strokes[row],
        surface=finish.surface[row],
        distance=finish.distance[row],
        holed=finish.holed[row],
        make=finish.make[row],
    )


def _run(ends: Floats, line_right: float) -> Floats:
    """Run after the first touch along the line from ball to hole."""
    dx, dy = ends[:, 0] - ends[:, 4], ends[:, 1] - ends[:, 5]
    run: Floats = dx * np.cos(line_right) - dy * np.sin(line_right)
    return run


def _troubles(ends: Floats, finish: Finish, situation: Situation) -> dict[Trouble, Flags]:
    """Which balls are in each kind of trouble that occurs; every ball counts once."""
    green = situation.hole.green
    x, on = ends[:, 0], finish.surface
    past = (x > green[:, 0].max()) & ~finish.holed
    kinds = {
        Trouble.WATER: on == Surface.WATER,
        Trouble.BUNKER: on == Surface.BUNKER,
        Trouble.OUT_OF_BOUNDS: on == Surface.OUT_OF_BOUNDS,
    }
    grass = np.isin(on, [Surface.ROUGH, Surface.FAIRWAY, Surface.PATH])
    kinds[Trouble.SHORT] = grass & (x < green[:, 0].min())
    kinds[Trouble.LONG] = grass & past
    kinds[Trouble.ROUGH] = (on == Surface.ROUGH) & ~kinds[Trouble.SHORT] & ~past
    return {kind: hit for kind, hit in kinds.items() if hit.any()}


def _costliest(kinds: dict[Trouble, Flags], strokes: Floats) -> Trouble | None:
    """The kind that costs most: what its balls lose against the average of all, added up."""
    average = strokes.mean()
    cost = {kind: float((strokes[hit] - average).sum()) for kind, hit in kinds.items()}
    return max(cost, key=lambda kind: cost[kind], default=None)


def _leave(ends: Floats, world: World) -> Leave:
    if not len(ends):
        return Leave(0.0, 0.0, 0.0, 0.0, 0.0, 0.0)
    dx, dy = ends[:, 0] - world.hole[0], ends[:, 1] - world.hole[1]
    aside = -dx * np.sin(world.line_right_rad) - dy * np.cos(world.line_right_rad)  # right of it
    base = height(world.ground, *world.hole)
    rise = base - heights_at(world.ground, np.ascontiguousarray(ends[:, :2]))
    return Leave(
        length_m=float(np.median(np.hypot(dx, dy))),
        rise_m=float(np.median(rise)),
        above=float((rise < 0.0).mean()),
        below=float((rise > 0.0).mean()),
        left=float((aside < 0.0).mean()),
        right=float((aside > 0.0).mean()),
    )


@dataclass(frozen=True, slots=True)
class _Flown:
    """The middle ball's path from its start, what it leaves, its curve and how unsure that is."""

    path: Floats
    warnings: tuple[str, ...]
    curve_right_m: float
    curve_se_m: float


def _flown(world: World, candidate: Candidate) -> _Flown:
    summary, (x, y) = candidate.summary, landing_point(world, candidate.spot)
    launch, ratio = off_this_lie(summary.launch_rad, summary.spin_per_speed, world.lie.spin[1])
    speed, right = float(candidate.solved[0]), float(candidate.solved[1])
    turned = replace(
        world.wind, from_rad=(world.wind.from_rad + world.line_right_rad - right) % tau
    )
    climb = height(world.ground, x, y) - float(world.start[2])
    tilt, error = summary.curve.axis_rad, summary.curve.axis_se_rad
    struck = Launch(speed, launch, ratio * speed, tilt, right)

    def curve(axis: float) -> float:
        landed = fly(
            replace(struck, axis_rad=axis, start_right_rad=0.0), world.air, turned,
            aerodynamics=summary.ball.best, height_change_m=climb,
        )  # fmt: skip
        return landed.side_m

    path = fly_path(
        struck, world.air, turned, aerodynamics=summary.ball.best, height_change_m=climb
    )
    guard = guard_flight(struck, path, float(candidate.solved[5]), world.air, turned)
    unsure = abs(curve(tilt + error) - curve(tilt - error)) / 2.0 if error > 0.0 else 0.0
    return _Flown(path, guard.warnings, curve(tilt), unsure)


def _why(world: World, situation: Situation, candidate: Candidate) -> tuple[Cause, ...]:
    """Yards by fact, from the number to the feel number; the facts come one after the other."""
    summary = candidate.summary
    x, y = landing_point(world, candidate.spot)
    distance = hypot(x - situation.ball_x, y - situation.ball_y)
    bearing = -np.arctan2(y - situation.ball_y, x - situation.ball_x)
    rise = height(world.ground, x, y) - float(world.start[2])
    wind = wind_row(world.wind, world.line_right_rad, world.wind_level_m - world.start[2])
    calm = wind_row(CALM)
    clean, tilt = (summary.launch_rad, summary.spin_per_speed), summary.curve.axis_rad
    flown = summary.ball.best
    struck = off_this_lie(*clean, world.lie.spin[1])
    steps = (
        (world.air, calm, 0.0, clean, 1.0),
        (world.air, wind, 0.0, clean, 1.0),
        (world.air, wind, rise, clean, 1.0),
        (world.air, wind, rise, struck, world.lie.speed[1]),
    )
    needed = [distance]
    for air, blowing, climb, (launch, ratio), speed_factor in steps:
        solved = solve_landings(
            np.array([[distance, bearing, climb]]), np.array([[launch, ratio, tilt]]),
            body_row(air), flown.row()[None, :], np.zeros(1, dtype=np.int64), blowing,
        )  # fmt: skip
        swing = solved[:, 0] / speed_factor
        needed.append(float(level_carries(swing, *clean, aerodynamics=flown, axis_rad=tilt)[0]))
    gone = np.diff(needed)
    today = _of_today(summary, needed[-1])
    last = today[-1][1] if today else needed[-1]
    density = air_density(situation.air) / air_density(REFERENCE_DAY)
    return (
        Cause("landing spot", distance - situation.number_m, "release and aim taken into account"),
        Cause("air", float(gone[0]), f"{100.0 * (density - 1.0):+.1f} % in density"),
        Cause("wind", float(gone[1])),
        Cause("slope", float(gone[2]), "height of the landing spot against the ball"),
        Cause("lie", float(gone[3]), f"{situation.lie.value}, {situation.moisture.value}"),
        *(cause for cause, _ in today),
        Cause("feel", candidate.feel_m - last, "what you feel against what it carries"),
    )


def _of_today(summary: ShotSummary, playing_m: float) -> list[tuple[Cause, float]]:
    """What ball, body and occasion add to the playing number, each with the total after it."""
    shift, total = summary.shift, playing_m
    parts = (
        ("ball", shift.ball, "its temperature"),
        ("body", shift.body, "what the cold does to you"),
        ("your lie", shift.lie, "what this lie does to you, beyond the strike"),
        ("competition", shift.competition, "what playing for a score does to you"),
    )
    causes = []
    for name, change, note in parts:
        if change != 0.0:
            before, total = total, total * exp(-change)
            causes.append((Cause(name, total - before, note), total))
    return causes
