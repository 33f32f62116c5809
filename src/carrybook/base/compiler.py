"""Numba, loaded without what no kernel of ours needs. Only `numerics` imports it, and late.

A module of its own, so that of several threads one loads it and the others wait.
"""

import importlib
import sys
from collections.abc import Iterator
from contextlib import contextmanager

__all__ = ["config", "njit"]


@contextmanager
def _without(*modules: str) -> Iterator[None]:
    """Let modules that are not loaded yet seem not to be there."""
    hidden = [module for module in modules if module not in sys.modules]
    for module in hidden:
        sys.modules[module] = None  # type: ignore[assignment]  # what Python takes for "not there"
    yield
    for module in hidden:
        del sys.modules[module]


# Numba loads all of scipy.linalg, a fifth of a second, only to know whether kernels may multiply
# matrices, cffi for functions in C, and yaml for settings in a file. None of ours needs them.
with _without("scipy.linalg.cython_blas", "cffi", "yaml"):
    _numba = importlib.import_module("numba")
    importlib.import_module("numba.np.arraymath")
    importlib.import_module("numba.core.typing.cffi_utils")
config, njit = _numba.config, _numba.njit
