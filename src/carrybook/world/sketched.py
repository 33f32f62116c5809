r"""A smooth surface through a few readings of a green, and how well they pin it down.

The surface is the ground that was there (level, or as described) plus a Gaussian process: any
mixture of heights and slopes conditions it, and it says how sure it is everywhere.
"""

from dataclasses import dataclass

import numpy as np

from carrybook.base.errors import BadInputError
from carrybook.base.numerics import Floats, Ints
from carrybook.world.blend import settled
from carrybook.world.ground import Ground
from carrybook.world.readings import Readings
from carrybook.world.shape import HeightDoubt, shape_at

__all__ = ["MOST_READINGS", "sketched_surface"]

MOST_READINGS = 300  # ours: work grows with the cube; a survey of more is dense enough without this

# All ours.
_HEIGHT_SD = 0.015  # m, of a spot height by level or laser
_SLOPE_SD = (
    0.004  # of a slope read on the green in each direction, in tenths or halves of a per cent
)
_TRUST = (0.0, 0.6)  # log of the factor on both: mean and standard deviation of what we expect
_REACH = (np.log(7.0), 0.3)  # log of the distance over which a green keeps its slope [m]
_RELIEF = (np.log(0.2), 0.35)  # log of the size of what is beyond a plane [m]
_PLANE_SD = 0.04  # of the overall tilt
_LEVEL_SD = 30.0  # m, of the level that heights count from: nothing is known of it
_ENOUGH = 100  # numbers from which reach, relief and trust are taken
_MARGIN = 6.0  # m around the green where the surface is computed; beyond it levels out
_COARSE = 1.0  # m, the net on which it is computed
_VALUE, _DX, _DY = 0, 1, 2


@dataclass(frozen=True, slots=True)
class _Data:
    """Numbers read, less what the ground was there: of heights, and of slopes along x or y."""

    xy: Floats
    kind: Ints
    value: Floats
    sd: Floats


@dataclass(frozen=True, slots=True)
class _Prior:
    reach: float
    relief: float
    trust: float


def sketched_surface(
    ground: Ground,
    bounds: tuple[float, float, float, float],
    readings: Readings,
    x: Floats,
    y: Floats,
) -> tuple[Floats, HeightDoubt, str]:
    """Heights at the nodes of a net, through readings.

    Parameters
    ----------
    ground : Ground
        What was known before: level, or a description.
    bounds : tuple of float
        Front, right, back and left of the green. [m]
    readings : Readings
        In the axes of the hole.
    x, y : ndarray, shape (nx,), (ny,)
        The nodes. [m]

    Returns
    -------
    heights : ndarray, shape (nx, ny)
        The surface. [m]
    doubt : HeightDoubt
        Its standard errors; those of height against the front edge.
    note : str
        What a person should know of it, in a sentence.

    Raises
    ------
    BadInputError
        Readings that contradict one another beyond belief.

    Notes
    -----
    Matérn covariance of smoothness 5/2 [rasmussen-2006, eq. 4.17] and a plane; derivatives of the
    process are correlated with its values as their covariance says (sec. 9.4 there). Reach, relief
    and trust in the readings are those of highest posterior density.
    """
    data = _data(ground, readings)
    prior = _fitted(data)
    front, right, back, left = bounds
    axes = [_coarse(front, back), _coarse(right, left)]
    points = np.stack(settled(axes[0], axes[1], bounds, _MARGIN), axis=-1)
    added, height_se, slope_se = _predicted(data, prior, points.reshape(-1, 2))
    shape = points.shape[:2]
    fine = [np.clip(v, a[0], a[-1]) for v, a in zip((x, y), axes, strict=True)]

    def spread(values: Floats, degree: int) -> Floats:
        from scipy.interpolate import RectBivariateSpline

        net = values.reshape(shape)
        surface = RectBivariateSpline(axes[0], axes[1], net, kx=degree, ky=degree)
        return np.asarray(surface(fine[0], fine[1]))

    doubt = HeightDoubt(*(np.maximum(spread(se, 1), 0.0) for se in (height_se, slope_se)))
    return ground.heights + spread(added, 3), doubt, _note(readings, prior)


def _coarse(low: float, high: float) -> Floats:
    """Nodes every metre on the green and near it, and every few to where the ground is level."""
    near = np.arange(low - _MARGIN - 10.0, high + _MARGIN + 10.0, _COARSE)
    far = np.arange(5.0, 45.0, 5.0)
    return np.concatenate([near[0] - far[::-1], near, near[-1] + far])


def _note(readings: Readings, prior: _Prior) -> str:
    heights = int(np.sum(~np.isnan(readings.height)))
    slopes = int(np.sum(~np.isnan(readings.slope)))
    told = [f"{n} {what}" for n, what in ((heights, "heights"), (slopes, "slopes")) if n]
    return (
        f"Sketched from {' and '.join(told)}; they agree as readings good to"
        f" {100.0 * prior.trust * _HEIGHT_SD:.1f} cm or {100.0 * prior.trust * _SLOPE_SD:.1f} %"
        " would."
    )


def _data(ground: Ground, r: Readings) -> _Data:
    there = shape_at(ground, *r.xy.T)
    fall = -np.where(np.isnan(r.slope), np.nan, r.slope)
    height = r.height - there.height
    level = float(np.nanmean(height)) if not np.isnan(height).all() else 0.0
    columns = (
        (_VALUE, height - level, _HEIGHT_SD),
        (_DX, fall * np.cos(r.falls_rad) - there.slope_x, _SLOPE_SD),
        (_DY, -fall * np.sin(r.falls_rad) - there.slope_y, _SLOPE_SD),
    )
    known = [~np.isnan(values) for _, values, _ in columns]
    return _Data(
        np.concatenate([r.xy[k] for k in known]),
        np.concatenate(
            [np.full(k.sum(), kind) for k, (kind, _, _) in zip(known, columns, strict=True)]
        ),
        np.concatenate([v[k] for k, (_, v, _) in zip(known, columns, strict=True)]),
        np.concatenate(
            [np.full(k.sum(), sd) for k, (_, _, sd) in zip(known, columns, strict=True)]
        ),
    )


def _fitted(data: _Data) -> _Prior:
    """Reach, relief and trust of the highest posterior density."""
    from scipy.optimize import minimize

    usual = np.array([_REACH, _RELIEF, _TRUST])
    every = -(-len(data.value) // _ENOUGH)
    data = _Data(data.xy[::every], data.kind[::every], data.value[::every], data.sd[::every])

    def cost(logs: Floats) -> float:
        prior = _Prior(*(float(v) for v in np.exp(np.clip(logs, -6.0, 6.0))))
        try:
            lower = _lower(data, prior)
        except np.linalg.LinAlgError:
            return 1e12
        white = _solved(lower, data.value)
        fit = 0.5 * float(white @ white) + float(np.log(np.diag(lower)).sum())
        return fit + 0.5 * float((((logs - usual[:, 0]) / usual[:, 1]) ** 2).sum())

    found = minimize(
        cost, usual[:, 0], method="Nelder-Mead", options={"maxiter": 60, "xatol": 0.02}
    )
    if not found.fun < 1e11:
        raise BadInputError("these readings contradict one another; look for a slip of the pen")
    return _Prior(*(float(v) for v in np.exp(found.x)))


def _covariance(data: _Data, prior: _Prior) -> Floats:
    noise = (prior.trust * data.sd) ** 2 + 1e-12
    return _between(data.xy, data.kind, data.xy, data.kind, prior) + np.diag(noise)


def _lower(data: _Data, prior: _Prior) -> Floats:
    return np.asarray(np.linalg.cholesky(_covariance(data, prior)), dtype=np.float64)


def _solved(lower: Floats, right: Floats) -> Floats:
    from scipy.linalg import solve_triangular

    return np.asarray(solve_triangular(lower, right, lower=True, check_finite=False))


def _predicted(data: _Data, prior: _Prior, at: Floats) -> tuple[Floats, Floats, Floats]:
    """What is added to the ground; errors of height against the origin, and of slope."""
    lower = _lower(data, prior)
    weights = _solved(lower, data.value)
    origin = np.zeros((1, 2))

    def posterior(kind: int, *, from_origin: bool) -> tuple[Floats, Floats]:
        kinds, zero = np.full(len(at), kind), np.array([_VALUE])
        cross = _between(data.xy, data.kind, at, kinds, prior)
        before = _own(at, kind, prior)
        if from_origin:
            cross -= _between(data.xy, data.kind, origin, zero, prior)
            before += _own(origin, kind, prior) - 2.0 * _between(origin, zero, at, kinds, prior)[0]
        white = _solved(lower, cross)
        left = np.maximum(before - (white * white).sum(axis=0), 0.0)
        return white.T @ weights, left

    height, height_var = posterior(_VALUE, from_origin=True)
    (_, var_x), (_, var_y) = (posterior(kind, from_origin=False) for kind in (_DX, _DY))
    return height, np.sqrt(height_var), np.sqrt(0.5 * (var_x + var_y))


def _own(at: Floats, kind: int, prior: _Prior) -> Floats:
    """Variance of the height, or of one slope, before anything was read."""
    if kind == _VALUE:
        plane = _PLANE_SD**2 * (at**2).sum(axis=1)
        return np.asarray(prior.relief**2 + _LEVEL_SD**2 + plane)
    bend = prior.relief**2 * 5.0 / (3.0 * prior.reach**2)
    return np.full(len(at), bend + _PLANE_SD**2)


def _between(a: Floats, kinds_a: Ints, b: Floats, kinds_b: Ints, prior: _Prior) -> Floats:
    """Covariance of heights and slopes at two sets of points, each kind standing together."""
    out = np.empty((len(a), len(b)))
    for ka in np.unique(kinds_a):
        for kb in np.unique(kinds_b):
            i, j = (
                slice(*np.searchsorted(k, (n, n + 1))) for k, n in ((kinds_a, ka), (kinds_b, kb))
            )
            out[i, j] = _of_kinds(a[i], int(ka), b[j], int(kb), prior)
    return out


def _of_kinds(a: Floats, kind_a: int, b: Floats, kind_b: int, prior: _Prior) -> Floats:
    """Covariance of one kind at points `a` with another at points `b`."""
    rate, var = np.sqrt(5.0) / prior.reach, prior.relief**2
    apart = [a[:, None, k] - b[None, :, k] for k in (0, 1)]
    r = rate * np.hypot(*apart)
    fade = var * np.exp(-r)
    if kind_a == kind_b == _VALUE:
        plane = _LEVEL_SD**2 + _PLANE_SD**2 * (a @ b.T)
        return np.asarray(fade * (1.0 + r + r * r / 3.0) + plane)
    once = fade * rate**2 / 3.0 * (1.0 + r)
    if kind_a == _VALUE:
        return np.asarray(once * apart[kind_b - 1] + _PLANE_SD**2 * a[:, kind_b - 1, None])
    if kind_b == _VALUE:
        return np.asarray(-once * apart[kind_a - 1] + _PLANE_SD**2 * b[None, :, kind_a - 1])
    both = fade * rate**4 / 3.0 * apart[kind_a - 1] * apart[kind_b - 1]
    return np.asarray((once + _PLANE_SD**2 if kind_a == kind_b else 0.0) - both)
