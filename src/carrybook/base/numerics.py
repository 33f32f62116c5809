"""How kernels are compiled, cached and spread over the cores. Numba enters the project here only.

Numba's own cache looks at one file: a kernel that calls a kernel of another file would stay stale
after an edit there. So the cache folder is named after a fingerprint of every source that may hold
a kernel, and an edit anywhere compiles anew.
"""

import hashlib
import os
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from functools import cache
from pathlib import Path
from tempfile import mkdtemp
from typing import ParamSpec, TypeVar

import numpy as np
from numba import config, njit
from numpy.typing import NDArray
from platformdirs import user_cache_path

__all__ = ["Floats", "Ints", "cache_folder", "in_parts", "kernel", "plain"]

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

P = ParamSpec("P")
R = TypeVar("R")

_ROOMS_WITH_KERNELS = ("base", "physics", "player", "outcomes")


@cache
def cache_folder() -> Path:
    """Where compiled kernels of exactly these sources are kept.

    Where the system's own cache cannot be written, a private folder of this process serves, and
    nothing is kept.
    """
    package = Path(__file__).parents[1]
    digest = hashlib.sha256()
    for room in _ROOMS_WITH_KERNELS:
        for source in sorted((package / room).glob("*.py")):
            digest.update(source.read_bytes())
    folder = user_cache_path("carrybook") / f"kernels-{digest.hexdigest()[:12]}"
    standing = next(p for p in (folder, *folder.parents) if p.exists())
    if os.access(standing, os.W_OK | os.X_OK):
        return folder
    return Path(mkdtemp(prefix="carrybook-kernels-"))


config.CACHE_DIR = str(cache_folder())  # type: ignore[attr-defined]  # numba sets its own names


def kernel(function: Callable[P, R]) -> Callable[P, R]:
    """Compile `function` on first use: cached, numpy division, no lock, fused multiply-add."""
    compiled: Callable[P, R] = njit(
        cache=True, nogil=True, error_model="numpy", fastmath={"contract"}
    )(function)
    return compiled


def plain(compiled: Callable[P, R]) -> Callable[P, R]:
    """Give back the uncompiled Python of a kernel, for tests and debugging."""
    original: Callable[P, R] = getattr(compiled, "py_func", compiled)
    return original


def in_parts(work: Callable[[int, int], None], count: int, *, least: int = 256) -> None:
    """Call `work(start, stop)` over 0..count in contiguous parts, one a core.

    Every part writes its own rows, so the result does not depend on the number of parts.

    Parameters
    ----------
    work : callable
        Takes the first row and the row after the last; releases the interpreter lock.
    count : int
        Number of rows.
    least : int, default 256
        Fewest rows worth a thread of their own.
    """
    cores = (
        len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1
    )
    parts = max(1, min(cores, count // least))
    edges = [count * k // parts for k in range(parts + 1)]
    if parts == 1:
        work(0, count)
        return
    with ThreadPoolExecutor(parts) as pool:
        list(pool.map(work, edges[:-1], edges[1:]))
