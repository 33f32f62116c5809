"""Learn from the log, quickly or with full sampling; the same result comes out of both."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from carrybook.base.numerics import Floats
from carrybook.player.bag import Flight, Shot
from carrybook.player.balls import Ball
from carrybook.player.learn.effects import LIES
from carrybook.player.learn.log import (
    SCATTER_AT,
    Log,
    carry_problem,
    launch_problems,
    log_of,
    side_problem,
)
from carrybook.player.learn.problem import Answer, Problem
from carrybook.player.learn.quick import solve
from carrybook.player.learn.result import Diagnostics, Learnt
from carrybook.player.level import Player
from carrybook.player.shape import usual_launch

__all__ = ["Questions", "learn_full", "learn_quick", "questions_of"]

Told = Callable[[str, float], None]


@dataclass(frozen=True, slots=True)
class Questions:
    """The log as the problems of the model, and the quick answers to them.

    Parameters
    ----------
    log : Log
        The balls.
    problems : dict of str to Problem
        "carry", "side", "launch", "spin".
    quick : dict of str to Answer
        Their quick answers.
    """

    log: Log
    problems: dict[str, Problem]
    quick: dict[str, Answer]


def questions_of(
    shots: Sequence[Shot],
    balls: Sequence[Ball],
    rng: np.random.Generator,
    *,
    draws: int = 400,
    player: Player | None = None,
) -> Questions:
    """Lay the log out as problems and answer them quickly.

    Parameters
    ----------
    shots, balls : sequence of Shot, sequence of Ball
        The bag and the log.
    rng : Generator
        For the draws.
    draws : int
        How many.
    player : Player, optional
        How well they play: the scatter that is believed before any ball; none is scratch.

    Notes
    -----
    Launch and spin come first: with their middle the balls are carried to the reference day. The
    error of each carry, by the quick answer, then goes into the question of direction.
    """
    problems = launch_problems(shots, balls)
    quick = {name: solve(p, rng, draws=draws) for name, p in problems.items()}
    launches, spins = _launches(shots, quick)
    launch, spin = launches.mean(axis=0), np.exp(np.log(spins).mean(axis=0))
    log = log_of(shots, balls, launch, spin, player=player)
    problems["carry"] = carry_problem(log)
    quick["carry"] = solve(problems["carry"], rng, draws=draws)
    problems["side"] = side_problem(log, carry_errors(problems["carry"], quick["carry"]))
    quick["side"] = solve(problems["side"], rng, draws=draws)
    return Questions(log, problems, quick)


def learn_quick(
    shots: Sequence[Shot],
    balls: Sequence[Ball],
    rng: np.random.Generator,
    *,
    draws: int = 400,
    player: Player | None = None,
) -> Learnt:
    """Learn with the quick engine. Parameters are those of :func:`questions_of`."""
    asked = questions_of(shots, balls, rng, draws=draws, player=player)
    return _result("quick", asked, asked.quick, rng)


def learn_full(
    shots: Sequence[Shot],
    balls: Sequence[Ball],
    rng: np.random.Generator,
    *,
    player: Player | None = None,
    progress: Told | None = None,
) -> Learnt:
    """Learn with full sampling of carry and direction; launch and spin stay with the quick way.

    Parameters
    ----------
    shots, balls : sequence of Shot, sequence of Ball
        The bag and the log.
    rng : Generator
        For the draws.
    player : Player, optional
        How well they play.
    progress : callable, optional
        Told what is being done and which share of it is done.

    Raises
    ------
    NoSolutionError
        The packages for it are not installed, or there are too many balls.
    """
    from carrybook.player.learn.full import KEPT, sample_all

    asked = questions_of(shots, balls, rng, draws=KEPT, player=player)
    sampled = {name: asked.problems[name] for name in ("carry", "side")}
    answers, diagnostics = sample_all(sampled, rng, progress=progress)
    return _result("full", asked, asked.quick | answers, rng, diagnostics)


def carry_errors(problem: Problem, answer: Answer) -> Floats:
    """Error of each value in units of its scale, by the means of an answer."""
    line = np.concatenate([answer.line[g.name].mean(axis=0) for g in problem.groups])
    scale = np.concatenate([answer.scale[g.name].mean(axis=0) for g in problem.scale_groups])
    miss = problem.values - problem.design @ line
    return np.asarray(miss / np.exp(problem.scale_design @ scale))


def _result(
    method: str,
    asked: Questions,
    answers: dict[str, Answer],
    rng: np.random.Generator,
    diagnostics: Diagnostics | None = None,
) -> Learnt:
    log, shots = asked.log, asked.log.shots
    launch, spin = _launches(shots, answers)
    measured = asked.problems["launch"].design[:, 1:]
    days = [
        len({d for d, s in zip(log.day, log.shot, strict=True) if s == k})
        for k in range(len(shots))
    ]
    return Learnt(
        method,
        tuple(s.label for s in shots),
        tuple(int(n) for n in np.bincount(log.shot, minlength=len(shots))),
        tuple(days),
        tuple(int(n) for n in log.not_flown),
        tuple(int(n) for n in np.asarray(measured.sum(axis=0)).ravel()),
        _carry_draws(shots, answers["carry"], rng)
        | _side_draws(shots, answers["side"])
        | {"launch": launch, "spin": spin},
        diagnostics,
        log.fits,
        log.curves,
    )


def _launches(shots: Sequence[Shot], answers: dict[str, Answer]) -> tuple[Floats, Floats]:
    """Draws of launch [rad] and spin over speed [rad/m] of every shot."""
    usual = np.array([usual_launch(s) for s in shots])
    off = {
        k: a.line["centre"] + a.line["centre of shot"]
        for k, a in answers.items()
        if k in ("launch", "spin")
    }
    launch = np.clip(usual[:, 0] + off["launch"], np.radians(5.0), np.radians(65.0))
    return np.asarray(launch), np.asarray(usual[:, 1] * np.exp(off["spin"]))


def _carry_draws(
    shots: Sequence[Shot], answer: Answer, rng: np.random.Generator
) -> dict[str, Floats]:
    clubs = sorted({s.club.label for s in shots})
    club = [clubs.index(s.club.label) for s in shots]
    flight = [list(Flight).index(s.flight) for s in shots]
    line, scale = answer.line, answer.scale
    stock = np.array([s.stock_carry_m for s in shots])
    day_sd = answer.sds.get("day", np.abs(rng.normal(0.0, 0.02, len(answer.odd))))
    return {
        "bias": line["level"] + line["club"][:, club] + line["flight"][:, flight] + line["shot"],
        "slope": line["slope"] + line["slope of shot"],
        "log_scale": scale["scatter"]
        - scale["growth"] * np.log(stock / SCATTER_AT)
        + scale["scatter of shot"],
        "growth": scale["growth"][:, 0],
        "drift": line["drift"],
        "cold": line["cold"][:, 0],
        **{word: line[word][:, 0] for word, _ in LIES},
        "competition": line["competition"][:, 0],
        "day": day_sd * rng.standard_normal(len(day_sd)),
        "day_sd": day_sd,
        "odd": answer.odd[:, 0],
    }


def _side_draws(shots: Sequence[Shot], answer: Answer) -> dict[str, Floats]:
    line, scale = answer.line, answer.scale
    stock = np.array([s.stock_carry_m for s in shots])
    return {
        "side": line["centre"] + line["centre of shot"],
        "long": line["long"] + line["long of shot"],
        "side_log_scale": scale["scatter"]
        - scale["growth"] * np.log(stock / SCATTER_AT)
        + scale["scatter of shot"],
    }
