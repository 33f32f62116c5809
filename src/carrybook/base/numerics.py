"""How kernels are compiled, cached and spread over the cores. Numba enters the project here only.

Numba's own cache looks at one file: a kernel that calls a kernel of another file would stay stale
after an edit there. So the cache folder is named after a fingerprint of every source that may hold
a kernel, and an edit anywhere compiles anew. Where it cannot be written, nothing is kept.
"""

import os
import shutil
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from functools import cache
from pathlib import Path
from typing import Any, ParamSpec, TypeVar

import numpy as np
from numpy.typing import NDArray
from platformdirs import user_cache_path

from carrybook.base.digest import digest_of_sources

__all__ = ["Flags", "Floats", "Ints", "cache_folder", "in_parts", "inlined", "kernel", "plain"]

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]

P = ParamSpec("P")
R = TypeVar("R")

_ROOMS_WITH_KERNELS = ("base", "physics", "player", "outcomes")
_FOLDERS_KEPT = 3  # ours: kernels of so many versions of the sources stay in the cache


@cache
def cache_folder() -> Path:
    """Where compiled kernels of exactly these sources are kept; made with the first of them."""
    digest = digest_of_sources(Path(__file__).parents[1], _ROOMS_WITH_KERNELS)
    return user_cache_path("carrybook") / f"kernels-{digest[:12]}"


@cache
def _can_keep(folder: Path) -> bool:
    """Whether kernels can be kept in a folder, which is made if need be; old ones then go."""
    try:
        if not folder.is_dir():
            folder.mkdir(parents=True, exist_ok=True)
            with suppress(OSError):  # another process may be removing them too
                _remove_old_siblings(folder)
    except OSError:
        return False
    return os.access(folder, os.W_OK | os.X_OK)


def _remove_old_siblings(folder: Path) -> None:
    """Leave the newest folders of kernels beside this one, itself among them."""
    folders = sorted(folder.parent.glob("kernels-*"), key=lambda p: p.stat().st_mtime)
    for old in folders[:-_FOLDERS_KEPT]:
        shutil.rmtree(old, ignore_errors=True)


def _njit() -> Callable[..., Any]:
    """Numba's `njit`, loaded with the first kernel: many a command needs none."""
    from carrybook.base.compiler import config, njit

    config.CACHE_DIR = str(cache_folder())
    found: Callable[..., Any] = njit
    return found


def kernel(function: Callable[P, R]) -> Callable[P, R]:
    """Compile `function` on first use: cached, numpy division, no lock, fused multiply-add."""
    compiled: Callable[P, R] = _njit()(
        cache=_can_keep(cache_folder()), nogil=True, error_model="numpy", fastmath={"contract"}
    )(function)
    return compiled


def inlined(function: Callable[P, R]) -> Callable[P, R]:
    """Compile `function` into its callers, so that a loop over it can be packed."""
    compiled: Callable[P, R] = _njit()(inline="always", error_model="numpy", fastmath={"contract"})(
        function
    )
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
    with ThreadPoolExecutor(parts - 1) as pool:
        others = pool.map(work, edges[1:-1], edges[2:])
        work(*edges[:2])  # here: a thread the fewer to start
        list(others)
