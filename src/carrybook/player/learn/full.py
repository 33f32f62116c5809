"""Full sampling with PyMC and nutpie, which only this module knows and only when it is asked.

The model is that of `problem`, nothing replaced: coefficients as centre plus standard deviation
times a standard normal, so that the sampler does not stick where a group is alike.
"""

import warnings
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

import numpy as np

from carrybook.base.errors import NoSolutionError
from carrybook.base.numerics import Floats
from carrybook.player.learn.problem import (
    FREEDOM,
    ODD_PRIOR,
    Answer,
    Group,
    Matrix,
    Problem,
    log_core,
    part_of,
    stack,
)
from carrybook.player.learn.result import Diagnostics

__all__ = ["KEPT", "MOST_VALUES", "refusal", "sample_all"]

MOST_VALUES = 40_000  # ours: more values than this take hours; the quick way is then as good
_CHAINS, _TUNE, _DRAWS = 4, 500, 1000
_TARGET = 0.9  # share of steps that the sampler should accept: small steps, few astray
KEPT = 800
# Ours, after common advice for R-hat and effective sizes: when full sampling is not believed.
_R_HAT, _EFFECTIVE, _ASTRAY = 1.03, 200.0, 0.01
Told = Callable[[str, float], None]


def sample_all(
    problems: dict[str, Problem], rng: np.random.Generator, *, progress: Told | None = None
) -> tuple[dict[str, Answer], Diagnostics]:
    """Answer all problems in one run of the sampler.

    Parameters
    ----------
    problems : dict of str to Problem
        The questions.
    rng : Generator
        Gives the sampler its start.
    progress : callable, optional
        Told what is being done and which share of it is done.

    Returns
    -------
    answers, diagnostics : dict of str to Answer, Diagnostics
        Draws of all chains together, and whether to believe them.

    Raises
    ------
    NoSolutionError
        PyMC or nutpie is not installed, or there are too many values.
    """
    many = sum(len(p.values) for p in problems.values())
    if many > MOST_VALUES:
        raise NoSolutionError(
            f"full sampling is for up to {MOST_VALUES} measured values and the book has {many};"
            " leave out --full: with so many the quick way agrees with it"
        )
    told = progress or (lambda words, share: None)
    with _quiet():
        told("building the model", 0.02)
        whole = stack(problems)
        compiled = _compiled(whole)
        draws, astray = _sampled(compiled, int(rng.integers(2**31)), told)
        told("looking at the chains", 0.97)
        found = _quantities(whole, draws)
        diagnostics = _diagnostics(found, astray)
    answer = _answer(found)
    return {name: part_of(answer, name, k) for k, name in enumerate(problems)}, diagnostics


def refusal(d: Diagnostics) -> str:
    """Why full sampling is not to be believed, in plain words; empty where it is."""
    astray = d.divergences / (d.chains * d.draws)
    reasons = []
    if not d.r_hat <= _R_HAT:
        reasons.append(f"the {d.chains} chains do not agree (R-hat {d.r_hat:.2f} of {d.worst})")
    if not d.effective >= _EFFECTIVE:
        reasons.append(
            f"the draws of some quantity are worth only {d.effective:.0f} independent ones"
        )
    if astray > _ASTRAY:
        reasons.append(f"the sampler went astray in {100.0 * astray:.0f} % of its steps")
    return "; ".join(reasons)


@contextmanager
def _quiet() -> Iterator[None]:
    """Keep to ourselves what the packages say to their own developers."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        yield


def _compiled(problem: Problem) -> Any:  # noqa: ANN401 - a type of nutpie
    """Compile the model: standard normals, standard deviations, shares of odd values."""
    try:
        import nutpie
        import pymc
        import pytensor.tensor
    except ImportError as error:
        raise NoSolutionError(
            f"full sampling needs {error.name}, which is not installed: make install-all, or"
            " pip install 'carrybook[learn]'; without --full nothing more is needed"
        ) from None
    pm: Any = pymc
    pt: Any = pytensor.tensor
    pooled = [g.sd for g in _all_groups(problem) if g.pooled and g.size]
    q = problem.design.shape[1]
    centre, fixed, which = _how(problem)
    with pm.Model() as model:
        sd = pm.HalfNormal("sd", np.array(pooled), shape=len(pooled))
        odd = pm.Beta("odd", *ODD_PRIOR, shape=problem.kinds)
        all_sds = pt.concatenate([pt.as_tensor(fixed), sd])
        unit = pm.Normal("unit", 0.0, 1.0, shape=len(centre))
        coefficients = centre + all_sds[which] * unit
        for k in range(problem.kinds):
            rows = problem.kind == k
            line, scale = coefficients[:q], coefficients[q:]
            miss = problem.values[rows] - _times(pt, problem.design[rows], line)
            log_scale = _times(pt, problem.scale_design[rows], scale)
            core = log_core(0.0, 0.0) - log_scale
            u2 = (miss * pt.exp(-log_scale)) ** 2
            core -= (FREEDOM + 1.0) / 2.0 * pt.log1p(u2 / FREEDOM)
            sds = problem.odd_sd[rows]
            wide = -0.5 * (miss / sds) ** 2 - np.log(sds * np.sqrt(2.0 * np.pi))
            both = pt.logaddexp(pt.log1p(-odd[k]) + core, pt.log(odd[k]) + wide)
            pm.Potential(f"values {k}", both.sum())
    return nutpie.compile_pymc_model(model)


def _times(pt: Any, design: Matrix, coefficients: Any) -> Any:  # noqa: ANN401 - pytensor's own
    """Multiply with those columns alone that are not empty."""
    dense = design.toarray()
    used = np.flatnonzero(np.abs(dense).sum(axis=0))
    return pt.dot(np.ascontiguousarray(dense[:, used]), coefficients[used])


def _all_groups(problem: Problem) -> tuple[Group, ...]:
    return problem.groups + problem.scale_groups


def _how(problem: Problem) -> tuple[Floats, Floats, Floats]:
    """Centre of every coefficient; stated standard deviations; which one holds for which."""
    groups = _all_groups(problem)
    sizes = [g.size for g in groups]
    fixed = [g.sd for g in groups if not g.pooled]
    stated, learnt, which = iter(range(len(fixed))), iter(range(len(fixed), 10**6)), []
    for g in groups:
        which.append(next(stated) if not g.pooled else next(learnt) if g.size else 0)
    return np.repeat([g.centre for g in groups], sizes), np.array(fixed), np.repeat(which, sizes)


def _sampled(compiled: Any, seed: int, told: Told) -> tuple[dict[str, Floats], int]:  # noqa: ANN401
    """Draws of all chains, two chains at a time, and how many steps went astray."""
    import nutpie

    parts, astray = [], 0
    for k in range(0, _CHAINS, 2):
        told(f"sampling chains {k + 1} and {k + 2} of {_CHAINS}", 0.3 + 0.65 * k / _CHAINS)
        trace = nutpie.sample(
            compiled, draws=_DRAWS, tune=_TUNE, chains=2, cores=2, seed=seed + k,
            target_accept=_TARGET,
            progress_bar=False,
        )  # fmt: skip
        parts.append({str(n): np.asarray(v) for n, v in trace.posterior.data_vars.items()})
        astray += int(trace.sample_stats["diverging"].sum())
    return {n: np.concatenate([p[n] for p in parts]) for n in parts[0]}, astray


def _quantities(problem: Problem, draws: dict[str, Floats]) -> dict[str, Floats]:
    """Every group of coefficients, standard deviation and share, shape (chains, draws, size)."""
    centre, fixed, which = _how(problem)
    chains, many = draws["unit"].shape[:2]
    stated = np.broadcast_to(fixed, (chains, many, len(fixed)))
    sds = np.concatenate([stated, draws["sd"]], axis=2)[:, :, which]
    coefficients = centre + sds * draws["unit"]
    ends = np.cumsum([0, *(g.size for g in _all_groups(problem))])
    k, found = 0, {"odd": draws["odd"]}
    for n, (g, start, end) in enumerate(zip(_all_groups(problem), ends, ends[1:], strict=False)):
        part = "line" if n < len(problem.groups) else "scale"
        found[f"{part} {g.name}"] = coefficients[:, :, start:end]
        if g.pooled and g.size:
            found[f"sd {g.name}"] = draws["sd"][:, :, [k]]
            k += 1
    return found


def _diagnostics(found: dict[str, Floats], divergences: int) -> Diagnostics:
    """The worst of all quantities."""
    import arviz

    az: Any = arviz
    worst, r_hat, effective = "", 0.0, np.inf
    for name, values in found.items():
        for k in range(values.shape[2]):
            one = values[:, :, k]
            if float(az.rhat(one)) > r_hat:
                worst, r_hat = name, float(az.rhat(one))
            effective = min(effective, float(az.ess(one)), float(az.ess(one, method="tail")))
    return Diagnostics(_CHAINS, _DRAWS, r_hat, effective, divergences, worst)


def _answer(found: dict[str, Floats]) -> Answer:
    """All chains in a row, thinned to what is kept."""
    kept = np.linspace(0, _CHAINS * _DRAWS - 1, KEPT).astype(int)
    flat = {k: v.reshape(_CHAINS * _DRAWS, v.shape[2])[kept] for k, v in found.items()}

    def part(start: str) -> dict[str, Floats]:
        return {k.removeprefix(start): v for k, v in flat.items() if k.startswith(start)}

    sds = {name: v[:, 0] for name, v in part("sd ").items()}
    return Answer(part("line "), part("scale "), sds, flat["odd"])
