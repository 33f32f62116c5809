"""Smooths a raster of heights, so that its noise is not read as slope."""

from typing import Any

import numpy as np

from carrybook.base.numerics import Floats

__all__ = ["smoothed"]

# All ours.
_APART = 1.0  # m: noise of neighbouring pixels closer than this is taken as one
_WIDTHS = (0.6, 0.8, 1.0, 1.25, 1.5, 2.0, 2.5, 3.0)  # m, of the smoothing, finest first
_FALSE_SLOPE = 0.006  # the most that noise may look like
_FINEST = 0.8  # pixels: a narrower weight sees one pixel only
_FEWEST = 0.3  # share of the weight that must lie on known pixels
_GAP_WIDTHS = (2.0, 4.0)  # m, of the planes that fill what is not known


def smoothed(
    heights: Floats, pixel_m: tuple[float, float]
) -> tuple[Floats, tuple[float, float], float, float]:
    r"""Smooth a raster just enough that its noise is not read as slope.

    Parameters
    ----------
    heights : ndarray, shape (n, m)
        NaN where unknown. [m]
    pixel_m : tuple of float
        Size of a pixel down and across. [m]

    Returns
    -------
    surface : ndarray, shape (n, m)
        Planes fitted at each pixel with Gaussian weights; far from known pixels the nearest. [m]
    errors : tuple of float
        Standard errors of height [m] and of slope [1] that the noise leaves.
    width_m : float
        Standard deviation of the weights. [m]
    noise_m : float
        Standard deviation of the noise that was found. [m]

    Notes
    -----
    For white noise :math:`\sigma` on pixels of size :math:`p` and weights of width :math:`s`,

    .. math:: \mathrm{se}_z = \frac{\sigma p}{2 \sqrt{\pi} s}, \quad
              \mathrm{se}_{slope} = \frac{\sigma p}{\sqrt{8 \pi} s^2}

    (ours, by integrating the squared weights; a plane is kept exactly). The noise is that of the
    mixed second differences, which neither slopes nor even bends change [immerkaer-1996]; those of
    neighbours and those one metre apart are both looked at, because neighbours share their noise
    in a raster drawn finer than it was measured.
    """
    noise = max(_noise(heights, 1), _noise(heights, max(1, round(_APART / min(pixel_m)))))
    size = float(np.sqrt(np.prod([max(p, _APART) for p in pixel_m])))
    per_width = noise * size / np.sqrt(8.0 * np.pi)
    widths = [w for w in _WIDTHS if w >= _FINEST * max(pixel_m)]
    width = next((w for w in widths if per_width / w**2 <= _FALSE_SLOPE), _WIDTHS[-1])
    surface = np.full_like(heights, np.nan)
    for each in (width, *(w for w in _GAP_WIDTHS if w > width)):
        planes = _planes(heights, (each / pixel_m[0], each / pixel_m[1]))
        surface = np.where(np.isnan(surface), planes, surface)
    surface = _filled(surface)
    errors = float(noise * size / (2.0 * np.sqrt(np.pi) * width)), float(per_width / width**2)
    return surface, errors, width, noise


def _noise(heights: Floats, apart: int) -> float:
    """Standard deviation of the noise of pixels, robust against edges."""
    if min(heights.shape) < 2 * apart + 3:
        return 0.0
    once = heights[2 * apart :] - 2.0 * heights[apart:-apart] + heights[: -2 * apart]
    mixed = once[:, 2 * apart :] - 2.0 * once[:, apart:-apart] + once[:, : -2 * apart]
    known = np.abs(mixed[np.isfinite(mixed)])
    return float(np.median(known)) / (0.6745 * 6.0) if known.size else 0.0


def _planes(heights: Floats, widths: tuple[float, float]) -> Floats:
    """Value at each pixel of a plane fitted with Gaussian weights; NaN where too few are known."""
    known = np.isfinite(heights)
    level = float(np.median(heights[known])) if known.any() else 0.0
    data = np.where(known, heights - level, 0.0)
    mask = known.astype(float)
    s = {ab: _moment(mask, widths, *ab) for ab in ((0, 0), (1, 0), (0, 1), (2, 0), (1, 1), (0, 2))}
    t = [_moment(data, widths, *ab) for ab in ((0, 0), (1, 0), (0, 1))]
    left = np.stack(
        [
            np.stack([s[0, 0], s[1, 0], s[0, 1]], axis=-1),
            np.stack([s[1, 0], s[2, 0], s[1, 1]], axis=-1),
            np.stack([s[0, 1], s[1, 1], s[0, 2]], axis=-1),
        ],
        axis=-2,
    )
    enough = (s[0, 0] > _FEWEST) & (np.linalg.det(left) > 1e-3)
    out = np.full(heights.shape, np.nan)
    right = np.stack(t, axis=-1)[enough][..., None]
    out[enough] = np.linalg.solve(left[enough], right)[:, 0, 0] + level
    return out


def _moment(values: Floats, widths: tuple[float, float], a: int, b: int) -> Floats:
    """Sum over neighbours of weight times value times their offsets (in widths) to powers a, b."""
    from scipy.ndimage import correlate1d

    out = values
    for axis, (width, power) in enumerate(zip(widths, (a, b), strict=True)):
        reach = max(1, int(np.ceil(3.5 * width)))
        u = np.arange(-reach, reach + 1) / width
        weights = np.exp(-0.5 * u * u) * u**power
        total = float(np.exp(-0.5 * u * u).sum())
        out = correlate1d(out, weights / total, axis=axis, mode="constant", cval=0.0)
    return np.asarray(out)


def _filled(heights: Floats) -> Floats:
    """Give unknown pixels the height of the nearest known one."""
    from scipy.ndimage import distance_transform_edt

    unknown = np.isnan(heights)
    if not unknown.any() or unknown.all():
        return np.nan_to_num(heights)
    nearest: Any = distance_transform_edt(unknown, return_distances=False, return_indices=True)
    return np.asarray(heights[tuple(nearest)])
